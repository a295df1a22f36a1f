import { searchGrowth } from '../../geometry/packing/growth-search.ts';
import { PAD_MM } from '../../geometry/packing/pack-problem.ts';
import type { Region } from '../../geometry/packing/region.ts';
import type { SeededRandom } from '../../geometry/packing/seeded-random.ts';
import type { ArrangementProblem } from '../../model/arrangement.ts';
import type { BuiltBody } from './as-built.ts';
import { topUp } from './fill-together.ts';
import { pressedRadius } from './fill-tubes.ts';
import { type Filled, readLayout, solverWith } from './filled-solver.ts';

/** No more tubes than this are grown together. */
const MOST_TUBES = 150;

/**
 * As many tubes of the largest size as can be grown together beside the bodies: one more than before,
 * all of them growing from new starts until they have their size, as long as that works. This finds
 * the regular packings that a filling one by one walks past; an empty duct is the plainest case.
 */
export function fillAlike(
  problem: ArrangementProblem,
  bodies: readonly BuiltBody[],
  region: Region,
  start: Filled,
  work: number,
  random: SeededRandom,
): Filled {
  const filler = [...problem.fillers].sort((a, b) => b.outsideMm - a.outsideMm)[0];
  if (filler === undefined || work === 0) return start;
  const radius = pressedRadius(filler, problem);
  const isLargest = (size: number) => size === filler.outsideMm;
  let count = start.tubes.filter((tube) => isLargest(tube.filler.outsideMm)).length;
  let best = start;
  while (count < MOST_TUBES) {
    count++;
    const tubes = Array.from({ length: count }, () => ({ filler, at: [0, 0] as const }));
    const solver = solverWith(problem, bodies, region, tubes, true);
    const enough = radius + PAD_MM;
    const tolerance = 1e-9 * radius;
    const search = { startGrowth: 1.2 * radius, work, enough, tolerance, onlyEnough: true };
    const { growth, at } = searchGrowth(solver, search, random);
    if (growth < radius + PAD_MM / 2) break;
    best = topUp(problem, region, readLayout(solver, bodies, tubes, at));
  }
  return best;
}

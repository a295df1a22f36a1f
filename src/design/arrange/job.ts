import {
  type Impossibility,
  type Needs,
  proveImpossible,
} from '../../geometry/packing/impossibility.ts';
import { largestInscribed } from '../../geometry/packing/largest-inscribed.ts';
import { type Region, regionOf } from '../../geometry/packing/region.ts';
import { type SeededRandom, seededRandom } from '../../geometry/packing/seeded-random.ts';
import type { ArrangementProblem } from '../../model/arrangement.ts';
import { type BuiltBody, bodiesAsBuilt } from './as-built.ts';
import { fixedFault } from './fixed-faults.ts';
import { needsAt } from './pack-needs.ts';

/** What the parts of one arrangement have in common. */
export interface Job {
  readonly problem: ArrangementProblem;
  readonly bodies: readonly BuiltBody[];
  readonly region: Region;
  readonly random: SeededRandom;
  /** Proof that bodies can't keep a separation and an edge distance; null when there is none. */
  readonly impossibleAt: (separationMm: number, edgeMm: number) => Impossibility | null;
  /** What the bodies need with the distances asked for, for further proofs. */
  readonly needs: () => Needs;
}

export function jobOf(problem: ArrangementProblem): Job {
  const region = regionOf(problem.opening);
  const inscribed = largestInscribed(region);
  const bodies = bodiesAsBuilt(problem);
  return {
    problem,
    bodies,
    region,
    random: seededRandom(problem.seed),
    needs: () => needsAt(problem, bodies, region, inscribed),
    impossibleAt: (separationMm, edgeMm) => {
      if (bodies.length === 0) return null;
      const asked = { ...problem, separationMm, edgeMm };
      return (
        fixedFault(asked, bodies, region) ??
        proveImpossible(needsAt(asked, bodies, region, inscribed))
      );
    },
  };
}

/** Least common gap that is proven impossible, by halving; null without cables. */
export function gapBound({ bodies, region, impossibleAt }: Job): number | null {
  if (bodies.every(({ isCord }) => isCord)) return null;
  if (impossibleAt(0, 0) !== null) return 0;
  let low = 0;
  let high = region.maxX - region.minX + (region.maxY - region.minY);
  for (let step = 0; step < 31; step++) {
    const middle = (low + high) / 2;
    if (impossibleAt(middle, middle) === null) low = middle;
    else high = middle;
  }
  return high;
}

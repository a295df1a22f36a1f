import { pointToBox } from '../../geometry/packing/box-distance.ts';
import { searchFeasible } from '../../geometry/packing/feasible-search.ts';
import type { Region } from '../../geometry/packing/region.ts';
import type { SeededRandom } from '../../geometry/packing/seeded-random.ts';
import type { ArrangementProblem, FillerSize } from '../../model/arrangement.ts';
import type { BuiltBody, PlacedPiece } from './as-built.ts';
import { fillGreedily, pressedRadius, type TubePlace } from './fill-tubes.ts';
import { type Filled, layoutWith, readLayout, solverWith } from './filled-solver.ts';
import { obstaclesOf } from './obstacles.ts';

/** No opening is worked over with more pieces than this: the greedy filling stands. */
const MOST_PIECES = 160;
/** Random spots among which the emptiest is tried for a further tube. */
const SPOTS = 60;
/** Share of the whole effort spent on one tube more. */
const TRY_SHARE = 1 / 36;

/** How one tube more is brought in. */
type Gain =
  | { readonly kind: 'insert'; readonly filler: FillerSize }
  | { readonly kind: 'enlarge'; readonly from: FillerSize; readonly to: FillerSize };

/**
 * More tubes by moving free bodies and tubes together: a tube is put where there is most room, or a
 * small one made a larger one, and everything is pushed until all distances hold again. Ends when
 * the counted effort is spent. The covered area only grows.
 */
export function fillTogether(
  problem: ArrangementProblem,
  bodies: readonly BuiltBody[],
  region: Region,
  start: Filled,
  work: number,
  random: SeededRandom,
): Filled {
  let best = start;
  let spent = 0;
  const gains = gainsOf(problem);
  if (gains.length === 0) return best;
  let failures = 0;
  while (spent < work) {
    if (best.placed.length + best.tubes.length >= MOST_PIECES) break;
    const gain = gains[random.below(gains.length)] as Gain;
    const tried = tryGain(problem, bodies, region, best, gain, work * TRY_SHARE, random);
    spent += tried.work;
    if (tried.filled === null) {
      failures++;
      if (failures > 400) break;
      continue;
    }
    failures = 0;
    best = topUp(problem, region, tried.filled);
  }
  return best;
}

/** Larger gains are listed more often. */
function gainsOf({ fillers }: ArrangementProblem): Gain[] {
  const sizes = distinctSizes(fillers);
  return sizes.flatMap((filler, k): Gain[] => {
    const larger = sizes[k - 1];
    const insert: Gain = { kind: 'insert', filler };
    return larger === undefined
      ? [insert, insert]
      : [insert, insert, { kind: 'enlarge', from: filler, to: larger }];
  });
}

/** Largest first, one of each outside. */
function distinctSizes(fillers: readonly FillerSize[]): FillerSize[] {
  return [...fillers]
    .sort((a, b) => b.outsideMm - a.outsideMm)
    .filter((filler, k, all) => all.findIndex((o) => o.outsideMm === filler.outsideMm) === k);
}

function tryGain(
  problem: ArrangementProblem,
  bodies: readonly BuiltBody[],
  region: Region,
  { placed, tubes }: Filled,
  gain: Gain,
  work: number,
  random: SeededRandom,
): { readonly filled: Filled | null; readonly work: number } {
  const next = changedTubes(region, placed, tubes, gain, problem, random);
  if (next === null) return { filled: null, work: work / 8 };
  const solver = solverWith(problem, bodies, region, next);
  const first = layoutWith(solver, placed, next);
  const at = searchFeasible(solver, { work, first, restarts: false }, random);
  const used = Math.max(1, solver.work());
  if (at === null) return { filled: null, work: used };
  return { filled: readLayout(solver, bodies, next, at), work: used };
}

/** The tubes after a gain, not yet pushed into place; null when it does not apply. */
function changedTubes(
  region: Region,
  placed: readonly PlacedPiece[],
  tubes: readonly TubePlace[],
  gain: Gain,
  problem: ArrangementProblem,
  random: SeededRandom,
): TubePlace[] | null {
  if (gain.kind === 'enlarge') {
    const small = tubes.flatMap(({ filler }, i) =>
      filler.outsideMm === gain.from.outsideMm ? [i] : [],
    );
    if (small.length === 0) return null;
    const chosen = small[random.below(small.length)];
    return tubes.map((tube, i) => (i === chosen ? { ...tube, filler: gain.to } : tube));
  }
  return [
    ...tubes,
    { filler: gain.filler, at: emptiestSpot(region, placed, tubes, problem, random) },
  ];
}

function emptiestSpot(
  region: Region,
  placed: readonly PlacedPiece[],
  tubes: readonly TubePlace[],
  problem: ArrangementProblem,
  random: SeededRandom,
): readonly [number, number] {
  const { rounds, boxes } = obstaclesOf(placed, (member) => member.builtRadiusMm);
  let best: readonly [number, number] = [0, 0];
  let most = Number.NEGATIVE_INFINITY;
  for (let spot = 0; spot < SPOTS; spot++) {
    const x = region.minX + random.next() * (region.maxX - region.minX);
    const y = region.minY + random.next() * (region.maxY - region.minY);
    let room = region.clearance(x, y);
    for (const round of rounds) {
      const dx = x - round.x;
      const dy = y - round.y;
      room = Math.min(room, Math.sqrt(dx * dx + dy * dy) - round.reach);
    }
    for (const { filler, at } of tubes) {
      const dx = x - at[0];
      const dy = y - at[1];
      room = Math.min(room, Math.sqrt(dx * dx + dy * dy) - pressedRadius(filler, problem));
    }
    if (boxes.length > 0 && room > most) room = Math.min(room, boxRoom(boxes, x, y));
    if (room <= most) continue;
    most = room;
    best = [x, y];
  }
  return best;
}

function boxRoom(boxes: ReturnType<typeof obstaclesOf>['boxes'], x: number, y: number): number {
  return boxes.reduce(
    (least, { box, reach }) => Math.min(least, pointToBox(x, y, box) - reach),
    Number.POSITIVE_INFINITY,
  );
}

/** Tubes that now fit without moving anything. */
export function topUp(problem: ArrangementProblem, region: Region, filled: Filled): Filled {
  const solids = obstaclesOf(filled.placed, (member) => member.builtRadiusMm);
  return { placed: filled.placed, tubes: fillGreedily(problem, region, solids, filled.tubes) };
}

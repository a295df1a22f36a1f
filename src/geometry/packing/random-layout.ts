import { sineCosine } from './exact-trigonometry.ts';
import type { PackSolver } from './pack-solver.ts';
import type { SeededRandom } from './seeded-random.ts';

/** Tries for a random place inside before a place outside is taken. */
const TRIES = 12;
const HALF_TURN = Math.PI;

/** Free pieces anywhere in the region, turned at random where they may be; fixed ones in place. */
export function randomLayout(solver: PackSolver, random: SeededRandom): Float64Array {
  const { problem, layout } = solver;
  const at = new Float64Array(layout.size);
  problem.pieces.forEach((_, i) => {
    putAtRandom(solver, at, i, random);
  });
  return at;
}

/** One piece anew at random; a fixed one in its place. */
export function putAtRandom(
  solver: PackSolver,
  at: Float64Array,
  i: number,
  random: SeededRandom,
): void {
  const { problem, layout } = solver;
  const { region, pieces } = problem;
  const piece = pieces[i];
  if (piece === undefined) return;
  const turnAt = layout.turnAt[i] as number;
  const arm = layout.arm[i] as number;
  if (piece.fixed !== null) {
    at[2 * i] = piece.fixed.x;
    at[2 * i + 1] = piece.fixed.y;
    if (turnAt >= 0) at[turnAt] = piece.fixed.angleRad * arm;
    return;
  }
  for (let attempt = 0; attempt < TRIES; attempt++) {
    const x = region.minX + random.next() * (region.maxX - region.minX);
    const y = region.minY + random.next() * (region.maxY - region.minY);
    at[2 * i] = x;
    at[2 * i + 1] = y;
    if (region.clearance(x, y) > 0) break;
  }
  if (turnAt >= 0) at[turnAt] = startTurn(piece.turns, random) * arm;
}

function startTurn(turns: 'none' | 'quarter' | 'free', random: SeededRandom): number {
  switch (turns) {
    case 'none':
      return 0;
    case 'quarter':
      return random.below(2) === 0 ? 0 : HALF_TURN / 2;
    case 'free':
      // Half of the starts square to the opening: walls are most often straight.
      return random.below(2) === 0
        ? (random.below(2) * HALF_TURN) / 2
        : (random.next() - 0.5) * HALF_TURN;
  }
}

/**
 * Pieces on rings about the centre of a round opening, outermost first, as many on each as have
 * room, each ring turned at random: the pattern of most of the best packings of equal circles.
 * `pitch` is the distance of neighbours, `outer` the radius of the outermost ring.
 */
export function ringLayout(
  solver: PackSolver,
  outer: number,
  pitch: number,
  random: SeededRandom,
): Float64Array {
  const { problem, layout } = solver;
  const at = randomLayout(solver, random);
  const free = problem.pieces.flatMap((piece, i) => (piece.fixed === null ? [i] : []));
  const counts = ringCounts(free.length, outer, pitch, random);
  let next = 0;
  counts.forEach((ringCount, ring) => {
    const radius = Math.max(0, outer * (1 - ring / Math.max(1, counts.length - 0.5)));
    const turn = random.next() * 2 * HALF_TURN;
    for (let k = 0; k < ringCount; k++) {
      const i = free[next++];
      if (i === undefined) return;
      const [sine, cosine] = sineCosine(turn + (2 * HALF_TURN * k) / ringCount);
      const inner = ringCount === 1 ? 0 : radius;
      at[2 * i] = inner * cosine;
      at[2 * i + 1] = inner * sine;
    }
  });
  return layout.size === at.length ? at : at;
}

/** How many pieces each ring takes, outermost first; now and then one fewer, so that starts differ. */
function ringCounts(total: number, outer: number, pitch: number, random: SeededRandom): number[] {
  const counts: number[] = [];
  let left = total;
  let radius = outer;
  while (left > 0) {
    const most =
      radius <= pitch / 2 ? 1 : Math.max(1, Math.floor((2 * HALF_TURN * radius) / pitch));
    const ring = Math.min(left, Math.max(1, most - random.below(3)));
    counts.push(ring);
    left -= ring;
    radius = Math.max(0, radius - pitch * (0.87 + 0.08 * random.next()));
    if (counts.length > 40) break;
  }
  return counts;
}

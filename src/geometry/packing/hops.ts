import type { PackSolver } from './pack-solver.ts';
import { putAtRandom } from './random-layout.ts';
import type { SeededRandom } from './seeded-random.ts';

/** Random points among which the emptiest is taken for a vacancy. */
const SPOTS = 24;

/**
 * Changes a layout in place in one of three ways: a piece to a vacancy, two swapped, all shaken.
 * Swapping pieces that are alike is no change.
 */
export function hop(
  solver: PackSolver,
  at: Float64Array,
  growth: number,
  alike: boolean,
  random: SeededRandom,
): void {
  const { pieces } = solver.problem;
  const free = pieces.flatMap((piece, i) => (piece.fixed === null ? [i] : []));
  if (free.length === 0) return;
  const kind = random.below(10);
  if (kind < 3) moveToVacancy(solver, at, growth, free, random);
  else if (kind < 9 && !alike) swapTwo(solver, at, free, random);
  else if (kind < 6) moveToVacancy(solver, at, growth, free, random);
  else shake(solver, at, free, random);
}

/** One of the most pressed pieces, by a draw that favours them, into the emptiest of some spots. */
function moveToVacancy(
  solver: PackSolver,
  at: Float64Array,
  growth: number,
  free: readonly number[],
  random: SeededRandom,
): void {
  const shares = new Float64Array(solver.problem.pieces.length);
  solver.strain(at, growth, shares);
  let moved = free[random.below(free.length)] as number;
  if (random.below(2) === 0) {
    for (let draw = 0; draw < 3; draw++) {
      const other = free[random.below(free.length)] as number;
      if ((shares[other] as number) > (shares[moved] as number)) moved = other;
    }
  }
  const trial = at.slice();
  let best = Number.NEGATIVE_INFINITY;
  for (let spot = 0; spot < SPOTS; spot++) {
    putAtRandom(solver, trial, moved, random);
    const room = roomAt(solver, trial, moved);
    if (room <= best) continue;
    best = room;
    copyPiece(solver, trial, at, moved);
  }
}

/** Distance of a piece's centre to the nearest wall or other piece's need, mm. */
function roomAt({ problem }: PackSolver, at: Float64Array, piece: number): number {
  const { pieces, region, wallBase } = problem;
  const x = at[2 * piece] as number;
  const y = at[2 * piece + 1] as number;
  let room = region.clearance(x, y);
  let part = 0;
  for (let i = 0; i < pieces.length; i++) {
    const radius = wallBase[part] as number;
    part += pieces[i]?.parts.length ?? 1;
    if (i === piece) continue;
    const dx = (at[2 * i] as number) - x;
    const dy = (at[2 * i + 1] as number) - y;
    room = Math.min(room, Math.sqrt(dx * dx + dy * dy) - radius);
  }
  return room;
}

/** Two pieces change places: one is drawn, the other is most often among the nearest in size. */
function swapTwo(
  { problem, layout }: PackSolver,
  at: Float64Array,
  free: readonly number[],
  random: SeededRandom,
): void {
  const bySize = [...free].sort(
    (a, b) =>
      (problem.wallBase[a] as number) +
        (problem.wallSlope[a] as number) -
        (problem.wallBase[b] as number) -
        (problem.wallSlope[b] as number) || a - b,
  );
  const rank = random.below(bySize.length);
  const reach = random.below(4) === 0 ? bySize.length : 4;
  const other = rank + 1 + random.below(reach);
  const first = bySize[rank] as number;
  const second = bySize[other < bySize.length ? other : random.below(bySize.length)] as number;
  for (const k of [0, 1]) {
    const kept = at[2 * first + k] as number;
    at[2 * first + k] = at[2 * second + k] as number;
    at[2 * second + k] = kept;
  }
  for (const i of [first, second]) {
    const turnAt = layout.turnAt[i] as number;
    if (turnAt >= 0 && problem.pieces[i]?.turns === 'quarter' && random.below(2) === 0) {
      const quarter = (Math.PI / 2) * (layout.arm[i] as number);
      at[turnAt] = (at[turnAt] as number) > quarter / 2 ? 0 : quarter;
    }
  }
}

function shake(
  { problem, layout }: PackSolver,
  at: Float64Array,
  free: readonly number[],
  random: SeededRandom,
): void {
  const { region } = problem;
  const width = Math.min(region.maxX - region.minX, region.maxY - region.minY);
  const size = (width / Math.sqrt(free.length + 1)) * (0.05 + 0.25 * random.next());
  for (const i of free) {
    at[2 * i] = (at[2 * i] as number) + size * random.normal();
    at[2 * i + 1] = (at[2 * i + 1] as number) + size * random.normal();
    const turnAt = layout.turnAt[i] as number;
    if (turnAt >= 0 && problem.pieces[i]?.turns === 'free') {
      at[turnAt] = (at[turnAt] as number) + size * random.normal();
    }
  }
}

function copyPiece(
  { layout }: PackSolver,
  from: Float64Array,
  to: Float64Array,
  piece: number,
): void {
  to[2 * piece] = from[2 * piece] as number;
  to[2 * piece + 1] = from[2 * piece + 1] as number;
  const turnAt = layout.turnAt[piece] as number;
  if (turnAt >= 0) to[turnAt] = from[turnAt] as number;
}

import { hop } from './hops.ts';
import { PAD_MM } from './pack-problem.ts';
import type { PackSolver } from './pack-solver.ts';
import { randomLayout } from './random-layout.ts';
import type { SeededRandom } from './seeded-random.ts';

export interface FeasibleSearch {
  /** Effort: evaluations of a layout times its parts, counted. */
  readonly work: number;
  /** A layout to begin with, if there is one. */
  readonly first?: Float64Array | undefined;
  /** Whether new random starts are worth while, or only hops from the first. */
  readonly restarts: boolean;
}

/** Shortfall below which the pads make up for what is left. */
const ENOUGH = (PAD_MM * PAD_MM) / 16;
const SETTLE_STEPS = 400;
/** A layout that will not do shows it early. */
const STALL_STEPS = 20;
/** Hops without gain before a new start, for each piece. */
const PATIENCE_PER_PIECE = 3;

/**
 * A layout that meets every need at growth 0, or null when the effort is spent: starts and hops on
 * the least squared shortfall.
 */
export function searchFeasible(
  solver: PackSolver,
  search: FeasibleSearch,
  random: SeededRandom,
): Float64Array | null {
  const limit = solver.work() + search.work;
  const patience = PATIENCE_PER_PIECE * solver.problem.pieces.length;
  const settle = (at: Float64Array) =>
    solver.settle(at, 0, { maxSteps: SETTLE_STEPS, valueBelow: ENOUGH, stallSteps: STALL_STEPS });
  const isMet = (at: Float64Array, value: number) => value <= ENOUGH && solver.growthOf(at) > 0;
  let start = 0;
  do {
    let at =
      start === 0 && search.first !== undefined
        ? search.first.slice()
        : randomLayout(solver, random);
    start++;
    let value = settle(at);
    if (isMet(at, value)) return at;
    for (let idle = 0; idle < patience && solver.work() < limit; idle++) {
      const next = at.slice();
      hop(solver, next, 0, false, random);
      const reached = settle(next);
      if (isMet(next, reached)) return next;
      if (!(reached < value)) continue;
      if (reached < 0.98 * value) idle = 0;
      at = next;
      value = reached;
    }
  } while (search.restarts && solver.work() < limit);
  return null;
}

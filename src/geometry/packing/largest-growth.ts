import type { PackSolver } from './pack-solver.ts';

export interface Growth {
  /** Largest growth met exactly by the coordinates; −∞ when none was found. */
  readonly growth: number;
  readonly at: Float64Array;
}

/** Settlings of one tightening at most. */
const MOST_ROUNDS = 24;

/**
 * The largest growth near `at`, which is moved, from a growth that is too much. Near the largest
 * growth s*, the least squared shortfall is about c (s − s*)², so that s − s* is twice the shortfall
 * over its slope: a Newton step. Where it lands short of s*, the layout is pressed again from a
 * little further, between the best growth met and the least one that was not.
 * `tolerance` is a growth that counts as nothing.
 */
export function tightenGrowth(
  solver: PackSolver,
  at: Float64Array,
  startGrowth: number,
  tolerance: number,
): Growth {
  let growth = startGrowth;
  let high = Number.POSITIVE_INFINITY;
  let best: Growth = { growth: solver.growthOf(at), at: at.slice() };
  for (let round = 0; round < MOST_ROUNDS; round++) {
    solver.settle(at, growth, { maxSteps: round === 0 ? 300 : 600, valueBelow: 0 });
    const reached = solver.growthOf(at);
    if (reached > best.growth) best = { growth: reached, at: at.slice() };
    const { value, slope } = solver.strain(at, growth);
    if (value > 0) high = Math.min(high, growth);
    const target = slope > 0 ? growth - (2 * value) / slope : Number.NEGATIVE_INFINITY;
    if (value > 0 && growth - best.growth <= tolerance) break;
    if (value > 0 && target > best.growth) growth = target;
    else if (high - best.growth <= tolerance) break;
    else if (!Number.isFinite(best.growth)) {
      if (!(slope > 0)) break;
      growth = target;
    } else growth = best.growth + pressFurther(best.growth, high, tolerance);
  }
  return best;
}

/** A step beyond a growth that is met: a tenth of what is open above, or a doubling when all is. */
function pressFurther(met: number, high: number, tolerance: number): number {
  if (!Number.isFinite(high)) return Math.max(Math.abs(met), 1e3 * tolerance);
  return Math.max(0.1 * (high - met), tolerance);
}

/** What tightening would reach from settled places, by the same Newton step, without taking it. */
export function expectedGrowth(solver: PackSolver, at: Float64Array, growth: number): number {
  const { value, slope } = solver.strain(at, growth);
  if (value === 0) return growth;
  return slope > 0 ? growth - (2 * value) / slope : Number.NEGATIVE_INFINITY;
}

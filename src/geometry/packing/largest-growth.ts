import type { PackSolver } from './pack-solver.ts';
import { touchExactly } from './touch-exactly.ts';

export interface Growth {
  /** Largest growth met exactly by the coordinates; −∞ when none was found. */
  readonly growth: number;
  readonly at: Float64Array;
}

/** Settlings of one tightening at most. */
const MOST_ROUNDS = 9;

/**
 * The largest growth near `at`, which is moved, from a growth that is too much. Near the largest
 * growth s*, the least squared shortfall is about c (s − s*)², so that s − s* is twice the shortfall
 * over its slope: a Newton step, shortened so that the layout stays a little pressed and shows which
 * contacts hold it; these are then made to touch exactly. `tolerance` is a growth that counts as
 * nothing; `enough` ends the work early.
 */
export function tightenGrowth(
  solver: PackSolver,
  at: Float64Array,
  startGrowth: number,
  tolerance: number,
  enough = Number.POSITIVE_INFINITY,
): Growth {
  let growth = startGrowth;
  let high = Number.POSITIVE_INFINITY;
  let best: Growth = { growth: solver.growthOf(at), at: at.slice() };
  const keep = (places: Float64Array): number => {
    const reached = solver.growthOf(places);
    if (reached > best.growth) best = { growth: reached, at: places.slice() };
    return reached;
  };
  for (let round = 0; round < MOST_ROUNDS; round++) {
    solver.settle(at, growth, { maxSteps: round === 0 ? 200 : 300, valueBelow: 0 });
    keep(at);
    if (best.growth >= enough) break;
    const { value, slope } = solver.strain(at, growth);
    if (value === 0) {
      const open = Number.isFinite(high) ? 0.5 * (high - growth) : Math.abs(growth);
      if (open <= tolerance) break;
      growth += Math.min(open, Math.max(tolerance, 0.2 * Math.abs(growth)));
      continue;
    }
    high = Math.min(high, growth);
    if (!(slope > 0)) break;
    const target = growth - (2 * value) / slope;
    const beyond = growth - target;
    if (beyond < 0.02 * Math.abs(target) + tolerance) {
      const exact = at.slice();
      if (touchExactly(solver, exact, growth) !== null) {
        if (keep(exact) >= target - 0.01 * beyond - tolerance && round > 0) break;
      }
    }
    if (growth - best.growth <= tolerance) break;
    growth = target + 0.05 * beyond;
  }
  return best;
}

/** What tightening would reach from settled places, by the same Newton step, without taking it. */
export function expectedGrowth(solver: PackSolver, at: Float64Array, growth: number): number {
  const { value, slope } = solver.strain(at, growth);
  if (value === 0) return growth;
  return slope > 0 ? growth - (2 * value) / slope : Number.NEGATIVE_INFINITY;
}

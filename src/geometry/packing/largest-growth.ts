import type { DiscSolver } from './disc-solver.ts';
import type { SeededRandom } from './seeded-random.ts';

export interface Growth {
  /** Largest growth met exactly by the coordinates; −∞ when none was found. */
  readonly growth: number;
  /** x, y by turns. */
  readonly at: Float64Array;
}

export interface GrowthSearch {
  /** Growth at which the search starts: one that is surely too much. */
  readonly startGrowth: number;
  /** Random starts. */
  readonly starts: number;
  /** Stop as soon as this is reached. */
  readonly enough: number;
  /** Length that counts as nothing, mm. */
  readonly toleranceMm: number;
}

/**
 * Climbs down from a growth that is too much to the largest one near `at`, in place. Near the
 * largest growth s*, the least squared shortfall is about c (s − s*)², so that s − s* is twice the
 * shortfall over its slope: a Newton step, taken until the coordinates keep what they promise.
 */
export function tightenGrowth(
  solver: DiscSolver,
  at: Float64Array,
  startGrowth: number,
  toleranceMm: number,
): Growth {
  let growth = startGrowth;
  let best: Growth = { growth: solver.growthOf(at), at: at.slice() };
  for (let round = 0; round < 14; round++) {
    solver.settle(at, growth, { maxSteps: round === 0 ? 300 : 500, valueBelow: 0 });
    const reached = solver.growthOf(at);
    if (reached > best.growth) best = { growth: reached, at: at.slice() };
    if (growth - reached <= toleranceMm) break;
    const { value, slope } = solver.strain(at, growth);
    if (!(slope > 0)) break;
    growth -= (2 * value) / slope;
  }
  return best;
}

/** The best of many random starts. */
export function searchGrowth(
  solver: DiscSolver,
  search: GrowthSearch,
  random: SeededRandom,
): Growth {
  const { count } = solver.problem;
  let best: Growth = { growth: Number.NEGATIVE_INFINITY, at: new Float64Array(2 * count) };
  for (let start = 0; start < search.starts; start++) {
    const at = scatter(solver, random);
    const found = tightenGrowth(solver, at, search.startGrowth, search.toleranceMm);
    if (found.growth > best.growth) best = found;
    if (best.growth >= search.enough) break;
  }
  return best;
}

/** Free discs at random in the region's box, fixed ones in their place. */
export function scatter(solver: DiscSolver, random: SeededRandom): Float64Array {
  const { region, count, fixed } = solver.problem;
  const at = new Float64Array(2 * count);
  for (let i = 0; i < count; i++) {
    const place = fixed[i] ?? null;
    at[2 * i] = place?.[0] ?? region.minX + random.next() * (region.maxX - region.minX);
    at[2 * i + 1] = place?.[1] ?? region.minY + random.next() * (region.maxY - region.minY);
  }
  return at;
}

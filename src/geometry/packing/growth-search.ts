import { hop } from './hops.ts';
import { expectedGrowth, type Growth, tightenGrowth } from './largest-growth.ts';
import type { PackSolver } from './pack-solver.ts';
import { randomLayout, ringLayout } from './random-layout.ts';
import type { SeededRandom } from './seeded-random.ts';

export interface GrowthSearch {
  /** A growth that is surely too much: starts are pressed together from here. */
  readonly startGrowth: number;
  /** Effort: settlings of a layout, counted. */
  readonly settlings: number;
  /** Stop as soon as this is reached. */
  readonly enough: number;
  /** Growth that counts as nothing. */
  readonly tolerance: number;
  /** A layout to begin with, if there is one. */
  readonly first?: Float64Array | undefined;
}

/** Hops without gain before a new start. */
const PATIENCE_PER_PIECE = 6;
/** How far beyond the best growth a layout is pressed while it is judged. */
const OVERPRESS = 0.015;

/**
 * The largest growth found: random and ringed starts, each bettered by hops (a piece into a gap, two
 * swapped, all shaken) as long as that pays, then a new start. Many starts find the packings of equal
 * circles, hops those of unequal ones.
 */
export function searchGrowth(
  solver: PackSolver,
  search: GrowthSearch,
  random: SeededRandom,
): Growth {
  let best: Growth = {
    growth: Number.NEGATIVE_INFINITY,
    at: search.first ?? randomLayout(solver, random),
  };
  let spent = 0;
  let start = 0;
  const patience = 4 + PATIENCE_PER_PIECE * solver.problem.pieces.length;
  while (spent < search.settlings && best.growth < search.enough) {
    const at =
      start === 0 && search.first !== undefined
        ? search.first.slice()
        : startLayout(solver, search, start, random);
    start++;
    let current = tightenGrowth(solver, at, pressFrom(best.growth, search), search.tolerance);
    spent += 4;
    if (current.growth > best.growth) best = current;
    let idle = 0;
    while (idle < patience && spent < search.settlings && best.growth < search.enough) {
      const next = tryHop(solver, current, search, random);
      spent++;
      idle++;
      if (next === null) continue;
      spent += 3;
      if (next.growth > current.growth + search.tolerance) idle = 0;
      current = next;
      if (current.growth > best.growth) best = current;
    }
  }
  return best;
}

function pressFrom(best: number, { startGrowth }: GrowthSearch): number {
  if (!Number.isFinite(best)) return startGrowth;
  return Math.min(startGrowth, best + 0.25 * (startGrowth - best));
}

/** Every other start ringed where the opening is round. */
function startLayout(
  solver: PackSolver,
  search: GrowthSearch,
  start: number,
  random: SeededRandom,
): Float64Array {
  const { region, pieces } = solver.problem;
  if (region.shape.type !== 'circle' || start % 2 === 0) return randomLayout(solver, random);
  const need = meanNeed(solver, search.startGrowth);
  const outer = Math.max(0, region.shape.diameterMm / 2 - need / 2);
  return pieces.length < 5 ? randomLayout(solver, random) : ringLayout(solver, outer, need, random);
}

function meanNeed({ problem }: PackSolver, growth: number): number {
  const { wallBase, wallSlope } = problem;
  let total = 0;
  wallBase.forEach((base, i) => {
    total += base + growth * (wallSlope[i] as number);
  });
  return (2 * total) / Math.max(1, wallBase.length);
}

/** The layout after one hop when it is at least as good, tightened; else null. */
function tryHop(
  solver: PackSolver,
  current: Growth,
  search: GrowthSearch,
  random: SeededRandom,
): Growth | null {
  const pressed = current.growth + OVERPRESS * Math.abs(search.startGrowth);
  const at = current.at.slice();
  hop(solver, at, pressed, random);
  solver.settle(at, pressed, { maxSteps: 120, valueBelow: 0 });
  const expected = expectedGrowth(solver, at, pressed);
  if (expected <= current.growth + search.tolerance) return null;
  const next = tightenGrowth(solver, at, pressed, search.tolerance);
  return next.growth > current.growth ? next : null;
}

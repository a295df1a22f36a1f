import type { Vec2 } from '../vec.ts';
import { type Lbfgs, makeLbfgs } from './lbfgs.ts';
import type { Region } from './region.ts';

/**
 * Discs to be placed in a region. What must be kept is a distance for each pair of centres and for
 * each centre to the wall, and grows with one number s, the growth:
 * need(s) = max(base + s · slope, floor). Pair tables are row by row, count × count.
 */
export interface DiscProblem {
  readonly region: Region;
  readonly count: number;
  readonly pairBase: Float64Array;
  readonly pairSlope: Float64Array;
  readonly pairFloor: Float64Array;
  readonly wallBase: Float64Array;
  readonly wallSlope: Float64Array;
  readonly wallFloor: Float64Array;
  /** Where a disc stands and may not be moved; null for a free one. */
  readonly fixed: readonly (Vec2 | null)[];
}

export interface SettleOptions {
  readonly maxSteps: number;
  readonly valueBelow: number;
}

export interface DiscSolver {
  readonly problem: DiscProblem;
  /** Minimises the squared shortfalls at growth s, moving `at` (x, y by turns) in place. */
  settle(at: Float64Array, growth: number, options: SettleOptions): number;
  /** Squared shortfalls at `at`, and how fast they rise with the growth. */
  strain(at: Float64Array, growth: number): { readonly value: number; readonly slope: number };
  /** Largest growth at which every need is met at `at`; −∞ when a floor is not. Exact. */
  growthOf(at: Float64Array): number;
  readonly evaluations: () => number;
}

/** Pairs further apart than their need plus this share of the region's width are not looked at. */
const SKIN_RATIO = 0.06;

export function makeDiscSolver(problem: DiscProblem): DiscSolver {
  const { count, region, pairBase, pairSlope, pairFloor, wallBase, wallSlope, wallFloor } = problem;
  const minimiser: Lbfgs = makeLbfgs(2 * count);
  const isFixed = Uint8Array.from(problem.fixed, (place) => (place === null ? 0 : 1));
  const neighbours = new Int32Array(count * count + 2);
  const listedAt = new Float64Array(2 * count).fill(Number.NaN);
  const pairNeed = new Float64Array(count * count);
  const wallNeed = new Float64Array(count);
  const wallPull = new Float64Array(2);
  const skin = SKIN_RATIO * Math.min(region.maxX - region.minX, region.maxY - region.minY);
  let listed = 0;
  let listedGrowth = Number.NaN;

  function setGrowth(growth: number): void {
    if (growth === listedGrowth) return;
    listedGrowth = growth;
    listedAt.fill(Number.NaN);
    for (let k = 0; k < count * count; k++) {
      const need = (pairBase[k] as number) + growth * (pairSlope[k] as number);
      pairNeed[k] = Math.max(need, pairFloor[k] as number);
    }
    for (let i = 0; i < count; i++) {
      const need = (wallBase[i] as number) + growth * (wallSlope[i] as number);
      wallNeed[i] = Math.max(need, wallFloor[i] as number);
    }
  }

  function list(at: Float64Array): void {
    listed = 0;
    for (let i = 0; i < count; i++) {
      const xi = at[2 * i] as number;
      const yi = at[2 * i + 1] as number;
      for (let j = i + 1; j < count; j++) {
        const reach = (pairNeed[i * count + j] as number) + 2 * skin;
        const dx = (at[2 * j] as number) - xi;
        const dy = (at[2 * j + 1] as number) - yi;
        if (dx * dx + dy * dy < reach * reach) {
          neighbours[listed++] = i;
          neighbours[listed++] = j;
        }
      }
    }
    listedAt.set(at);
  }

  function listIsStale(at: Float64Array): boolean {
    const limit = skin * skin;
    for (let k = 0; k < 2 * count; k += 2) {
      const dx = (at[k] as number) - (listedAt[k] as number);
      const dy = (at[k + 1] as number) - (listedAt[k + 1] as number);
      if (!(dx * dx + dy * dy <= limit)) return true;
    }
    return false;
  }

  function energy(at: Float64Array, gradient: Float64Array): number {
    if (listIsStale(at)) list(at);
    gradient.fill(0);
    let total = 0;
    for (let k = 0; k < listed; k += 2) {
      const i = neighbours[k] as number;
      const j = neighbours[k + 1] as number;
      const need = pairNeed[i * count + j] as number;
      const dx = (at[2 * j] as number) - (at[2 * i] as number);
      const dy = (at[2 * j + 1] as number) - (at[2 * i + 1] as number);
      const squared = dx * dx + dy * dy;
      if (squared >= need * need) continue;
      const distance = Math.sqrt(squared);
      const short = need - distance;
      total += short * short;
      const push = distance > 0 ? (2 * short) / distance : 0;
      gradient[2 * i] = (gradient[2 * i] as number) + push * dx;
      gradient[2 * i + 1] = (gradient[2 * i + 1] as number) + push * dy;
      gradient[2 * j] = (gradient[2 * j] as number) - push * dx;
      gradient[2 * j + 1] = (gradient[2 * j + 1] as number) - push * dy;
    }
    for (let i = 0; i < count; i++) {
      wallPull[0] = 0;
      wallPull[1] = 0;
      const short = region.shortfall(
        at[2 * i] as number,
        at[2 * i + 1] as number,
        wallNeed[i] as number,
        wallPull,
      );
      if (short <= 0) continue;
      total += short;
      gradient[2 * i] = (gradient[2 * i] as number) + (wallPull[0] as number);
      gradient[2 * i + 1] = (gradient[2 * i + 1] as number) + (wallPull[1] as number);
    }
    for (let i = 0; i < count; i++) {
      if (isFixed[i] === 0) continue;
      gradient[2 * i] = 0;
      gradient[2 * i + 1] = 0;
    }
    return total;
  }

  function settle(at: Float64Array, growth: number, options: SettleOptions): number {
    setGrowth(growth);
    return minimiser.minimise(energy, at, {
      maxSteps: options.maxSteps,
      valueBelow: options.valueBelow,
      gradientRatio: 1e-13,
    });
  }

  function strain(at: Float64Array, growth: number): { value: number; slope: number } {
    setGrowth(growth);
    let value = 0;
    let slope = 0;
    for (let i = 0; i < count; i++) {
      for (let j = i + 1; j < count; j++) {
        const k = i * count + j;
        const short = (pairNeed[k] as number) - distanceOf(at, i, j);
        if (short <= 0) continue;
        value += short * short;
        if ((pairNeed[k] as number) > (pairFloor[k] as number)) {
          slope += 2 * short * (pairSlope[k] as number);
        }
      }
      const need = wallNeed[i] as number;
      const short = need - region.clearance(at[2 * i] as number, at[2 * i + 1] as number);
      if (short <= 0) continue;
      value += short * short;
      if (need > (wallFloor[i] as number)) slope += 2 * short * (wallSlope[i] as number);
    }
    return { value, slope };
  }

  function growthOf(at: Float64Array): number {
    let growth = Number.POSITIVE_INFINITY;
    for (let i = 0; i < count; i++) {
      const clear = region.clearance(at[2 * i] as number, at[2 * i + 1] as number);
      if (clear < (wallFloor[i] as number)) return Number.NEGATIVE_INFINITY;
      growth = Math.min(growth, allowed(clear, wallBase[i] as number, wallSlope[i] as number));
      for (let j = i + 1; j < count; j++) {
        if (isFixed[i] === 1 && isFixed[j] === 1) continue;
        const k = i * count + j;
        const distance = distanceOf(at, i, j);
        if (distance < (pairFloor[k] as number)) return Number.NEGATIVE_INFINITY;
        growth = Math.min(growth, allowed(distance, pairBase[k] as number, pairSlope[k] as number));
      }
    }
    return growth;
  }

  return { problem, settle, strain, growthOf, evaluations: minimiser.evaluations };
}

function allowed(distance: number, base: number, slope: number): number {
  if (slope > 0) return (distance - base) / slope;
  return distance >= base ? Number.POSITIVE_INFINITY : Number.NEGATIVE_INFINITY;
}

function distanceOf(at: Float64Array, i: number, j: number): number {
  const dx = (at[2 * j] as number) - (at[2 * i] as number);
  const dy = (at[2 * j + 1] as number) - (at[2 * i + 1] as number);
  return Math.sqrt(dx * dx + dy * dy);
}

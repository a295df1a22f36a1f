import { type GrowthSearch, searchGrowth } from '../../../src/geometry/packing/growth-search.ts';
import { makePackSolver } from '../../../src/geometry/packing/pack-solver.ts';
import { regionOf } from '../../../src/geometry/packing/region.ts';
import { seededRandom } from '../../../src/geometry/packing/seeded-random.ts';

export interface SmallestCircle {
  /** Radius of the circle that holds the discs: exact for the coordinates given. */
  readonly radius: number;
  /** Centres about the circle's centre, x and y by turns. */
  readonly at: Float64Array;
}

export interface SmallestCircleSearch {
  /** Effort: evaluations of a layout times its discs, counted. */
  readonly work: number;
  readonly seed: number;
  /** Stop when this radius is reached. */
  readonly enough?: number;
}

/**
 * The smallest circle found that holds discs of these radii without overlap; any unit. Solved as
 * the largest scale at which they fit a circle of radius 1.
 */
export function smallestCircle(
  radii: readonly number[],
  search: SmallestCircleSearch,
): SmallestCircle {
  const count = radii.length;
  const pairs = new Float64Array(count * count);
  radii.forEach((a, i) => {
    radii.forEach((b, j) => {
      pairs[i * count + j] = a + b;
    });
  });
  const none = new Float64Array(count);
  const solver = makePackSolver({
    region: regionOf({ type: 'circle', diameterMm: 2 }),
    pieces: radii.map(() => ({
      parts: [{ dx: 0, dy: 0, halfX: 0, halfY: 0 }],
      turns: 'none' as const,
      fixed: null,
    })),
    pairBase: new Float64Array(count * count),
    pairSlope: pairs,
    pairFloor: new Float64Array(count * count).fill(Number.NEGATIVE_INFINITY),
    wallBase: none,
    wallSlope: Float64Array.from(radii),
    wallFloor: new Float64Array(count).fill(Number.NEGATIVE_INFINITY),
  });
  // All discs together can't take more than the circle's area.
  const area = radii.reduce((total, radius) => total + radius * radius, 0);
  const options: GrowthSearch = {
    startGrowth: 1 / Math.sqrt(area),
    work: search.work,
    enough: search.enough === undefined ? Number.POSITIVE_INFINITY : 1 / search.enough,
    tolerance: 1e-11 / Math.sqrt(area),
  };
  const { growth, at } = searchGrowth(solver, options, seededRandom(search.seed));
  return { radius: 1 / growth, at: at.map((value) => value / growth) };
}

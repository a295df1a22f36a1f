import { type DiscProblem, makeDiscSolver } from '../../geometry/packing/disc-solver.ts';
import { searchGrowth, tightenGrowth } from '../../geometry/packing/largest-growth.ts';
import { type Obstacle, pockets } from '../../geometry/packing/pockets.ts';
import type { Region } from '../../geometry/packing/region.ts';
import type { SeededRandom } from '../../geometry/packing/seeded-random.ts';
import type { Vec2 } from '../../geometry/vec.ts';
import type { ArrangementProblem, Spare } from '../../model/arrangement.ts';
import type { BuiltBody } from './as-built.ts';
import { askedProblem, PAD_MM } from './disc-needs.ts';
import type { TubePlace } from './fill-tubes.ts';

/** Points each way of the grid from which the largest free place is looked for. */
const GRID = 24;
const STARTS_FROM_GRID = 4;

export interface PlacedDisc {
  readonly body: BuiltBody;
  readonly x: number;
  readonly y: number;
}

/** What an extra cable of no diameter must keep from each body and from the wall. */
interface ExtraNeeds {
  readonly obstacles: readonly Obstacle[];
  readonly wallMm: number;
}

function extraNeeds(problem: ArrangementProblem, placed: readonly PlacedDisc[]): ExtraNeeds {
  const obstacles = placed.flatMap(({ body, x, y }) => {
    const kept = body.isCord ? 0 : body.ownRadiusMm + problem.separationMm;
    return [{ x, y, reach: Math.max(kept, body.builtRadiusMm) }];
  });
  return { obstacles, wallMm: problem.edgeMm };
}

/** Diameter of the largest cable that can come when no body moves and all tubes may come out. */
export function largestExtraFixedMm(
  problem: ArrangementProblem,
  region: Region,
  placed: readonly PlacedDisc[],
): number {
  const needs = extraNeeds(problem, placed);
  const solver = makeDiscSolver(oneMore(region, needs));
  const starts = gridStarts(region, needs);
  let best = 0;
  for (const start of starts) {
    const at = Float64Array.from([...needs.obstacles.flatMap(({ x, y }) => [x, y]), ...start.at]);
    best = Math.max(best, start.radius);
    const { growth } = tightenGrowth(solver, at, start.radius * 1.3 + 1, 1e-7);
    best = Math.max(best, growth);
  }
  return Math.max(0, 2 * (best - PAD_MM));
}

/** The bodies fixed, and one free disc whose radius is the growth. */
function oneMore(region: Region, { obstacles, wallMm }: ExtraNeeds): DiscProblem {
  const count = obstacles.length + 1;
  const last = count - 1;
  const pairBase = new Float64Array(count * count);
  const pairSlope = new Float64Array(count * count);
  const wallBase = new Float64Array(count).fill(Number.NEGATIVE_INFINITY);
  const wallSlope = new Float64Array(count);
  obstacles.forEach(({ reach }, i) => {
    for (const k of [i * count + last, last * count + i]) {
      pairBase[k] = reach;
      pairSlope[k] = 1;
    }
  });
  wallBase[last] = wallMm;
  wallSlope[last] = 1;
  return {
    region,
    count,
    pairBase,
    pairSlope,
    pairFloor: new Float64Array(count * count),
    wallBase,
    wallSlope,
    wallFloor: new Float64Array(count).fill(Number.NEGATIVE_INFINITY),
    fixed: [...obstacles.map(({ x, y }): Vec2 => [x, y]), null],
  };
}

function gridStarts(
  region: Region,
  { obstacles, wallMm }: ExtraNeeds,
): { readonly at: Vec2; readonly radius: number }[] {
  const starts: { at: Vec2; radius: number }[] = [];
  for (let row = 0; row < GRID; row++) {
    for (let column = 0; column < GRID; column++) {
      const x = region.minX + ((column + 0.5) * (region.maxX - region.minX)) / GRID;
      const y = region.minY + ((row + 0.5) * (region.maxY - region.minY)) / GRID;
      let radius = region.clearance(x, y) - wallMm;
      for (const { x: ox, y: oy, reach } of obstacles) {
        radius = Math.min(radius, Math.sqrt((x - ox) * (x - ox) + (y - oy) * (y - oy)) - reach);
      }
      starts.push({ at: [x, y], radius });
    }
  }
  return starts
    .sort((a, b) => b.radius - a.radius || a.at[1] - b.at[1] || a.at[0] - b.at[0])
    .slice(0, STARTS_FROM_GRID)
    .filter(({ radius }) => radius > -0.1 * (region.maxX - region.minX));
}

/** Diameter of the largest cable that can come when free bodies may move and tubes come out. */
export function largestExtraMovableMm(
  problem: ArrangementProblem,
  region: Region,
  bodies: readonly BuiltBody[],
  starts: number,
  random: SeededRandom,
): number {
  const extra: BuiltBody = {
    members: [],
    ref: '',
    ownRadiusMm: 0,
    innerRadiusMm: 0,
    builtRadiusMm: 0,
    tube: null,
    isCord: false,
  };
  const all = [...bodies, extra];
  const asked = askedProblem(problem, all, region, PAD_MM);
  const count = all.length;
  const last = count - 1;
  const pairSlope = new Float64Array(count * count);
  const wallSlope = new Float64Array(count);
  for (let i = 0; i < last; i++) {
    pairSlope[i * count + last] = 1;
    pairSlope[last * count + i] = 1;
  }
  wallSlope[last] = 1;
  const solver = makeDiscSolver({ ...asked, pairSlope, wallSlope });
  const startGrowth = Math.min(region.maxX - region.minX, region.maxY - region.minY) / 2;
  const search = {
    startGrowth,
    starts,
    enough: Number.POSITIVE_INFINITY,
    toleranceMm: 1e-6,
  };
  return Math.max(0, 2 * searchGrowth(solver, search, random).growth);
}

/** How many cables of the policy can come, one after another, without moving any other. */
export function policyMore(
  problem: ArrangementProblem,
  region: Region,
  placed: readonly PlacedDisc[],
  tubes: readonly TubePlace[],
): number | null {
  const { policy } = problem;
  if (policy === null) return null;
  const radius = policy.diameterMm / 2;
  const { obstacles, wallMm } = extraNeeds(problem, placed);
  const reaches = obstacles.map(({ x, y, reach }) => ({ x, y, reach: reach + radius + PAD_MM }));
  const most = Math.min(200, region.areaMm2 / (3 * radius * radius) + 1);
  let more = 0;
  while (more < most) {
    const spots = pockets(region, reaches, radius + wallMm + PAD_MM);
    const [spot] = spots.sort((a, b) => a[1] - b[1] || a[0] - b[0]);
    if (spot === undefined) break;
    reaches.push({
      x: spot[0],
      y: spot[1],
      reach: 2 * radius + problem.separationMm + PAD_MM,
    });
    more++;
  }
  const throughTubes = tubes.filter(
    ({ filler }) => filler.boreMm - problem.tubeClearanceMm >= policy.diameterMm,
  ).length;
  return Math.max(more, throughTubes);
}

/** The tubes left empty. */
export function emptyTubes(
  problem: ArrangementProblem,
  tubes: readonly TubePlace[],
): Pick<Spare, 'emptyTubes' | 'largestThroughTubeMm'> {
  const bores = tubes.map(({ filler }) => filler.boreMm - problem.tubeClearanceMm);
  return {
    emptyTubes: tubes.length,
    largestThroughTubeMm: bores.length === 0 ? null : Math.max(0, ...bores),
  };
}

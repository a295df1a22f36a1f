import { pointToBox } from '../../geometry/packing/box-distance.ts';
import { searchGrowth } from '../../geometry/packing/growth-search.ts';
import { tightenGrowth } from '../../geometry/packing/largest-growth.ts';
import { PAD_MM, type Piece } from '../../geometry/packing/pack-problem.ts';
import { makePackSolver, type PackSolver } from '../../geometry/packing/pack-solver.ts';
import { fillPockets, type Obstacles } from '../../geometry/packing/pockets.ts';
import type { Region } from '../../geometry/packing/region.ts';
import type { SeededRandom } from '../../geometry/packing/seeded-random.ts';
import type { Vec2 } from '../../geometry/vec.ts';
import type { ArrangementProblem, Spare } from '../../model/arrangement.ts';
import { type BuiltBody, type Member, type PlacedPiece, splitFillerFor } from './as-built.ts';
import type { TubePlace } from './fill-tubes.ts';
import { obstaclesOf } from './obstacles.ts';
import { askedProblem, partsOf } from './pack-needs.ts';

/** Points each way of the grid from which the largest free place is looked for. */
const GRID = 24;
const STARTS_FROM_GRID = 4;
/** More further cables than this are not counted. */
const MOST_POLICY_CABLES = 200;

/** The cable to come, as built: bare, or in the tube that is split over it. */
interface Extra {
  /** Wall of its tube; 0 when bare. */
  readonly tubeWallMm: number;
  /** Least radius it takes, whatever its diameter. */
  readonly leastRadiusMm: number;
}

const BARE: Extra = { tubeWallMm: 0, leastRadiusMm: 0 };

/**
 * Largest diameter of a cable to come, as it will be built: where a tube takes it, with the tube;
 * where the tube has no room, a cable just too small for that tube. `largest` gives the largest
 * radius found for a way of building, mm.
 */
function largestAsBuilt(
  { fillers, splitTubes, packingAllowanceRatio }: ArrangementProblem,
  largest: (extra: Extra) => number,
): number {
  let diameterMm = 2 * (largest(BARE) - PAD_MM);
  while (splitTubes && diameterMm > 0) {
    const filler = splitFillerFor(diameterMm, fillers);
    if (filler?.takesCableMm == null) break;
    const { smallestMm, largestMm } = filler.takesCableMm;
    const radius = largest({
      tubeWallMm: (filler.outsideMm - filler.boreMm) / 2,
      leastRadiusMm: (filler.outsideMm / 2) * (1 - packingAllowanceRatio),
    });
    const inTube = Math.min(2 * (radius - PAD_MM), largestMm, diameterMm);
    if (inTube >= smallestMm) return inTube;
    diameterMm = smallestMm - 2 * PAD_MM;
  }
  return Math.max(0, diameterMm);
}

/** What an extra cable of no diameter must keep from a member's core. */
function extraReach(
  problem: ArrangementProblem,
  member: Member,
  isCord: boolean,
  { tubeWallMm }: Extra,
): number {
  const kept = isCord ? 0 : member.ownRadiusMm + problem.separationMm;
  return Math.max(kept, member.builtRadiusMm + tubeWallMm);
}

function extraObstacles(
  problem: ArrangementProblem,
  placed: readonly PlacedPiece[],
  extra: Extra,
): Obstacles {
  return obstaclesOf(placed, (member, { body }) => extraReach(problem, member, body.isCord, extra));
}

/** Diameter of the largest cable that can come when no body moves and all tubes may come out. */
export function largestExtraFixedMm(
  problem: ArrangementProblem,
  region: Region,
  placed: readonly PlacedPiece[],
): number {
  const bodies = placed.map(({ body }) => body);
  return largestAsBuilt(problem, (extra) => {
    const solver = extraSolver(problem, region, bodies, placed, extra);
    let best = 0;
    for (const { at, radius } of gridStarts(problem, region, placed, extra)) {
      const start = startOf(solver, placed, at);
      best = Math.max(best, solver.growthOf(start));
      const { growth } = tightenGrowth(solver, start, Math.max(1, radius * 1.3), 1e-7);
      best = Math.max(best, growth);
    }
    return best;
  });
}

/** Diameter of the largest cable that can come when free bodies may move and tubes come out. */
export function largestExtraMovableMm(
  problem: ArrangementProblem,
  region: Region,
  bodies: readonly BuiltBody[],
  work: number,
  random: SeededRandom,
): number {
  const startGrowth = Math.min(region.maxX - region.minX, region.maxY - region.minY) / 2;
  const search = {
    startGrowth,
    work,
    enough: startGrowth - problem.edgeMm - 1e-6,
    tolerance: 1e-6,
  };
  return largestAsBuilt(problem, (extra) => {
    const solver = extraSolver(problem, region, bodies, null, extra);
    return searchGrowth(solver, search, random).growth;
  });
}

/** The bodies as asked for, and one free disc whose radius is the growth; `placed` ones stand fast. */
function extraSolver(
  problem: ArrangementProblem,
  region: Region,
  bodies: readonly BuiltBody[],
  placed: readonly PlacedPiece[] | null,
  extra: Extra,
): PackSolver {
  const asked = askedProblem(problem, bodies, region);
  const parts = partsOf(bodies);
  const count = parts.length + 1;
  const last = parts.length;
  const none = Number.NEGATIVE_INFINITY;
  const pairBase = new Float64Array(count * count).fill(none);
  const pairFloor = new Float64Array(count * count).fill(none);
  const pairSlope = new Float64Array(count * count);
  const wallBase = new Float64Array(count).fill(none);
  const wallFloor = new Float64Array(count).fill(none);
  const wallSlope = new Float64Array(count);
  parts.forEach(({ member, body }, i) => {
    for (const k of [i * count + last, last * count + i]) {
      pairBase[k] = extraReach(problem, member, body.isCord, extra);
      pairFloor[k] = member.builtRadiusMm + extra.leastRadiusMm + PAD_MM;
      pairSlope[k] = 1;
    }
  });
  // Bodies that may move keep what was asked for; standing ones are taken as they stand.
  if (placed === null) {
    for (let i = 0; i < last; i++) {
      pairFloor.set(asked.pairFloor.subarray(i * last, (i + 1) * last), i * count);
    }
    wallFloor.set(asked.wallFloor);
  }
  wallBase[last] = Math.max(problem.edgeMm, extra.tubeWallMm);
  wallFloor[last] = extra.leastRadiusMm + PAD_MM;
  wallSlope[last] = 1;
  const pieces = asked.pieces.map((piece, i): Piece => {
    const place = placed?.[i];
    if (place === undefined) return piece;
    return { ...piece, fixed: { x: place.x, y: place.y, angleRad: place.angleRad } };
  });
  const disc: Piece = {
    parts: [{ dx: 0, dy: 0, halfX: 0, halfY: 0 }],
    turns: 'none',
    fixed: null,
  };
  return makePackSolver({
    region,
    pieces: [...pieces, disc],
    pairBase,
    pairSlope,
    pairFloor,
    wallBase,
    wallSlope,
    wallFloor,
  });
}

function startOf(solver: PackSolver, placed: readonly PlacedPiece[], extra: Vec2): Float64Array {
  const { layout } = solver;
  const at = new Float64Array(layout.size);
  placed.forEach(({ x, y, angleRad }, i) => {
    at[2 * i] = x;
    at[2 * i + 1] = y;
    const turnAt = layout.turnAt[i] as number;
    if (turnAt >= 0) at[turnAt] = angleRad * (layout.arm[i] as number);
  });
  at[2 * placed.length] = extra[0];
  at[2 * placed.length + 1] = extra[1];
  return at;
}

function gridStarts(
  problem: ArrangementProblem,
  region: Region,
  placed: readonly PlacedPiece[],
  extra: Extra,
): { readonly at: Vec2; readonly radius: number }[] {
  const { rounds, boxes } = extraObstacles(problem, placed, extra);
  const starts: { at: Vec2; radius: number }[] = [];
  for (let row = 0; row < GRID; row++) {
    for (let column = 0; column < GRID; column++) {
      const x = region.minX + ((column + 0.5) * (region.maxX - region.minX)) / GRID;
      const y = region.minY + ((row + 0.5) * (region.maxY - region.minY)) / GRID;
      let radius = region.clearance(x, y) - problem.edgeMm;
      for (const { x: ox, y: oy, reach } of rounds) {
        radius = Math.min(radius, Math.sqrt((x - ox) * (x - ox) + (y - oy) * (y - oy)) - reach);
      }
      for (const { box, reach } of boxes) radius = Math.min(radius, pointToBox(x, y, box) - reach);
      starts.push({ at: [x, y], radius });
    }
  }
  const least = -0.1 * (region.maxX - region.minX);
  return starts
    .sort((a, b) => b.radius - a.radius || a.at[1] - b.at[1] || a.at[0] - b.at[0])
    .slice(0, STARTS_FROM_GRID)
    .filter(({ radius }) => radius > least);
}

/** How many cables of the policy can come, one after another, without moving any other. */
export function policyMore(
  problem: ArrangementProblem,
  region: Region,
  placed: readonly PlacedPiece[],
  tubes: readonly TubePlace[],
): number | null {
  const { policy } = problem;
  if (policy === null) return null;
  const radius = policy.diameterMm / 2;
  const filler = problem.splitTubes ? splitFillerFor(policy.diameterMm, problem.fillers) : null;
  const wallMm = filler === null ? 0 : (filler.outsideMm - filler.boreMm) / 2;
  const pressed = 1 - problem.packingAllowanceRatio;
  const built =
    filler === null
      ? radius
      : Math.max(radius, Math.max(filler.outsideMm / 2, radius + wallMm) * pressed);
  const obstacles = obstaclesOf(placed, (member, { body }) => {
    const kept = body.isCord ? 0 : member.ownRadiusMm + problem.separationMm + radius;
    return Math.max(kept, member.builtRadiusMm + built) + PAD_MM;
  });
  const wallNeed = Math.max(radius + problem.edgeMm, built) + PAD_MM;
  const between = Math.max(2 * radius + problem.separationMm, 2 * built) + PAD_MM;
  const more = fillPockets(region, obstacles, wallNeed, between, MOST_POLICY_CABLES).length;
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

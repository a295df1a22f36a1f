import { pointToBox } from '../../geometry/packing/box-distance.ts';
import { searchGrowth } from '../../geometry/packing/growth-search.ts';
import { tightenGrowth } from '../../geometry/packing/largest-growth.ts';
import { PAD_MM, type PackProblem, type Piece } from '../../geometry/packing/pack-problem.ts';
import { makePackSolver, type PackSolver } from '../../geometry/packing/pack-solver.ts';
import { fillPockets, type Obstacles } from '../../geometry/packing/pockets.ts';
import type { Region } from '../../geometry/packing/region.ts';
import type { SeededRandom } from '../../geometry/packing/seeded-random.ts';
import type { Vec2 } from '../../geometry/vec.ts';
import type { ArrangementProblem, Spare } from '../../model/arrangement.ts';
import type { BuiltBody, Member, PlacedPiece } from './as-built.ts';
import { grown, type TubePlace } from './fill-tubes.ts';
import { obstaclesOf } from './obstacles.ts';
import { askedProblem, partsOf } from './pack-needs.ts';

/** Points each way of the grid from which the largest free place is looked for. */
const GRID = 24;
const STARTS_FROM_GRID = 4;
/** More further cables than this are not counted. */
const MOST_POLICY_CABLES = 200;

/** What an extra cable of no diameter must keep from a member's core. */
function extraReach(problem: ArrangementProblem, member: Member, isCord: boolean): number {
  const kept = isCord ? 0 : member.ownRadiusMm + problem.separationMm;
  return Math.max(kept, member.builtRadiusMm);
}

function extraObstacles(problem: ArrangementProblem, placed: readonly PlacedPiece[]): Obstacles {
  return obstaclesOf(placed, (member, { body }) => extraReach(problem, member, body.isCord));
}

/** Diameter of the largest cable that can come when no body moves and all tubes may come out. */
export function largestExtraFixedMm(
  problem: ArrangementProblem,
  region: Region,
  placed: readonly PlacedPiece[],
): number {
  const solver = extraSolver(
    problem,
    region,
    placed.map(({ body }) => body),
    placed,
  );
  const last = placed.length;
  let best = 0;
  for (const { at, radius } of gridStarts(problem, region, extraObstacles(problem, placed))) {
    const start = startOf(solver, placed, at);
    start[2 * last] = at[0];
    start[2 * last + 1] = at[1];
    best = Math.max(best, radius);
    const { growth } = tightenGrowth(solver, start, Math.max(1, radius * 1.3), 1e-7);
    best = Math.max(best, growth);
  }
  return Math.max(0, 2 * (best - PAD_MM));
}

/** Diameter of the largest cable that can come when free bodies may move and tubes come out. */
export function largestExtraMovableMm(
  problem: ArrangementProblem,
  region: Region,
  bodies: readonly BuiltBody[],
  work: number,
  random: SeededRandom,
): number {
  const solver = extraSolver(problem, region, bodies, null);
  const startGrowth = Math.min(region.maxX - region.minX, region.maxY - region.minY) / 2;
  const { growth } = searchGrowth(
    solver,
    { startGrowth, work, enough: startGrowth - problem.edgeMm - 1e-6, tolerance: 1e-6 },
    random,
  );
  return Math.max(0, 2 * (growth - PAD_MM));
}

/** The bodies as asked for, and one free disc whose radius is the growth; `placed` ones stand fast. */
function extraSolver(
  problem: ArrangementProblem,
  region: Region,
  bodies: readonly BuiltBody[],
  placed: readonly PlacedPiece[] | null,
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
      pairBase[k] = extraReach(problem, member, body.isCord);
      pairSlope[k] = 1;
    }
    if (placed !== null) return;
    // Bodies that may move keep what was asked for; standing ones are taken as they stand.
    pairFloor.set(asked.pairFloor.subarray(i * last, (i + 1) * last), i * count);
    wallFloor[i] = asked.wallFloor[i] as number;
  });
  wallBase[last] = problem.edgeMm;
  wallSlope[last] = 1;
  const extra: Piece = {
    parts: [{ dx: 0, dy: 0, halfX: 0, halfY: 0 }],
    turns: 'none',
    fixed: null,
  };
  const pieces = asked.pieces.map((piece, i): Piece => {
    const place = placed?.[i];
    if (place === undefined) return piece;
    return { ...piece, fixed: { x: place.x, y: place.y, angleRad: place.angleRad } };
  });
  const needs: PackProblem = {
    region,
    pieces: [...pieces, extra],
    pairBase,
    pairSlope,
    pairFloor,
    wallBase,
    wallSlope,
    wallFloor,
  };
  return makePackSolver(needs);
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
  { rounds, boxes }: Obstacles,
): { readonly at: Vec2; readonly radius: number }[] {
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
  const base = grown(extraObstacles(problem, placed), radius + PAD_MM);
  const wallNeed = radius + problem.edgeMm + PAD_MM;
  const between = 2 * radius + problem.separationMm + PAD_MM;
  const more = fillPockets(region, base, wallNeed, between, MOST_POLICY_CABLES).length;
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

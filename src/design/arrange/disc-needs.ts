import type { DiscProblem } from '../../geometry/packing/disc-solver.ts';
import type { Needs } from '../../geometry/packing/impossibility.ts';
import { largestInscribed } from '../../geometry/packing/largest-inscribed.ts';
import { type Region, regionOf } from '../../geometry/packing/region.ts';
import type { ArrangementProblem } from '../../model/arrangement.ts';
import type { BuiltBody } from './as-built.ts';

/** Kept beyond every need, so that rounding never makes an overlap. */
export const PAD_MM = 1e-6;

/** Least distance of two centres as built, and as classes of pairs demand; mm. */
function leastPair(problem: ArrangementProblem, a: BuiltBody, b: BuiltBody): number {
  const classes = a.ownRadiusMm + b.ownRadiusMm + classSeparation(problem, a, b);
  return Math.max(a.builtRadiusMm + b.builtRadiusMm, classes);
}

/** Least distance of two centres with the separation asked for; mm. */
function askedPair(problem: ArrangementProblem, a: BuiltBody, b: BuiltBody): number {
  const least = leastPair(problem, a, b);
  if (a.isCord || b.isCord) return least;
  return Math.max(least, a.ownRadiusMm + b.ownRadiusMm + problem.separationMm);
}

/** Least distance of a centre from the wall with the edge distance asked for; mm. */
function askedWall(problem: ArrangementProblem, body: BuiltBody): number {
  return Math.max(body.builtRadiusMm, body.isCord ? 0 : body.ownRadiusMm + problem.edgeMm);
}

function classSeparation({ classSeparations }: ArrangementProblem, a: BuiltBody, b: BuiltBody) {
  const first = classOf(a);
  const second = classOf(b);
  if (first === undefined || second === undefined) return 0;
  let most = 0;
  for (const { classes, separationMm } of classSeparations ?? []) {
    const [x, y] = classes;
    const isPair = (x === first && y === second) || (x === second && y === first);
    if (isPair) most = Math.max(most, separationMm);
  }
  return most;
}

function classOf({ members }: BuiltBody): string | undefined {
  return members[0]?.body.separationClass;
}

/** Needs as asked for: growth does not change them. */
export function askedProblem(
  problem: ArrangementProblem,
  bodies: readonly BuiltBody[],
  region: Region,
  pad: number,
): DiscProblem {
  const count = bodies.length;
  const pairFloor = pairTable(bodies, (a, b) => askedPair(problem, a, b) + pad);
  const wallFloor = Float64Array.from(bodies, (body) => askedWall(problem, body) + pad);
  return {
    region,
    count,
    pairBase: pairFloor,
    pairSlope: new Float64Array(count * count),
    pairFloor,
    wallBase: wallFloor,
    wallSlope: new Float64Array(count),
    wallFloor,
    fixed: fixedPlaces(bodies),
  };
}

/** The common gap as growth: own radii + gap, but never less than as built. */
export function gapProblem(
  problem: ArrangementProblem,
  bodies: readonly BuiltBody[],
  region: Region,
  pad: number,
): DiscProblem {
  const own = (body: BuiltBody) => (body.isCord ? 0 : body.ownRadiusMm);
  return {
    region,
    count: bodies.length,
    pairBase: pairTable(bodies, (a, b) => own(a) + own(b)),
    pairSlope: pairTable(bodies, (a, b) => (a.isCord || b.isCord ? 0 : 1)),
    pairFloor: pairTable(bodies, (a, b) => leastPair(problem, a, b) + pad),
    wallBase: Float64Array.from(bodies, own),
    wallSlope: Float64Array.from(bodies, (body) => (body.isCord ? 0 : 1)),
    wallFloor: Float64Array.from(bodies, (body) => body.builtRadiusMm + pad),
    fixed: fixedPlaces(bodies),
  };
}

function pairTable(
  bodies: readonly BuiltBody[],
  value: (a: BuiltBody, b: BuiltBody) => number,
): Float64Array {
  const table = new Float64Array(bodies.length * bodies.length);
  let k = 0;
  for (const a of bodies) for (const b of bodies) table[k++] = value(a, b);
  return table;
}

function fixedPlaces(bodies: readonly BuiltBody[]): DiscProblem['fixed'] {
  return bodies.map(({ members }) => {
    const fixedAt = members[0]?.body.fixedAt;
    return fixedAt === undefined ? null : ([fixedAt.xMm, fixedAt.yMm] as const);
  });
}

/** What the proofs work on: needs at a separation and edge, without pads. */
export function needsAt(
  problem: ArrangementProblem,
  bodies: readonly BuiltBody[],
  separationMm: number,
  edgeMm: number,
): Needs {
  const region = regionOf(problem.opening);
  const small = bodies.map((body) => ({
    ...body,
    ownRadiusMm: body.innerRadiusMm,
    builtRadiusMm: body.tube === null ? body.innerRadiusMm : body.builtRadiusMm,
  }));
  const asked = { ...problem, separationMm, edgeMm };
  const gapped = small.map((body) =>
    body.isCord ? 0 : body.ownRadiusMm + Math.max(0, separationMm) / 2,
  );
  return {
    region,
    inscribed: largestInscribed(region),
    names: bodies.map(({ ref }) => ref),
    count: bodies.length,
    pairNeed: (i, j) => askedPair(asked, small[i] as BuiltBody, small[j] as BuiltBody),
    wallNeed: Float64Array.from(small, (body) => askedWall(asked, body)),
    inflated: [Float64Array.from(gapped), Float64Array.from(small, (body) => body.builtRadiusMm)],
  };
}

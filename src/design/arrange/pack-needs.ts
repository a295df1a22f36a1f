import { sum } from '../../basics/order.ts';
import type { NeedBody, Needs } from '../../geometry/packing/impossibility.ts';
import type { InscribedBounds } from '../../geometry/packing/largest-inscribed.ts';
import { PAD_MM, type PackProblem, type Piece } from '../../geometry/packing/pack-problem.ts';
import type { Region } from '../../geometry/packing/region.ts';
import { sizeText } from '../../geometry/shape.ts';
import type { ArrangementProblem, Body } from '../../model/arrangement.ts';
import type { BuiltBody, Member } from './as-built.ts';

/** A member with the body it belongs to. */
export interface Part {
  readonly body: BuiltBody;
  readonly member: Member;
}

export function partsOf(bodies: readonly BuiltBody[]): Part[] {
  return bodies.flatMap((body) => body.members.map((member) => ({ body, member })));
}

/** Least distance of two parts as built, and as classes of pairs demand; between cores, mm. */
function leastPair(problem: ArrangementProblem, a: Part, b: Part): number {
  const own = a.member.ownRadiusMm + b.member.ownRadiusMm;
  const built = a.member.builtRadiusMm + b.member.builtRadiusMm;
  const tube = isBare(a) && isBare(b) ? (problem.bareApartMm ?? 0) : 0;
  const classes = classSeparation(problem, a.member.body, b.member.body);
  return Math.max(built, own + Math.max(tube, classes));
}

function isBare({ body }: Part): boolean {
  return body.tube === null && !body.isCord;
}

/** Least distance of two parts with the separation asked for; between cores, mm. */
export function askedPair(problem: ArrangementProblem, a: Part, b: Part): number {
  const least = leastPair(problem, a, b);
  if (a.body.isCord || b.body.isCord) return least;
  return Math.max(least, a.member.ownRadiusMm + b.member.ownRadiusMm + problem.separationMm);
}

/** Least distance of a part's core from the wall with the edge distance asked for; mm. */
export function askedWall(problem: ArrangementProblem, { body, member }: Part): number {
  if (body.isCord) return member.builtRadiusMm;
  const tube = body.tube === null ? (problem.bareApartMm ?? 0) : 0;
  return Math.max(member.builtRadiusMm, member.ownRadiusMm + Math.max(problem.edgeMm, tube));
}

function classSeparation({ classSeparations }: ArrangementProblem, a: Body, b: Body): number {
  const first = a.separationClass;
  const second = b.separationClass;
  if (first === undefined || second === undefined) return 0;
  let most = 0;
  for (const { classes, separationMm } of classSeparations ?? []) {
    const [x, y] = classes;
    const isPair = (x === first && y === second) || (x === second && y === first);
    if (isPair) most = Math.max(most, separationMm);
  }
  return most;
}

/** Needs as asked for: growth does not change them. */
export function askedProblem(
  problem: ArrangementProblem,
  bodies: readonly BuiltBody[],
  region: Region,
): PackProblem {
  const parts = partsOf(bodies);
  const pairFloor = pairTable(parts, (a, b) => floorOf(askedPair(problem, a, b), a, b));
  const wallFloor = Float64Array.from(parts, (part) => floorOf(askedWall(problem, part), part));
  return {
    region,
    pieces: bodies.map(pieceOf),
    pairBase: new Float64Array(pairFloor.length).fill(Number.NEGATIVE_INFINITY),
    pairSlope: new Float64Array(pairFloor.length),
    pairFloor,
    wallBase: new Float64Array(wallFloor.length).fill(Number.NEGATIVE_INFINITY),
    wallSlope: new Float64Array(wallFloor.length),
    wallFloor,
  };
}

/** The common gap as growth: own surfaces + gap, but never less than as built. */
export function gapProblem(
  problem: ArrangementProblem,
  bodies: readonly BuiltBody[],
  region: Region,
): PackProblem {
  const parts = partsOf(bodies);
  const own = ({ body, member }: Part) => (body.isCord ? 0 : member.ownRadiusMm);
  const slope = ({ body }: Part) => (body.isCord ? 0 : 1);
  return {
    region,
    pieces: bodies.map(pieceOf),
    pairBase: pairTable(parts, (a, b) => (slope(a) * slope(b) === 0 ? 0 : own(a) + own(b))),
    pairSlope: pairTable(parts, (a, b) => slope(a) * slope(b)),
    pairFloor: pairTable(parts, (a, b) => floorOf(leastPair(problem, a, b), a, b)),
    wallBase: Float64Array.from(parts, own),
    wallSlope: Float64Array.from(parts, slope),
    wallFloor: Float64Array.from(parts, (part) => floorOf(part.member.builtRadiusMm, part)),
  };
}

/** A need with its pad; none between parts that all stand fast, which are judged as they stand. */
function floorOf(need: number, ...parts: readonly Part[]): number {
  const isStanding = parts.every(({ member }) => member.body.fixedAt !== undefined);
  return isStanding ? Number.NEGATIVE_INFINITY : need + PAD_MM;
}

/** Row by row for every two parts. */
function pairTable(parts: readonly Part[], value: (a: Part, b: Part) => number): Float64Array {
  const table = new Float64Array(parts.length * parts.length);
  let k = 0;
  for (const a of parts) for (const b of parts) table[k++] = value(a, b);
  return table;
}

function pieceOf({ members }: BuiltBody): Piece {
  const [first] = members;
  const { fixedAt, outline } = first?.body ?? {};
  return {
    parts: members.map(({ dx, dy, halfX, halfY }) => ({ dx, dy, halfX, halfY })),
    turns: outline?.type === 'rectangle' ? outline.turns : members.length > 1 ? 'free' : 'none',
    fixed:
      fixedAt === undefined
        ? null
        : { x: fixedAt.xMm, y: fixedAt.yMm, angleRad: fixedAt.angleRad ?? 0 },
  };
}

/** What the proofs work on: needs at a separation and edge, without pads. */
export function needsAt(
  asked: ArrangementProblem,
  bodies: readonly BuiltBody[],
  region: Region,
  inscribed: InscribedBounds,
): Needs {
  const parts = partsOf(bodies);
  return {
    region,
    inscribed,
    bodies: parts.map((part) => needBody(asked, part)),
    pairNeed: (i, j) => centrePair(asked, parts[i] as Part, parts[j] as Part),
    loads: [gappedLoad(asked, parts), builtLoad(parts)],
  };
}

function needBody(problem: ArrangementProblem, part: Part): NeedBody {
  const { outline } = part.member.body;
  const wall = askedWall(problem, part);
  if (outline.type === 'circle') {
    return { name: `a body of ${sizeText(outline.diameterMm)} dia`, wallMm: wall, rectangle: null };
  }
  const { widthMm, heightMm, turns } = outline;
  return {
    name: `a body of ${sizeText(widthMm)} × ${sizeText(heightMm)}`,
    wallMm: Math.min(widthMm, heightMm) / 2 + wall,
    rectangle: { widthMm, heightMm, edgeMm: wall, turns },
  };
}

/** Between centres: a rectangle holds at least the circle in it; a bundle's members stand still. */
function centrePair(problem: ArrangementProblem, a: Part, b: Part): number {
  if (a.body === b.body) {
    const dx = a.member.dx - b.member.dx;
    const dy = a.member.dy - b.member.dy;
    return Math.sqrt(dx * dx + dy * dy);
  }
  const inner = ({ member }: Part) => Math.min(member.halfX, member.halfY);
  return askedPair(problem, a, b) + inner(a) + inner(b);
}

/** Bodies with half the separation round them; members of a bundle touch and take themselves only. */
function gappedLoad(problem: ArrangementProblem, parts: readonly Part[]): Needs['loads'][number] {
  const half = problem.separationMm / 2;
  let areaMm2 = 0;
  let growMm = Number.NEGATIVE_INFINITY;
  for (const part of parts) {
    const { body, member } = part;
    const round = body.isCord || body.members.length > 1 ? 0 : half;
    const radius = body.isCord ? 0 : member.ownRadiusMm;
    areaMm2 += roundedArea(member, radius + round);
    growMm = Math.max(growMm, radius + round - askedWall(problem, part));
  }
  return { areaMm2, growMm };
}

/** Bodies in their tubes. */
function builtLoad(parts: readonly Part[]): Needs['loads'][number] {
  return {
    areaMm2: sum(parts.map(({ member }) => roundedArea(member, member.builtRadiusMm))),
    growMm: 0,
  };
}

/** Area within a distance of a part's core. */
function roundedArea({ halfX, halfY }: Member, radius: number): number {
  return 4 * halfX * halfY + 4 * (halfX + halfY) * radius + Math.PI * radius * radius;
}

import { groupBy } from '../../basics/order.ts';
import { sineCosine } from '../../geometry/packing/exact-trigonometry.ts';
import type { ArrangementProblem, Body, FillerSize } from '../../model/arrangement.ts';

/** A body, or a bundle kept whole, as it will lie in the seal. */
export interface BuiltBody {
  readonly members: readonly Member[];
  /** The tube round it, with its outside as built; null when bare. */
  readonly tube: WornTube | null;
  /** A draw cord is no cable: it keeps no separation of its own beyond its tube. */
  readonly isCord: boolean;
}

export interface WornTube {
  readonly name: string;
  readonly outsideMm: number;
}

/** One body of a piece: a disc about a point, or a rectangle. Millimetres. */
export interface Member {
  readonly body: Body;
  /** Off the piece's centre, before any turn. */
  readonly dx: number;
  readonly dy: number;
  /** Of the cable itself: separations and the gap are measured from here; 0 for a rectangle. */
  readonly ownRadiusMm: number;
  /** Of the cable in its tube, pressed as the packing allowance says; its own radius when bare. */
  readonly builtRadiusMm: number;
  /** Half the sides of a rectangle; 0 for a disc. */
  readonly halfX: number;
  readonly halfY: number;
}

/**
 * Bodies with the tubes they wear: max(tube outside, cable + two walls) for a cable in a split tube
 * (design rules 4.2), of the tubes that take it the one that makes the smallest body. Bundles that
 * are kept whole become one body, bare.
 */
export function bodiesAsBuilt(problem: ArrangementProblem): BuiltBody[] {
  const bundles = groupBy(problem.bodies.filter(isKeptBundle), (body) => body.bundle?.id ?? '');
  const built: BuiltBody[] = [];
  for (const body of problem.bodies) {
    const members = isKeptBundle(body) ? (bundles.get(body.bundle?.id ?? '') ?? []) : [];
    if (members.length < 2) built.push(singleAsBuilt(body, problem));
    else if (members[0] === body) built.push(bundleAsBuilt(members));
  }
  return built;
}

/** Only round bodies that may move are tied together; others are placed one by one. */
function isKeptBundle({ bundle, outline, fixedAt }: Body): boolean {
  const isTied = bundle !== undefined && bundle.form !== 'spread';
  return isTied && outline.type === 'circle' && fixedAt === undefined;
}

function singleAsBuilt(body: Body, problem: ArrangementProblem): BuiltBody {
  const isCord = body.isDrawCord === true;
  const { outline } = body;
  if (outline.type === 'rectangle') {
    const half = { halfX: outline.widthMm / 2, halfY: outline.heightMm / 2 };
    const member = { body, dx: 0, dy: 0, ownRadiusMm: 0, builtRadiusMm: 0, ...half };
    return { members: [member], tube: null, isCord: false };
  }
  const tube = isCord
    ? cordTube(outline.diameterMm, problem)
    : problem.splitTubes
      ? splitTubeOver(outline.diameterMm, problem.fillers)
      : null;
  const pressed = tube === null ? 0 : (tube.outsideMm / 2) * (1 - problem.packingAllowanceRatio);
  const ownRadiusMm = outline.diameterMm / 2;
  const builtRadiusMm = Math.max(ownRadiusMm, pressed);
  const member = { body, dx: 0, dy: 0, ownRadiusMm, builtRadiusMm, halfX: 0, halfY: 0 };
  return { members: [member], tube, isCord };
}

function bundleAsBuilt(bodies: readonly Body[]): BuiltBody {
  const radii = bodies.map(({ outline }) =>
    outline.type === 'circle' ? outline.diameterMm / 2 : 0,
  );
  const places = bundlePlaces(bodies, radii);
  const members = bodies.map((body, k): Member => {
    const radius = radii[k] as number;
    const [dx, dy] = places[k] ?? [0, 0];
    return { body, dx, dy, ownRadiusMm: radius, builtRadiusMm: radius, halfX: 0, halfY: 0 };
  });
  return { members, tube: null, isCord: false };
}

/** Trefoil of three equal cables about its centre; anything else side by side in a row. */
function bundlePlaces(
  bodies: readonly Body[],
  radii: readonly number[],
): (readonly [number, number])[] {
  const [first = 0] = radii;
  const isEqual = radii.length === 3 && radii.every((radius) => radius === first);
  if (bodies[0]?.bundle?.form === 'trefoil' && isEqual) {
    const reach = (2 * first) / Math.sqrt(3);
    return [
      [0, reach],
      [-first, -reach / 2],
      [first, -reach / 2],
    ];
  }
  let along = -radii.reduce((total, radius) => total + radius, 0);
  return radii.map((radius) => {
    along += radius;
    const place = [along, 0] as const;
    along += radius;
    return place;
  });
}

/** The tube that is split over a cable of this diameter, as built; null when none takes it. */
function splitTubeOver(diameterMm: number, fillers: readonly FillerSize[]): WornTube | null {
  const filler = splitFillerFor(diameterMm, fillers);
  if (filler === null) return null;
  return { name: filler.name, outsideMm: builtOutside(filler, diameterMm) };
}

/** Of the sizes that take a cable of this diameter, the one that makes the smallest body. */
export function splitFillerFor(
  diameterMm: number,
  fillers: readonly FillerSize[],
): FillerSize | null {
  let best: FillerSize | null = null;
  for (const filler of fillers) {
    const { takesCableMm: takes } = filler;
    if (takes === null || diameterMm < takes.smallestMm || diameterMm > takes.largestMm) continue;
    const built = builtOutside(filler, diameterMm);
    if (best === null || built < builtOutside(best, diameterMm)) best = filler;
  }
  return best;
}

function builtOutside({ outsideMm, boreMm }: FillerSize, diameterMm: number): number {
  return Math.max(outsideMm, diameterMm + (outsideMm - boreMm));
}

/** The smallest whole tube a draw cord passes. */
function cordTube(diameterMm: number, problem: ArrangementProblem): WornTube | null {
  let best: FillerSize | null = null;
  for (const filler of problem.fillers) {
    if (filler.boreMm < diameterMm + problem.tubeClearanceMm) continue;
    if (best === null || filler.outsideMm < best.outsideMm) best = filler;
  }
  return best === null ? null : { name: best.name, outsideMm: best.outsideMm };
}

/** A body with its place. */
export interface PlacedPiece {
  readonly body: BuiltBody;
  readonly x: number;
  readonly y: number;
  readonly angleRad: number;
}

/** Centres of the members of a placed body. */
export function memberPlaces({ body, x, y, angleRad }: PlacedPiece): {
  readonly member: Member;
  readonly x: number;
  readonly y: number;
}[] {
  const [sine, cosine] = sineCosine(angleRad);
  return body.members.map((member) => ({
    member,
    x: x + member.dx * cosine - member.dy * sine,
    y: y + member.dx * sine + member.dy * cosine,
  }));
}

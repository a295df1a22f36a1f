import { groupBy } from '../../basics/order.ts';
import type { ArrangementProblem, Body, FillerSize } from '../../model/arrangement.ts';

/** A body, or a bundle kept whole, as it will lie in the seal. Radii in mm. */
export interface BuiltBody {
  /** The bodies it is made of, each off the centre by dx, dy before any turn. */
  readonly members: readonly Member[];
  readonly ref: string;
  /** Of a circle that holds it: separations and the gap are measured from the bodies' own surfaces. */
  readonly ownRadiusMm: number;
  /** Of a circle that it certainly fills: for proofs. */
  readonly innerRadiusMm: number;
  /** Of the cable in its tube, pressed as the packing allowance says; its own radius when bare. */
  readonly builtRadiusMm: number;
  /** The tube round it, with its outside as built; null when bare. */
  readonly tube: { readonly name: string; readonly outsideMm: number } | null;
  /** A draw cord is no cable: it keeps no separation of its own beyond its tube. */
  readonly isCord: boolean;
}

export interface Member {
  readonly body: Body;
  readonly dx: number;
  readonly dy: number;
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
    if (!isKeptBundle(body)) {
      built.push(asBuilt(body, problem));
      continue;
    }
    const members = bundles.get(body.bundle?.id ?? '') ?? [];
    if (members[0] === body) built.push(bundleAsBuilt(members));
  }
  return built;
}

/** Only round bodies that may move are tied together; others are placed one by one. */
export function isKeptBundle({ bundle, outline, fixedAt }: Body): boolean {
  const isTied = bundle !== undefined && bundle.form !== 'spread';
  return isTied && outline.type === 'circle' && fixedAt === undefined;
}

function asBuilt(body: Body, problem: ArrangementProblem): BuiltBody {
  const isCord = body.isDrawCord === true;
  const { outer, inner } = radiiOf(body);
  const tube = isCord ? cordTube(2 * outer, problem) : splitTube(body, problem);
  const pressed = tube === null ? 0 : (tube.outsideMm / 2) * (1 - problem.packingAllowanceRatio);
  return {
    members: [{ body, dx: 0, dy: 0 }],
    ref: body.ref,
    ownRadiusMm: outer,
    innerRadiusMm: inner,
    builtRadiusMm: Math.max(outer, pressed),
    tube,
    isCord,
  };
}

function bundleAsBuilt(bodies: readonly Body[]): BuiltBody {
  const radii = bodies.map((body) => radiiOf(body).outer);
  const members = bundleMembers(bodies, radii);
  const outer = members.reduce((most, { dx, dy }, k) => {
    return Math.max(most, Math.sqrt(dx * dx + dy * dy) + (radii[k] as number));
  }, 0);
  return {
    members,
    ref: bodies.map(({ ref }) => ref).join(' + '),
    ownRadiusMm: outer,
    innerRadiusMm: Math.max(...radii),
    builtRadiusMm: outer,
    tube: null,
    isCord: false,
  };
}

/** Trefoil of three equal cables about its centre; anything else side by side in a row. */
function bundleMembers(bodies: readonly Body[], radii: readonly number[]): Member[] {
  const [first = 0] = radii;
  const isTrefoil =
    bodies[0]?.bundle?.form === 'trefoil' && bodies.length === 3 && radii.every((r) => r === first);
  if (isTrefoil) {
    const reach = (2 * first) / Math.sqrt(3);
    const places = [
      [0, reach],
      [-first, -reach / 2],
      [first, -reach / 2],
    ] as const;
    return bodies.map((body, k) => ({ body, dx: places[k]?.[0] ?? 0, dy: places[k]?.[1] ?? 0 }));
  }
  const length = radii.reduce((total, radius) => total + 2 * radius, 0);
  let along = -length / 2;
  return bodies.map((body, k) => {
    const radius = radii[k] as number;
    const dx = along + radius;
    along += 2 * radius;
    return { body, dx, dy: 0 };
  });
}

function radiiOf({ outline }: Body): { readonly outer: number; readonly inner: number } {
  if (outline.type === 'circle')
    return { outer: outline.diameterMm / 2, inner: outline.diameterMm / 2 };
  const { widthMm: w, heightMm: h } = outline;
  return { outer: Math.sqrt(w * w + h * h) / 2, inner: Math.min(w, h) / 2 };
}

function splitTube(body: Body, { fillers, splitTubes }: ArrangementProblem): BuiltBody['tube'] {
  if (!splitTubes || body.outline.type !== 'circle') return null;
  return splitTubeOver(body.outline.diameterMm, fillers);
}

/** The tube that is split over a cable of this diameter, as built; null when none takes it. */
export function splitTubeOver(
  diameterMm: number,
  fillers: readonly FillerSize[],
): { readonly name: string; readonly outsideMm: number } | null {
  let best: { readonly name: string; readonly outsideMm: number } | null = null;
  for (const { name, outsideMm, boreMm, takesCableMm } of fillers) {
    if (takesCableMm === null) continue;
    if (diameterMm < takesCableMm.smallestMm || diameterMm > takesCableMm.largestMm) continue;
    const built = Math.max(outsideMm, diameterMm + (outsideMm - boreMm));
    if (best === null || built < best.outsideMm) best = { name, outsideMm: built };
  }
  return best;
}

/** The smallest whole tube a draw cord passes. */
function cordTube(diameterMm: number, problem: ArrangementProblem): BuiltBody['tube'] {
  let best: FillerSize | null = null;
  for (const filler of problem.fillers) {
    if (filler.boreMm < diameterMm + problem.tubeClearanceMm) continue;
    if (best === null || filler.outsideMm < best.outsideMm) best = filler;
  }
  return best === null ? null : { name: best.name, outsideMm: best.outsideMm };
}

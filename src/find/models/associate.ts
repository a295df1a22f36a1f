import { boxOfPoints, grownBox } from '../../geometry/box.ts';
import { indexBoxes } from '../../geometry/box-index.ts';
import { cross3, dot3, lerp3, scale3, sub3, unit3, type Vec3 } from '../../geometry/vec.ts';
import type { Service } from '../../model/building.ts';
import type { Settings } from '../../model/settings.ts';
import { sectionReachMm } from './axis-pieces.ts';
import { crossingNormal, type HostCrossing } from './crossings.ts';
import type { HostHole } from './hole-prism.ts';
import { depthInShape, inSection, type OpeningBody } from './opening-body.ts';
import type { Runs } from './runs.ts';

/** What belongs together, as pairs of numbers. */
export interface Associations {
  /** Crossing and opening that it passes, wholly or in part. */
  readonly inOpening: readonly (readonly [number, number])[];
  /** Crossings of one run through neighbouring leaves. */
  readonly leaves: readonly (readonly [number, number])[];
  /** Crossing and the crossing of the carrier it lies in. */
  readonly carried: ReadonlyMap<number, number>;
  /** Crossings near enough to share an opening that is not there yet, or through one modelled hole. */
  readonly close: readonly (readonly [number, number])[];
  /** Openings of one hole: in neighbouring leaves, or a provision and what was cut for it. */
  readonly openings: readonly (readonly [number, number])[];
}

const PARALLEL_COSINE = 0.7;

/** Finds what shares a hole. Openings that are null take no part. */
export function associate(
  crossings: readonly HostCrossing[],
  openings: readonly (OpeningBody | null)[],
  runs: Runs,
  settings: Settings,
): Associations {
  const carried = findCarried(crossings, runs);
  return {
    inOpening: findInOpenings(crossings, openings, runs),
    leaves: findLeaves(crossings, runs, settings.find.leafGapMm),
    carried,
    close: [
      ...findClose(crossings, runs, settings.find.sharedOpeningSpacingMm),
      ...findSharedHoles(crossings),
    ],
    openings: findSameHoles(openings, settings.find.leafGapMm),
  };
}

function middleOfCrossing({ entry, exit }: HostCrossing): Vec3 {
  return lerp3(entry.pointMm, exit.pointMm, 0.5);
}

/** The service that tells the size and kind of a crossing. */
function mainService(crossing: HostCrossing, runs: Runs): Service | null {
  const [first] = crossing.services;
  return first === undefined ? null : (runs.paths[first]?.service ?? null);
}

function findInOpenings(
  crossings: readonly HostCrossing[],
  openings: readonly (OpeningBody | null)[],
  runs: Runs,
): readonly (readonly [number, number])[] {
  const index = indexBoxes(openings.map((opening) => opening?.box ?? null));
  const pairs: (readonly [number, number])[] = [];
  crossings.forEach((crossing, c) => {
    const service = mainService(crossing, runs);
    const reach = service === null ? 0 : sectionReachMm(service);
    const path = boxOfPoints([crossing.entry.pointMm, crossing.exit.pointMm]);
    if (path === null) return;
    const inside: number[] = [];
    let nearest: { opening: number; depth: number } | null = null;
    for (const n of index.meeting(grownBox(path, reach))) {
      const opening = openings[n];
      if (opening == null) continue;
      const depth = depthIn(opening, crossing);
      if (depth === null) continue;
      if (depth >= 0) inside.push(n);
      else if (depth > -reach + 0.5 && (nearest === null || depth > nearest.depth)) {
        nearest = { opening: n, depth };
      }
    }
    for (const n of inside) pairs.push([c, n]);
    if (inside.length === 0 && nearest !== null) pairs.push([c, nearest.opening]);
  });
  return pairs;
}

/** How deep inside the opening's outline the crossing's centre lies; null where it passes elsewhere. */
function depthIn(opening: OpeningBody, crossing: HostCrossing): number | null {
  if (opening.shape === null) return null;
  const entry = inSection(opening.frame, crossing.entry.pointMm);
  const exit = inSection(opening.frame, crossing.exit.pointMm);
  const low = Math.min(entry[2], exit[2]);
  const high = Math.max(entry[2], exit[2]);
  const shared = Math.min(high, opening.toMm) - Math.max(low, opening.fromMm);
  if (shared < Math.min(1, (high - low) / 2)) return null;
  const middle = lerp3(entry, exit, 0.5);
  return depthInShape(opening.shape, [middle[0], middle[1]]);
}

/** Crossings of one run whose hosts stand face to face, up to the gap. */
function findLeaves(
  crossings: readonly HostCrossing[],
  runs: Runs,
  gapMm: number,
): readonly (readonly [number, number])[] {
  const points = crossings.map(({ entry, exit }) => boxOfPoints([entry.pointMm, exit.pointMm]));
  const index = indexBoxes(points);
  const pairs: (readonly [number, number])[] = [];
  crossings.forEach((crossing, a) => {
    const box = points[a];
    if (!box) return;
    for (const b of index.meeting(grownBox(box, gapMm * 3 + 1))) {
      const other = crossings[b];
      if (b <= a || other === undefined || other.host === crossing.host) continue;
      if (isOneRun(crossing, other, runs) && leafGap(crossing, other) <= gapMm + 0.5) {
        pairs.push([a, b]);
      }
    }
  });
  return pairs;
}

function isOneRun(a: HostCrossing, b: HostCrossing, runs: Runs): boolean {
  return a.services.some((service) =>
    b.services.some(
      (other) =>
        service === other ||
        runs.neighbours[service]?.has(other) === true ||
        isNearRun(service, other, runs),
    ),
  );
}

/** Joined through one service between them, as by a coupling in the cavity. */
function isNearRun(a: number, b: number, runs: Runs): boolean {
  const near = runs.neighbours[a];
  if (near === undefined) return false;
  for (const between of near) if (runs.neighbours[between]?.has(b) === true) return true;
  return false;
}

/** Clear distance between two hosts along the way of the run; infinite when they don't face each other. */
function leafGap(a: HostCrossing, b: HostCrossing): number {
  const normal = crossingNormal(a);
  if (Math.abs(dot3(normal, crossingNormal(b))) < PARALLEL_COSINE) return Infinity;
  const at = (p: Vec3): number => dot3(p, normal);
  const [a0, a1] = [at(a.entry.pointMm), at(a.exit.pointMm)].sort((x, y) => x - y);
  const [b0, b1] = [at(b.entry.pointMm), at(b.exit.pointMm)].sort((x, y) => x - y);
  if (a0 === undefined || a1 === undefined || b0 === undefined || b1 === undefined) return Infinity;
  return Math.max(b0 - a1, a0 - b1, 0);
}

/** For each cable or conduit the carrier that it lies in, in the same host. */
function findCarried(crossings: readonly HostCrossing[], runs: Runs): ReadonlyMap<number, number> {
  const boxes = crossings.map((crossing) => {
    const service = mainService(crossing, runs);
    if (service === null || !canCarry(service)) return null;
    const box = boxOfPoints([crossing.entry.pointMm, crossing.exit.pointMm]);
    return box === null ? null : grownBox(box, 2 * sectionReachMm(service));
  });
  const index = indexBoxes(boxes);
  const carried = new Map<number, number>();
  crossings.forEach((crossing, n) => {
    const service = mainService(crossing, runs);
    if (service === null || service.section === null) return;
    const middle = middleOfCrossing(crossing);
    let best: { carrier: number; size: number } | null = null;
    for (const c of index.meeting({ low: middle, high: middle })) {
      const other = crossings[c];
      if (c === n || other === undefined || other.host !== crossing.host) continue;
      const carrier = mainService(other, runs);
      if (carrier === null || !liesIn(crossing, service, other, carrier)) continue;
      const size = sectionReachMm(carrier);
      if (best === null || size < best.size) best = { carrier: c, size };
    }
    if (best !== null) carried.set(n, best.carrier);
  });
  return carried;
}

function canCarry({ kind, section }: Service): boolean {
  return section !== null && kind !== 'cable';
}

/** Room over a tray's rim that its cables may take, as a part of the tray's width. */
const OVER_RIM_RATIO = 0.5;

function liesIn(
  inner: HostCrossing,
  content: Service,
  outer: HostCrossing,
  carrier: Service,
): boolean {
  if (carrier.section === null) return false;
  if (content.kind !== 'cable' && content.kind !== 'conduit' && content.kind !== 'pipe')
    return false;
  const isOpenCarrier = carrier.kind === 'carrier';
  if (isOpenCarrier && content.kind === 'pipe') return false;
  const along = unit3(sub3(outer.exit.pointMm, outer.entry.pointMm));
  const way = unit3(sub3(inner.exit.pointMm, inner.entry.pointMm));
  if (along === null || way === null || Math.abs(dot3(along, way)) < 0.95) return false;
  const offset = sub3(middleOfCrossing(inner), middleOfCrossing(outer));
  const across = sub3(offset, scale3(along, dot3(offset, along)));
  const reach = sectionReachMm(content);
  if (carrier.section.type === 'circle') {
    const radius = (carrier.boreMm ?? carrier.section.diameterMm) / 2;
    const isSmaller = reach * 2 < carrier.section.diameterMm - 0.5;
    return isSmaller && Math.hypot(...across) + reach <= radius + Math.max(1, radius * 0.05);
  }
  const up = unit3(
    sub3(
      carrier.upDirection ?? [0, 0, 1],
      scale3(along, dot3(carrier.upDirection ?? [0, 0, 1], along)),
    ),
  );
  if (up === null) return false;
  const x = Math.abs(dot3(across, cross3(up, along)));
  const y = dot3(across, up);
  const { widthMm, heightMm } = carrier.section;
  const isFlat = Math.abs(up[2]) > 0.5;
  const over = isOpenCarrier && isFlat ? Math.max(OVER_RIM_RATIO * widthMm, 2 * reach) : 0;
  if (2 * reach > Math.max(widthMm, heightMm)) return false;
  const slack = 1;
  if (isOpenCarrier) {
    return (
      x <= widthMm / 2 + slack && y >= -heightMm / 2 - slack && y <= heightMm / 2 + over + slack
    );
  }
  return x + reach <= widthMm / 2 + slack && Math.abs(y) + reach <= heightMm / 2 + slack;
}

/** Crossings of one host nearer than the spacing, outside to outside. */
function findClose(
  crossings: readonly HostCrossing[],
  runs: Runs,
  spacingMm: number,
): readonly (readonly [number, number])[] {
  if (!(spacingMm > 0)) return [];
  const reaches = crossings.map((crossing) => {
    const service = mainService(crossing, runs);
    return service === null ? 0 : sectionReachMm(service);
  });
  const largest = Math.max(0, ...reaches);
  const middles = crossings.map(middleOfCrossing);
  const index = indexBoxes(middles.map((p) => ({ low: p, high: p })));
  const pairs: (readonly [number, number])[] = [];
  crossings.forEach((crossing, a) => {
    const p = middles[a];
    if (p === undefined) return;
    const reach = (reaches[a] ?? 0) + largest + spacingMm;
    for (const b of index.meeting(grownBox({ low: p, high: p }, reach))) {
      const q = middles[b];
      if (b <= a || q === undefined || crossings[b]?.host !== crossing.host) continue;
      const clear = Math.hypot(...sub3(p, q)) - (reaches[a] ?? 0) - (reaches[b] ?? 0);
      if (clear < spacingMm) pairs.push([a, b]);
    }
  });
  return pairs;
}

/** Crossings that pass the same hole of a host's own body. */
function findSharedHoles(
  crossings: readonly HostCrossing[],
): readonly (readonly [number, number])[] {
  const first = new Map<HostHole, number>();
  return crossings.flatMap(({ hole }, n): readonly (readonly [number, number])[] => {
    if (hole === null) return [];
    const known = first.get(hole);
    if (known !== undefined) return [[known, n]];
    first.set(hole, n);
    return [];
  });
}

/** Openings that lie in line: one hole through leaves, or a provision beside its opening. */
function findSameHoles(
  openings: readonly (OpeningBody | null)[],
  gapMm: number,
): readonly (readonly [number, number])[] {
  const index = indexBoxes(openings.map((opening) => opening?.box ?? null));
  const pairs: (readonly [number, number])[] = [];
  openings.forEach((opening, a) => {
    if (opening === null) return;
    for (const b of index.meeting(grownBox(opening.box, gapMm))) {
      const other = openings[b];
      if (b <= a || other == null || !isSameHole(opening, other, gapMm)) continue;
      pairs.push([a, b]);
    }
  });
  return pairs;
}

function isSameHole(a: OpeningBody, b: OpeningBody, gapMm: number): boolean {
  if (Math.abs(dot3(a.frame.axis, b.frame.axis)) < 0.99) return false;
  if (a.shape === null || b.shape === null) return false;
  const [x, y] = inSection(a.frame, b.frame.originMm);
  const [u, v] = inSection(b.frame, a.frame.originMm);
  if (depthInShape(a.shape, [x, y]) < 0 || depthInShape(b.shape, [u, v]) < 0) return false;
  const hostsA = new Set(a.spans.map(({ host }) => host));
  if (b.spans.some(({ host }) => hostsA.has(host))) return true;
  // In different hosts: neighbouring leaves only.
  const range = (opening: OpeningBody): readonly [number, number] => {
    const shift = inSection(a.frame, opening.frame.originMm)[2];
    const ends = opening.spans.flatMap(({ fromMm, toMm }) => [fromMm + shift, toMm + shift]);
    return [Math.min(...ends), Math.max(...ends)];
  };
  const [a0, a1] = range(a);
  const [b0, b1] = range(b);
  return Math.max(b0 - a1, a0 - b1) <= gapMm + 0.5;
}

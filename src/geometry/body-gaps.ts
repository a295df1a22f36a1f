import { islandsOf, rectangleCorners, shapePolygon } from './outline-polygon.ts';
import type { Shape } from './shape.ts';
import { add2, distance2, dot2, length2, scale2, sub2, type Vec2 } from './vec.ts';

/** A body where it lies, section frame. */
export interface LaidBody {
  readonly xMm: number;
  readonly yMm: number;
  readonly angleRad: number;
  readonly outline:
    | { readonly type: 'circle'; readonly diameterMm: number }
    | { readonly type: 'rectangle'; readonly widthMm: number; readonly heightMm: number };
}

/** The clear distance between two outlines, and where it is measured. */
export interface Gap {
  readonly gapMm: number;
  readonly from: Vec2;
  readonly to: Vec2;
}

type Outline =
  | { readonly centre: Vec2; readonly radiusMm: number }
  | { readonly corners: readonly Vec2[] };

function outlineOf(body: LaidBody): Outline {
  const centre: Vec2 = [body.xMm, body.yMm];
  return body.outline.type === 'circle'
    ? { centre, radiusMm: body.outline.diameterMm / 2 }
    : {
        corners: rectangleCorners(
          centre,
          body.outline.widthMm,
          body.outline.heightMm,
          body.angleRad,
        ),
      };
}

/**
 * The two bodies that stand closest, surface to surface; null for fewer than two. Of several pairs
 * as close, the first in the order given. From left to right, so that far pairs are never measured.
 */
export function closestBodies(bodies: readonly LaidBody[]): Gap | null {
  const swept = bodies
    .map((body, at) => ({ at, outline: outlineOf(body), ...widthOf(body) }))
    .sort((a, b) => a.leftMm - b.leftMm || a.at - b.at);
  let least: Pair | null = null;
  for (let i = 0; i < swept.length; i++) {
    const a = swept[i];
    for (let j = i + 1; j < swept.length; j++) {
      const b = swept[j];
      const reachMm: number = least === null ? Number.POSITIVE_INFINITY : least.gap.gapMm + SAME_MM;
      if (a === undefined || b === undefined || b.leftMm - a.rightMm > reachMm) break;
      const [one, other] = a.at < b.at ? [a, b] : [b, a];
      const gap = gapBetween(one.outline, other.outline);
      if (gap === null) continue;
      const pair = { gap, first: one.at, second: other.at };
      if (least === null || comesBefore(pair, least)) least = pair;
    }
  }
  return least?.gap ?? null;
}

interface Pair {
  readonly gap: Gap;
  readonly first: number;
  readonly second: number;
}

/** Gaps that differ by less are the same. */
const SAME_MM = 1e-9;

function comesBefore(a: Pair, b: Pair): boolean {
  const difference = a.gap.gapMm - b.gap.gapMm;
  if (Math.abs(difference) > SAME_MM) return difference < 0;
  return a.first === b.first ? a.second < b.second : a.first < b.first;
}

/** From the leftmost to the rightmost point a body can reach, however it is turned. */
function widthOf({ xMm, outline }: LaidBody): { leftMm: number; rightMm: number } {
  const half =
    outline.type === 'circle'
      ? outline.diameterMm / 2
      : Math.sqrt(outline.widthMm ** 2 + outline.heightMm ** 2) / 2;
  return { leftMm: xMm - half, rightMm: xMm + half };
}

/** The body that stands closest to the wall of the opening (islands count as wall). */
export function closestToWall(bodies: readonly LaidBody[], opening: Shape): Gap | null {
  const walls = [shapePolygon(opening), ...islandsOf(opening)];
  let closest: Gap | null = null;
  for (const body of bodies) {
    const outline = outlineOf(body);
    if (opening.type === 'circle') {
      closest = nearer(closest, gapToCircle(outline, opening.diameterMm / 2));
    } else for (const wall of walls) closest = nearer(closest, gapToEdges(outline, wall));
  }
  return closest;
}

/** Outwards from the point of the outline that is farthest from the circle's centre. */
function gapToCircle(outline: Outline, radiusMm: number): Gap {
  const from = farthestPoint(outline);
  const reach = length2(from);
  const toward: Vec2 = reach === 0 ? [1, 0] : scale2(from, 1 / reach);
  return { gapMm: radiusMm - reach, from, to: scale2(toward, radiusMm) };
}

function farthestPoint(outline: Outline): Vec2 {
  if ('corners' in outline) {
    return outline.corners.reduce((a, b) => (length2(b) > length2(a) + 1e-9 ? b : a));
  }
  const distance = length2(outline.centre);
  const toward: Vec2 = distance === 0 ? [1, 0] : scale2(outline.centre, 1 / distance);
  return add2(outline.centre, scale2(toward, outline.radiusMm));
}

function nearer(a: Gap | null, b: Gap | null): Gap | null {
  if (a === null || b === null) return a ?? b;
  return b.gapMm < a.gapMm - 1e-9 ? b : a;
}

function gapBetween(a: Outline, b: Outline): Gap | null {
  if ('corners' in b) return gapToEdges(a, b.corners);
  if ('corners' in a) {
    const gap = gapToEdges(b, a.corners);
    return gap === null ? null : { gapMm: gap.gapMm, from: gap.to, to: gap.from };
  }
  const apart = distance2(a.centre, b.centre);
  if (apart === 0) return null;
  const toward = scale2(sub2(b.centre, a.centre), 1 / apart);
  return {
    gapMm: apart - a.radiusMm - b.radiusMm,
    from: add2(a.centre, scale2(toward, a.radiusMm)),
    to: sub2(b.centre, scale2(toward, b.radiusMm)),
  };
}

/** From an outline to the sides of a polygon it does not cross. */
function gapToEdges(outline: Outline, polygon: readonly Vec2[]): Gap | null {
  let closest: Gap | null = null;
  let previous = polygon[polygon.length - 1];
  for (const corner of polygon) {
    if (previous !== undefined) {
      closest = nearer(closest, gapToEdge(outline, previous, corner));
    }
    previous = corner;
  }
  return closest;
}

function gapToEdge(outline: Outline, a: Vec2, b: Vec2): Gap | null {
  if (!('corners' in outline)) {
    const to = nearestOnEdge(outline.centre, a, b);
    const apart = distance2(outline.centre, to);
    if (apart === 0) return null;
    const from = add2(outline.centre, scale2(sub2(to, outline.centre), outline.radiusMm / apart));
    return { gapMm: apart - outline.radiusMm, from, to };
  }
  // Two segments that don't cross are closest at an end of one of them.
  let closest: Gap | null = null;
  let previous = outline.corners[outline.corners.length - 1];
  for (const corner of outline.corners) {
    if (previous !== undefined) {
      const own: readonly [Vec2, Vec2] = [previous, corner];
      closest = nearer(closest, { ...pointGap(corner, a, b) });
      for (const end of [a, b]) {
        const gap = pointGap(end, own[0], own[1]);
        closest = nearer(closest, { gapMm: gap.gapMm, from: gap.to, to: gap.from });
      }
    }
    previous = corner;
  }
  return closest;
}

function pointGap(point: Vec2, a: Vec2, b: Vec2): Gap {
  const to = nearestOnEdge(point, a, b);
  return { gapMm: distance2(point, to), from: point, to };
}

function nearestOnEdge(point: Vec2, a: Vec2, b: Vec2): Vec2 {
  const along = sub2(b, a);
  const lengthSquared = dot2(along, along);
  if (lengthSquared === 0) return a;
  const ratio = Math.max(0, Math.min(1, dot2(sub2(point, a), along) / lengthSquared));
  return add2(a, scale2(along, ratio));
}

/** The smallest clear distance between the bodies as they lie, and to the wall; null without bodies. */
export function smallestGapMm(bodies: readonly LaidBody[], opening: Shape): number | null {
  const gaps = [closestBodies(bodies), closestToWall(bodies, opening)].flatMap((gap) =>
    gap === null ? [] : [gap.gapMm],
  );
  return gaps.length === 0 ? null : Math.min(...gaps);
}

/*
 * Distances worked out the plain way, for checking: nothing here is shared with the engine. Bodies
 * and openings are brought down to discs, segments and polygons; unions and cuts of polygons are
 * left to another library.
 */
import * as polygonCuts from 'polyclip-ts';
import type { Shape } from '../../src/geometry/shape.ts';

export type Point = readonly [number, number];

export interface PlainDisc {
  readonly kind: 'disc';
  readonly centre: Point;
  readonly radius: number;
}

export interface PlainPolygon {
  readonly kind: 'polygon';
  readonly points: readonly Point[];
}

export type PlainBody = PlainDisc | PlainPolygon;

export function rectangleAt(
  [x, y]: Point,
  width: number,
  height: number,
  angleRad: number,
): PlainPolygon {
  const c = Math.cos(angleRad);
  const s = Math.sin(angleRad);
  const corner = (sx: number, sy: number): Point => {
    const dx = (sx * width) / 2;
    const dy = (sy * height) / 2;
    return [x + dx * c - dy * s, y + dx * s + dy * c];
  };
  return { kind: 'polygon', points: [corner(-1, -1), corner(1, -1), corner(1, 1), corner(-1, 1)] };
}

/** Distance of two bodies' surfaces; negative where they overlap. */
export function bodyDistance(a: PlainBody, b: PlainBody): number {
  if (a.kind === 'disc' && b.kind === 'disc') {
    return Math.hypot(a.centre[0] - b.centre[0], a.centre[1] - b.centre[1]) - a.radius - b.radius;
  }
  if (a.kind === 'disc' && b.kind === 'polygon') return polygonToPoint(b, a.centre) - a.radius;
  if (a.kind === 'polygon' && b.kind === 'disc') return polygonToPoint(a, b.centre) - b.radius;
  if (a.kind === 'polygon' && b.kind === 'polygon') return polygonToPolygon(a, b);
  return Number.NaN;
}

function polygonToPoint(polygon: PlainPolygon, point: Point): number {
  const distance = Math.min(
    ...sidesOf(polygon.points).map(([p, q]) => pointToSegment(point, p, q)),
  );
  return isInside(point, polygon.points) ? -distance : distance;
}

function polygonToPolygon(a: PlainPolygon, b: PlainPolygon): number {
  const shared = sharedArea(a, b);
  if (shared > 1e-9) return -Math.sqrt(shared);
  let least = Number.POSITIVE_INFINITY;
  for (const [p, q] of sidesOf(a.points)) {
    for (const [r, s] of sidesOf(b.points)) least = Math.min(least, segmentToSegment(p, q, r, s));
  }
  return least;
}

/**
 * Area two polygons share. The library gives up on sides that coincide but for rounding; then a corner
 * inside the other, or the middle of one, tells as much.
 */
function sharedArea(a: PlainPolygon, b: PlainPolygon): number {
  try {
    return areaOf(polygonCuts.intersection(ring(a.points), ring(b.points)));
  } catch {
    const isIn = (points: readonly Point[], other: PlainPolygon) =>
      [...points, middleOf(points)].some((point) => polygonToPoint(other, point) < -1e-7);
    return isIn(a.points, b) || isIn(b.points, a) ? 1 : 0;
  }
}

function middleOf(points: readonly Point[]): Point {
  const total = points.reduce(([x, y], [px, py]): Point => [x + px, y + py], [0, 0] as Point);
  return [total[0] / points.length, total[1] / points.length];
}

/** Distance of a body's surface from the wall of an opening, from inside; negative when it is cut. */
export function wallDistance(body: PlainBody, opening: Shape): number {
  if (body.kind === 'disc') return pointToWall(body.centre, opening) - body.radius;
  if (opening.type !== 'polygon') {
    // The opening is convex: its corners come nearest.
    return Math.min(...body.points.map((point) => pointToWall(point, opening)));
  }
  const outline = ring(opening.pointsMm);
  const islands = (opening.islandsMm ?? []).map(ring);
  const room = islands.length === 0 ? [outline] : polygonCuts.difference(outline, ...islands);
  const beyond = polygonCuts.difference(
    ring(body.points),
    room as Parameters<typeof polygonCuts.difference>[0],
  );
  if (areaOf(beyond) > 1e-9) return -Math.sqrt(areaOf(beyond));
  let least = Number.POSITIVE_INFINITY;
  for (const wall of [opening.pointsMm, ...(opening.islandsMm ?? [])]) {
    for (const [p, q] of sidesOf(wall)) {
      for (const [r, s] of sidesOf(body.points))
        least = Math.min(least, segmentToSegment(p, q, r, s));
    }
  }
  return least;
}

/** Distance from a point to the wall; negative outside. */
export function pointToWall([x, y]: Point, opening: Shape): number {
  switch (opening.type) {
    case 'circle':
      return opening.diameterMm / 2 - Math.hypot(x, y);
    case 'rectangle': {
      const { widthMm: w, heightMm: h } = opening;
      const box: Point[] = [
        [-w / 2, -h / 2],
        [w / 2, -h / 2],
        [w / 2, h / 2],
        [-w / 2, h / 2],
      ];
      return pointToRings([x, y], [box]);
    }
    case 'slot': {
      const { lengthMm: l, widthMm: w } = opening;
      const isLong = l >= w;
      const half = Math.abs(l - w) / 2;
      const end: Point = isLong ? [half, 0] : [0, half];
      const start: Point = [-end[0], -end[1]];
      return Math.min(l, w) / 2 - pointToSegment([x, y], start, end);
    }
    case 'oval':
      return pointToOval([x, y], opening.lengthMm / 2, opening.widthMm / 2);
    case 'polygon':
      return pointToRings([x, y], [opening.pointsMm, ...(opening.islandsMm ?? [])]);
  }
}

/** By looking all round the ellipse and then ever closer about the nearest point. */
function pointToOval([x, y]: Point, a: number, b: number): number {
  const distanceAt = (t: number) => Math.hypot(a * Math.cos(t) - x, b * Math.sin(t) - y);
  let best = 0;
  let step = (2 * Math.PI) / 720;
  for (let k = 0; k < 720; k++) if (distanceAt(k * step) < distanceAt(best)) best = k * step;
  for (let round = 0; round < 60; round++) {
    step /= 1.6;
    for (const t of [best - step, best + step]) if (distanceAt(t) < distanceAt(best)) best = t;
  }
  const isIn = (x / a) ** 2 + (y / b) ** 2 <= 1;
  return isIn ? distanceAt(best) : -distanceAt(best);
}

function pointToRings(point: Point, rings: readonly (readonly Point[])[]): number {
  const distance = Math.min(
    ...rings.flatMap((one) => sidesOf(one).map(([p, q]) => pointToSegment(point, p, q))),
  );
  const [outline = [], ...islands] = rings;
  const isIn = isInside(point, outline) && !islands.some((island) => isInside(point, island));
  return isIn ? distance : -distance;
}

/** By the winding number: the sum of the angles under which the sides are seen. */
function isInside([x, y]: Point, points: readonly Point[]): boolean {
  let turns = 0;
  for (const [p, q] of sidesOf(points)) {
    const from = Math.atan2(p[1] - y, p[0] - x);
    let turn = Math.atan2(q[1] - y, q[0] - x) - from;
    if (turn > Math.PI) turn -= 2 * Math.PI;
    if (turn < -Math.PI) turn += 2 * Math.PI;
    turns += turn;
  }
  return Math.abs(turns) > Math.PI;
}

function sidesOf(points: readonly Point[]): (readonly [Point, Point])[] {
  return points.map((p, k) => [p, points[(k + 1) % points.length] ?? p] as const);
}

function pointToSegment([x, y]: Point, p: Point, q: Point): number {
  const dx = q[0] - p[0];
  const dy = q[1] - p[1];
  const squared = dx * dx + dy * dy;
  const t = squared === 0 ? 0 : ((x - p[0]) * dx + (y - p[1]) * dy) / squared;
  const u = Math.min(1, Math.max(0, t));
  return Math.hypot(x - p[0] - u * dx, y - p[1] - u * dy);
}

function segmentToSegment(p: Point, q: Point, r: Point, s: Point): number {
  const side = (a: Point, b: Point, c: Point) =>
    Math.sign((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]));
  if (side(p, q, r) * side(p, q, s) < 0 && side(r, s, p) * side(r, s, q) < 0) return 0;
  return Math.min(
    pointToSegment(p, r, s),
    pointToSegment(q, r, s),
    pointToSegment(r, p, q),
    pointToSegment(s, p, q),
  );
}

function ring(points: readonly Point[]): [number, number][][] {
  return [points.map(([x, y]): [number, number] => [x, y])];
}

type Cut = ReturnType<typeof polygonCuts.intersection>;

function areaOf(polygons: Cut): number {
  let area = 0;
  for (const rings of polygons) {
    rings.forEach((points, k) => {
      let doubled = 0;
      points.forEach(([x, y], at) => {
        const [nx, ny] = points[(at + 1) % points.length] ?? [x, y];
        doubled += x * ny - nx * y;
      });
      area += (k === 0 ? 1 : -1) * Math.abs(doubled / 2);
    });
  }
  return area;
}

import { convexHull } from '../convex-hull.ts';
import type { Shape } from '../shape.ts';
import { shapeAreaMm2 } from '../shape.ts';
import type { Vec2 } from '../vec.ts';

/**
 * Upper bounds on the region of centres that keep `need` from the wall: its area and perimeter when
 * it is (or is enclosed by) a convex figure. Null when no centre can keep that far.
 */
export interface CentreRegion {
  readonly areaMm2: number;
  readonly perimeterMm: number;
  /** Largest distance between two of its points. */
  readonly diameterMm: number;
}

export function centreRegion(shape: Shape, need: number): CentreRegion | null {
  switch (shape.type) {
    case 'circle':
      return capsule(0, shape.diameterMm / 2 - need);
    case 'slot': {
      const short = Math.min(shape.lengthMm, shape.widthMm);
      return capsule(Math.abs(shape.lengthMm - shape.widthMm), short / 2 - need);
    }
    case 'rectangle': {
      const w = shape.widthMm - 2 * need;
      const h = shape.heightMm - 2 * need;
      if (w < 0 || h < 0) return null;
      return { areaMm2: w * h, perimeterMm: 2 * (w + h), diameterMm: Math.sqrt(w * w + h * h) };
    }
    case 'oval': {
      // The inner parallel figure of an ellipse lies in the ellipse with both axes shortened: the
      // support function obeys |(ac, bs)| ≤ |((a−w)c, (b−w)s)| + w.
      const a = Math.max(shape.lengthMm, shape.widthMm) / 2 - need;
      const b = Math.min(shape.lengthMm, shape.widthMm) / 2 - need;
      if (b < 0) return null;
      // Perimeter of an ellipse ≤ π sqrt(2 (a² + b²)), by the mean of squares.
      return {
        areaMm2: Math.PI * a * b,
        perimeterMm: Math.PI * Math.sqrt(2 * (a * a + b * b)),
        diameterMm: 2 * a,
      };
    }
    case 'polygon':
      return polygonCentres(shape.pointsMm, need);
  }
}

function capsule(length: number, radius: number): CentreRegion | null {
  if (radius < 0) return null;
  return {
    areaMm2: Math.PI * radius * radius + 2 * length * radius,
    perimeterMm: 2 * Math.PI * radius + 2 * length,
    diameterMm: length + 2 * radius,
  };
}

const MOST_SIDES = 48;

function boxRound(points: readonly Vec2[]): Vec2[] {
  const xs = points.map(([x]) => x);
  const ys = points.map(([, y]) => y);
  const [x0, x1, y0, y1] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  return [
    [x0, y0],
    [x1, y0],
    [x1, y1],
    [x0, y1],
  ];
}

/** Of the convex hull moved inwards: it holds every centre in the polygon itself. */
function polygonCentres(points: readonly Vec2[], need: number): CentreRegion | null {
  const hull = convexHull(points);
  // Of many sides some are enough: fewer half-planes enclose more, and the bound still holds.
  const every = Math.ceil(hull.length / MOST_SIDES);
  let ring: readonly Vec2[] = every === 1 ? hull : boxRound(hull);
  for (const [k, from] of hull.entries()) {
    const to = hull[(k + 1) % hull.length] ?? from;
    const dx = to[0] - from[0];
    const dy = to[1] - from[1];
    const length = Math.sqrt(dx * dx + dy * dy);
    if (length > 0 && k % every === 0) {
      ring = keepLeft(ring, from, [dx / length, dy / length], need);
    }
  }
  if (ring.length === 0) return null;
  let area = 0;
  let perimeter = 0;
  let diameter = 0;
  ring.forEach(([x, y], k) => {
    const [nx, ny] = ring[(k + 1) % ring.length] ?? [x, y];
    area += (x * ny - nx * y) / 2;
    perimeter += Math.sqrt((nx - x) * (nx - x) + (ny - y) * (ny - y));
    for (const [ox, oy] of ring) {
      diameter = Math.max(diameter, Math.sqrt((ox - x) * (ox - x) + (oy - y) * (oy - y)));
    }
  });
  return { areaMm2: Math.max(0, area), perimeterMm: perimeter, diameterMm: diameter };
}

/** Part of a convex ring that lies at least `need` to the left of a line. */
function keepLeft(ring: readonly Vec2[], origin: Vec2, along: Vec2, need: number): Vec2[] {
  const height = ([x, y]: Vec2) => along[0] * (y - origin[1]) - along[1] * (x - origin[0]) - need;
  const kept: Vec2[] = [];
  ring.forEach((from, k) => {
    const to = ring[(k + 1) % ring.length] ?? from;
    const a = height(from);
    const b = height(to);
    if (a >= 0) kept.push(from);
    if (a >= 0 !== b >= 0) {
      const t = a / (a - b);
      kept.push([from[0] + t * (to[0] - from[0]), from[1] + t * (to[1] - from[1])]);
    }
  });
  return kept;
}

/** Area within `grow` outside the shape and inside it (grow < 0: an upper bound of what is left). */
export function grownAreaMm2(shape: Shape, grow: number): number {
  switch (shape.type) {
    case 'circle':
    case 'slot':
    case 'rectangle': {
      if (grow <= 0) return centreRegion(shape, -grow)?.areaMm2 ?? 0;
      if (shape.type === 'rectangle') {
        return steiner(shape, 2 * (shape.widthMm + shape.heightMm), grow);
      }
      return centreRegion(shape, -grow)?.areaMm2 ?? 0;
    }
    case 'oval': {
      if (grow <= 0) return centreRegion(shape, -grow)?.areaMm2 ?? 0;
      return steiner(shape, centreRegion(shape, 0)?.perimeterMm ?? 0, grow);
    }
    case 'polygon': {
      const rings = [shape.pointsMm, ...(shape.islandsMm ?? [])];
      return steiner(
        shape,
        rings.reduce((total, ring) => total + ringLength(ring), 0),
        grow,
      );
    }
  }
}

/** Steiner's formula: exact for convex figures, an upper bound for others; grow < 0 counts as 0. */
function steiner(shape: Shape, perimeterMm: number, grow: number): number {
  const g = Math.max(0, grow);
  return shapeAreaMm2(shape) + perimeterMm * g + Math.PI * g * g;
}

function ringLength(ring: readonly Vec2[]): number {
  let total = 0;
  ring.forEach(([x, y], k) => {
    const [nx, ny] = ring[(k + 1) % ring.length] ?? [x, y];
    total += Math.sqrt((nx - x) * (nx - x) + (ny - y) * (ny - y));
  });
  return total;
}

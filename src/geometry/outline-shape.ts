import { polygonAreaMm2, type Shape } from './shape.ts';
import { cross2, distance2, dot2, length2, sub2, unit2, type Vec2 } from './vec.ts';

/** A shape and where its centre lies; a rectangle's sides may be turned against the axes. */
export interface PlacedShape {
  readonly shape: Shape;
  readonly centre: Vec2;
  /** Unit vector of the shape's own x, along a rectangle's width. */
  readonly right: Vec2;
}

/** A circle made of chords has its corners this evenly far from the centre. */
const ROUND_TOLERANCE = 0.01;
const FEWEST_ROUND_CORNERS = 8;

/**
 * Says what an outline is: circle, rectangle, slot, or else the polygon itself. A circle made of
 * chords is given its true diameter, that of its corners.
 */
export function recogniseOutline(outline: readonly Vec2[]): PlacedShape | null {
  const points = withoutStraightCorners(outline);
  if (points.length < 3) return null;
  return circle(points) ?? rectangle(points) ?? slot(points) ?? polygon(points);
}

/** The outline without repeated points and without corners on a straight line. */
function withoutStraightCorners(outline: readonly Vec2[]): readonly Vec2[] {
  const size = extent(outline);
  const near = Math.max(size * 1e-5, 1e-6);
  const distinct = outline.filter((point, n) => {
    const before = outline[(n + outline.length - 1) % outline.length];
    return before === undefined || outline.length === 1 || distance2(before, point) > near;
  });
  return distinct.filter((point, n) => {
    const before = distinct[(n + distinct.length - 1) % distinct.length] ?? point;
    const after = distinct[(n + 1) % distinct.length] ?? point;
    const a = unit2(sub2(point, before));
    const b = unit2(sub2(after, point));
    return a === null || b === null || Math.abs(cross2(a, b)) > 1e-4;
  });
}

function extent(points: readonly Vec2[]): number {
  let size = 0;
  const [first] = points;
  if (first !== undefined)
    for (const point of points) size = Math.max(size, distance2(first, point));
  return size;
}

function circle(points: readonly Vec2[]): PlacedShape | null {
  if (points.length < FEWEST_ROUND_CORNERS) return null;
  const centre = centroid(points);
  const radii = points.map((point) => distance2(point, centre));
  const largest = Math.max(...radii);
  if (Math.min(...radii) < largest * (1 - ROUND_TOLERANCE)) return null;
  // An arc of a circle has even radii about no point of its own, so only the sides need a look.
  const sides = points.map((point, n) =>
    distance2(point, points[(n + 1) % points.length] ?? point),
  );
  if (Math.max(...sides) > largest) return null;
  const diameterMm = (2 * radii.reduce((a, b) => a + b, 0)) / radii.length;
  return { shape: { type: 'circle', diameterMm }, centre, right: [1, 0] };
}

function rectangle(points: readonly Vec2[]): PlacedShape | null {
  const [a, b, c, d] = points;
  if (points.length !== 4 || !a || !b || !c || !d) return null;
  const ab = sub2(b, a);
  const bc = sub2(c, b);
  const cd = sub2(d, c);
  const square = Math.abs(dot2(ab, bc)) < 1e-3 * length2(ab) * length2(bc);
  const even = length2([ab[0] + cd[0], ab[1] + cd[1]]) < 1e-3 * length2(ab);
  if (!square || !even) return null;
  const centre: Vec2 = [(a[0] + c[0]) / 2, (a[1] + c[1]) / 2];
  // Width goes with the side nearer to level.
  const abIsLevel = Math.abs(ab[0]) * length2(bc) >= Math.abs(bc[0]) * length2(ab);
  const width = abIsLevel ? ab : bc;
  const height = abIsLevel ? bc : ab;
  const along = unit2(width);
  if (along === null) return null;
  return {
    shape: { type: 'rectangle', widthMm: length2(width), heightMm: length2(height) },
    centre,
    right: along[0] < 0 ? [-along[0], -along[1]] : along,
  };
}

/** Two straight sides of one length, joined by half circles made of chords. */
function slot(points: readonly Vec2[]): PlacedShape | null {
  if (points.length < 8) return null;
  const sides = points.map((point, n) => sub2(points[(n + 1) % points.length] ?? point, point));
  const longest = sides.reduce((a, b) => (length2(b) > length2(a) ? b : a));
  const right = unit2(longest);
  if (right === null) return null;
  const along =
    right[0] < 0 || (right[0] === 0 && right[1] < 0) ? ([-right[0], -right[1]] as Vec2) : right;
  const across: Vec2 = [-along[1], along[0]];
  const box = boxAlong(points, along, across);
  const width = box.height;
  const straight = box.width - width;
  if (!(straight > 0) || Math.abs(length2(longest) - straight) > 0.05 * width) return null;
  const fits = points.every((point) => {
    const x = Math.abs(dot2(point, along) - box.centreX);
    const y = dot2(point, across) - box.centreY;
    const beyond = Math.max(0, x - straight / 2);
    return Math.abs(Math.hypot(beyond, y) - width / 2) < ROUND_TOLERANCE * width;
  });
  if (!fits) return null;
  return {
    shape: { type: 'slot', lengthMm: box.width, widthMm: width },
    centre: [
      along[0] * box.centreX + across[0] * box.centreY,
      along[1] * box.centreX + across[1] * box.centreY,
    ],
    right: along,
  };
}

function polygon(points: readonly Vec2[]): PlacedShape | null {
  if (polygonAreaMm2(points) < 1e-6) return null;
  const xs = points.map(([x]) => x);
  const ys = points.map(([, y]) => y);
  const centre: Vec2 = [
    (Math.min(...xs) + Math.max(...xs)) / 2,
    (Math.min(...ys) + Math.max(...ys)) / 2,
  ];
  return {
    shape: { type: 'polygon', pointsMm: points.map((point) => sub2(point, centre)) },
    centre,
    right: [1, 0],
  };
}

function boxAlong(
  points: readonly Vec2[],
  along: Vec2,
  across: Vec2,
): { width: number; height: number; centreX: number; centreY: number } {
  const xs = points.map((point) => dot2(point, along));
  const ys = points.map((point) => dot2(point, across));
  const [left, right] = [Math.min(...xs), Math.max(...xs)];
  const [low, high] = [Math.min(...ys), Math.max(...ys)];
  return {
    width: right - left,
    height: high - low,
    centreX: (left + right) / 2,
    centreY: (low + high) / 2,
  };
}

/** Centre of area of an outline. */
function centroid(points: readonly Vec2[]): Vec2 {
  const [origin] = points;
  if (origin === undefined) return [0, 0];
  let doubled = 0;
  let x = 0;
  let y = 0;
  points.forEach((point, n) => {
    const a = sub2(point, origin);
    const b = sub2(points[(n + 1) % points.length] ?? point, origin);
    const area = cross2(a, b);
    doubled += area;
    x += (a[0] + b[0]) * area;
    y += (a[1] + b[1]) * area;
  });
  if (Math.abs(doubled) < 1e-12) return origin;
  return [origin[0] + x / (3 * doubled), origin[1] + y / (3 * doubled)];
}

import type { SolidBody } from './solid-body.ts';
import { dot3, sub3, type Vec2, type Vec3 } from './vec.ts';

/** A plane with its own right and up: unit vectors square to each other. */
export interface SlicePlane {
  readonly origin: Vec3;
  readonly right: Vec3;
  readonly up: Vec3;
  readonly normal: Vec3;
}

const JOIN_MM = 0.02;

/** Outlines where a plane cuts a body, in the plane's coordinates. Open ends are left out. */
export function sliceBody(body: SolidBody, plane: SlicePlane): readonly (readonly Vec2[])[] {
  const edges: [Vec2, Vec2][] = [];
  for (let n = 0; n < body.count; n += 1) {
    const edge = cutTriangle(body.corners, n * 9, plane);
    if (edge !== null) edges.push(edge);
  }
  return loops(edges);
}

function cutTriangle(corners: Float64Array, c: number, plane: SlicePlane): [Vec2, Vec2] | null {
  const points: Vec3[] = [0, 3, 6].map((k) => [
    corners[c + k] ?? 0,
    corners[c + k + 1] ?? 0,
    corners[c + k + 2] ?? 0,
  ]);
  const heights = points.map((p) => {
    const height = dot3(sub3(p, plane.origin), plane.normal);
    // A corner in the plane is taken as just above it, so that each outline closes.
    return Math.abs(height) < 1e-7 ? 1e-7 : height;
  });
  const cuts: Vec2[] = [];
  for (let k = 0; k < 3; k += 1) {
    const next = (k + 1) % 3;
    const [a, b] = [points[k], points[next]];
    const [ha, hb] = [heights[k] ?? 0, heights[next] ?? 0];
    if (a === undefined || b === undefined || ha > 0 === hb > 0) continue;
    const ratio = ha / (ha - hb);
    const p: Vec3 = [
      a[0] + (b[0] - a[0]) * ratio - plane.origin[0],
      a[1] + (b[1] - a[1]) * ratio - plane.origin[1],
      a[2] + (b[2] - a[2]) * ratio - plane.origin[2],
    ];
    cuts.push([dot3(p, plane.right), dot3(p, plane.up)]);
  }
  const [a, b] = cuts;
  return a !== undefined && b !== undefined ? [a, b] : null;
}

/** Joins edges end to end into closed outlines. */
function loops(edges: readonly [Vec2, Vec2][]): readonly (readonly Vec2[])[] {
  const key = (p: Vec2): string => `${Math.round(p[0] / JOIN_MM)},${Math.round(p[1] / JOIN_MM)}`;
  const atPoint = new Map<string, number[]>();
  edges.forEach((edge, n) => {
    for (const p of edge) {
      const k = key(p);
      const known = atPoint.get(k);
      if (known === undefined) atPoint.set(k, [n]);
      else known.push(n);
    }
  });
  const near = (p: Vec2): number[] => {
    const found: number[] = [];
    for (const dx of [0, -1, 1]) {
      for (const dy of [0, -1, 1]) {
        found.push(...(atPoint.get(key([p[0] + dx * JOIN_MM, p[1] + dy * JOIN_MM])) ?? []));
      }
    }
    return found;
  };
  const used = new Set<number>();
  const outlines: Vec2[][] = [];
  edges.forEach((edge, first) => {
    if (used.has(first)) return;
    used.add(first);
    const outline: Vec2[] = [edge[0], edge[1]];
    for (;;) {
      const tail = outline[outline.length - 1];
      if (tail === undefined) break;
      const next = near(tail).find((n) => !used.has(n));
      if (next === undefined) break;
      used.add(next);
      const [a, b] = edges[next] ?? [tail, tail];
      outline.push(gap(a, tail) <= gap(b, tail) ? b : a);
    }
    const [head] = outline;
    const tail = outline[outline.length - 1];
    if (head && tail && outline.length > 3 && gap(head, tail) < 3 * JOIN_MM) {
      outline.pop();
      outlines.push(outline);
    }
  });
  return outlines;
}

function gap(a: Vec2, b: Vec2): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}

/** Whether a point lies inside an outline: counts the sides to its right. */
export function isInsideOutline(outline: readonly Vec2[], point: Vec2): boolean {
  let inside = false;
  let before = outline[outline.length - 1];
  for (const corner of outline) {
    if (before !== undefined && corner[1] > point[1] !== before[1] > point[1]) {
      const x =
        before[0] + ((corner[0] - before[0]) * (point[1] - before[1])) / (corner[1] - before[1]);
      if (point[0] < x) inside = !inside;
    }
    before = corner;
  }
  return inside;
}

/** Distance from a point to the nearest side of an outline. */
export function distanceToOutline(outline: readonly Vec2[], point: Vec2): number {
  let least = Infinity;
  let before = outline[outline.length - 1];
  for (const corner of outline) {
    if (before !== undefined) {
      const dx = corner[0] - before[0];
      const dy = corner[1] - before[1];
      const square = dx * dx + dy * dy;
      const along =
        square === 0 ? 0 : ((point[0] - before[0]) * dx + (point[1] - before[1]) * dy) / square;
      const ratio = Math.min(1, Math.max(0, along));
      least = Math.min(
        least,
        Math.hypot(point[0] - before[0] - dx * ratio, point[1] - before[1] - dy * ratio),
      );
    }
    before = corner;
  }
  return least;
}

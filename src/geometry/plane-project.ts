import type { PlanePath } from './plane-cross.ts';
import { distance2, dot2, sub2, type Vec2 } from './vec.ts';

/** The point of a segment nearest to a place. */
export function nearestOnSegment(point: Vec2, a: Vec2, b: Vec2): Vec2 {
  const run = sub2(b, a);
  const size = dot2(run, run);
  const t = size > 0 ? Math.min(1, Math.max(0, dot2(sub2(point, a), run) / size)) : 0;
  return [a[0] + run[0] * t, a[1] + run[1] * t];
}

export const pointToSegment = (point: Vec2, a: Vec2, b: Vec2): number =>
  distance2(point, nearestOnSegment(point, a, b));

/** The place on a path nearest to a point: where, how far along, how far off. */
export function nearestOnPath(
  path: PlanePath,
  point: Vec2,
): { readonly point: Vec2; readonly s: number; readonly distanceMm: number } {
  let best = { point, s: 0, distanceMm: Number.POSITIVE_INFINITY };
  for (let i = 0; i + 1 < path.points.length; i++) {
    const a = path.points[i];
    const b = path.points[i + 1];
    if (a === undefined || b === undefined) continue;
    const near = nearestOnSegment(point, a, b);
    const distanceMm = distance2(point, near);
    if (distanceMm < best.distanceMm) {
      best = { point: near, s: (path.distances[i] ?? 0) + distance2(a, near), distanceMm };
    }
  }
  return best;
}

/** Whether a point lies inside an outline (even-odd rule). */
export function isInsideOutline(point: Vec2, outline: readonly Vec2[]): boolean {
  let inside = false;
  let before = outline[outline.length - 1];
  for (const corner of outline) {
    if (before !== undefined && corner[1] > point[1] !== before[1] > point[1]) {
      const x =
        corner[0] + ((point[1] - corner[1]) / (before[1] - corner[1])) * (before[0] - corner[0]);
      if (point[0] < x) inside = !inside;
    }
    before = corner;
  }
  return inside;
}

import type { SolidBody } from './solid-body.ts';
import { distanceToOutline, isInsideOutline } from './solid-slice.ts';
import { dot3, type Vec2, type Vec3 } from './vec.ts';

/** A straight bar with flat ends: a circle or a rectangle swept along a line. */
export interface Bar {
  readonly from: Vec3;
  readonly direction: Vec3;
  readonly lengthMm: number;
  /** Unit vectors across: of the width and of the height. */
  readonly right: Vec3;
  readonly up: Vec3;
  readonly section:
    | { readonly type: 'circle'; readonly diameterMm: number }
    | { readonly type: 'rectangle'; readonly widthMm: number; readonly heightMm: number };
}

/** Whether a bar comes to within `slackMm` of the surface of a body. */
export function barTouchesBody(body: SolidBody, bar: Bar, slackMm: number): boolean {
  for (let n = 0; n < body.count; n += 1) {
    const flat = flattened(body.corners, n * 9, bar, slackMm);
    if (flat.length > 0 && isNear(flat, bar, slackMm)) return true;
  }
  return false;
}

/** The part of a triangle beside the bar, seen along the bar. */
function flattened(corners: Float64Array, c: number, bar: Bar, slackMm: number): readonly Vec2[] {
  let points: Vec3[] = [0, 3, 6].map((k) => {
    const d: Vec3 = [
      (corners[c + k] ?? 0) - bar.from[0],
      (corners[c + k + 1] ?? 0) - bar.from[1],
      (corners[c + k + 2] ?? 0) - bar.from[2],
    ];
    return [dot3(d, bar.right), dot3(d, bar.up), dot3(d, bar.direction)];
  });
  points = clipped(points, (p) => p[2] + slackMm);
  points = clipped(points, (p) => bar.lengthMm + slackMm - p[2]);
  return points.map(([x, y]): Vec2 => [x, y]);
}

/** Corners of the part of a convex outline where the value is not negative. */
function clipped(points: readonly Vec3[], value: (p: Vec3) => number): Vec3[] {
  const kept: Vec3[] = [];
  points.forEach((b, n) => {
    const a = points[(n + points.length - 1) % points.length];
    if (a === undefined) return;
    const [va, vb] = [value(a), value(b)];
    if (va >= 0 !== vb >= 0) {
      const ratio = va / (va - vb);
      kept.push([
        a[0] + (b[0] - a[0]) * ratio,
        a[1] + (b[1] - a[1]) * ratio,
        a[2] + (b[2] - a[2]) * ratio,
      ]);
    }
    if (vb >= 0) kept.push(b);
  });
  return kept;
}

function isNear(flat: readonly Vec2[], { section }: Bar, slackMm: number): boolean {
  if (section.type === 'circle') {
    const reach = section.diameterMm / 2 + slackMm;
    return isInsideOutline(flat, [0, 0]) || distanceToOutline(flat, [0, 0]) <= reach;
  }
  return convexMeet(flat, section.widthMm / 2 + slackMm, section.heightMm / 2 + slackMm);
}

/** Whether a convex outline and the box ±x, ±y share a point: no line separates them. */
function convexMeet(flat: readonly Vec2[], x: number, y: number): boolean {
  const xs = flat.map((p) => p[0]);
  const ys = flat.map((p) => p[1]);
  if (Math.min(...xs) > x || Math.max(...xs) < -x) return false;
  if (Math.min(...ys) > y || Math.max(...ys) < -y) return false;
  return flat.every((a, n) => {
    const b = flat[(n + 1) % flat.length];
    if (b === undefined) return true;
    const normal: Vec2 = [a[1] - b[1], b[0] - a[0]];
    const reach = Math.abs(normal[0]) * x + Math.abs(normal[1]) * y;
    const along = flat.map((p) => p[0] * normal[0] + p[1] * normal[1]);
    return Math.min(...along) <= reach && Math.max(...along) >= -reach;
  });
}

import { distance3, dot3, lerp3, sub3, type Vec3 } from '../geometry/vec.ts';

/** A place on a service, by the length along its axis, mm. */
export interface AxisPlace {
  readonly serviceId: string;
  readonly placeMm: number;
}

/** Length of a centre line, mm. */
export function axisLengthMm(axis: readonly Vec3[]): number {
  let length = 0;
  for (let at = 1; at < axis.length; at++)
    length += distance3(point(axis, at - 1), point(axis, at));
  return length;
}

/** The point a given length along a centre line. */
export function pointOnAxis(axis: readonly Vec3[], placeMm: number): Vec3 {
  let left = placeMm;
  for (let at = 1; at < axis.length; at++) {
    const from = point(axis, at - 1);
    const to = point(axis, at);
    const length = distance3(from, to);
    if (left <= length || at === axis.length - 1) {
      return lerp3(from, to, length === 0 ? 0 : Math.min(1, left / length));
    }
    left -= length;
  }
  return point(axis, 0);
}

/** The place of a centre line nearest to a point. */
export function nearestOnAxis(
  axis: readonly Vec3[],
  target: Vec3,
): { readonly placeMm: number; readonly distanceMm: number; readonly direction: Vec3 } {
  let best = { placeMm: 0, distanceMm: distance3(point(axis, 0), target), direction: NO_DIRECTION };
  let before = 0;
  for (let at = 1; at < axis.length; at++) {
    const from = point(axis, at - 1);
    const along = sub3(point(axis, at), from);
    const squared = dot3(along, along);
    const ratio =
      squared === 0 ? 0 : Math.max(0, Math.min(1, dot3(sub3(target, from), along) / squared));
    const distanceMm = distance3(lerp3(from, point(axis, at), ratio), target);
    const length = Math.sqrt(squared);
    if (distanceMm < best.distanceMm || best.direction === NO_DIRECTION) {
      const direction: Vec3 =
        length === 0 ? NO_DIRECTION : [along[0] / length, along[1] / length, along[2] / length];
      best = { placeMm: before + length * ratio, distanceMm, direction };
    }
    before += length;
  }
  return best;
}

const NO_DIRECTION: Vec3 = [0, 0, 0];

function point(axis: readonly Vec3[], at: number): Vec3 {
  return axis[at] ?? axis[axis.length - 1] ?? NO_DIRECTION;
}

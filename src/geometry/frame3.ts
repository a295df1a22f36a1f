import { cross3, dot3, scale3, sub3, unit3, type Vec3 } from './vec.ts';

/** An affine map of space: where the origin and the unit steps along x, y and z go. */
export interface Frame3 {
  readonly origin: Vec3;
  readonly x: Vec3;
  readonly y: Vec3;
  readonly z: Vec3;
}

export const WORLD_FRAME: Frame3 = { origin: [0, 0, 0], x: [1, 0, 0], y: [0, 1, 0], z: [0, 0, 1] };

/** A point of the frame in the world. */
export function framePoint(frame: Frame3, p: Vec3): Vec3 {
  const { origin, x, y, z } = frame;
  return [
    origin[0] + x[0] * p[0] + y[0] * p[1] + z[0] * p[2],
    origin[1] + x[1] * p[0] + y[1] * p[1] + z[1] * p[2],
    origin[2] + x[2] * p[0] + y[2] * p[1] + z[2] * p[2],
  ];
}

/** A direction of the frame in the world; its length follows the frame's scale. */
export function frameDirection(frame: Frame3, d: Vec3): Vec3 {
  const { x, y, z } = frame;
  return [
    x[0] * d[0] + y[0] * d[1] + z[0] * d[2],
    x[1] * d[0] + y[1] * d[1] + z[1] * d[2],
    x[2] * d[0] + y[2] * d[1] + z[2] * d[2],
  ];
}

/** The inner frame, given in the outer one, seen from the world. */
export function frameInside(outer: Frame3, inner: Frame3): Frame3 {
  if (inner === WORLD_FRAME) return outer;
  return {
    origin: framePoint(outer, inner.origin),
    x: frameDirection(outer, inner.x),
    y: frameDirection(outer, inner.y),
    z: frameDirection(outer, inner.z),
  };
}

/** Right-handed orthonormal frame from its z and a direction near its x. */
export function frameFromAxes(origin: Vec3, z: Vec3 | null, towardsX: Vec3 | null): Frame3 {
  const unitZ = (z === null ? null : unit3(z)) ?? [0, 0, 1];
  const hint = towardsX ?? (Math.abs(unitZ[0]) < 0.9999 ? [1, 0, 0] : [0, 1, 0]);
  const flat = unit3(sub3(hint, scale3(unitZ, dot3(hint, unitZ)))) ?? unitAcross(unitZ);
  return { origin, x: flat, y: cross3(unitZ, flat), z: unitZ };
}

/** Some unit vector square to a unit vector. */
export function unitAcross(axis: Vec3): Vec3 {
  const other: Vec3 = Math.abs(axis[2]) < 0.9 ? [0, 0, 1] : [1, 0, 0];
  return unit3(cross3(other, axis)) ?? [1, 0, 0];
}

/** A rigid or scaled frame turned inside out: from the world into the frame. Null when it is flat. */
export function inverseFrame(frame: Frame3): Frame3 | null {
  const { x, y, z, origin } = frame;
  const volume = dot3(x, cross3(y, z));
  if (!(Math.abs(volume) > 1e-18)) return null;
  const rowX = scale3(cross3(y, z), 1 / volume);
  const rowY = scale3(cross3(z, x), 1 / volume);
  const rowZ = scale3(cross3(x, y), 1 / volume);
  const linear: Frame3 = {
    origin: [0, 0, 0],
    x: [rowX[0], rowY[0], rowZ[0]],
    y: [rowX[1], rowY[1], rowZ[1]],
    z: [rowX[2], rowY[2], rowZ[2]],
  };
  return { ...linear, origin: scale3(frameDirection(linear, origin), -1) };
}

/** The frame with lengths of its origin and axes multiplied. */
export function scaledFrame(frame: Frame3, factor: number): Frame3 {
  return {
    origin: scale3(frame.origin, factor),
    x: scale3(frame.x, factor),
    y: scale3(frame.y, factor),
    z: scale3(frame.z, factor),
  };
}

import type { Vec3 } from './vec.ts';
import { cross3, unit3 } from './vec.ts';

/**
 * An affine map of space: images of the x, y and z axes and of the origin.
 * A point p goes to x·p₀ + y·p₁ + z·p₂ + origin.
 */
export interface Affine {
  readonly x: Vec3;
  readonly y: Vec3;
  readonly z: Vec3;
  readonly origin: Vec3;
}

export const IDENTITY: Affine = {
  x: [1, 0, 0],
  y: [0, 1, 0],
  z: [0, 0, 1],
  origin: [0, 0, 0],
};

/** Image of a direction: without the shift. */
export function applyToVector(map: Affine, v: Vec3): Vec3 {
  return [
    map.x[0] * v[0] + map.y[0] * v[1] + map.z[0] * v[2],
    map.x[1] * v[0] + map.y[1] * v[1] + map.z[1] * v[2],
    map.x[2] * v[0] + map.y[2] * v[1] + map.z[2] * v[2],
  ];
}

export function applyToPoint(map: Affine, p: Vec3): Vec3 {
  const [x, y, z] = applyToVector(map, p);
  return [x + map.origin[0], y + map.origin[1], z + map.origin[2]];
}

/** The map that does `inner` first, then `outer`. */
export function compose(outer: Affine, inner: Affine): Affine {
  return {
    x: applyToVector(outer, inner.x),
    y: applyToVector(outer, inner.y),
    z: applyToVector(outer, inner.z),
    origin: applyToPoint(outer, inner.origin),
  };
}

/** The same scale along all axes. */
export function scaling(factor: number): Affine {
  return { x: [factor, 0, 0], y: [0, factor, 0], z: [0, 0, factor], origin: [0, 0, 0] };
}

const ARBITRARY_AXIS_LIMIT = 1 / 64;

/**
 * From the plane of an entity with this extrusion direction to the world.
 * @source DXF reference, "Arbitrary Axis Algorithm" (from memory; checked against ezdxf in tests)
 */
export function planeOfExtrusion(extrusion: Vec3): Affine {
  if (extrusion[0] === 0 && extrusion[1] === 0 && extrusion[2] > 0) return IDENTITY;
  const normal = unit3(extrusion);
  if (normal === null) return IDENTITY;
  const isNearZ =
    Math.abs(normal[0]) < ARBITRARY_AXIS_LIMIT && Math.abs(normal[1]) < ARBITRARY_AXIS_LIMIT;
  const x = unit3(cross3(isNearZ ? [0, 1, 0] : [0, 0, 1], normal)) ?? [1, 0, 0];
  const y = unit3(cross3(normal, x)) ?? [0, 1, 0];
  return { x, y, z: normal, origin: [0, 0, 0] };
}

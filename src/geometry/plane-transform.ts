import { type Frame3, WORLD_FRAME } from './frame3.ts';
import { cross3, unit3, type Vec3 } from './vec.ts';

/** An extrusion closer to the z axis than this takes its x axis from y instead. */
const NEAR_Z = 1 / 64;

/**
 * The plane of an entity with this extrusion direction, as a frame in the world.
 * @source DXF reference, "Arbitrary Axis Algorithm" (from memory; checked against ezdxf in tests)
 */
export function planeOfExtrusion(extrusion: Vec3): Frame3 {
  if (extrusion[0] === 0 && extrusion[1] === 0 && extrusion[2] > 0) return WORLD_FRAME;
  const normal = unit3(extrusion);
  if (normal === null) return WORLD_FRAME;
  const isNearZ = Math.abs(normal[0]) < NEAR_Z && Math.abs(normal[1]) < NEAR_Z;
  const x = unit3(cross3(isNearZ ? [0, 1, 0] : [0, 0, 1], normal)) ?? [1, 0, 0];
  const y = unit3(cross3(normal, x)) ?? [0, 1, 0];
  return { origin: [0, 0, 0], x, y, z: normal };
}

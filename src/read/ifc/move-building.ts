import { type Frame3, frameDirection, framePoint } from '../../geometry/frame3.ts';
import { unit3, type Vec3 } from '../../geometry/vec.ts';
import type { Building, Mesh } from '../../model/building.ts';

/** A frame turned about z and moved. */
export function turnedFrame(turnRad: number, origin: Vec3, scale = 1): Frame3 {
  const c = Math.cos(turnRad) * scale;
  const s = Math.sin(turnRad) * scale;
  return { origin, x: [c, s, 0], y: [-s, c, 0], z: [0, 0, scale] };
}

/** The building as seen from outside the frame it was given in. */
export function moveBuilding(building: Building, frame: Frame3): Building {
  const point = (p: Vec3): Vec3 => framePoint(frame, p);
  const direction = (d: Vec3): Vec3 => unit3(frameDirection(frame, d)) ?? d;
  return {
    storeys: building.storeys.map((storey) => ({
      ...storey,
      elevationMm: point([0, 0, storey.elevationMm])[2],
    })),
    grids: building.grids.map((axis) => ({
      ...axis,
      startMm: point(axis.startMm),
      endMm: point(axis.endMm),
    })),
    spaces: building.spaces.map((space) => ({ ...space, mesh: moveMesh(space.mesh, frame) })),
    hosts: building.hosts.map((host) => ({ ...host, mesh: moveMesh(host.mesh, frame) })),
    services: building.services.map((service) => ({
      ...service,
      axisMm: service.axisMm === null ? null : service.axisMm.map(point),
      upDirection: service.upDirection === null ? null : direction(service.upDirection),
      mesh: moveMesh(service.mesh, frame),
    })),
    openings: building.openings.map((opening) => ({
      ...opening,
      mesh: moveMesh(opening.mesh, frame),
      profile:
        opening.profile === null
          ? null
          : {
              startMm: point(opening.profile.startMm),
              endMm: point(opening.profile.endMm),
              right: direction(opening.profile.right),
              up: direction(opening.profile.up),
              shape: opening.profile.shape,
            },
    })),
    joints: building.joints,
    ...(building.equipment === undefined
      ? {}
      : {
          equipment: building.equipment.map((each) => ({
            ...each,
            positionMm: point(each.positionMm),
          })),
        }),
    ...(building.spatialZones === undefined
      ? {}
      : {
          spatialZones: building.spatialZones.map((zone) => ({
            ...zone,
            mesh: movedMesh(zone.mesh, frame),
          })),
        }),
    ...(building.others === undefined
      ? {}
      : {
          others: building.others.map((each) => ({ ...each, mesh: movedMesh(each.mesh, frame) })),
        }),
  };
}

function moveMesh(mesh: Mesh | null, frame: Frame3): Mesh | null {
  return mesh === null ? null : movedMesh(mesh, frame);
}

function movedMesh(mesh: Mesh, frame: Frame3): Mesh {
  const positionsMm = new Float64Array(mesh.positionsMm.length);
  for (let n = 0; n + 2 < positionsMm.length; n += 3) {
    const moved = framePoint(frame, [
      mesh.positionsMm[n] ?? 0,
      mesh.positionsMm[n + 1] ?? 0,
      mesh.positionsMm[n + 2] ?? 0,
    ]);
    positionsMm.set(moved, n);
  }
  return { positionsMm, triangles: mesh.triangles };
}

import { framePoint } from '../../geometry/frame3.ts';
import { isUsableMesh } from '../../geometry/mesh-box.ts';
import { scale3, type Vec3 } from '../../geometry/vec.ts';
import type { GridAxis, Space, SpatialZone, Storey } from '../../model/building.ts';
import { elementId } from '../../model/ids.ts';
import { curvePoints } from './curves.ts';
import { groupNames, type Reading, refFor } from './reading.ts';
import { numberOf, refOf, refsOf, textOf } from './values.ts';

/** Storeys with their heights, lowest first. */
export function readStoreys(reading: Reading): readonly Storey[] {
  const { step } = reading;
  return step
    .idsOf('IFCBUILDINGSTOREY')
    .map((id): Storey => {
      const attributes = step.attributes(id);
      const ref = refFor(reading, id);
      return {
        id: elementId(ref),
        ref,
        name: textOf(attributes[2]) ?? textOf(attributes[7]) ?? 'Unnamed storey',
        elevationMm: storeyElevationMm(reading, id),
      };
    })
    .sort((a, b) => a.elevationMm - b.elevationMm || (a.id < b.id ? -1 : 1));
}

/**
 * Height of a storey in the world. Its placement tells; the elevation attribute only where the
 * placement adds nothing to that of the building.
 */
function storeyElevationMm(reading: Reading, id: number): number {
  const { step, units, relations } = reading;
  const placed = reading.placementOf(id);
  const z = placed.fault === null ? placed.frame.origin[2] * units.mmPerUnit : null;
  const attribute = numberOf(step.attributes(id)[9]);
  const elevation = attribute === null ? null : attribute * units.mmPerUnit;
  const building = relations.wholeOf.get(id);
  const base =
    building === undefined ? 0 : reading.placementOf(building).frame.origin[2] * units.mmPerUnit;
  if (z === null) return (elevation ?? 0) + base;
  if (Math.abs(z - base) < 1e-6 && elevation !== null) return base + elevation;
  return z;
}

/** Axes of all grids, straight ones only, in the world frame. */
export function readGrids(reading: Reading): readonly GridAxis[] {
  const { step, units } = reading;
  const axes: GridAxis[] = [];
  for (const id of step.idsOf('IFCGRID')) {
    const attributes = step.attributes(id);
    const { frame } = reading.placementOf(id);
    const world = (point: Vec3): Vec3 => scale3(framePoint(frame, point), units.mmPerUnit);
    for (const at of [7, 8, 9]) {
      for (const axis of refsOf(attributes[at])) {
        const [tag, curve] = step.attributes(axis);
        const points = curvePoints(step, refOf(curve), units.radPerUnit)?.points ?? [];
        const [start] = points;
        const end = points[points.length - 1];
        if (start === undefined || end === undefined || points.length !== 2) continue;
        axes.push({ tag: textOf(tag) ?? '?', startMm: world(start), endMm: world(end) });
      }
    }
  }
  return axes;
}

/** Spaces of the model with their meshes. */
export function readSpaces(reading: Reading): readonly Space[] {
  const { step } = reading;
  return step.idsOf('IFCSPACE').map((id): Space => {
    const attributes = step.attributes(id);
    const ref = refFor(reading, id);
    const zones = zonesOf(reading, id);
    return {
      id: elementId(ref),
      ref,
      name: textOf(attributes[2]) ?? '',
      longName: textOf(attributes[7]),
      ...(zones.length > 0 ? { zones } : {}),
      mesh: reading.meshes.get(id) ?? null,
    };
  });
}

/** Zones with a body of their own. */
export function readSpatialZones(reading: Reading): readonly SpatialZone[] {
  const { step, meshes } = reading;
  return step.idsOf('IFCSPATIALZONE').flatMap((id): SpatialZone[] => {
    const mesh = meshes.get(id);
    const name = zoneName(reading, id);
    if (mesh === undefined || !isUsableMesh(mesh) || name === '') return [];
    const ref = refFor(reading, id);
    return [{ id: elementId(ref), ref, name, mesh }];
  });
}

function zoneName({ step }: Reading, id: number): string {
  const attributes = step.attributes(id);
  return textOf(attributes[2]) ?? textOf(attributes[7]) ?? '';
}

/** Zones a space is assigned to or referred to by, and those these are assigned to in turn. */
function zonesOf(reading: Reading, space: number): readonly string[] {
  const { step, relations } = reading;
  const seen = new Set<number>();
  const open = [space];
  for (let id = open.pop(); id !== undefined; id = open.pop()) {
    const groups = relations.groupsOf.get(id) ?? [];
    for (const group of groups.concat(relations.referencedIn.get(id) ?? [])) {
      if (seen.has(group) || !/^IFC(SPATIAL)?ZONE$/.test(step.typeOf(group))) continue;
      seen.add(group);
      open.push(group);
    }
  }
  return groupNames(reading, [...seen]);
}

import type { HostDim, OpeningDim, ShapeDim, V2, V3, WallDim } from '../dimensions/types.ts';
import { openingSweep, wallDirection, wallLengthMm } from './host-frame.ts';
import type { IfcProject, PropertyValue } from './ifc-project.ts';
import { addProvision } from './ifc-provisions.ts';
import { enumeration, NULL, type Step } from './step-writer.ts';

interface PlacedHost {
  readonly dim: HostDim;
  readonly element: Step;
  readonly placement: Step;
  /** World point of the placement's origin, and the direction of its x. */
  readonly originMm: V3;
  readonly direction: V2;
}

export type PlacedHosts = ReadonlyMap<string, PlacedHost>;

/** Writes walls, rings and slabs; the result knows them by their marks. */
export function addHosts(project: IfcProject, dims: readonly HostDim[]): PlacedHosts {
  return new Map(dims.map((dim) => [dim.mark, addHost(project, dim)]));
}

/** Writes openings and provisions, with what fills them. */
export function addOpenings(
  project: IfcProject,
  dims: readonly OpeningDim[],
  hosts: PlacedHosts,
): void {
  for (const dim of dims) addOpening(project, dim, hosts);
}

function placedHost(hosts: PlacedHosts, mark: string): PlacedHost {
  const host = hosts.get(mark);
  if (host === undefined) throw new Error(`No host ${mark}.`);
  return host;
}

function addHost(project: IfcProject, host: HostDim): PlacedHost {
  const storey = project.storeyPlacement(host.storey);
  const { originMm, direction, profile, profileAt } = outlineOf(project, host);
  const placement = project.placement(
    storey.placement,
    [originMm[0], originMm[1], originMm[2] - storey.elevationMm],
    [0, 0, 1],
    [direction[0], direction[1], 0],
  );
  const solid = project.extrusion(profile, project.axes(profileAt), host.heightMm);
  const axis: readonly V3[] | undefined =
    host.form === 'straight'
      ? [
          [0, 0, 0],
          [wallLengthMm(host), 0, 0],
        ]
      : undefined;
  const attributes = project.element(host.mark, {
    name: host.name,
    objectType: host.form === 'slab' ? 'Slab' : 'Wall',
    placement,
    shape: project.shape({ kind: 'SweptSolid', item: solid }, axis),
    tag: host.mark,
  });
  const isSlab = host.form === 'slab';
  const element = addHostElement(project, host, attributes);
  project.contain(host.storey, element);
  if (project.schema === 'IFC2X3' && host.form === 'straight') {
    project.layeredMaterial(host.mark, host.material, host.thicknessMm, element);
  } else {
    project.material(host.material, element);
  }
  project.properties(
    host.mark,
    element,
    isSlab ? 'Pset_SlabCommon' : 'Pset_WallCommon',
    hostProperties(host),
  );
  return { dim: host, element, placement, originMm, direction };
}

/** Walls have no predefined type in IFC2X3. */
function addHostElement(project: IfcProject, host: HostDim, attributes: readonly Step[]): Step {
  if (host.form === 'slab') {
    return project.step.add('IfcSlab', [...attributes, enumeration(host.predefined)]);
  }
  return project.schema === 'IFC2X3'
    ? project.step.add('IfcWallStandardCase', attributes)
    : project.step.add('IfcWall', [...attributes, enumeration('SOLIDWALL')]);
}

function hostProperties(host: HostDim): readonly PropertyValue[] {
  return [
    { name: 'Reference', type: 'IfcIdentifier', value: host.mark },
    ...(host.fireRating === null
      ? []
      : [{ name: 'FireRating', type: 'IfcLabel', value: host.fireRating }]),
    { name: 'IsExternal', type: 'IfcBoolean', value: host.isExternal },
    { name: 'LoadBearing', type: 'IfcBoolean', value: host.isLoadBearing },
    { name: 'Compartmentation', type: 'IfcBoolean', value: host.isCompartment },
  ];
}

/** Where a host is placed, and its outline in that place. */
function outlineOf(
  project: IfcProject,
  host: HostDim,
): {
  readonly originMm: V3;
  readonly direction: V2;
  readonly profile: Step;
  readonly profileAt: V3;
} {
  switch (host.form) {
    case 'slab': {
      const widthMm = host.x[1] - host.x[0];
      const depthMm = host.y[1] - host.y[0];
      return {
        originMm: [host.x[0], host.y[0], host.baseMm],
        direction: [1, 0],
        profile: project.rectangleProfile(widthMm, depthMm),
        profileAt: [widthMm / 2, depthMm / 2, 0],
      };
    }
    case 'ring':
      return {
        originMm: [host.centre[0], host.centre[1], host.baseMm],
        direction: [1, 0],
        profile: project.tubeProfile(
          2 * host.outerRadiusMm,
          2 * (host.outerRadiusMm - host.thicknessMm),
        ),
        profileAt: [0, 0, 0],
      };
    case 'straight': {
      const originMm: V3 = [host.from[0], host.from[1], host.baseMm];
      const direction = wallDirection(host);
      const lengthMm = wallLengthMm(host);
      return {
        originMm,
        direction,
        profile:
          host.footprint === undefined
            ? project.rectangleProfile(lengthMm, host.thicknessMm)
            : project.closedProfile(
                host.footprint.map((point) => intoWallFrame(point, host, direction)),
              ),
        profileAt: host.footprint === undefined ? [lengthMm / 2, 0, 0] : [0, 0, 0],
      };
    }
  }
}

function intoWallFrame(point: V2, wall: WallDim, [dx, dy]: V2): V2 {
  const x = point[0] - wall.from[0];
  const y = point[1] - wall.from[1];
  return [x * dx + y * dy, -x * dy + y * dx];
}

/** A direction or point of the world, in the frame of a host's placement. */
function intoHostFrame([x, y, z]: V3, host: PlacedHost, isPoint: boolean): V3 {
  const px = isPoint ? x - host.originMm[0] : x;
  const py = isPoint ? y - host.originMm[1] : y;
  const pz = isPoint ? z - host.originMm[2] : z;
  const [dx, dy] = host.direction;
  return [px * dx + py * dy, -px * dy + py * dx, pz];
}

function shapeProfile(project: IfcProject, shape: ShapeDim): Step {
  switch (shape.type) {
    case 'circle':
      return project.circleProfile(shape.diameterMm);
    case 'rectangle':
      return project.rectangleProfile(shape.widthMm, shape.heightMm);
    case 'slot':
      return project.slotProfile(shape.lengthMm, shape.widthMm);
  }
}

function addOpening(project: IfcProject, opening: OpeningDim, hosts: PlacedHosts): void {
  const placed = placedHost(hosts, opening.host);
  const second =
    opening.alsoThrough === undefined ? undefined : placedHost(hosts, opening.alsoThrough).dim;
  const sweep = openingSweep(opening, placed.dim, second?.form === 'straight' ? second : undefined);
  const placement = project.placement(
    placed.placement,
    intoHostFrame(sweep.startMm, placed, true),
    intoHostFrame(sweep.axis, placed, false),
    intoHostFrame(sweep.right, placed, false),
  );
  const solid = project.extrusion(
    shapeProfile(project, opening.shape),
    project.axes([0, 0, 0]),
    sweep.depthMm,
  );
  const isProvision = opening.declared === 'PROVISION';
  const attributes = project.element(opening.mark, {
    name: opening.name,
    // By convention: the older schema has no type for it.
    ...(isProvision && project.schema === 'IFC2X3' ? { objectType: 'ProvisionForVoid' } : {}),
    placement,
    shape: project.shape({ kind: 'SweptSolid', item: solid }),
    tag: opening.mark,
  });
  if (isProvision) {
    addProvision(project, opening, attributes, { storey: placed.dim.storey, host: placed.element });
    return;
  }
  const element = project.step.add(
    'IfcOpeningElement',
    project.schema === 'IFC2X3' ? attributes : [...attributes, enumeration(opening.declared)],
  );
  project.relation('IfcRelVoidsElement', opening.mark, [placed.element, element]);
  if (opening.filledBy !== undefined)
    addFilling(project, opening, element, {
      placement,
      depthMm: sweep.depthMm,
      storey: placed.dim.storey,
    });
  if (opening.serves.length > 0) {
    project.properties(opening.mark, element, 'Pset_OpeningElementCommon', [
      { name: 'Reference', type: 'IfcIdentifier', value: opening.mark },
      { name: 'Purpose', type: 'IfcLabel', value: 'Services' },
    ]);
  }
}

/** A leaf of 60 mm in the middle of the opening. */
function addFilling(
  project: IfcProject,
  opening: OpeningDim,
  element: Step,
  into: { readonly placement: Step; readonly depthMm: number; readonly storey: string },
): void {
  if (opening.shape.type !== 'rectangle' || opening.filledBy === undefined) return;
  const { widthMm, heightMm } = opening.shape;
  const leafMm = 60;
  const placement = project.placement(into.placement, [0, 0, (into.depthMm - leafMm) / 2]);
  const solid = project.extrusion(
    project.rectangleProfile(widthMm, heightMm),
    project.axes([0, 0, 0]),
    leafMm,
  );
  const isDoor = opening.filledBy === 'DOOR';
  const filling = project.step.add(isDoor ? 'IfcDoor' : 'IfcWindow', [
    ...project.element(`filling of ${opening.mark}`, {
      name: opening.name,
      placement,
      shape: project.shape({ kind: 'SweptSolid', item: solid }),
      tag: opening.mark,
    }),
    project.length(heightMm),
    project.length(widthMm),
    enumeration(isDoor ? 'DOOR' : 'WINDOW'),
    enumeration('NOTDEFINED'),
    NULL,
  ]);
  project.contain(into.storey, filling);
  project.relation('IfcRelFillsElement', opening.mark, [element, filling]);
}

import { GRID, HOSTS, hostOf, SPACES, STATION, STOREYS } from '../dimensions/building.ts';
import { OPENINGS } from '../dimensions/openings.ts';
import type { HostDim, OpeningDim, ShapeDim, V2, V3, WallDim } from '../dimensions/types.ts';
import { openingSweep, wallDirection, wallLengthMm } from './host-frame.ts';
import { IfcProject, type PropertyValue } from './ifc-project.ts';
import { enumeration, list, NULL, type Step, text } from './step-writer.ts';

export const ARCHITECTURE_FILE = 'architecture.ifc';

interface PlacedHost {
  readonly element: Step;
  readonly placement: Step;
  /** World point of the placement's origin, and the direction of its x. */
  readonly originMm: V3;
  readonly direction: V2;
}

/** The architecture model, IFC4, in millimetres. */
export function architectureIfc(): string {
  const project = new IfcProject({
    schema: 'IFC4',
    fileName: ARCHITECTURE_FILE,
    projectName: STATION.number,
    buildingName: STATION.name,
    date: STATION.date,
    unitMm: 1,
  });
  for (const storey of STOREYS) project.storey(storey.mark, storey.name, storey.elevationMm);
  addGrid(project);
  const hosts = new Map<string, PlacedHost>();
  for (const host of HOSTS) hosts.set(host.mark, addHost(project, host));
  for (const space of SPACES) addSpace(project, space);
  for (const opening of OPENINGS) addOpening(project, opening, hosts);
  return project.toText();
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
  const element = project.step.add(isSlab ? 'IfcSlab' : 'IfcWall', [
    ...attributes,
    enumeration(isSlab ? host.predefined : 'SOLIDWALL'),
  ]);
  project.contain(host.storey, element);
  project.material(host.material, element);
  project.properties(
    host.mark,
    element,
    isSlab ? 'Pset_SlabCommon' : 'Pset_WallCommon',
    hostProperties(host),
  );
  return { element, placement, originMm, direction };
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

function addOpening(
  project: IfcProject,
  opening: OpeningDim,
  hosts: ReadonlyMap<string, PlacedHost>,
): void {
  const placed = hosts.get(opening.host);
  if (placed === undefined) throw new Error(`${opening.mark} is in no host.`);
  const second = opening.alsoThrough === undefined ? undefined : hostOf(opening.alsoThrough);
  const sweep = openingSweep(
    opening,
    hostOf(opening.host),
    second?.form === 'straight' ? second : undefined,
  );
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
  const attributes = project.element(opening.mark, {
    name: opening.name,
    placement,
    shape: project.shape({ kind: 'SweptSolid', item: solid }),
    tag: opening.mark,
  });
  if (opening.declared === 'PROVISION') {
    addProvision(project, opening, attributes, placed);
    return;
  }
  const element = project.step.add('IfcOpeningElement', [
    ...attributes,
    enumeration(opening.declared),
  ]);
  project.relation('IfcRelVoidsElement', opening.mark, [placed.element, element]);
  if (opening.filledBy !== undefined)
    addFilling(project, opening, element, placement, sweep.depthMm);
  if (opening.serves.length > 0) {
    project.properties(opening.mark, element, 'Pset_OpeningElementCommon', [
      { name: 'Reference', type: 'IfcIdentifier', value: opening.mark },
      { name: 'Purpose', type: 'IfcLabel', value: 'Services' },
    ]);
  }
}

function addProvision(
  project: IfcProject,
  opening: OpeningDim,
  attributes: readonly Step[],
  host: PlacedHost,
): void {
  const element = project.step.add('IfcBuildingElementProxy', [
    ...attributes,
    enumeration('PROVISIONFORVOID'),
  ]);
  const { shape } = opening;
  const sizes: readonly PropertyValue[] =
    shape.type === 'circle'
      ? [
          { name: 'Shape', type: 'IfcLabel', value: 'Round' },
          { name: 'Diameter', type: 'IfcPositiveLengthMeasure', value: shape.diameterMm },
        ]
      : [
          { name: 'Shape', type: 'IfcLabel', value: 'Rectangle' },
          {
            name: 'Width',
            type: 'IfcPositiveLengthMeasure',
            value: shape.type === 'slot' ? shape.lengthMm : shape.widthMm,
          },
          {
            name: 'Height',
            type: 'IfcPositiveLengthMeasure',
            value: shape.type === 'slot' ? shape.widthMm : shape.heightMm,
          },
        ];
  project.properties(opening.mark, element, 'Pset_BuildingElementProxyProvisionForVoid', [
    ...sizes,
    { name: 'System', type: 'IfcLabel', value: 'Electrical' },
  ]);
  project.contain(hostOf(opening.host).storey, element);
  project.relation('IfcRelInterferesElements', opening.mark, [
    element,
    host.element,
    NULL,
    text('ProvisionForVoid'),
    enumeration('U'),
  ]);
}

/** A leaf of 60 mm in the middle of the opening. */
function addFilling(
  project: IfcProject,
  opening: OpeningDim,
  element: Step,
  openingPlacement: Step,
  depthMm: number,
): void {
  if (opening.shape.type !== 'rectangle' || opening.filledBy === undefined) return;
  const { widthMm, heightMm } = opening.shape;
  const leafMm = 60;
  const placement = project.placement(openingPlacement, [0, 0, (depthMm - leafMm) / 2]);
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
  project.contain(hostOf(opening.host).storey, filling);
  project.relation('IfcRelFillsElement', opening.mark, [element, filling]);
}

function addSpace(project: IfcProject, space: (typeof SPACES)[number]): void {
  const storey = project.storeyPlacement(space.storey);
  const placement = project.placement(storey.placement, [0, 0, space.baseMm - storey.elevationMm]);
  const solid = project.extrusion(
    project.closedProfile(space.outline),
    project.axes([0, 0, 0]),
    space.heightMm,
  );
  const element = project.step.add('IfcSpace', [
    project.step.globalId(`space ${space.mark}`),
    project.owner,
    text(space.mark),
    NULL,
    NULL,
    placement,
    project.shape({ kind: 'SweptSolid', item: solid }),
    text(space.longName),
    enumeration('ELEMENT'),
    enumeration('INTERNAL'),
    NULL,
  ]);
  project.addSpace(space.storey, element);
}

function addGrid(project: IfcProject): void {
  const beyondMm = 1500;
  const [left, right] = [GRID.x[0].atMm - beyondMm, GRID.x[3].atMm + beyondMm];
  const [bottom, top] = [GRID.y[0].atMm - beyondMm, GRID.y[2].atMm + beyondMm];
  const curves: Step[] = [];
  const axis = (tag: string, from: V2, to: V2): Step => {
    const curve = project.step.add('IfcPolyline', [
      list([project.point2(from), project.point2(to)]),
    ]);
    curves.push(curve);
    return project.step.add('IfcGridAxis', [text(tag), curve, enumeration('T')]);
  };
  const letters = GRID.x.map(({ tag, atMm }) => axis(tag, [atMm, bottom], [atMm, top]));
  const numbers = GRID.y.map(({ tag, atMm }) => axis(tag, [left, atMm], [right, atMm]));
  const set = project.step.add('IfcGeometricCurveSet', [list(curves)]);
  const representation = project.step.add('IfcShapeRepresentation', [
    project.footprintContext,
    text('FootPrint'),
    text('GeometricCurveSet'),
    list([set]),
  ]);
  const storey = project.storeyPlacement('00');
  const grid = project.step.add('IfcGrid', [
    project.step.globalId('grid'),
    project.owner,
    text('Building grid'),
    NULL,
    NULL,
    project.placement(storey.placement, [0, 0, 0]),
    project.step.add('IfcProductDefinitionShape', [NULL, NULL, list([representation])]),
    list(numbers),
    list(letters),
    NULL,
    enumeration('RECTANGULAR'),
  ]);
  project.contain('00', grid);
}

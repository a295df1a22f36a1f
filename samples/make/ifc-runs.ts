import type { PieceDim, RunDim, SectionDim, ServiceForm, V3 } from '../dimensions/types.ts';
import type { IfcProject, PropertyValue } from './ifc-project.ts';
import { enumeration, list, NULL, type Step, text } from './step-writer.ts';

/** Writes runs piece by piece, joins them by ports where asked, and groups them by system. */
export function addRuns(project: IfcProject, runs: readonly RunDim[]): void {
  const systems = new Map<string, Step[]>();
  for (const run of runs) {
    const elements = addRun(project, run);
    systems.set(run.system, [...(systems.get(run.system) ?? []), ...elements]);
  }
  for (const [name, elements] of systems) addSystem(project, name, elements);
}

/** Name of a piece in the file, from which its GlobalId is made. */
export function pieceName(run: RunDim, piece: PieceDim): string {
  return `${run.ref} ${piece.key}`;
}

const SEGMENTS: Record<ServiceForm, { readonly type: string; readonly predefined: string }> = {
  tray: { type: 'IfcCableCarrierSegment', predefined: 'CABLETRAYSEGMENT' },
  ladder: { type: 'IfcCableCarrierSegment', predefined: 'CABLELADDERSEGMENT' },
  trunking: { type: 'IfcCableCarrierSegment', predefined: 'CABLETRUNKINGSEGMENT' },
  conduit: { type: 'IfcCableCarrierSegment', predefined: 'CONDUITSEGMENT' },
  cable: { type: 'IfcCableSegment', predefined: 'CABLESEGMENT' },
  duct: { type: 'IfcDuctSegment', predefined: 'RIGIDSEGMENT' },
  pipe: { type: 'IfcPipeSegment', predefined: 'RIGIDSEGMENT' },
};

const FITTINGS: Record<ServiceForm, { readonly type: string; readonly predefined: string }> = {
  tray: { type: 'IfcCableCarrierFitting', predefined: 'BEND' },
  ladder: { type: 'IfcCableCarrierFitting', predefined: 'NOTDEFINED' },
  trunking: { type: 'IfcCableCarrierFitting', predefined: 'BEND' },
  conduit: { type: 'IfcCableCarrierFitting', predefined: 'NOTDEFINED' },
  cable: { type: 'IfcCableFitting', predefined: 'CONNECTOR' },
  duct: { type: 'IfcDuctFitting', predefined: 'CONNECTOR' },
  pipe: { type: 'IfcPipeFitting', predefined: 'TRANSITION' },
};

const SYSTEM_TYPES: Readonly<Record<string, string>> = {
  'Cable ways': 'ELECTRICAL',
  'Low voltage': 'ELECTRICAL',
  Ventilation: 'VENTILATION',
  'Storm water': 'STORMWATER',
  'Compressed air': 'COMPRESSEDAIR',
};

function addRun(project: IfcProject, run: RunDim): readonly Step[] {
  const pieces = run.pieces.map((piece) => ({ piece, element: addPiece(project, run, piece) }));
  if (run.ports === true) joinByPorts(project, run, pieces);
  return pieces.map(({ element }) => element);
}

function addPiece(project: IfcProject, run: RunDim, piece: PieceDim): Step {
  const storey = project.storeyPlacement(run.storey);
  const axis = unit(piece.from, piece.via?.[0] ?? piece.to);
  const placement =
    piece.via === undefined
      ? project.placement(
          storey.placement,
          below(piece.from, storey.elevationMm),
          axis,
          widthOf(run, axis),
        )
      : project.placement(storey.placement, [0, 0, 0]);
  const several = run.pieces.length > 1 ? ` (${piece.key})` : '';
  const attributes = project.element(pieceName(run, piece), {
    name: nameOf(run, piece) + several,
    objectType: run.name,
    placement,
    shape: run.withoutBody === true ? NULL : shapeOf(project, run, piece, storey.elevationMm),
    tag: run.refIn === 'tag' ? run.ref : null,
  });
  const element = addElement(project, run, piece, attributes);
  project.contain(run.storey, element);
  addProperties(project, run, piece, element);
  return element;
}

/** In IFC2X3 a segment is any flow segment; what it is stands on its type. */
function addElement(
  project: IfcProject,
  run: RunDim,
  piece: PieceDim,
  attributes: readonly Step[],
): Step {
  const { type, predefined } = (piece.role === 'fitting' ? FITTINGS : SEGMENTS)[run.form];
  if (project.schema !== 'IFC2X3') {
    return project.step.add(type, [...attributes, enumeration(predefined)]);
  }
  const element = project.step.add(
    piece.role === 'fitting' ? 'IfcFlowFitting' : 'IfcFlowSegment',
    attributes,
  );
  const name = pieceName(run, piece);
  const typeObject = project.step.add(`${type}Type`, [
    project.step.globalId(`type of ${name}`),
    project.owner,
    text(run.name),
    NULL,
    NULL,
    NULL,
    NULL,
    NULL,
    NULL,
    enumeration(predefined),
  ]);
  project.relation('IfcRelDefinesByType', name, [list([element]), typeObject]);
  return element;
}

function nameOf(run: RunDim, piece: PieceDim): string {
  const kind = run.name.slice(0, run.name.length - run.ref.length).trim();
  if (run.refIn === 'name') return piece.role === 'fitting' ? `Fitting ${run.ref}` : run.name;
  return piece.role === 'fitting' ? 'Fitting' : kind;
}

function shapeOf(project: IfcProject, run: RunDim, piece: PieceDim, storeyMm: number): Step {
  if (piece.via !== undefined && run.section.type === 'circle') {
    const path = [piece.from, ...piece.via, piece.to].map((point) => below(point, storeyMm));
    const disk = project.step.add('IfcSweptDiskSolid', [
      project.polyline(path),
      project.length(run.section.diameterMm / 2),
      NULL,
      NULL,
      NULL,
    ]);
    return project.shape({ kind: 'AdvancedSweptSolid', item: disk });
  }
  const lengthMm = distance(piece.from, piece.to);
  const solid = project.extrusion(
    profileOf(project, run, piece),
    project.axes([0, 0, 0]),
    lengthMm,
  );
  const axis: readonly V3[] | undefined =
    run.form === 'pipe' || run.form === 'duct'
      ? [
          [0, 0, 0],
          [0, 0, lengthMm],
        ]
      : undefined;
  return project.shape({ kind: 'SweptSolid', item: solid }, axis);
}

/** Fittings stand out a little round what they join. */
function profileOf(project: IfcProject, run: RunDim, piece: PieceDim): Step {
  const { section } = run;
  const collarMm = piece.role === 'fitting' ? 6 : 0;
  if (section.type === 'circle') {
    return section.boreMm === undefined
      ? project.circleProfile(section.diameterMm)
      : project.tubeProfile(section.diameterMm + collarMm, section.boreMm);
  }
  if (run.folded === true && piece.role === 'segment') {
    return foldedTray(project, section.widthMm, section.heightMm);
  }
  if (run.form === 'duct' || run.form === 'trunking') {
    return project.rectangleHollowProfile(section.widthMm, section.heightMm, 1.5);
  }
  return project.rectangleProfile(section.widthMm + collarMm, section.heightMm + collarMm);
}

/** Sheet of 2 mm, open along the profile's y. */
function foldedTray(project: IfcProject, widthMm: number, heightMm: number): Step {
  const sheet = 2;
  const [w, h] = [widthMm / 2, heightMm / 2];
  return project.closedProfile([
    [-w, -h],
    [w, -h],
    [w, h],
    [w - sheet, h],
    [w - sheet, -h + sheet],
    [-w + sheet, -h + sheet],
    [-w + sheet, h],
    [-w, h],
  ]);
}

function addProperties(project: IfcProject, run: RunDim, piece: PieceDim, element: Step): void {
  const name = pieceName(run, piece);
  if (run.refIn === 'property set') {
    project.properties(name, element, 'Station_Identity', [
      { name: 'Route', type: 'IfcLabel', value: run.ref },
    ]);
  }
  if (piece.role === 'fitting') return;
  const sizes = sizeProperties(project, run.form, run.section);
  if (sizes !== null) project.properties(name, element, sizes.set, sizes.values);
}

interface SizeSet {
  readonly set: string;
  readonly values: readonly PropertyValue[];
}

const size = (name: string, value: number): PropertyValue => ({
  name,
  type: 'IfcPositiveLengthMeasure',
  value,
});

/** The standard set of each class, as its schema spells it; null where the schema has no sizes. */
function sizeProperties(
  { schema }: IfcProject,
  form: ServiceForm,
  section: SectionDim,
): SizeSet | null {
  return section.type === 'circle'
    ? roundSizes(schema, form, section)
    : flatSizes(schema, form, section);
}

function roundSizes(
  schema: IfcProject['schema'],
  form: ServiceForm,
  section: Extract<SectionDim, { readonly type: 'circle' }>,
): SizeSet {
  if (form === 'cable') {
    return {
      set: 'Pset_CableSegmentTypeCableSegment',
      values: [size('OverallDiameter', section.diameterMm)],
    };
  }
  if (form === 'pipe') {
    // The standard set sits on types and holds lists in IFC2X3.
    if (schema === 'IFC2X3') {
      return { set: 'Chamber_Pipe', values: [size('OuterDiameter', section.diameterMm)] };
    }
    return {
      set: 'Pset_PipeSegmentTypeCommon',
      values: [
        size('OuterDiameter', section.diameterMm),
        size('InnerDiameter', section.boreMm ?? section.diameterMm),
      ],
    };
  }
  return {
    set: 'Pset_CableCarrierSegmentTypeConduitSegment',
    values:
      schema === 'IFC4X3_ADD2'
        ? [size('NominalDiameter', section.diameterMm)]
        : [size('NominalWidth', section.diameterMm), size('NominalHeight', section.diameterMm)],
  };
}

function flatSizes(
  schema: IfcProject['schema'],
  form: ServiceForm,
  section: Extract<SectionDim, { readonly type: 'rectangle' }>,
): SizeSet | null {
  if (form === 'duct') {
    return {
      set: 'Pset_DuctSegmentTypeCommon',
      values: [
        { name: 'Shape', type: 'IfcLabel', value: 'RECTANGULAR' },
        size('NominalDiameterOrWidth', section.widthMm),
        size('NominalHeight', section.heightMm),
      ],
    };
  }
  if (schema === 'IFC4X3_ADD2') return null;
  const names: Readonly<Partial<Record<ServiceForm, string>>> = {
    tray: 'CableTraySegment',
    ladder: 'CableLadderSegment',
    trunking: 'CableTrunkingSegment',
  };
  return {
    set: `Pset_CableCarrierSegmentType${names[form]}`,
    values: [size('NominalWidth', section.widthMm), size('NominalHeight', section.heightMm)],
  };
}

/** A port at each end of each piece; ends that meet are connected. */
function joinByPorts(
  project: IfcProject,
  run: RunDim,
  pieces: readonly { readonly piece: PieceDim; readonly element: Step }[],
): void {
  const ends = pieces.map(({ piece, element }) => {
    const ports = (['start', 'end'] as const).map((end) => addPort(project, run, piece, end));
    project.relation('IfcRelNests', `ports of ${pieceName(run, piece)}`, [element, list(ports)]);
    return { piece, start: ports[0], end: ports[1] };
  });
  for (const [index, current] of ends.entries()) {
    const next = ends[index + 1];
    if (next?.start === undefined || current.end === undefined) continue;
    project.relation('IfcRelConnectsPorts', `${pieceName(run, current.piece)} onwards`, [
      current.end,
      next.start,
      NULL,
    ]);
  }
}

function addPort(project: IfcProject, run: RunDim, piece: PieceDim, end: 'start' | 'end'): Step {
  const storey = project.storeyPlacement(run.storey);
  const at = end === 'start' ? piece.from : piece.to;
  return project.step.add('IfcDistributionPort', [
    project.step.globalId(`port ${end} of ${pieceName(run, piece)}`),
    project.owner,
    text(`${run.ref} ${piece.key} ${end}`),
    NULL,
    NULL,
    project.placement(storey.placement, below(at, storey.elevationMm)),
    NULL,
    enumeration(end === 'start' ? 'SINK' : 'SOURCE'),
    enumeration(run.form === 'pipe' ? 'PIPE' : 'CABLECARRIER'),
    enumeration('NOTDEFINED'),
  ]);
}

function addSystem(project: IfcProject, name: string, elements: readonly Step[]): void {
  const root = [
    project.step.globalId(`system ${name}`),
    project.owner,
    text(name),
    NULL,
    text(name),
  ];
  const system =
    project.schema === 'IFC2X3'
      ? project.step.add('IfcSystem', root)
      : project.step.add('IfcDistributionSystem', [
          ...root,
          NULL,
          enumeration(SYSTEM_TYPES[name] ?? 'NOTDEFINED'),
        ]);
  project.relation('IfcRelAssignsToGroup', `system ${name}`, [list(elements), NULL, system]);
  project.relation('IfcRelServicesBuildings', `system ${name}`, [system, list([project.building])]);
}

/** A fitting that turns the run along its own width lies crosswise. */
function widthOf({ widthDirection: [x, y, z] }: RunDim, axis: V3): V3 {
  const isAlong = Math.abs(x * axis[0] + y * axis[1] + z * axis[2]) > 0.99;
  return isAlong ? [-y, x, 0] : [x, y, z];
}

function below([x, y, z]: V3, storeyMm: number): V3 {
  return [x, y, z - storeyMm];
}

function distance(from: V3, to: V3): number {
  return Math.hypot(to[0] - from[0], to[1] - from[1], to[2] - from[2]);
}

function unit(from: V3, to: V3): V3 {
  const lengthMm = distance(from, to);
  return [(to[0] - from[0]) / lengthMm, (to[1] - from[1]) / lengthMm, (to[2] - from[2]) / lengthMm];
}

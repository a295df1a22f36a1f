import { SealbookError, withFile } from '../../basics/errors.ts';
import { sortedBy } from '../../basics/order.ts';
import type { OnProgress } from '../../basics/progress.ts';
import { makeQuery, type WithQueries } from '../../basics/query.ts';
import { isUsableMesh, longBox, meshPoint } from '../../geometry/mesh-box.ts';
import { add3, dot3, scale3, sub3, unit3, type Vec3 } from '../../geometry/vec.ts';
import type { Building, Host, Joint, Opening, Service } from '../../model/building.ts';
import { elementId } from '../../model/ids.ts';
import type { InputFile } from '../../model/input.ts';
import type { UnreadContent } from '../../model/issue.ts';
import type { Settings } from '../../model/settings.ts';
import { className } from './class-names.ts';
import { classesFor } from './classes.ts';
import { materialOf } from './element-facts.ts';
import { type ModelFrame, readMapConversion, readTrueNorth } from './georeference.ts';
import { elementKeys } from './global-ids.ts';
import { openGrossMeshes, type WasmPlace } from './model-meshes.ts';
import { moveBuilding, turnedFrame } from './move-building.ts';
import { type HostRecords, hostOfRecord, hostRecords, makeHost, named } from './read-hosts.ts';
import { makeOpening, openingRecords } from './read-openings.ts';
import { readGrids, readSpaces, readStoreys } from './read-places.ts';
import { formFromSweeps, makeService, type ServiceForm, sectionOf } from './read-services.ts';
import { type Reading, refFor, startReading } from './reading.ts';
import { findRecords, type ModelRecords } from './records.ts';
import { readRelations } from './relations.ts';
import { readShape, type Sweep } from './sweeps.ts';
import { readUnits } from './units.ts';
import { textOf } from './values.ts';

/** What one model holds, in its own frame, mm, z up. */
export interface ReadModel {
  readonly building: Building;
  readonly schema: string;
  readonly unread: readonly UnreadContent[];
  /** What joins it with other models. */
  readonly frame: ModelFrame;
}

export interface ReadIfcOptions {
  /** Where web-ifc's wasm lies; Node finds it by itself. */
  readonly wasm?: WasmPlace;
  readonly onProgress?: OnProgress;
  /** Added to what the file says of its place: turned about z first, then moved. */
  readonly correction?: { readonly moveMm: Vec3; readonly turnDeg: number };
}

const SCHEMA_FAMILIES = /^IFC(2X3|4X3|4X2|4X1|4)(_|$)/;

/**
 * Reads hosts, services, openings and places of a building model (IFC2X3, IFC4, IFC4X3).
 * Hosts' meshes are gross: no opening is cut from them.
 * @throws SealbookError `input-unreadable` when the file is empty, no STEP, cut short or of a schema
 * that isn't known, `input-too-large` beyond the settings' limits.
 */
export async function readIfc(
  file: InputFile,
  settings: Settings,
  options: ReadIfcOptions = {},
): Promise<WithQueries<ReadModel>> {
  try {
    return await readModel(file, settings, options);
  } catch (error) {
    if (error instanceof SealbookError) throw withFile(error, file.name);
    throw error;
  }
}

/** Records of a model whose schema is known. @throws SealbookError as `readIfc` does. */
export function openModel(file: InputFile, settings: Settings): ModelRecords {
  if (file.bytes.length > settings.limits.fileMb * 1024 * 1024) {
    throw new SealbookError(
      'input-too-large',
      `The model has ${Math.ceil(file.bytes.length / 1024 / 1024)} MB, more than the ${settings.limits.fileMb} MB allowed.`,
      { todo: 'Raise limits.fileMb in the project file, or export less of the model.' },
    );
  }
  const step = findRecords(file.bytes, settings.limits.entities);
  if (!SCHEMA_FAMILIES.test(step.schema)) {
    throw new SealbookError(
      'input-unreadable',
      step.schema === ''
        ? 'The header names no schema.'
        : `The schema ${step.schema} is not one of IFC2X3, IFC4 and IFC4X3.`,
      { todo: 'Export the model as IFC2X3, IFC4 or IFC4X3.' },
    );
  }
  return step;
}

async function readModel(
  file: InputFile,
  settings: Settings,
  options: ReadIfcOptions,
): Promise<WithQueries<ReadModel>> {
  const progress = (step: string, done: number): void =>
    options.onProgress?.({ step: `${file.name}: ${step}`, done, total: 4 });
  progress('reading records', 0);
  const step = openModel(file, settings);
  const reading = beginReading(step, file.key, settings);
  const records = gatherRecords(reading);
  progress('opening geometry', 1);
  const meshes = await openGrossMeshes(file.bytes, step, options.wasm);
  try {
    progress('reading geometry', 2);
    await meshes.read(records.toStream, (id, mesh) => reading.meshes.set(id, mesh));
  } finally {
    meshes.close();
  }
  progress('reading elements', 3);
  const building = makeBuilding(reading, records);
  addFileQueries(reading);
  const { correction } = options;
  return {
    result: {
      building:
        correction === undefined
          ? building
          : moveBuilding(
              building,
              turnedFrame((correction.turnDeg * Math.PI) / 180, correction.moveMm),
            ),
      schema: step.schema,
      unread: unreadContent(reading),
      frame: {
        fileKey: file.key,
        fileName: file.name,
        lengthName: reading.units.lengthName,
        mmPerUnit: reading.units.mmPerUnit,
        trueNorthRad: readTrueNorth(step),
        map: readMapConversion(step, reading.units),
      },
    },
    queries: sortedBy(reading.queries, (query) => query.id),
  };
}

/** Everything of a model but its geometry, ready to be asked. */
export function beginReading(step: ModelRecords, fileKey: string, settings: Settings): Reading {
  const classes = classesFor(settings);
  const relations = readRelations(step);
  const rooted = [
    ...classes.hosts.keys(),
    ...classes.services.keys(),
    ...classes.openings,
    'IFCBUILDINGELEMENTPROXY',
    'IFCVIRTUALELEMENT',
    'IFCBUILDINGSTOREY',
    'IFCSPACE',
  ].flatMap((type) => step.idsOf(type));
  const { keys, queries } = elementKeys(step, fileKey, rooted);
  const reading = startReading({
    fileKey,
    step,
    relations,
    units: readUnits(step),
    classes,
    settings,
    keys,
  });
  reading.queries.push(...queries);
  return reading;
}

interface ServiceRecord {
  readonly id: number;
  readonly form: ServiceForm;
  readonly needsMesh: boolean;
}

interface Records {
  readonly hosts: ReadonlyMap<number, HostRecords>;
  readonly services: readonly ServiceRecord[];
  readonly openings: readonly number[];
  readonly provisions: readonly number[];
  readonly toStream: readonly number[];
}

/** What will be read, and whose geometry web-ifc must make: services with a swept body need none. */
function gatherRecords(reading: Reading): Records {
  const hosts = new Map(hostRecords(reading).map((records) => [records.id, records]));
  const services = [...reading.classes.services.keys()].flatMap((type) =>
    reading.step.idsOf(type).map((id) => serviceRecord(reading, id)),
  );
  const { openings, provisions } = openingRecords(reading);
  const toStream = [
    ...[...hosts.values()].flatMap(({ own, parts }) => (own === null ? parts : [own, ...parts])),
    ...services.filter(({ needsMesh }) => needsMesh).map(({ id }) => id),
    ...openings,
    ...provisions,
    ...reading.step.idsOf('IFCSPACE').filter((id) => reading.shapeOf(id) !== null),
  ];
  return { hosts, services, openings, provisions, toStream: [...new Set(toStream)] };
}

function serviceRecord(reading: Reading, id: number): ServiceRecord {
  const shape = reading.shapeOf(id);
  const { frame, fault } = reading.placementOf(id);
  if (shape === null || fault !== null) {
    return { id, form: formFromSweeps([]), needsMesh: false };
  }
  const read = readShape(reading.step, shape, frame, reading.units);
  const form = formFromSweeps([...read.sweeps, ...coveringSweeps(reading, id)]);
  if (form.axisMm !== null && read.otherItems.length === 0) {
    // What is cut off a sweep shortens it; the mesh tells where it ends.
    return { id, form, needsMesh: read.sweeps.some(({ isClipped }) => isClipped) };
  }
  const axis = read.axisMm ?? null;
  return {
    id,
    form:
      axis === null ? formFromSweeps([]) : { ...formFromSweeps([]), axisMm: axis, how: 'its axis' },
    needsMesh: true,
  };
}

/** Bodies of coverings (insulation, jackets) that the model puts round a service. */
function coveringSweeps(reading: Reading, id: number): readonly Sweep[] {
  return (reading.relations.coveringsOf.get(id) ?? []).flatMap((covering) => {
    const shape = reading.shapeOf(covering);
    const { frame, fault } = reading.placementOf(covering);
    if (shape === null || fault !== null) return [];
    return readShape(reading.step, shape, frame, reading.units).sweeps;
  });
}

function makeBuilding(reading: Reading, records: Records): Building {
  const openings = readOpenings(reading, records);
  const openingsOf = new Map<string, string[]>();
  for (const opening of openings) {
    for (const hostId of opening.hostIds) {
      openingsOf.set(hostId, [...(openingsOf.get(hostId) ?? []), opening.id]);
    }
  }
  const hosts: Host[] = [];
  for (const record of records.hosts.values()) {
    const id = elementId(refFor(reading, record.id));
    const host = makeHost(reading, record, (openingsOf.get(id) ?? []).sort());
    if (host !== null) hosts.push(host);
  }
  const services = records.services.map((record) => readService(reading, record));
  return {
    storeys: readStoreys(reading),
    grids: readGrids(reading),
    spaces: sortedBy(readSpaces(reading), ({ id }) => id),
    hosts: sortedBy(hosts, ({ id }) => id),
    services: sortedBy(services, ({ id }) => id),
    openings: sortedBy(openings, ({ id }) => id),
    joints: readJoints(reading, records.services),
  };
}

function readOpenings(reading: Reading, records: Records): readonly Opening[] {
  const make = (id: number, kind: Opening['kind']): Opening => {
    const hostIds = (reading.relations.hostsOfOpening.get(id) ?? [])
      .map((record) => hostOfRecord(reading, records.hosts, record))
      .filter((host): host is number => host !== null)
      .map((host) => elementId(refFor(reading, host)));
    return makeOpening(
      reading,
      id,
      kind,
      [...new Set(hostIds)].sort(),
      voidedClasses(reading, records, id),
    );
  };
  return [
    ...records.openings.map((id) => make(id, 'opening')),
    ...records.provisions.map((id) => make(id, 'provision')),
  ];
}

/** Classes of the elements an opening voids that are no hosts. */
function voidedClasses(reading: Reading, records: Records, id: number): readonly string[] {
  return (
    (reading.relations.hostsOfOpening.get(id) ?? [])
      // A roof that is only a frame round its slabs has hosts within: the place tells which.
      .filter((record) => records.hosts.get(record)?.isOnlyAFrame !== true)
      .filter((record) => hostOfRecord(reading, records.hosts, record) === null)
      .map((record) => className(reading.step.typeOf(record)))
  );
}

function readService(reading: Reading, record: ServiceRecord): Service {
  const { id } = record;
  const ref = refFor(reading, id);
  const facts = reading.factsOf(id);
  const type = reading.step.typeOf(id);
  const known = reading.classes.services.get(type);
  const mesh = reading.meshes.get(id);
  const usable = mesh !== undefined && isUsableMesh(mesh) ? mesh : null;
  const form = !record.needsMesh
    ? record.form
    : record.form.section === null
      ? meshForm(record.form, usable)
      : trimmedForm(record.form, usable);
  const service = makeService({
    id: elementId(ref),
    elementKey: ref.id,
    fileKey: reading.fileKey,
    ifcClass: className(type),
    role: known?.role ?? 'segment',
    knownKind: known?.kind ?? null,
    facts,
    form,
    mesh: usable,
    systems: systemsOf(reading, id),
    storeyId: reading.storeyIdOf(id),
    material: materialOf(reading.step, reading.relations, id, reading.units).name,
    units: reading.units,
  });
  if (form.axisMm === null && usable === null) addNoGeometryQuery(reading, id, service);
  return service;
}

/** Centre line and section of a body that is no sweep: the box along its principal direction. */
function meshForm(form: ServiceForm, mesh: Service['mesh']): ServiceForm {
  if (mesh === null) return form;
  const box = longBox(mesh);
  if (box === null) return form;
  return {
    axisMm: form.axisMm ?? [box.startMm, box.endMm],
    upDirection: box.up,
    section: sectionOf(box.shape),
    boreMm: null,
    how: 'the box round its mesh',
  };
}

/** A straight centre line cut to where the mesh begins and ends along it. */
function trimmedForm(form: ServiceForm, mesh: Service['mesh']): ServiceForm {
  const [start, end, more] = form.axisMm ?? [];
  if (mesh === null || start === undefined || end === undefined || more !== undefined) return form;
  const along = unit3(sub3(end, start));
  if (along === null) return form;
  let from = Infinity;
  let to = -Infinity;
  for (let n = 0; n < mesh.positionsMm.length / 3; n += 1) {
    const at = dot3(sub3(meshPoint(mesh, n), start), along);
    from = Math.min(from, at);
    to = Math.max(to, at);
  }
  if (!(to - from > 0)) return form;
  return {
    ...form,
    axisMm: [add3(start, scale3(along, from)), add3(start, scale3(along, to))],
  };
}

function systemsOf(reading: Reading, id: number): readonly string[] {
  const names = (reading.relations.groupsOf.get(id) ?? [])
    .map((group) => textOf(reading.step.attributes(group)[2]) ?? '')
    .filter((name) => name !== '');
  return [...new Set(names)].sort();
}

function addNoGeometryQuery(reading: Reading, id: number, service: Service): void {
  const { fault } = reading.placementOf(id);
  const noPlace = fault !== null && reading.shapeOf(id) !== null;
  reading.queries.push(
    makeQuery(noPlace ? 'placement-missing' : 'element-without-geometry', {
      about: service.id,
      text: `${service.ifcClass} ${named(service.name)} has ${noPlace ? `a placement that is ${fault}` : 'no usable geometry'}; where it passes is unknown.`,
      why: 'A penetration of it would be missed.',
      settles: 'Export the element with a body and a placement.',
      evidence: service.evidence,
    }),
  );
}

/** Joints between services, through other elements (dampers, valves, boxes) too. */
function readJoints(reading: Reading, services: readonly ServiceRecord[]): readonly Joint[] {
  const { relations } = reading;
  const isService = new Set(services.map(({ id }) => id));
  const neighbours = new Map<number, Set<number>>();
  const joints = new Map<string, Joint>();
  const add = (a: number, b: number): void => {
    if (a === b) return;
    const ids = [elementId(refFor(reading, a)), elementId(refFor(reading, b))].sort();
    const [first, second] = ids;
    if (first !== undefined && second !== undefined) {
      joints.set(`${first} ${second}`, { serviceIds: [first, second] });
    }
  };
  const join = (a: number | undefined, b: number | undefined): void => {
    if (a === undefined || b === undefined) return;
    if (isService.has(a) && isService.has(b)) {
      add(a, b);
      return;
    }
    for (const [via, end] of [
      [a, b],
      [b, a],
    ] as const) {
      if (isService.has(via) || !isService.has(end)) continue;
      neighbours.set(via, (neighbours.get(via) ?? new Set()).add(end));
    }
  };
  for (const [a, b] of relations.connectedPorts) {
    join(relations.elementOfPort.get(a), relations.elementOfPort.get(b));
  }
  for (const [a, b] of relations.connectedElements) join(a, b);
  for (const ends of neighbours.values()) {
    // Boards and machines join many services that are no run.
    if (ends.size !== 2) continue;
    const [a, b] = [...ends];
    if (a !== undefined && b !== undefined) add(a, b);
  }
  return [...joints].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, joint]) => joint);
}

function addFileQueries(reading: Reading): void {
  const { fileKey, step, relations, units, queries } = reading;
  const place = { fileKey };
  if (units.lengthName === null) {
    queries.push(
      makeQuery('units-missing', {
        about: fileKey,
        text: `${fileKey} names no unit of length; metres were taken.`,
        why: 'All sizes and places depend on it.',
        settles: 'Say which unit the model is in, or export it with units.',
        evidence: [{ fact: 'units', text: 'The project has no length unit.', place }],
      }),
    );
  }
  if (
    relations.dangling.length +
      step.duplicateIds.length +
      step.unsoundIds.length +
      step.junk.length >
    0
  ) {
    const shown = relations.dangling.slice(0, 5).map(({ from, to }) => `#${from} to #${to}`);
    const parts = [
      relations.dangling.length > 0
        ? `${relations.dangling.length} references point to records that aren't there (${shown.join(', ')})`
        : null,
      step.duplicateIds.length > 0
        ? `${step.duplicateIds.length} record numbers are used twice (the first counts)`
        : null,
      step.junk.length > step.duplicateIds.length
        ? `${step.junk.length - step.duplicateIds.length} statements are no records`
        : null,
      step.unsoundIds.length > 0
        ? `${step.unsoundIds.length} records are empty or broken (${step.unsoundIds
            .slice(0, 5)
            .map((id) => `#${id}`)
            .join(', ')})`
        : null,
    ].filter((part) => part !== null);
    queries.push(
      makeQuery('dangling-reference', {
        about: fileKey,
        text: `${fileKey}: ${parts.join('; ')}.`,
        why: 'Elements, openings or properties may be missing.',
        settles: 'Export the model again.',
        evidence: [{ fact: 'records', text: 'Found while reading the records.', place }],
      }),
    );
  }
}

/** Elements with a body that count as nothing here, by class. */
function unreadContent(reading: Reading): readonly UnreadContent[] {
  const { step, classes, fileKey } = reading;
  const unread: UnreadContent[] = [];
  for (const [type, count] of step.types()) {
    if (classes.hosts.has(type) || classes.services.has(type) || classes.openings.has(type))
      continue;
    if (!OTHER_ELEMENTS.test(type)) continue;
    unread.push({
      fileKey,
      type: className(type),
      layer: null,
      count,
      reason: 'Neither a host nor a service by the settings.',
    });
  }
  return sortedBy(unread, ({ type }) => type);
}

const OTHER_ELEMENTS =
  /^IFC(BEAM|COLUMN|MEMBER|PLATE|CURTAINWALL|COVERING|BUILDINGELEMENTPROXY|FLOWTERMINAL|FLOWCONTROLLER|FLOWFITTING|VALVE|DAMPER|JUNCTIONBOX|PILE|RAMP|STAIR|RAILING|CHIMNEY|ENERGYCONVERSIONDEVICE|FLOWMOVINGDEVICE|FLOWSTORAGEDEVICE|FLOWTREATMENTDEVICE|DISTRIBUTIONELEMENT|DISTRIBUTIONFLOWELEMENT|CONVEYORSEGMENT|PAVEMENT|KERB|COURSE|BRIDGE|TUNNEL)$/;

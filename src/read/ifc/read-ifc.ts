import { SealbookError, withFile } from '../../basics/errors.ts';
import { sortedBy } from '../../basics/order.ts';
import type { OnProgress } from '../../basics/progress.ts';
import type { WithQueries } from '../../basics/query.ts';
import type { Vec3 } from '../../geometry/vec.ts';
import type { Building, Host, Opening } from '../../model/building.ts';
import { elementId } from '../../model/ids.ts';
import type { InputFile } from '../../model/input.ts';
import type { UnreadContent } from '../../model/issue.ts';
import type { Settings } from '../../model/settings.ts';
import { brokenUnits } from './broken-units.ts';
import { className } from './class-names.ts';
import { classesFor, MAY_SEPARATE } from './classes.ts';
import { endlessShapes } from './endless-shapes.ts';
import { addFileQueries, unreadContent } from './file-queries.ts';
import { gatherRecords, type Records } from './gather-records.ts';
import { type ModelFrame, readMapConversion, readTrueNorth } from './georeference.ts';
import { elementKeys } from './global-ids.ts';
import { openGrossMeshes, type WasmPlace } from './model-meshes.ts';
import { moveBuilding, turnedFrame } from './move-building.ts';
import { readEquipment } from './read-equipment.ts';
import { hostOfRecord, makeHost } from './read-hosts.ts';
import { readJoints } from './read-joints.ts';
import { makeOpening } from './read-openings.ts';
import { makeOther } from './read-others.ts';
import { readGrids, readSpaces, readSpatialZones, readStoreys } from './read-places.ts';
import { readService } from './read-service.ts';
import { type Reading, refFor, startReading } from './reading.ts';
import { findRecords, type ModelRecords } from './records.ts';
import { readRelations } from './relations.ts';
import { readUnits } from './units.ts';

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
export function openModel(
  file: InputFile,
  settings: Settings,
  onRecords?: (done: number) => void,
): ModelRecords {
  if (file.bytes.length > settings.limits.fileMb * 1024 * 1024) {
    throw new SealbookError(
      'input-too-large',
      `The model has ${Math.ceil(file.bytes.length / 1024 / 1024)} MB, more than the ${settings.limits.fileMb} MB allowed.`,
      { todo: 'Raise limits.fileMb in the project file, or export less of the model.' },
    );
  }
  const step = findRecords(file.bytes, settings.limits.entities, onRecords);
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
  const step = openModel(file, settings, () => progress('reading records', 0));
  const reading = beginReading(step, file.key, settings);
  const records = gatherRecords(reading);
  progress('opening geometry', 1);
  const withheld = {
    endlessShapes: endlessShapes(step, settings.limits.copies),
    brokenUnits: brokenUnits(step),
  };
  const meshes = await openGrossMeshes(file.bytes, step, withheld, options.wasm);
  try {
    progress('reading geometry', 2);
    await meshes.read(
      records.toStream,
      (id, mesh) => reading.meshes.set(id, mesh),
      () => progress('reading geometry', 2),
    );
  } finally {
    meshes.close();
  }
  progress('reading elements', 3);
  const building = makeBuilding(reading, records);
  addFileQueries(reading, withheld);
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
  const types = [
    ...classes.hosts.keys(),
    ...classes.services.keys(),
    ...classes.openings,
    ...MAY_SEPARATE,
    'IFCVIRTUALELEMENT',
    'IFCBUILDINGSTOREY',
    'IFCSPACE',
    'IFCSPATIALZONE',
  ];
  const { keys, queries } = elementKeys(
    step,
    fileKey,
    [...new Set(types)].flatMap((type) => step.idsOf(type)),
  );
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
  const equipment = readEquipment(reading);
  const spatialZones = readSpatialZones(reading);
  const others = records.others.flatMap((id) => makeOther(reading, id) ?? []);
  return {
    storeys: readStoreys(reading),
    grids: readGrids(reading),
    spaces: sortedBy(readSpaces(reading), ({ id }) => id),
    hosts: sortedBy(hosts, ({ id }) => id),
    services: sortedBy(services, ({ id }) => id),
    openings: sortedBy(openings, ({ id }) => id),
    joints: readJoints(reading, records.services),
    ...(equipment.length > 0 ? { equipment } : {}),
    ...(spatialZones.length > 0 ? { spatialZones: sortedBy(spatialZones, ({ id }) => id) } : {}),
    ...(others.length > 0 ? { others: sortedBy(others, ({ id }) => id) } : {}),
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

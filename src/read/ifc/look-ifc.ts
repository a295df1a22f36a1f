import { compareText, groupBy } from '../../basics/order.ts';
import { sizeText } from '../../geometry/shape.ts';
import type { InputFile } from '../../model/input.ts';
import type { LookReport, LookTable } from '../../model/look.ts';
import type { Settings } from '../../model/settings.ts';
import { className } from './class-names.ts';
import type { ModelFrame } from './georeference.ts';
import { hostRecords } from './read-hosts.ts';
import { beginReading, openModel, type ReadIfcOptions, readIfc } from './read-ifc.ts';
import { openingRecords } from './read-openings.ts';
import { readGrids, readStoreys } from './read-places.ts';
import type { Reading } from './reading.ts';

const MOST_ROWS = 40;
/** Classes that may be meant as services or hosts though they don't count as such. */
const LIKE_SERVICES = /CABLE|DUCT|PIPE|CONDUIT|CARRIER|FLOWSEGMENT|CONVEYOR|JUNCTIONBOX/;
const LIKE_HOSTS = /WALL|SLAB|ROOF|PLATE|CHAMBER|PAVEMENT|TANK|DECK|COVERING/;

/**
 * Says what a building model holds and what to put in the project file. Reads geometry too, to tell
 * which elements have none.
 * @throws SealbookError as `readIfc` does
 */
export async function lookIfc(
  file: InputFile,
  settings: Settings,
  options: ReadIfcOptions = {},
): Promise<LookReport> {
  const read = await readIfc(file, settings, options);
  const step = openModel(file, settings);
  const reading = beginReading(step, file.key, settings);
  const { building, frame } = read.result;
  const bare = [...building.hosts, ...building.openings].filter(({ mesh }) => mesh === null);
  const lost = building.services.filter(({ axisMm, mesh }) => axisMm === null && mesh === null);
  return {
    file: file.name,
    kind: 'ifc',
    schema: step.schema,
    facts: facts(reading, frame, bare.length + lost.length),
    tables: [
      storeyTable(reading),
      classTable('Hosts', building.hosts),
      serviceTable(building.services),
      classTable('Openings', building.openings),
      otherTable(reading),
    ].filter(({ rows }) => rows.length > 0),
    advice: advice(
      reading,
      frame,
      building.hosts.length,
      building.services.length,
      read.queries.map(({ text }) => text),
    ),
  };
}

function facts(reading: Reading, frame: ModelFrame, withoutGeometry: number): LookReport['facts'] {
  const { step, units } = reading;
  const north = frame.trueNorthRad === null ? 'not given' : `${degrees(frame.trueNorthRad)} from y`;
  return [
    { name: 'Records', value: String(step.recordCount) },
    { name: 'Length unit', value: units.lengthName ?? 'none named, metres taken' },
    { name: 'True north', value: north },
    { name: 'Map conversion', value: mapText(frame) },
    { name: 'Grid axes', value: String(readGrids(reading).length) },
    { name: 'Spaces', value: String(step.idsOf('IFCSPACE').length) },
    { name: 'Elements without usable geometry', value: String(withoutGeometry) },
  ];
}

function degrees(rad: number): string {
  return `${((rad * 180) / Math.PI).toFixed(3)}°`;
}

function mapText({ map }: ModelFrame): string {
  if (map === null) return 'none';
  const [e, n, h] = [map.eastingMm, map.northingMm, map.heightMm].map((mm) =>
    (mm / 1000).toFixed(3),
  );
  return `${map.kind}: E ${e} m, N ${n} m, H ${h} m, turned ${degrees(map.turnRad)}`;
}

function storeyTable(reading: Reading): LookTable {
  return {
    title: 'Storeys',
    columns: ['Name', 'Elevation mm'],
    rows: readStoreys(reading)
      .slice(0, MOST_ROWS)
      .map(({ name, elevationMm }) => [name, sizeText(elevationMm)]),
  };
}

interface Classed {
  readonly ifcClass: string;
  readonly mesh: unknown;
}

function classTable(title: string, items: readonly Classed[]): LookTable {
  const rows = [...groupBy(items, ({ ifcClass }) => ifcClass)]
    .sort(([a], [b]) => compareText(a, b))
    .map(([ifcClass, same]) => [
      ifcClass,
      same.length,
      same.filter(({ mesh }) => mesh === null).length,
    ]);
  return { title, columns: ['Class', 'Count', 'Without geometry'], rows };
}

function serviceTable(
  services: readonly (Classed & {
    readonly kind: string;
    readonly carrierForm: string | null;
    readonly role: string;
    readonly axisMm: unknown;
  })[],
): LookTable {
  const rows = [...groupBy(services, (s) => `${s.ifcClass}|${s.carrierForm ?? s.kind}|${s.role}`)]
    .sort(([a], [b]) => compareText(a, b))
    .map(([key, same]) => [
      ...key.split('|'),
      same.length,
      same.filter(({ mesh, axisMm }) => mesh === null && axisMm === null).length,
    ]);
  return {
    title: 'Services',
    columns: ['Class', 'Taken as', 'Role', 'Count', 'Without geometry'],
    rows,
  };
}

function otherTable({ step, classes }: Reading): LookTable {
  const rows = [...step.types()]
    .filter(
      ([type]) =>
        (LIKE_SERVICES.test(type) || LIKE_HOSTS.test(type)) &&
        !/TYPE$|^IFCREL|STYLE$|ENUM$|PROPERTIES$/.test(type) &&
        !classes.hosts.has(type) &&
        !classes.services.has(type),
    )
    .sort(([a], [b]) => compareText(a, b))
    .map(([type, count]) => [
      className(type),
      count,
      LIKE_SERVICES.test(type) ? 'a service' : 'a host',
    ]);
  return {
    title: 'Not taken as host or service',
    columns: ['Class', 'Count', 'Looks like'],
    rows: rows.slice(0, MOST_ROWS),
  };
}

function advice(
  reading: Reading,
  frame: ModelFrame,
  hosts: number,
  services: number,
  found: readonly string[],
): readonly string[] {
  const lines: string[] = [];
  if (hosts === 0) {
    lines.push(
      'The model has no walls or slabs: give the model that has, or name classes under hosts.classes.',
    );
  }
  if (services === 0) {
    lines.push(
      'The model has no services: give the services model, or name classes under services.classes.',
    );
  }
  for (const [name, , looksLike] of otherTable(reading).rows) {
    lines.push(
      looksLike === 'a service'
        ? `If ${String(name)} should count as a service, add it under services.classes with its kind.`
        : `If ${String(name)} should count as a host, add it under hosts.classes.`,
    );
  }
  if (frame.map !== null) {
    lines.push('The model has a map conversion; other models are joined by theirs.');
  }
  const { openings, provisions } = openingRecords(reading);
  if (openings.length + provisions.length === 0 && hostRecords(reading).length > 0) {
    lines.push('No openings and no provisions for voids: each crossing will be asked about.');
  }
  return [...lines, ...found.slice(0, MOST_ROWS)];
}

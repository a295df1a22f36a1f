import { ANNEX, ANNEX_CABLES, type AnnexModel, KIOSK, VALVE_CHAMBER } from '../dimensions/annex.ts';
import { addHosts, addOpenings } from './ifc-hosts.ts';
import { IfcProject, type Schema } from './ifc-project.ts';
import { addRuns } from './ifc-runs.ts';

export const ANNEX_2X3_FILE = 'annex-2x3.ifc';
export const ANNEX_4X3_FILE = 'annex-4x3.ifc';
export const ANNEX_CSV_FILE = 'cable-schedule.csv';
export const ANNEX_PROJECT_FILE = 'project.yaml';

export function annex2x3Ifc(): string {
  return annexIfc('IFC2X3', ANNEX_2X3_FILE, 'Valve chamber', VALVE_CHAMBER, 1);
}

export function annex4x3Ifc(): string {
  return annexIfc('IFC4X3_ADD2', ANNEX_4X3_FILE, 'Metering kiosk', KIOSK, 1000);
}

/** Architecture and services in one file. */
function annexIfc(
  schema: Schema,
  fileName: string,
  buildingName: string,
  model: AnnexModel,
  unitMm: 1 | 1000,
): string {
  const project = new IfcProject({
    schema,
    fileName,
    projectName: ANNEX.number,
    buildingName,
    date: ANNEX.date,
    unitMm,
  });
  for (const storey of model.storeys) project.storey(storey.mark, storey.name, storey.elevationMm);
  const hosts = addHosts(project, model.hosts);
  addOpenings(project, model.openings, hosts);
  addRuns(project, model.runs);
  return project.toText();
}

/** Lines before the first cable. */
export const ANNEX_HEADER_LINES = 4;

/** As a spreadsheet program of a country with decimal commas saves it: BOM, semicolons, CRLF. */
export function annexCsv(): string {
  const rows: readonly (readonly string[])[] = [
    [ANNEX.name],
    ['Cable schedule, sample, invented'],
    [],
    ['Cable ref', 'Type', 'Outside diameter (mm)', 'From', 'To', 'Route', 'Circuit'],
    ...ANNEX_CABLES.map((cable) => [
      cable.ref,
      cable.type,
      cable.od,
      cable.from,
      cable.to,
      cable.route,
      cable.circuit,
    ]),
    ['Number of cables', String(ANNEX_CABLES.length)],
  ];
  const width = 7;
  const lines = rows.map((row) =>
    Array.from({ length: width }, (_, index) => quoted(row[index] ?? '')).join(';'),
  );
  return `\uFEFF${lines.join('\r\n')}\r\n`;
}

function quoted(cell: string): string {
  return /[;"\n]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell;
}

export function annexProjectYaml(): string {
  return `# Two models of two other offices, one IFC2X3 in millimetres, one IFC4X3 in metres, and a schedule in CSV.
project:
  name: ${ANNEX.name}
  number: ${ANNEX.number}
  documentNumber: ${ANNEX.document}

files:
  chamber:
    path: ${ANNEX_2X3_FILE}
    kind: ifc
  kiosk:
    path: ${ANNEX_4X3_FILE}
    kind: ifc
  cables:
    path: ${ANNEX_CSV_FILE}
    kind: schedule
    # Found by itself; said here so that nobody has to wonder.
    delimiter: ";"

ground:
  levelMm: ${ANNEX.groundLevelMm}
  waterLevelMm: ${ANNEX.waterLevelMm}

duties:
  - when: { belowGround: true }
    duty: water
    waterLevelMm: ${ANNEX.waterLevelMm}
    side: outside
  - when: { belowGround: false }
    duty: pests

# The same invented range as the pumping station's.
range: range.yaml

issue:
  revision: A
  date: ${ANNEX.date}
  purpose: for comment
`;
}

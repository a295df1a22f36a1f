import ExcelJS from 'exceljs';
import { unzipSync, zipSync } from 'fflate';
import { STATION } from '../dimensions/building.ts';
import type { CableDim, RowDim } from '../dimensions/cables.ts';
import { CONTROL_ROWS, POWER_ROWS } from '../dimensions/cables.ts';

export const SCHEDULE_FILE = 'cable-schedule.xlsx';
export const POWER_SHEET = 'Power';
export const CONTROL_SHEET = 'Control and data';

type Cell = string | number | null;

interface SheetPlan {
  readonly name: string;
  readonly titles: readonly string[];
  /** Upper header: text and how many columns it spans. */
  readonly groups: readonly (readonly [string, number])[];
  readonly headings: readonly string[];
  readonly widths: readonly number[];
  readonly rows: readonly RowDim[];
  readonly cells: (row: CableDim, number: number) => readonly Cell[];
  readonly total: (firstRow: number, lastRow: number) => readonly (Cell | { formula: string })[];
}

/** Where each cable stands in the workbook: for the truth, and for whoever counts a second way. */
export interface CablePlace {
  readonly sheet: string;
  readonly row: number;
  readonly cable: CableDim;
}

const POWER: SheetPlan = {
  name: POWER_SHEET,
  titles: [
    STATION.name,
    `Cable schedule, power. ${STATION.number}, revision ${STATION.revision}, ${STATION.date}`,
    'Sample: invented for trying things out.',
  ],
  groups: [
    ['Cable', 2],
    ['Make-up', 4],
    ['Ends', 2],
    ['Way', 1],
    ['Circuit', 2],
    ['', 2],
  ],
  headings: [
    'Cable ref',
    'Status',
    'Type',
    'Cores x size (mm²)',
    'Outside dia. (mm)',
    'Mass (kg/m)',
    'From',
    'To',
    'Route',
    'Circuit',
    'AC/DC',
    'Length (m)',
    'Remarks',
  ],
  widths: [18, 14, 24, 16, 14, 12, 20, 28, 18, 10, 8, 11, 34],
  rows: POWER_ROWS,
  cells: (row) => [
    row.ref,
    row.status,
    row.type,
    row.cores,
    row.od,
    row.mass,
    row.from,
    row.to,
    row.route,
    row.circuit,
    row.current,
    row.lengthM,
    row.remarks,
  ],
  total: (first, last) => [
    'Total length',
    null,
    null,
    null,
    null,
    null,
    null,
    null,
    null,
    null,
    null,
    { formula: `SUM(L${first}:L${last})` },
    null,
  ],
};

const CONTROL: SheetPlan = {
  name: CONTROL_SHEET,
  titles: [
    STATION.name,
    `Cable schedule, control and data. ${STATION.number}, revision ${STATION.revision}`,
  ],
  groups: [
    ['', 1],
    ['Cable', 3],
    ['Terminations', 2],
    ['', 5],
  ],
  headings: [
    'Item',
    'Cable no.',
    'Designation',
    'OD [mm]',
    'From',
    'To',
    'Cable route',
    'Service',
    'AC/DC',
    'Status',
    'Notes',
  ],
  widths: [7, 14, 44, 10, 20, 26, 20, 12, 8, 14, 26],
  rows: CONTROL_ROWS,
  cells: (row, number) => [
    number,
    row.ref,
    row.type,
    row.od,
    row.from,
    row.to,
    row.route,
    row.circuit,
    row.current,
    row.status,
    row.remarks,
  ],
  total: () => [
    '',
    'Number of cables',
    String(CONTROL_ROWS.filter((row) => row.kind === 'cable').length),
  ],
};

const LINE = { style: 'thin', color: { argb: 'FF999999' } } as const;
const BORDER = { top: LINE, left: LINE, bottom: LINE, right: LINE } as const;
const HEADING: Partial<ExcelJS.Style> = {
  font: { bold: true },
  alignment: { wrapText: true, vertical: 'middle' },
  fill: { type: 'pattern', pattern: 'solid', fgColor: { argb: 'FFE6E6E6' } },
  border: BORDER,
};

const SHEETS: readonly SheetPlan[] = [POWER, CONTROL];

const firstDataRow = (plan: SheetPlan): number => plan.titles.length + 1 + 2 + 1;

/** Every cable with the row it stands in. */
export function cablePlaces(): readonly CablePlace[] {
  return SHEETS.flatMap((plan) =>
    plan.rows.flatMap((row, index) =>
      row.kind === 'cable'
        ? [{ sheet: plan.name, row: firstDataRow(plan) + index, cable: row }]
        : [],
    ),
  );
}

/** The workbook: two sheets of cables with their mess, and a sheet that holds none. */
export async function scheduleXlsx(): Promise<Uint8Array> {
  const workbook = new ExcelJS.Workbook();
  const date = new Date(`${STATION.date}T00:00:00Z`);
  workbook.creator = 'sample';
  workbook.lastModifiedBy = 'sample';
  workbook.created = date;
  workbook.modified = date;
  for (const plan of SHEETS) addSheet(workbook, plan);
  const revisions = workbook.addWorksheet('Revisions');
  revisions.addRow(['Revision', 'Date', 'What changed']);
  revisions.addRow(['P1', '2026-01-19', 'First issue for comment']);
  revisions.addRow(['A', STATION.date, 'Generator feeders added, outfall gates re-routed']);
  return withFixedDates(new Uint8Array(await workbook.xlsx.writeBuffer()));
}

function addSheet(workbook: ExcelJS.Workbook, plan: SheetPlan): void {
  const sheet = workbook.addWorksheet(plan.name, {
    // A3 across, one page wide.
    pageSetup: {
      paperSize: 8 as ExcelJS.PaperSize,
      orientation: 'landscape',
      fitToPage: true,
      fitToWidth: 1,
      fitToHeight: 0,
    },
  });
  sheet.columns = plan.widths.map((width) => ({ width }));
  for (const title of plan.titles) sheet.addRow([title]).font = { bold: true };
  sheet.addRow([]);

  const groupRow = sheet.addRow(
    plan.groups.flatMap(([label, span]) => [
      label === '' ? null : label,
      ...Array.from({ length: span - 1 }, () => null),
    ]),
  );
  let column = 1;
  for (const [label, span] of plan.groups) {
    if (label !== '' && span > 1)
      sheet.mergeCells(groupRow.number, column, groupRow.number, column + span - 1);
    column += span;
  }
  const headingRow = sheet.addRow([...plan.headings]);
  headingRow.height = 30;
  for (const row of [groupRow, headingRow]) {
    for (let cell = 1; cell <= plan.headings.length; cell += 1) row.getCell(cell).style = HEADING;
  }

  let number = 0;
  for (const row of plan.rows) {
    switch (row.kind) {
      case 'cable': {
        number += 1;
        const added = sheet.addRow(
          plan.cells(row, number).map((cell) => (cell === '' ? null : cell)),
        );
        if (row.hidden) added.hidden = true;
        for (let cell = 1; cell <= plan.headings.length; cell += 1) {
          added.getCell(cell).border = BORDER;
        }
        break;
      }
      case 'board':
        sheet.addRow([row.text]).font = { bold: true, italic: true };
        break;
      case 'note': {
        const added = sheet.addRow([row.text]);
        sheet.mergeCells(added.number, 1, added.number, plan.headings.length);
        added.font = { italic: true };
        break;
      }
      case 'blank':
        sheet.addRow([]);
    }
  }
  sheet.addRow([]);
  const first = firstDataRow(plan);
  const last = first + plan.rows.length - 1;
  const totalRow = sheet.addRow([]);
  for (const [index, cell] of plan.total(first, last).entries()) {
    if (cell === null) continue;
    totalRow.getCell(index + 1).value =
      typeof cell === 'object' ? { formula: cell.formula, result: totalLength(plan) } : cell;
  }
  totalRow.font = { bold: true };
  sheet.views = [{ state: 'frozen', ySplit: headingRow.number }];
}

function totalLength(plan: SheetPlan): number {
  let total = 0;
  for (const row of plan.rows) {
    if (row.kind === 'cable' && typeof row.lengthM === 'number') total += row.lengthM;
  }
  return total;
}

/** The zip carries the time of writing; packing it again with a fixed one gives the same bytes. */
function withFixedDates(bytes: Uint8Array): Uint8Array {
  // Zip dates are local times: made from local parts, they are the same in every time zone.
  const mtime = new Date(2026, 0, 1, 12);
  return zipSync(unzipSync(bytes), { mtime, level: 6 });
}

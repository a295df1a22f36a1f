import { type ReadLimits, USUAL_LIMITS } from '../../basics/limits.ts';
import type { SheetTable } from '../../formats/shared/sheet-table.ts';
import type { InputFile } from '../../model/input.ts';
import type { LookReport, LookTable } from '../../model/look.ts';
import { UNUSED_COLUMNS } from './column-names.ts';
import type { Header } from './find-header.ts';
import { openSheets, type ScheduleFileSettings } from './open-sheets.ts';
import { ownCells } from './row-cells.ts';
import { sheetLayout } from './sheet-layout.ts';

const SAMPLES = 3;
const MOST_HEADINGS = 8;
const LONGEST_SAMPLE = 40;

/**
 * Says what is in a schedule: sheets, where the header is, which column was taken for what and why,
 * samples under each, and what to set where something was not understood.
 * @throws SealbookError as `openSheets` does.
 */
export async function lookSchedule(
  file: InputFile,
  settings: ScheduleFileSettings = {},
  limits: ReadLimits = USUAL_LIMITS,
): Promise<LookReport> {
  const { result: opened, queries } = await openSheets(file, settings, limits);
  const layouts = opened.sheets.map((sheet) => ({ sheet, header: sheetLayout(sheet, settings) }));
  const read = layouts.flatMap(({ sheet, header }) => (header === null ? [] : [{ sheet, header }]));
  return {
    file: file.name,
    kind: 'schedule',
    schema: opened.format,
    facts: [{ name: 'sheets', value: String(opened.sheets.length) }, ...opened.facts],
    tables: [
      sheetsTable(layouts),
      ...read.flatMap(({ sheet, header }) => [
        columnsTable(sheet, header),
        ...unknownTable(sheet, header),
      ]),
    ],
    advice: [...queries.map(({ text }) => text), ...layouts.flatMap(adviceOn)],
  };
}

interface Layout {
  readonly sheet: SheetTable;
  readonly header: Header | null;
}

function sheetsTable(layouts: readonly Layout[]): LookTable {
  return {
    title: 'Sheets',
    columns: ['sheet', 'rows', 'header row', 'read as'],
    rows: layouts.map(({ sheet, header }) => [
      sheet.name,
      sheet.rows.length,
      header === null ? '–' : (sheet.rows[header.start]?.row ?? '–'),
      header === null ? 'not a cable schedule' : sheet.isHidden ? 'hidden: not read' : 'schedule',
    ]),
  };
}

function columnsTable(sheet: SheetTable, header: Header): LookTable {
  return {
    title: `Columns of ${sheet.name}`,
    columns: ['column', 'heading', 'unit', 'taken by', 'samples'],
    rows: header.columns.map(({ at, column, heading, unit, how }) => [
      column,
      heading,
      unit ?? '–',
      UNUSED_COLUMNS.has(column) ? 'name, not used' : how,
      samplesUnder(sheet, header, at),
    ]),
  };
}

function unknownTable(sheet: SheetTable, header: Header): readonly LookTable[] {
  if (header.unknown.length === 0) return [];
  return [
    {
      title: `Headings of ${sheet.name} that are not used`,
      columns: ['heading', 'samples'],
      rows: header.unknown.map(({ at, heading }) => [heading, samplesUnder(sheet, header, at)]),
    },
  ];
}

function samplesUnder(sheet: SheetTable, header: Header, at: number): string {
  const texts = sheet.rows
    .slice(header.start + header.depth)
    .flatMap((row) => row.cells[at]?.text ?? [])
    .slice(0, SAMPLES);
  return texts.map((text) => text.slice(0, LONGEST_SAMPLE)).join(' | ');
}

function adviceOn({ sheet, header }: Layout): string[] {
  if (header === null) {
    const fullest = [...sheet.rows.slice(0, 40)].sort(
      (a, b) => ownCells(b).length - ownCells(a).length || a.row - b.row,
    )[0];
    const seen = fullest === undefined ? 'nothing' : ownCells(fullest).map(({ text }) => text);
    return [
      `Sheet ${sheet.name} has no column for a cable reference. If it lists cables, set columns.ref to its heading. Seen: ${String(seen).slice(0, 200)}.`,
    ];
  }
  const has = new Set(header.columns.map(({ column }) => column));
  const advice: string[] = [];
  if (sheet.isHidden)
    advice.push(`Sheet ${sheet.name} is hidden: name it under sheets to read it.`);
  if (!has.has('diameter') && !has.has('largestDiameter')) {
    advice.push(
      `Sheet ${sheet.name} has no outside diameter: it is looked up by construction, cores and size, and asked for where no table has it.`,
    );
  }
  if (!has.has('route')) {
    const unknown = header.unknown.slice(0, MOST_HEADINGS).map(({ heading }) => `“${heading}”`);
    const choice =
      unknown.length === 0
        ? ''
        : ` If it stands under one of the headings not used (${unknown.join(', ')}), set columns.route to that.`;
    advice.push(
      `Sheet ${sheet.name} has no route: cables are placed by their reference or by the path between their ends.${choice}`,
    );
  }
  if (!has.has('from') && !has.has('fromRoom')) {
    advice.push(`Sheet ${sheet.name} does not say where cables begin and end.`);
  }
  return advice;
}

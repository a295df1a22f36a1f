import { SealbookError } from '../../basics/errors.ts';
import { type ReadLimits, USUAL_LIMITS } from '../../basics/limits.ts';
import { makeQuery, type Query, type WithQueries } from '../../basics/query.ts';
import type { SheetTable } from '../../formats/shared/sheet-table.ts';
import type { Schedule, ScheduleRow } from '../../model/cable.ts';
import type { InputFile } from '../../model/input.ts';
import type { CableTable } from './cable-table.ts';
import { finishCables } from './finish-cables.ts';
import { indexTables } from './look-up-diameter.ts';
import { openSheets, type ScheduleFileSettings } from './open-sheets.ts';
import { readSheet, type SheetReading } from './read-sheet.ts';
import { ownCells, rowText } from './row-cells.ts';
import { sheetLayout, wantedColumns } from './sheet-layout.ts';

/**
 * Reads a cable schedule, XLSX or delimited text. Every row with content ends as a cable, a
 * heading, or a query; `tables` give diameters where the schedule does not, earlier ones first.
 * @throws SealbookError `input-unreadable` where no sheet has a column for the reference,
 * `input-too-large`, `settings-invalid` for a column name of the settings that is none of ours.
 */
export async function readSchedule(
  file: InputFile,
  settings: ScheduleFileSettings,
  tables: readonly CableTable[],
  limits: ReadLimits = USUAL_LIMITS,
): Promise<WithQueries<Schedule>> {
  const { result: opened, queries } = await openSheets(file, settings, limits);
  const index = indexTables(tables);
  const readings: SheetReading[] = [];
  const rows: ScheduleRow[] = [];
  const found: Query[] = [...queries];
  let schedules = 0;
  for (const sheet of wantedSheets(file, opened.sheets, settings)) {
    const header = isRead(sheet, settings) ? sheetLayout(sheet, settings) : null;
    if (header === null) {
      rows.push(...unreadRows(file, sheet));
      const note = sheetNotRead(file, sheet);
      if (note !== null) found.push(note);
      continue;
    }
    schedules += 1;
    readings.push(readSheet(file, sheet, header, index, settings));
  }
  if (schedules === 0) throw noReference(file, opened.sheets);
  refuseMissingHeadings(file, readings, settings);
  const finished = finishCables(file, readings);
  return {
    result: {
      cables: finished.cables,
      rows: withEmptyRows([...rows, ...finished.rows]),
    },
    queries: [...found, ...finished.queries],
  };
}

/** Hidden sheets hold lists and old versions more often than cables; they are read when named. */
function isRead(sheet: SheetTable, settings: ScheduleFileSettings): boolean {
  return !sheet.isHidden || (settings.sheets ?? []).includes(sheet.name);
}

function wantedSheets(
  file: InputFile,
  sheets: readonly SheetTable[],
  settings: ScheduleFileSettings,
): readonly SheetTable[] {
  const names = settings.sheets;
  if (names === undefined || names.length === 0) return sheets;
  const missing = names.filter((name) => !sheets.some((sheet) => sheet.name === name));
  if (missing.length > 0) {
    throw new SealbookError('input-unreadable', `There is no sheet named ${missing.join(', ')}.`, {
      where: { file: file.name },
      todo: `Sheets of this file: ${sheets.map(({ name }) => name).join(', ')}.`,
    });
  }
  return sheets.filter((sheet) => names.includes(sheet.name));
}

function unreadRows(file: InputFile, sheet: SheetTable): ScheduleRow[] {
  return sheet.rows.map((row) => ({
    place: { fileKey: file.key, sheet: sheet.name, row: row.row },
    outcome: 'heading',
    cableId: null,
    queryId: null,
    text: rowText(row),
  }));
}

function sheetNotRead(file: InputFile, sheet: SheetTable): Query | null {
  if (sheet.rows.length === 0) return null;
  const reason = sheet.isHidden ? 'is hidden' : 'has no heading for a cable reference';
  return makeQuery('schedule-row-unclear', {
    about: `${file.key}:${sheet.name}`,
    severity: 'note',
    text: `${file.name}, sheet ${sheet.name}: not read, since it ${reason} (${sheet.rows.length} rows).`,
    why: 'Cables listed there are missing from this issue.',
    settles: 'Nothing if it lists no cables; else name it under sheets, and its columns.',
    evidence: [
      {
        fact: 'sheet',
        text: sheet.rows.slice(0, 2).map(rowText).join(' / '),
        place: { fileKey: file.key, sheet: sheet.name },
      },
    ],
  });
}

/** Gaps longer than this are the end of a sheet's use, not rows left empty. */
const LONGEST_GAP = 200;

/** Rows left empty between others, so that each row of a sheet is accounted for. */
function withEmptyRows(rows: readonly ScheduleRow[]): readonly ScheduleRow[] {
  let before: ScheduleRow['place'] | null = null;
  return rows.flatMap((row) => {
    const last = before?.sheet === row.place.sheet ? before.row : 0;
    before = row.place;
    const gap = row.place.row - last - 1;
    if (gap < 1 || gap > LONGEST_GAP) return [row];
    const empty = Array.from(
      { length: gap },
      (_, at): ScheduleRow => ({
        place: { ...row.place, row: last + 1 + at },
        outcome: 'empty',
        cableId: null,
        queryId: null,
        text: '',
      }),
    );
    return [...empty, row];
  });
}

/** A heading that the settings name and no sheet has would leave its column unread in silence. */
function refuseMissingHeadings(
  file: InputFile,
  readings: readonly SheetReading[],
  settings: ScheduleFileSettings,
): void {
  const missing = wantedColumns(settings).filter(([column]) =>
    readings.every(({ header }) =>
      header.columns.every((found) => found.column !== column || found.how !== 'setting'),
    ),
  );
  if (missing.length === 0) return;
  const list = missing.map(([column, heading]) => `“${heading}” (for ${column})`).join(', ');
  const seen = readings.flatMap(({ header }) => [
    ...header.columns.map(({ heading }) => heading),
    ...header.unknown.map(({ heading }) => heading),
  ]);
  throw new SealbookError('input-unreadable', `No sheet has the heading ${list}.`, {
    where: { file: file.name },
    todo: `Name one of its headings under columns: ${[...new Set(seen)].slice(0, 40).join(' | ')}.`,
  });
}

/** Names the file, its sheets, the headings seen and what to set. */
function noReference(file: InputFile, sheets: readonly SheetTable[]): SealbookError {
  const seen = sheets.slice(0, 5).map((sheet) => {
    const fullest = [...sheet.rows.slice(0, 40)].sort(
      (a, b) => ownCells(b).length - ownCells(a).length || a.row - b.row,
    )[0];
    if (fullest === undefined) return `sheet ${sheet.name} is empty`;
    const texts = ownCells(fullest).map(({ text }) => text.slice(0, 40));
    return `sheet ${sheet.name}, row ${fullest.row}: ${texts.slice(0, 20).join(' | ')}`;
  });
  return new SealbookError(
    'input-unreadable',
    `No column for the cable reference was found. Seen: ${seen.join('; ') || 'no sheets'}.`,
    {
      where: { file: file.name },
      todo: 'Set columns.ref to the heading of the cable reference (and headerRow if needed) for this file.',
    },
  );
}

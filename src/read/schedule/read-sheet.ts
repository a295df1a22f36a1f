import { makeQuery, type Query } from '../../basics/query.ts';
import type { SheetCell, SheetRow, SheetTable } from '../../formats/shared/sheet-table.ts';
import type { RowPlace } from '../../model/cable.ts';
import type { InputFile } from '../../model/input.ts';
import { isTotal } from './cable-words.ts';
import { looksLikeReference, readsAsDesignation } from './cell-kinds.ts';
import type { Column } from './column-names.ts';
import { type Header, headerScore, readHeader } from './find-header.ts';
import type { TableIndex } from './look-up-diameter.ts';
import type { ScheduleFileSettings } from './open-sheets.ts';
import { decimalSignOf } from './read-number.ts';
import { ownCells, type RowCells, rowCells, rowText } from './row-cells.ts';
import { type CableReading, rowToCable } from './row-to-cable.ts';
import { type UnusedColumn, unusedColumns } from './unused-columns.ts';

/** What a row was read as, before ids are given. */
export type RowReading = { readonly place: RowPlace; readonly text: string } & (
  | { readonly outcome: 'cable'; readonly reading: CableReading }
  | { readonly outcome: 'heading' }
  | { readonly outcome: 'query'; readonly query: Query }
);

export interface SheetReading {
  readonly sheet: string;
  readonly header: Header;
  readonly rows: readonly RowReading[];
  /** Rows that the sheet hides, from 1; they are read like the others. */
  readonly hiddenRows: readonly number[];
  /** Columns with values beside the cables that nothing was read from. */
  readonly unused: readonly UnusedColumn[];
  /** Some header of the sheet has a column for the route. */
  readonly hasRoute: boolean;
}

/** Columns that tell of a cable; a row with one of them and no reference is asked about. */
const CABLE_COLUMNS: readonly Column[] = [
  'type',
  'construction',
  'cores',
  'size',
  'diameter',
  'from',
  'to',
  'route',
];

/** Reads every row of a sheet that holds cables. */
export function readSheet(
  file: InputFile,
  sheet: SheetTable,
  header: Header,
  index: TableIndex,
  settings: ScheduleFileSettings,
): SheetReading {
  const decimal = decimalSignOf(textsOf(sheet));
  const rows: RowReading[] = [];
  const hiddenRows: number[] = [];
  const isCodeColumn = referencesReadAsDesignations(sheet, header);
  const headers = [header];
  const cableRows: SheetRow[] = [];
  let current = header;
  let above: RowCells | null = null;
  let skip = 0;
  for (const [at, row] of sheet.rows.entries()) {
    const place: RowPlace = { fileKey: file.key, sheet: sheet.name, row: row.row };
    const text = rowText(row);
    if (at < header.start + header.depth || skip > 0) {
      if (at >= header.start + header.depth) skip -= 1;
      rows.push({ place, text, outcome: 'heading' });
      continue;
    }
    const next = settings.headerRow === undefined ? laterHeader(sheet, at, current) : null;
    if (next !== null) {
      current = next;
      headers.push(next);
      skip = next.depth - 1;
      rows.push({ place, text, outcome: 'heading' });
      continue;
    }
    const cells: RowCells = rowCells(row, current, above);
    const kind = kindOfRow(row, cells, isCodeColumn);
    if (kind.outcome === 'heading') rows.push({ place, text, outcome: 'heading' });
    else if (kind.outcome === 'query') {
      rows.push({ place, text, outcome: 'query', query: unclear(file, place, text, kind.why) });
    } else {
      cableRows.push(row);
      if (row.isHidden) hiddenRows.push(row.row);
      const reading = rowToCable(cells, kind.ref, { place, decimal, index });
      const { misfits, oddities } = reading;
      if (misfits.length > 0 && misfits.length + oddities.length > 1) {
        const faults = [...misfits.map((misfit) => `${misfit} does not fit`), ...oddities];
        const why = `${faults.join(' and ')}: the row may have slipped sideways`;
        rows.push({ place, text, outcome: 'query', query: unclear(file, place, text, why) });
      } else rows.push({ place, text, outcome: 'cable', reading });
      above = cells;
    }
  }
  return {
    sheet: sheet.name,
    header,
    rows,
    hiddenRows,
    unused: unusedColumns(cableRows, headers),
    hasRoute: headers.some(({ columns }) => columns.some(({ column }) => column === 'route')),
  };
}

function* textsOf(sheet: SheetTable): Iterable<string> {
  for (const row of sheet.rows) {
    for (const cell of row.cells) if (cell !== null && cell.number === null) yield cell.text;
  }
}

/** The headings again after a page break, or those of a second table below the first. */
function laterHeader(sheet: SheetTable, at: number, current: Header): Header | null {
  const row = sheet.rows[at];
  const refAt = current.columns.find(({ column }) => column === 'ref')?.at;
  if (row === undefined || ownCells(row).some((cell) => cell.number !== null)) return null;
  const first = refAt === undefined ? null : (row.cells[refAt] ?? null);
  if (first !== null && /\d/u.test(first.text)) return null;
  for (let depth = 1; depth <= 2; depth++) {
    const header = readHeader(sheet, at, depth);
    if (header === null || headerScore(header) < 5) continue;
    const isSame = header.columns.length <= current.columns.length && isSamePlaces(header, current);
    return isSame ? { ...current, start: at, depth: header.depth } : header;
  }
  return null;
}

function isSamePlaces(header: Header, current: Header): boolean {
  const places = new Map(current.columns.map(({ at, column }) => [at, column]));
  return header.columns.every(({ at, column }) => places.get(at) === column);
}

type RowKind =
  | { readonly outcome: 'cable'; readonly ref: string }
  | { readonly outcome: 'heading' }
  | { readonly outcome: 'query'; readonly why: string };

const HEADING: RowKind = { outcome: 'heading' };

function kindOfRow(row: SheetRow, cells: RowCells, isCodeColumn: boolean): RowKind {
  const own = ownCells(row);
  const ref = cells.get('ref')?.cell ?? null;
  const told = CABLE_COLUMNS.filter((column) => cells.has(column)).length;
  if (own.some(({ text }) => isTotal(text)) && told < 3) return HEADING;
  if (ref === null) return kindWithoutReference(cells, told);
  if (told === 0 && isNote(ref, own)) return HEADING;
  const fault = referenceFault(ref, isCodeColumn);
  if (fault !== null) return { outcome: 'query', why: fault };
  if (told === 0 && own.length === 1) {
    return { outcome: 'query', why: 'the row holds a reference and nothing else' };
  }
  return { outcome: 'cable', ref: ref.text.replace(/\s+/gu, ' ') };
}

function kindWithoutReference(cells: RowCells, told: number): RowKind {
  const isMeasured = ['cores', 'size', 'diameter'].some((column) => cells.has(column as Column));
  const isCable = told >= 2 || (isMeasured && told >= 1);
  const type = cells.get('type')?.cell;
  if (isCable || (type !== undefined && readsAsDesignation(type))) {
    return { outcome: 'query', why: 'it describes a cable but has no reference' };
  }
  return HEADING;
}

/** A section title or a remark: words without a digit, or a sentence. */
function isNote(ref: SheetCell, own: readonly SheetCell[]): boolean {
  if (ref.number !== null) return false;
  const words = ref.text.split(/\s+/u).length;
  return (!/\d/u.test(ref.text) && own.length <= 2) || (words >= 4 && own.length === 1);
}

const LIST_OF_REFERENCES =
  /\p{L}*\d\S*\s+(?:to|bis|thru|through|until|à|hasta|till|tot|a|t\/m)\s+\S*\d|\d\s*(?:…|\.\.\.)\s*\S*\d|\d\s*[;&\n]\s*\S*\d|\d,\s+\S*\d|\d\s+(?:and|und|et|y|och|en|e)\s+\S*\d/iu;

/** Why a cell under the reference's heading can't be one; null where it can. */
function referenceFault(ref: SheetCell, isCodeColumn: boolean): string | null {
  if (ref.oddity === 'date') {
    return 'the reference is a date: a sheet turns texts such as 1-11 into one';
  }
  if (ref.oddity === 'error') return 'the reference is an error value';
  if (ref.oddity === 'uncalculated') return 'the reference is a formula without a stored result';
  if (ref.text.length > 60) return 'the text under the reference is too long to be one';
  if (LIST_OF_REFERENCES.test(ref.text)) {
    return 'the reference seems to name several cables; give each a row';
  }
  if (!isCodeColumn && readsAsDesignation(ref)) {
    return 'the text under the reference reads as a type of cable: the row may have slipped';
  }
  if (ref.number !== null && !Number.isInteger(ref.number)) {
    return 'the number under the reference is not whole: the row may have slipped';
  }
  return null;
}

/** References such as 1C101 read like types; where most of a column does, they are references. */
function referencesReadAsDesignations(sheet: SheetTable, header: Header): boolean {
  const at = header.columns.find(({ column }) => column === 'ref')?.at;
  if (at === undefined) return false;
  const cells = sheet.rows
    .slice(header.start + header.depth)
    .flatMap((row) => row.cells[at] ?? [])
    .filter(looksLikeReferenceOrType);
  return cells.length > 0 && cells.filter(readsAsDesignation).length > cells.length / 2;
}

function looksLikeReferenceOrType(cell: SheetCell): boolean {
  return looksLikeReference(cell) || readsAsDesignation(cell);
}

function unclear(file: InputFile, place: RowPlace, text: string, why: string): Query {
  return makeQuery('schedule-row-unclear', {
    about: `${file.key}:${place.sheet}:row ${place.row}`,
    text: `${file.name}, sheet ${place.sheet}, row ${place.row}: ${why}. Row: ${text.slice(0, 200)}`,
    why: 'A cable that is not read is missing from its seals.',
    settles: 'The row corrected in the schedule.',
    evidence: [{ fact: 'row', text: text.slice(0, 200), place }],
  });
}

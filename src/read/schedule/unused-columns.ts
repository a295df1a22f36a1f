import { makeQuery, type Query } from '../../basics/query.ts';
import type { SheetCell, SheetRow } from '../../formats/shared/sheet-table.ts';
import { columnLetters } from '../../formats/xlsx/write-address.ts';
import type { InputFile } from '../../model/input.ts';
import { looksLikeReference, readsAsDesignation } from './cell-kinds.ts';
import { headingUnit, namesWhatPlaces, UNUSED_COLUMNS } from './column-names.ts';
import type { Header } from './find-header.ts';

/** A column with values beside cables that nothing was read from. */
export interface UnusedColumn {
  /** From 0. */
  readonly at: number;
  /** As written; empty where the column has none. */
  readonly heading: string;
  /** Up to three different values. */
  readonly samples: readonly string[];
  /** Its heading or values look like what places or sizes a cable. */
  readonly isTelling: boolean;
}

const MOST_SAMPLES = 3;
const LONGEST_SAMPLE = 40;
const MOST_LISTED = 20;

/**
 * Columns that hold something in the rows of cables and were not understood under any header of
 * the sheet.
 */
export function unusedColumns(
  cableRows: readonly SheetRow[],
  headers: readonly Header[],
): readonly UnusedColumn[] {
  const columns = headers.flatMap((header) => header.columns);
  const known = new Set(columns.map(({ at }) => at));
  const unknown = headers.flatMap((header) => header.unknown);
  const headings = new Map(unknown.map(({ at, heading }) => [at, heading]));
  const hasSize = columns.some(({ column }) =>
    ['diameter', 'largestDiameter', 'type', 'size'].includes(column),
  );
  return [...valuesByColumn(cableRows)]
    .filter(([at]) => !known.has(at))
    .sort(([a], [b]) => a - b)
    .map(([at, cells]) => {
      const heading = headings.get(at) ?? '';
      const texts = [...new Set(cells.map(({ text }) => text.replace(/\s+/gu, ' ')))];
      return {
        at,
        heading,
        samples: texts.slice(0, MOST_SAMPLES).map((text) => text.slice(0, LONGEST_SAMPLE)),
        isTelling:
          namesWhatPlaces(heading) ||
          isMostly(cells, looksLikeName) ||
          isMostly(cells, readsAsDesignation) ||
          (!hasSize && (isLength(heading) || isMostly(cells, isDiameter))),
      };
    });
}

/** Cells of their own that say something, by column. */
function valuesByColumn(rows: readonly SheetRow[]): Map<number, SheetCell[]> {
  const values = new Map<number, SheetCell[]>();
  for (const row of rows) {
    for (const [at, cell] of row.cells.entries()) {
      if (cell === null || cell.copyOf !== null || !/[\p{L}\d]/u.test(cell.text)) continue;
      const list = values.get(at);
      if (list === undefined) values.set(at, [cell]);
      else list.push(cell);
    }
  }
  return values;
}

function isMostly(cells: readonly SheetCell[], test: (cell: SheetCell) => boolean): boolean {
  return cells.filter(test).length >= cells.length / 2;
}

/** Letters and digits, and no number with its unit ("20 A"). */
function looksLikeName(cell: SheetCell): boolean {
  const isQuantity = /^\d+(?:[.,]\d+)? ?(?:\p{L}|[%°²³/]){1,4}$/u.test(cell.text);
  return /\p{L}/u.test(cell.text) && !isQuantity && looksLikeReference(cell);
}

function isLength(heading: string): boolean {
  return ['mm', 'mm2', 'in', 'inch', 'inches'].includes(headingUnit(heading) ?? '');
}

function isDiameter({ text }: SheetCell): boolean {
  return /^\d{1,3}[.,]\d{1,2}(?: ?mm)?$|^\d{1,3} ?mm$/u.test(text);
}

/** One query for all unused columns of a sheet; null where there are none. */
export function unusedColumnsQuery(
  file: InputFile,
  sheet: string,
  header: Header,
  unused: readonly UnusedColumn[],
): Query | null {
  if (unused.length === 0) return null;
  const telling = unused.filter(({ isTelling }) => isTelling);
  const listed = [...telling, ...unused.filter(({ isTelling }) => !isTelling)];
  const rest = listed.length - MOST_LISTED;
  const list = listed.slice(0, MOST_LISTED).map(columnText).join('; ');
  const idle = header.columns
    .filter(({ column }) => UNUSED_COLUMNS.has(column))
    .map(({ heading }) => `“${heading}”`);
  const known = idle.length === 0 ? '' : ` Known and not needed: ${idle.join(', ')}.`;
  const first = telling[0] ?? unused[0];
  return makeQuery('schedule-column-unused', {
    about: `${file.key}:${sheet}`,
    ...(telling.length === 0 ? { severity: 'note' as const } : {}),
    text: `${file.name}, sheet ${sheet}: ${unused.length === 1 ? 'a column holds' : `${unused.length} columns hold`} values that were not used, since no heading we know is over them: ${list}${rest > 0 ? `; and ${rest} more` : ''}.${known}`,
    why: 'A reference, route or size in a column that is not read leaves its cables unplaced or unsized.',
    settles: `For this file in the project file, under columns, what each holds and its heading, such as route: ${JSON.stringify(first?.heading || 'its heading')}; nothing where it is not needed.`,
    evidence: listed.slice(0, MOST_LISTED).map((column) => ({
      fact: 'column',
      text: columnText(column),
      place: { fileKey: file.key, sheet },
    })),
  });
}

/** The heading for people, or the column's letters where it has none. */
export function unusedName({ at, heading }: UnusedColumn): string {
  return heading === '' ? `column ${columnLetters(at + 1)}` : `“${heading}”`;
}

function columnText({ at, heading, samples }: UnusedColumn): string {
  const name = heading === '' ? 'no heading' : `“${heading}”`;
  return `${name} (column ${columnLetters(at + 1)}: ${samples.join(' | ')})`;
}

import { sum } from '../../basics/order.ts';
import { type CellRange, columnLetters } from '../../formats/xlsx/write-address.ts';
import type { Choices, Sheet } from '../../formats/xlsx/write-sheet.ts';
import { type Column, headingOf, type Table, type TableValue } from '../shared/table.ts';
import {
  type BookCell,
  type BookContext,
  type BookRow,
  cell,
  FIRST_DATA_ROW,
  linkCell,
} from './book-context.ts';
import type { StyleName } from './book-styles.ts';

/** A3 landscape between the margins, in characters of column width: 397 mm at 1.85 mm a character. */
const PAGE_CHARACTERS = 212;
const SMALLEST_SCALE = 55;

export interface TableSheetOptions {
  readonly name: string;
  readonly title: string;
  /** One line under the title: how to read it, and the caution where verdicts are read. */
  readonly intro: string;
  /** Columns by title whose sum over the rows shown stands above them. */
  readonly sums?: readonly string[];
  /** Columns that stay in sight and are repeated in print. */
  readonly frozenColumns?: number;
  /** Titles of the columns that end a printed page. */
  readonly pageEnds?: readonly string[];
  readonly rowHeightPt?: number;
  /** What to say where the table has no rows. */
  readonly whenEmpty: string;
}

/** A sheet that is one table: title, project, sums, two rows of headings, rows, filter. */
export function tableSheet<Row>(
  context: BookContext,
  table: Table<Row>,
  options: TableSheetOptions,
): Sheet<StyleName> {
  const { columns, rows } = table;
  const lastRow = FIRST_DATA_ROW + Math.max(1, rows.length) - 1;
  const breaks = (options.pageEnds ?? []).map(
    (title) => columns.findIndex((column) => column.title === title) + 1,
  );
  return {
    name: options.name,
    columnWidths: columns.map((column) => column.width),
    rows: [
      { cells: [cell(options.title, 'title')], heightPt: 26 },
      { cells: [cell(context.projectLine, 'project')], heightPt: 15 },
      { cells: sumCells(columns, rows, options, lastRow), heightPt: 18 },
      { cells: groupCells(columns), heightPt: 16 },
      { cells: columns.map(headingCell) },
      ...(rows.length === 0
        ? [{ cells: [cell(options.whenEmpty, 'note')] }]
        : rows.map((row) => dataRow(context, columns, row, options.rowHeightPt))),
    ],
    merges: groupMerges(columns),
    frozen: { rows: FIRST_DATA_ROW - 1, columns: options.frozenColumns ?? 1 },
    filter: rectangle(columns.length, FIRST_DATA_ROW - 1, lastRow),
    choices: choicesOf(columns, lastRow),
    print: {
      paper: 'A3',
      landscape: true,
      titleRows: [1, FIRST_DATA_ROW - 1],
      ...(breaks.length === 0
        ? {}
        : {
            titleColumns: [1, options.frozenColumns ?? 1] as const,
            breakAfterColumns: breaks,
            scalePercent: scaleForPages(columns, breaks, options.frozenColumns ?? 1),
          }),
      footerLeft: context.footerLeft,
      footerCentre: context.footerCentre,
    },
  };
}

/** Where the table's headings and rows stand, for its defined name. */
export function tableRange(table: Table<never> | Table): CellRange {
  const lastRow = FIRST_DATA_ROW + Math.max(1, table.rows.length) - 1;
  return rectangle(table.columns.length, FIRST_DATA_ROW - 1, lastRow);
}

function rectangle(columns: number, firstRow: number, lastRow: number): CellRange {
  return { firstColumn: 1, firstRow, lastColumn: columns, lastRow };
}

function sumCells<Row>(
  columns: readonly Column<Row>[],
  rows: readonly Row[],
  options: TableSheetOptions,
  lastRow: number,
): (BookCell | null)[] {
  return columns.map((column, at) => {
    if (at === 0) return cell(options.intro, 'caution');
    if (rows.length === 0 || !options.sums?.includes(column.title)) return null;
    const letter = columnLetters(at + 1);
    const values = rows.map(column.value).filter((value) => typeof value === 'number');
    // 109: the sum of the rows that a filter leaves in sight.
    return cell(
      {
        formula: `SUBTOTAL(109,${letter}${FIRST_DATA_ROW}:${letter}${lastRow})`,
        result: sum(values),
      },
      column.kind === 'whole' ? 'sumWhole' : 'sumTenth',
    );
  });
}

function groupCells<Row>(columns: readonly Column<Row>[]): BookCell[] {
  return columns.map((column, at) =>
    cell(column.group === columns[at - 1]?.group ? null : column.group, 'group'),
  );
}

function groupMerges<Row>(columns: readonly Column<Row>[]): CellRange[] {
  const merges: CellRange[] = [];
  let first = 0;
  for (let at = 1; at <= columns.length; at += 1) {
    if (columns[at]?.group === columns[first]?.group) continue;
    if (at - first > 1) {
      merges.push({
        firstColumn: first + 1,
        firstRow: FIRST_DATA_ROW - 2,
        lastColumn: at,
        lastRow: FIRST_DATA_ROW - 2,
      });
    }
    first = at;
  }
  return merges;
}

function headingCell<Row>(column: Column<Row>): BookCell {
  if (column.open !== undefined) return cell(headingOf(column), 'openHeading');
  const isText = column.kind === 'text' || column.kind === 'long' || column.kind === 'verdict';
  return cell(headingOf(column), isText ? 'heading' : 'headingRight');
}

function dataRow<Row>(
  context: BookContext,
  columns: readonly Column<Row>[],
  row: Row,
  heightPt: number | undefined,
): BookRow {
  const cells = columns.map((column, at) => dataCell(context, column, row, at === 0));
  return heightPt === undefined ? { cells } : { cells, heightPt };
}

function dataCell<Row>(
  context: BookContext,
  column: Column<Row>,
  row: Row,
  isFirst: boolean,
): BookCell {
  const value = column.value(row);
  if (column.open !== undefined) return cell(value, 'open');
  const link = typeof value === 'string' && value !== '' ? column.link?.(row) : null;
  if (link && typeof value === 'string') return linkCell(context, value, link);
  if (column.kind === 'verdict') return cell(value, verdictStyle(value));
  if (typeof value !== 'number') return cell(value, isFirst ? 'strong' : 'text');
  return cell(value, numberStyle(column));
}

function numberStyle<Row>(column: Column<Row>): StyleName {
  switch (column.kind) {
    case 'whole':
    case 'tenth':
    case 'hundredth':
    case 'percent':
      return column.kind;
    default:
      return 'text';
  }
}

function verdictStyle(value: TableValue): StyleName {
  if (value === 'not met') return 'notMet';
  return value === 'met' ? 'met' : 'notAssessed';
}

function choicesOf<Row>(columns: readonly Column<Row>[], lastRow: number): Choices[] {
  return columns.flatMap((column, at) =>
    column.open?.choices === undefined
      ? []
      : [
          {
            range: {
              firstColumn: at + 1,
              firstRow: FIRST_DATA_ROW,
              lastColumn: at + 1,
              lastRow,
            },
            values: column.open.choices,
            prompt: column.open.prompt ?? '',
          },
        ],
  );
}

/** Percent at which the widest printed page still fits the paper. */
function scaleForPages<Row>(
  columns: readonly Column<Row>[],
  breaks: readonly number[],
  repeated: number,
): number {
  const width = (from: number, to: number) =>
    sum(columns.slice(from, to).map((column) => column.width + 0.7));
  const edges = [0, ...breaks, columns.length];
  const pages = edges.slice(1).map((edge, at) => {
    const start = edges[at] ?? 0;
    return width(start, edge) + (at === 0 ? 0 : width(0, repeated));
  });
  const scale = Math.floor((100 * PAGE_CHARACTERS) / Math.max(...pages));
  return Math.max(SMALLEST_SCALE, Math.min(100, scale));
}

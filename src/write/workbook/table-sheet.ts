import { sum } from '../../basics/order.ts';
import { type CellRange, cellAddress, columnLetters } from '../../formats/xlsx/write-address.ts';
import type { Choices, Sheet } from '../../formats/xlsx/write-sheet.ts';
import {
  type Column,
  headingOf,
  SOURCE_GROUP,
  type Table,
  type TableValue,
} from '../shared/table.ts';
import {
  type BookCell,
  type BookRow,
  cell,
  FIRST_DATA_ROW,
  linkCell,
  type SheetContext,
} from './book-context.ts';
import type { StyleName } from './book-styles.ts';
import { fittedHeightPt } from './row-height.ts';

export interface TableSheetOptions {
  readonly name: string;
  readonly title: string;
  /** One line under the title: how to read it, and the caution where verdicts are read. */
  readonly intro: string;
  /** Columns by title whose sum over the rows shown stands above them. */
  readonly sums?: readonly string[];
  /** Columns that stay in sight and are repeated in print. */
  readonly frozenColumns?: number;
  /** Printed pages side by side; 1 unless given. */
  readonly pagesWide?: number;
  /** Rows are at least this high, for writing by hand. */
  readonly leastHeightPt?: number;
  /** What to say where the table has no rows. */
  readonly whenEmpty: string;
}

/** A sheet that is one table: title, project, sums, two rows of headings, rows, filter. */
export function tableSheet<Row>(
  context: SheetContext,
  table: Table<Row>,
  options: TableSheetOptions,
): Sheet<StyleName> {
  const { columns, rows } = table;
  const lastRow = FIRST_DATA_ROW + Math.max(1, rows.length) - 1;
  return {
    name: options.name,
    columnWidths: columns.map((column) => column.width),
    rows: tableRows(context, table, options, lastRow),
    rowCount: lastRow,
    frozen: { rows: FIRST_DATA_ROW - 1, columns: options.frozenColumns ?? 1 },
    filter: rectangle(columns.length, FIRST_DATA_ROW - 1, lastRow),
    choices: choicesOf(columns, lastRow),
    print: {
      paper: 'A3',
      landscape: true,
      titleRows: [FIRST_DATA_ROW - 2, FIRST_DATA_ROW - 1],
      fit: { pagesWide: options.pagesWide ?? 1 },
      titleColumns: [1, options.frozenColumns ?? 1],
      lastColumn: columns.filter((column) => column.group !== SOURCE_GROUP).length,
      footerLeft: context.footerLeft,
      footerCentre: context.footerCentre,
    },
  };
}

function* tableRows<Row>(
  context: SheetContext,
  { columns, rows }: Table<Row>,
  options: TableSheetOptions,
  lastRow: number,
): Generator<BookRow> {
  yield titleRow(cell(options.title, 'title'), options, 26);
  yield titleRow(cell(context.projectLine, 'project'), options, 15);
  yield { cells: sumCells(columns, rows, options, lastRow), heightPt: 18, isFixed: true };
  yield { cells: groupCells(columns), heightPt: 16, isFixed: true };
  yield headingRow(columns);
  if (rows.length === 0) yield { cells: [cell(options.whenEmpty, 'note')] };
  const widths = columns.map((column) => column.width);
  for (const [index, row] of rows.entries()) {
    const place = { columns, rowNumber: FIRST_DATA_ROW + index };
    const cells = columns.map((column, at) => dataCell(context, column, row, at === 0, place));
    const heightPt = Math.max(options.leastHeightPt ?? 0, fittedHeightPt(cells, widths));
    yield { cells, heightPt };
  }
}

/** Repeated columns would repeat half a title on every page, so it stands beside them then. */
function titleColumn({ pagesWide, frozenColumns }: TableSheetOptions): number {
  return pagesWide === undefined ? 0 : (frozenColumns ?? 1);
}

function titleRow(title: BookCell, options: TableSheetOptions, heightPt: number): BookRow {
  const before = Array<null>(titleColumn(options)).fill(null);
  return { cells: [...before, title], heightPt, isFixed: true };
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
    if (at === titleColumn(options)) return cell(options.intro, 'caution');
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
  // Not joined: joined cells hinder sorting, and inserted columns tear them.
  return columns.map((column, at) =>
    column.group === columns[at - 1]?.group ? cell(null, 'groupRest') : cell(column.group, 'group'),
  );
}

/** The headings of a table's columns with their units. */
export function headingRow<Row>(columns: readonly Column<Row>[]): BookRow {
  const cells = columns.map(headingCell);
  return {
    cells,
    heightPt: fittedHeightPt(
      cells,
      columns.map((column) => column.width),
    ),
  };
}

function headingCell<Row>(column: Column<Row>): BookCell {
  if (column.open !== undefined) return cell(headingOf(column), 'openHeading');
  const isText = ['text', 'long', 'verdict', 'id'].includes(column.kind);
  return cell(headingOf(column), isText ? 'heading' : 'headingRight');
}

function dataCell<Row>(
  context: SheetContext,
  column: Column<Row>,
  row: Row,
  isFirst: boolean,
  place: RowPlace<Row>,
): BookCell {
  const value = column.value(row);
  if (column.open !== undefined) return cell(value, 'open');
  const link = typeof value === 'string' && value !== '' ? column.link?.(row) : null;
  if (link && typeof value === 'string') return linkCell(context, value, link);
  if (column.kind === 'verdict') return cell(value, verdictStyle(value));
  if (column.kind === 'id') return cell(value, 'id');
  if (typeof value !== 'number') return cell(value, isFirst ? 'strong' : 'text');
  const formula = column.formula?.((title) => addressOf(place, title), row) ?? null;
  return cell(formula === null ? value : { formula, result: value }, numberStyle(column));
}

/** A row of the table where it stands on the sheet. */
interface RowPlace<Row> {
  readonly columns: readonly Column<Row>[];
  readonly rowNumber: number;
}

/** Address of the cell in this row under a title. */
function addressOf<Row>({ columns, rowNumber }: RowPlace<Row>, title: string): string {
  const at = columns.findIndex((column) => column.title === title);
  if (at < 0) throw new RangeError(`The table has no column "${title}".`);
  return cellAddress(at + 1, rowNumber);
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

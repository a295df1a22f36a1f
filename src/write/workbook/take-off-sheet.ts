import { groupBy, sum } from '../../basics/order.ts';
import { columnLetters } from '../../formats/xlsx/write-address.ts';
import type { CellValue, Sheet } from '../../formats/xlsx/write-sheet.ts';
import type { TableValue } from '../shared/table.ts';
import {
  AMOUNT_TITLES,
  type TakeOffColumn,
  type TakeOffRow,
  takeOffColumns,
  takeOffRows,
} from '../shared/take-off-table.ts';
import { type BookContext, type BookRow, cell, FIRST_DATA_ROW, SHEETS } from './book-context.ts';
import type { StyleName } from './book-styles.ts';
import { fittedHeightPt } from './row-height.ts';
import { headingRow, tableSheet } from './table-sheet.ts';

/** Take-off: a material in an area a row, sums across rows live, totals over all areas beneath. */
export function takeOffSheet(context: BookContext): Sheet<StyleName> {
  const { index } = context;
  const rows = takeOffRows(index);
  const columns = takeOffColumns(index);
  const sheet = tableSheet(
    context,
    { name: 'take-off', columns, rows },
    {
      name: SHEETS.takeOff,
      title: 'Take-off',
      intro: introOf(index.issue.takeOff.notCounted ?? 0),
      whenEmpty: 'No seal takes any material.',
    },
  );
  const plain = [...sheet.rows];
  const data = plain
    .slice(FIRST_DATA_ROW - 1)
    .map((row, at) => withFormulas(row, rows[at], columns, FIRST_DATA_ROW + at));
  const all = [...plain.slice(0, FIRST_DATA_ROW - 1), ...data, ...totals(rows, columns)];
  return { ...sheet, rows: all, rowCount: all.length };
}

function introOf(notCounted: number): string {
  const intro =
    'Quantities for ordering, by level. Net and allowances stand apart; packs alone and pooled.';
  if (notCounted === 0) return intro;
  const seals = notCounted === 1 ? '1 seal waits' : `${notCounted} seals wait`;
  return `${intro} NOT COUNTED: ${seals} for an answer, see ${SHEETS.queries}.`;
}

/** Puts the live form of a column in place of its value: with allowances, saved by pooling, cost. */
function withFormulas(
  row: BookRow,
  record: TakeOffRow | undefined,
  columns: readonly TakeOffColumn[],
  rowNumber: number,
): BookRow {
  if (record === undefined) return row;
  const cells = row.cells.map((item, at) => {
    const column = columns[at];
    if (item === null || column?.formula === undefined) return item;
    const result = column.value(record);
    if (typeof result !== 'number') return item;
    const address = (title: string) =>
      `${columnLetters(columns.findIndex((each) => each.title === title) + 1)}${rowNumber}`;
    return cell({ formula: column.formula(address), result }, item.style);
  });
  return { ...row, cells };
}

function totals(rows: readonly TakeOffRow[], columns: readonly TakeOffColumn[]): BookRow[] {
  if (rows.length === 0) return [];
  // As the formula compares them: without regard to case.
  const groups = groupBy(rows, (row) => `${row.kind}\u0000${row.material.toLowerCase()}`);
  const first = FIRST_DATA_ROW + rows.length + 3;
  const lines = [...groups.values()].map((group, at) => totalRow(group, columns, rows, first + at));
  return [
    { cells: [] },
    {
      cells: columns.map((_, at) => cell(at === 0 ? 'Total, all areas' : null, 'section')),
      heightPt: 20,
      isFixed: true,
    },
    headingRow(columns),
    ...lines,
    ...costRow(lines.length, first, columns, rows),
  ];
}

/** What all of it costs, where prices are given. */
function costRow(
  lineCount: number,
  first: number,
  columns: readonly TakeOffColumn[],
  rows: readonly TakeOffRow[],
): BookRow[] {
  const at = columns.findIndex((column) => column.title === 'Cost, pooled');
  const column = columns[at];
  if (column === undefined) return [];
  const letter = columnLetters(at + 1);
  const result = sum(rows.map(column.value).filter((value) => typeof value === 'number'));
  const formula = `SUM(${letter}${first}:${letter}${first + lineCount - 1})`;
  const cells = columns.map((_, index) => {
    if (index === 0) return cell('all materials and labour, without tax', 'rowTitle');
    return index === at ? cell({ formula, result }, 'strongMoney') : cell(null, 'text');
  });
  return [{ cells, heightPt: 18 }];
}

function totalRow(
  group: readonly TakeOffRow[],
  columns: readonly TakeOffColumn[],
  rows: readonly TakeOffRow[],
  rowNumber: number,
): BookRow {
  const [sample] = group;
  const cells = columns.map((column, at) => {
    if (sample === undefined) return null;
    if (at === 0) return cell('all', 'strong');
    if (['Kind', 'Material', 'Unit', 'Pack size'].includes(column.title)) {
      return cell(
        column.value(sample),
        column.kind === 'long' || column.kind === 'text' ? 'strong' : 'whole',
      );
    }
    if (!isAmount(column)) return cell(null, 'text');
    return cell(totalValue(group, columns, rows, rowNumber, at), totalStyle(column));
  });
  return {
    cells,
    heightPt: fittedHeightPt(
      cells,
      columns.map(({ width }) => width),
    ),
  };
}

/**
 * The sum over all areas. By comparison and not by SUMIFS: that reads a name such as "25/17" as a
 * date and "*" as any text.
 */
function totalValue(
  group: readonly TakeOffRow[],
  columns: readonly TakeOffColumn[],
  rows: readonly TakeOffRow[],
  rowNumber: number,
  at: number,
): CellValue {
  const column = columns[at];
  const values = group.map((row): TableValue => column?.value(row) ?? null);
  const numbers = values.filter((value) => typeof value === 'number');
  if (numbers.length === 0) return null;
  const last = FIRST_DATA_ROW + rows.length - 1;
  const span = (title: string) => {
    const letter = columnLetters(columns.findIndex((each) => each.title === title) + 1);
    return {
      range: `$${letter}$${FIRST_DATA_ROW}:$${letter}$${last}`,
      own: `$${letter}${rowNumber}`,
    };
  };
  const kind = span('Kind');
  const material = span('Material');
  const letter = columnLetters(at + 1);
  const amounts = `${letter}$${FIRST_DATA_ROW}:${letter}$${last}`;
  return {
    formula: `SUMPRODUCT((${kind.range}=${kind.own})*(${material.range}=${material.own}),${amounts})`,
    result: sum(numbers),
  };
}

function isAmount(column: TakeOffColumn): boolean {
  return AMOUNT_TITLES.has(column.title);
}

function totalStyle(column: TakeOffColumn): StyleName {
  if (column.kind === 'whole') return 'strongWhole';
  return column.kind === 'hundredth' ? 'strongMoney' : 'strongTenth';
}

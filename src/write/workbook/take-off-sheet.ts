import { groupBy, sum } from '../../basics/order.ts';
import { columnLetters } from '../../formats/xlsx/write-address.ts';
import type { CellValue, Sheet } from '../../formats/xlsx/write-sheet.ts';
import { QUANTITY_TITLES, quantityRows } from '../shared/quantities-table.ts';
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
import { quantitySum } from './quantities-sheet.ts';
import { fittedHeightPt } from './row-height.ts';
import { headingRow, tableSheet } from './table-sheet.ts';

/** Take-off: a material in an area a row, sums across rows live, totals over all areas beneath. */
export function takeOffSheet(context: BookContext): Sheet<StyleName> {
  const { index } = context;
  const rows = takeOffRows(index);
  const columns = withSealSums(context, takeOffColumns(index));
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
  const all = [...sheet.rows, ...totals(rows, columns)];
  return { ...sheet, rows: all, rowCount: all.length };
}

/** Sealant as the live sum of the seals' own rows, where these give what the take-off found. */
function withSealSums(
  context: BookContext,
  columns: readonly TakeOffColumn[],
): readonly TakeOffColumn[] {
  const measured = groupBy(quantityRows(context.index), ({ area, sealant }) =>
    [area, sealant].join('\u0000'),
  );
  const sumsOf = (row: TakeOffRow) => {
    const seals = measured.get([row.area, row.material].join('\u0000')) ?? [];
    const net = sum(seals.map(({ netMl }) => netMl));
    const gross = sum(seals.map(({ withAllowancesMl }) => withAllowancesMl));
    const isSame =
      row.kind === 'sealant' && near(row.net, net) && near(row.allowances, gross - net);
    return isSame ? { net, gross } : null;
  };
  const total = (title: string, address: (title: string) => string) =>
    quantitySum(context, title, address('Area'), address('Material'));
  return columns.map((column): TakeOffColumn => {
    if (column.title !== 'Net' && column.title !== 'Allowances') return column;
    return {
      ...column,
      formula: (address, row) => {
        if (sumsOf(row) === null) return null;
        const net = total(QUANTITY_TITLES.net, address);
        if (column.title === 'Net') return net;
        return `${total(QUANTITY_TITLES.withAllowances, address)}-${address('Net')}`;
      },
    };
  });
}

function near(found: number | null, worked: number): boolean {
  return found !== null && Math.abs(found - worked) <= 1e-9 * Math.max(1, Math.abs(found));
}

function introOf(notCounted: number): string {
  const intro =
    'Quantities for ordering, by level. Net and allowances stand apart; packs alone and pooled.';
  if (notCounted === 0) return intro;
  const seals = notCounted === 1 ? '1 seal waits' : `${notCounted} seals wait`;
  return `${intro} NOT COUNTED: ${seals} for an answer, see ${SHEETS.queries}.`;
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
    if (index === 0) return cell('lines that have a price, without tax', 'rowTitle');
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

import { columnLetters } from '../../formats/xlsx/write-address.ts';
import type { Sheet } from '../../formats/xlsx/write-sheet.ts';
import { QUANTITY_TITLES, quantitiesTable } from '../shared/quantities-table.ts';
import { type BookContext, FIRST_DATA_ROW, SHEETS } from './book-context.ts';
import type { StyleName } from './book-styles.ts';
import { tableSheet } from './table-sheet.ts';

/** Seal quantities: the measurement of each seal, worked by formula. */
export function quantitiesSheet(context: BookContext): Sheet<StyleName> {
  return tableSheet(context, quantitiesTable(context.index), {
    name: SHEETS.quantities,
    title: 'Quantities by seal',
    intro:
      'How the sealant of each designed seal is measured: clear area, times set-back, for each face; allowances apart.',
    sums: [QUANTITY_TITLES.net, QUANTITY_TITLES.withAllowances],
    whenEmpty: 'No seal is designed.',
  });
}

/**
 * Formula for the sum of a column of that sheet over the rows of one area and sealant. By
 * comparison and not by SUMIFS, which reads a name such as "25/17" as a date and "*" as any text.
 */
export function quantitySum(
  { index }: BookContext,
  title: string,
  areaCell: string,
  sealantCell: string,
): string {
  const { columns, rows } = quantitiesTable(index);
  const last = FIRST_DATA_ROW + rows.length - 1;
  const range = (wanted: string) => {
    const letter = columnLetters(columns.findIndex((column) => column.title === wanted) + 1);
    return `'${SHEETS.quantities}'!$${letter}$${FIRST_DATA_ROW}:$${letter}$${last}`;
  };
  const { area, sealant } = QUANTITY_TITLES;
  return `SUMPRODUCT((${range(area)}=${areaCell})*(${range(sealant)}=${sealantCell}),${range(title)})`;
}

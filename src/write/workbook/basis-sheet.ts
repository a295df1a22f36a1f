import type { Sheet } from '../../formats/xlsx/write-sheet.ts';
import { basisTable, unreadTable } from '../shared/basis-table.ts';
import { headingOf } from '../shared/table.ts';
import { type BookContext, type BookRow, cell, SHEETS } from './book-context.ts';
import type { StyleName } from './book-styles.ts';
import { fittedHeightPt } from './row-height.ts';
import { tableSheet } from './table-sheet.ts';

/** Basis: every value the design rests on, and beneath it what was not read of the inputs. */
export function basisSheet(context: BookContext): Sheet<StyleName> {
  const sheet = tableSheet(context, basisTable(context.index), {
    name: SHEETS.basis,
    title: 'Basis',
    intro:
      'Values the design rests on. What nobody gave is marked assumed: change it in the project file.',
    whenEmpty: 'No values are listed.',
  });
  const rows = [...sheet.rows, ...unreadRows(context)];
  return { ...sheet, rows, rowCount: rows.length };
}

function unreadRows({ index }: BookContext): BookRow[] {
  const { columns, rows } = unreadTable(index);
  return [
    { cells: [] },
    {
      cells: columns.map((_, at) => cell(at === 0 ? 'Not read or not used' : null, 'section')),
      heightPt: 20,
      isFixed: true,
    },
    ...(rows.length === 0
      ? [{ cells: [cell('Everything in the inputs was read.', 'note')] }]
      : [
          {
            cells: columns.map((column) =>
              cell(headingOf(column), column.kind === 'whole' ? 'headingRight' : 'heading'),
            ),
          },
          ...rows.map((row) => {
            const cells = columns.map((column) =>
              cell(column.value(row), column.kind === 'whole' ? 'whole' : 'text'),
            );
            return {
              cells,
              heightPt: fittedHeightPt(
                cells,
                columns.map(({ width }) => width),
              ),
            };
          }),
        ]),
  ];
}

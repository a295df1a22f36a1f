import type { SheetCell, SheetRow } from '../../formats/shared/sheet-table.ts';
import { isDitto } from './cable-words.ts';
import type { Column } from './column-names.ts';
import type { Header } from './find-header.ts';
import type { FoundColumn } from './found-column.ts';

/** Cells of one row by what they hold. */
export type RowCells = ReadonlyMap<
  Column,
  { readonly cell: SheetCell; readonly found: FoundColumn }
>;

/** The row's cells under understood headings; a ditto mark takes the cell above it. */
export function rowCells(row: SheetRow, header: Header, above: RowCells | null): RowCells {
  const cells = new Map<Column, { cell: SheetCell; found: FoundColumn }>();
  for (const found of header.columns) {
    const cell = row.cells[found.at] ?? null;
    // A merge to the right belongs to its first column only.
    if (cell === null || cell.copyOf === 'left' || isBlank(cell.text)) continue;
    const repeated = isDitto(cell.text) && found.column !== 'ref' ? above?.get(found.column) : null;
    const before = found.column === 'route' ? cells.get('route') : undefined;
    if (before === undefined) cells.set(found.column, repeated ?? { cell, found });
    else cells.set('route', { ...before, cell: joined(before.cell, (repeated ?? { cell }).cell) });
  }
  return cells;
}

/** A route told in several columns is one list, in their order. */
function joined(first: SheetCell, second: SheetCell): SheetCell {
  return { ...first, text: `${first.text}, ${second.text}`, number: null };
}

/** Dashes and "n/a" stand for nothing. */
function isBlank(text: string): boolean {
  return /^(?:[-–—_.]{1,5}|n\/?a|nil|none|tba|tbc|tbd|\?+|#n\/a)$/iu.test(text);
}

/** Cells of a row that hold something of their own, merged copies left out. */
export function ownCells(row: SheetRow): readonly SheetCell[] {
  return row.cells.flatMap((cell) => (cell === null || cell.copyOf === 'left' ? [] : [cell]));
}

/** The row as one line for people. */
export function rowText(row: SheetRow): string {
  return ownCells(row)
    .map(({ text }) => text.replace(/\s+/gu, ' '))
    .join(' · ')
    .slice(0, 500);
}

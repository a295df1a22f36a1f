import { lineCount } from '../../draw/text-width.ts';
import type { CellStyle, CellValue } from '../../formats/xlsx/write-sheet.ts';
import type { BookCell } from './book-context.ts';
import { BOOK_STYLES } from './book-styles.ts';

/** A character of column width: 7 pixels of 1/96 inch with the standard font. */
const POINTS_PER_CHARACTER = 5.25;
/** The workbook's typeface runs narrower than the one whose widths are known here. */
const TYPEFACE_FACTOR = 0.9;
const USUAL_SIZE_PT = 9;
const LINE_FACTOR = 1.28;
const PADDING_PT = 4;

/**
 * Height at which no wrapped text of a row is clipped. Programs don't fit rows on opening a file,
 * so it is worked out here, with the widths of a wide typeface: with others it is a little roomy.
 */
export function fittedHeightPt(
  cells: readonly (BookCell | null)[],
  widthsCharacters: readonly number[],
): number {
  let highest = 0;
  for (const [at, cell] of cells.entries()) {
    if (cell === null) continue;
    const height = textHeightPt(cell, widthsCharacters[at] ?? 0);
    if (height > highest) highest = height;
  }
  return Math.ceil(highest + PADDING_PT);
}

/** Height of a cell's text in a column, or several columns, of the given width. */
export function textHeightPt(cell: BookCell, widthCharacters: number): number {
  const style: CellStyle = BOOK_STYLES[cell.style];
  const size = style.sizePt ?? USUAL_SIZE_PT;
  const text = textOf(cell.value);
  // Half a character is lost to the cell's own margins.
  const width = Math.max(1, widthCharacters - 0.6) * POINTS_PER_CHARACTER;
  const lines =
    text === '' || !style.wrap
      ? 1
      : lineCount(text, size * TYPEFACE_FACTOR, width, style.bold ?? false);
  return lines * size * LINE_FACTOR;
}

function textOf(value: CellValue): string {
  if (typeof value === 'string') return value;
  return value !== null && typeof value === 'object' && 'text' in value ? value.text : '';
}

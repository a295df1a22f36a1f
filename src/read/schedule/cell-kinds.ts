import type { SheetCell } from '../../formats/shared/sheet-table.ts';
import { readDesignation } from './designation.ts';

const LONGEST_REFERENCE = 60;

/** Short, with a digit, and neither a designation nor a measure: it may name a cable. */
export function looksLikeReference(cell: SheetCell): boolean {
  const { text } = cell;
  if (cell.oddity !== null || text.length > LONGEST_REFERENCE) return false;
  if (!/\d/u.test(text) || text.split(/\s+/u).length > 5) return false;
  return !readsAsDesignation(cell) && !isFraction(cell);
}

/** Says cores and a size: `4c x 16 SWA`. */
export function readsAsDesignation(cell: SheetCell): boolean {
  if (cell.number !== null || !/\d/u.test(cell.text)) return false;
  const { cores, sizeMm2, isFibre } = readDesignation(cell.text);
  return (
    cores !== null && (sizeMm2 !== null || isFibre) && /[x×g+]|\dc|core|pair/iu.test(cell.text)
  );
}

/** A number that is not whole: a diameter or a size, never a reference. */
function isFraction(cell: SheetCell): boolean {
  if (cell.number !== null) return !Number.isInteger(cell.number);
  return /^\d+[.,]\d{1,2}(?: ?mm2?)?$/u.test(cell.text);
}

/** Letters of a column, counted from 1: 1 is A, 27 is AA. */
export function columnLetters(column: number): string {
  let rest = column;
  let letters = '';
  while (rest > 0) {
    const digit = (rest - 1) % 26;
    letters = String.fromCharCode(65 + digit) + letters;
    rest = Math.floor((rest - 1) / 26);
  }
  return letters;
}

/** Address of a cell; column and row counted from 1. */
export function cellAddress(column: number, row: number): string {
  return `${columnLetters(column)}${row}`;
}

/** Cells from one corner to the other, counted from 1, both inside. */
export interface CellRange {
  readonly firstColumn: number;
  readonly firstRow: number;
  readonly lastColumn: number;
  readonly lastRow: number;
}

/** A range as a sheet writes it: "A5:C20". */
export function rangeAddress(range: CellRange): string {
  return `${cellAddress(range.firstColumn, range.firstRow)}:${cellAddress(range.lastColumn, range.lastRow)}`;
}

/** A range with its sheet, fixed for formulas and names: "'Take-off'!$A$5:$C$20". */
export function fixedRange(sheet: string, range: CellRange): string {
  const corner = (column: number, row: number) => `$${columnLetters(column)}$${row}`;
  const first = corner(range.firstColumn, range.firstRow);
  const last = corner(range.lastColumn, range.lastRow);
  return `${quotedSheet(sheet)}!${first === last ? first : `${first}:${last}`}`;
}

/** A sheet's name as formulas and links write it. */
export function quotedSheet(sheet: string): string {
  return `'${sheet.replaceAll("'", "''")}'`;
}

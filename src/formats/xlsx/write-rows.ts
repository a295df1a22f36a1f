import { columnLetters, quotedSheet } from './write-address.ts';
import type { Cell, CellValue, Sheet, SheetLink, SheetRow } from './write-sheet.ts';
import { cellXml, escapeXml, looksLikeFormula } from './write-text.ts';

/** Numbers of a style in the book's style table: plain, and as text that is never read as typed. */
export interface StyleNumber {
  readonly plain: number;
  readonly guarded: number;
}

/** Text is handed on in pieces of about this many characters, so that a long sheet stays small in memory. */
const PIECE_LENGTH = 1 << 18;

/**
 * The `sheetData` element of a sheet, in pieces; links met on the way are added to `links`. Written straight to XML: a cell object of the
 * workbook library takes about 2 kB, which 900,000 cells can't afford.
 * @source ECMA-376 part 1, 18.3.1.73 (row), 18.3.1.4 (c).
 */
export function* sheetDataXml(
  sheet: Sheet,
  styles: ReadonlyMap<string, StyleNumber>,
  links: PlacedLink[],
): Generator<string> {
  const letters = sheet.columnWidths.map((_, index) => columnLetters(index + 1));
  let piece = '<sheetData>';
  let number = 0;
  for (const row of sheet.rows) {
    number += 1;
    piece += `<row r="${number}"${heightXml(row)}>`;
    for (const [column, cell] of row.cells.entries()) {
      if (cell === null) continue;
      const address = `${letters[column] ?? columnLetters(column + 1)}${number}`;
      piece += cellElement(address, cell, styles);
      const link = linkOf(cell.value);
      if (link !== null) links.push({ address, link });
    }
    piece += '</row>';
    if (piece.length > PIECE_LENGTH) {
      yield piece;
      piece = '';
    }
  }
  yield `${piece}</sheetData>`;
}

/** A link with the cell it stands in. */
export interface PlacedLink {
  readonly address: string;
  readonly link: SheetLink;
}

function linkOf(value: CellValue): SheetLink | null {
  return value !== null && typeof value === 'object' && 'link' in value ? value.link : null;
}

/** The `hyperlinks` element; empty text where there are no links. */
export function linksXml(links: readonly PlacedLink[]): string {
  if (links.length === 0) return '';
  const elements = links.map(({ address, link }) => {
    const place = escapeXml(`${quotedSheet(link.sheet)}!A${link.row}`);
    return `<hyperlink ref="${address}" location="${place}"/>`;
  });
  return `<hyperlinks>${elements.join('')}</hyperlinks>`;
}

function heightXml({ heightPt, isFixed }: SheetRow): string {
  if (heightPt === undefined) return '';
  return isFixed ? ` ht="${heightPt}" customHeight="1"` : ` ht="${heightPt}"`;
}

function cellElement(
  address: string,
  cell: Cell,
  styles: ReadonlyMap<string, StyleNumber>,
): string {
  const style = styles.get(cell.style);
  if (style === undefined) throw new RangeError(`The book has no style "${cell.style}".`);
  const text = plainText(cell.value);
  const number = text !== null && looksLikeFormula(text) ? style.guarded : style.plain;
  return `<c r="${address}" s="${number}"${valueXml(cell.value)}`;
}

function plainText(value: CellValue): string | null {
  if (typeof value === 'string') return value;
  if (value !== null && typeof value === 'object' && 'text' in value) return value.text;
  return null;
}

/** From the cell's type attribute to its end tag. */
function valueXml(value: CellValue): string {
  if (value === null) return '/>';
  if (typeof value === 'number') return Number.isFinite(value) ? `><v>${value}</v></c>` : '/>';
  if (typeof value === 'string') return textXml(value);
  if ('text' in value) return textXml(value.text);
  const formula = `<f>${escapeXml(value.formula)}</f>`;
  return typeof value.result === 'number'
    ? `>${formula}<v>${value.result}</v></c>`
    : ` t="str">${formula}<v>${cellXml(value.result)}</v></c>`;
}

function textXml(text: string): string {
  if (text === '') return '/>';
  return ` t="inlineStr"><is><t xml:space="preserve">${cellXml(text)}</t></is></c>`;
}

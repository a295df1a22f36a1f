import { strToU8, unzipSync, Zip, ZipDeflate } from 'fflate';
import { type CellRange, columnLetters, fixedRange, rangeAddress } from './write-address.ts';
import { linksXml, type PlacedLink, type StyleNumber, sheetDataXml } from './write-rows.ts';
import type { Book, Choices, Sheet } from './write-sheet.ts';
import { skeletonPackage } from './write-skeleton.ts';
import { escapeXml } from './write-text.ts';

/** Read as local time by the zip library, so the bytes are the same in every time zone. */
const ZIP_DATE = '1980-01-01T00:00:00';

/** Level 4 of 9: twice as fast as the usual 6 for a tenth more bytes. */
const PACKING = 4;

/**
 * A workbook (.xlsx) from plain data; the same data gives the same bytes. The workbook library lays
 * out the package; rows, links, merges, choices and names are put into it here, because the library
 * keeps one object a cell for each of them.
 * @throws RangeError where a cell names a style that the book has not.
 */
export async function writeBook(book: Book): Promise<Uint8Array> {
  const parts = unzipSync(await skeletonPackage(book));
  const decoder = new TextDecoder();
  const firstSheet = parts['xl/worksheets/sheet1.xml'];
  const styles = styleNumbers(book, firstSheet === undefined ? '' : decoder.decode(firstSheet));
  const archive = new Archive();
  const pictures = book.sheets.flatMap((sheet) => sheet.pictures ?? []);
  // The content types must come first for readers that stream; the rest keeps a fixed order.
  // Folders, which the library lists, are no parts of a package.
  const names = Object.keys(parts).filter((name) => !name.endsWith('/'));
  for (const name of names.sort(partOrder)) {
    const bytes = parts[name] ?? new Uint8Array();
    const sheetNumber = /^xl\/worksheets\/sheet(\d+)\.xml$/.exec(name)?.[1];
    const sheet = sheetNumber === undefined ? undefined : book.sheets[Number(sheetNumber) - 1];
    const picture = pictures[Number(/^xl\/media\/image(\d+)\.png$/.exec(name)?.[1]) - 1];
    if (picture !== undefined) archive.add(name, [await picture.png()]);
    else if (sheet !== undefined) archive.add(name, sheetXml(decoder.decode(bytes), sheet, styles));
    else if (name.startsWith('xl/drawings/drawing')) {
      archive.add(name, [plainAnchors(decoder.decode(bytes))]);
    } else if (name === 'xl/workbook.xml')
      archive.add(name, [withNames(decoder.decode(bytes), book)]);
    else archive.add(name, [bytes]);
  }
  return archive.finish();
}

/** Zips part by part, so that only packed bytes stay in memory. */
class Archive {
  private readonly pieces: Uint8Array[] = [];
  private readonly zip = new Zip((error, piece) => {
    if (error) throw error;
    this.pieces.push(piece);
  });

  add(name: string, contents: Iterable<string | Uint8Array>): void {
    const isPicture = name.endsWith('.png');
    const entry = new ZipDeflate(name, { level: isPicture ? 0 : PACKING });
    entry.mtime = ZIP_DATE;
    this.zip.add(entry);
    for (const piece of contents) {
      entry.push(typeof piece === 'string' ? strToU8(piece) : piece, false);
    }
    entry.push(new Uint8Array(), true);
  }

  finish(): Uint8Array {
    this.zip.end();
    const total = this.pieces.reduce((length, piece) => length + piece.length, 0);
    const bytes = new Uint8Array(total);
    let at = 0;
    for (const piece of this.pieces) {
      bytes.set(piece, at);
      at += piece.length;
    }
    return bytes;
  }
}

function partOrder(a: string, b: string): number {
  const rank = (name: string) =>
    name === '[Content_Types].xml' ? 0 : name.startsWith('_') ? 1 : 2;
  return rank(a) - rank(b) || (a < b ? -1 : 1);
}

/** Which number the library gave each style, read from the cells the skeleton was primed with. */
function styleNumbers(book: Book, firstSheetXml: string): ReadonlyMap<string, StyleNumber> {
  const numbers = [...firstSheetXml.matchAll(/<c r="[A-Z]+1" s="(\d+)"\/>/g)].map((match) =>
    Number(match[1]),
  );
  const keys = Object.keys(book.styles);
  if (numbers.length !== keys.length * 2) {
    throw new RangeError(`${keys.length} styles asked for, ${numbers.length} cells primed.`);
  }
  return new Map(
    keys.map((key, index) => [
      key,
      { plain: numbers[index * 2] ?? 0, guarded: numbers[index * 2 + 1] ?? 0 },
    ]),
  );
}

/** The library's sheet with our rows and what belongs to them, in the order the schema asks. */
function* sheetXml(
  skeleton: string,
  sheet: Sheet,
  styles: ReadonlyMap<string, StyleNumber>,
): Generator<string> {
  const data = /<sheetData\/>|<sheetData>.*?<\/sheetData>/s.exec(skeleton);
  if (data === null) throw new RangeError(`Sheet "${sheet.name}" has no sheetData element.`);
  const range = {
    firstColumn: 1,
    firstRow: 1,
    lastColumn: Math.max(1, sheet.columnWidths.length),
    lastRow: Math.max(1, sheet.rowCount),
  };
  yield skeleton
    .slice(0, data.index)
    .replace(/<dimension ref="[^"]*"\/>/, `<dimension ref="${rangeAddress(range)}"/>`);
  const links: PlacedLink[] = [];
  yield* sheetDataXml(sheet, styles, links);
  let tail = skeleton.slice(data.index + data[0].length);
  // Order of a worksheet's elements: ECMA-376 part 1, 18.3.1.99.
  const filter = /^<autoFilter.*?\/>/s.exec(tail)?.[0] ?? '';
  tail = tail.slice(filter.length);
  yield filter;
  yield mergesXml(sheet.merges ?? []);
  yield choicesXml(sheet.choices ?? []);
  yield linksXml(links);
  yield tail;
}

function mergesXml(merges: readonly CellRange[]): string {
  if (merges.length === 0) return '';
  const cells = merges.map((merge) => `<mergeCell ref="${rangeAddress(merge)}"/>`).join('');
  return `<mergeCells count="${merges.length}">${cells}</mergeCells>`;
}

function choicesXml(choices: readonly Choices[]): string {
  if (choices.length === 0) return '';
  const elements = choices.map(({ range, values, prompt }) => {
    const list = escapeXml(`"${values.join(',')}"`);
    return `<dataValidation type="list" errorStyle="warning" allowBlank="1" showInputMessage="1" showErrorMessage="1" errorTitle="Not in the list" error="Keep it if you mean it." prompt="${escapeXml(prompt)}" sqref="${rangeAddress(range)}"><formula1>${list}</formula1></dataValidation>`;
  });
  return `<dataValidations count="${choices.length}">${elements.join('')}</dataValidations>`;
}

/**
 * The library gives one-cell anchors an attribute that the schema has for two-cell ones only; strict
 * readers drop the picture for it.
 * @source ECMA-376 part 1, 20.5.2.24 (oneCellAnchor has no attributes).
 */
function plainAnchors(drawingXml: string): string {
  return drawingXml.replace(/<xdr:oneCellAnchor editAs="[a-zA-Z]*">/g, '<xdr:oneCellAnchor>');
}

function withNames(workbookXml: string, book: Book): string {
  const own = book.names.map(
    ({ name, sheet, range }) =>
      `<definedName name="${escapeXml(name)}">${escapeXml(fixedRange(sheet, range))}</definedName>`,
  );
  const titles = book.sheets.flatMap((sheet, index) => {
    const place = printTitles(sheet);
    return place === null
      ? []
      : [
          `<definedName name="_xlnm.Print_Titles" localSheetId="${index}">${escapeXml(place)}</definedName>`,
        ];
  });
  const areas = book.sheets.flatMap((sheet, index) => {
    const { lastColumn } = sheet.print;
    if (lastColumn === undefined) return [];
    const range = { firstColumn: 1, firstRow: 1, lastColumn, lastRow: sheet.rowCount };
    return [
      `<definedName name="_xlnm.Print_Area" localSheetId="${index}">${escapeXml(fixedRange(sheet.name, range))}</definedName>`,
    ];
  });
  const filters = book.sheets.flatMap((sheet, index) =>
    sheet.filter === undefined
      ? []
      : [
          `<definedName name="_xlnm._FilterDatabase" localSheetId="${index}" hidden="1">${escapeXml(fixedRange(sheet.name, sheet.filter))}</definedName>`,
        ],
  );
  const texts = (book.texts ?? []).map(
    ({ name, text }) =>
      `<definedName name="${escapeXml(name)}" hidden="1">${escapeXml(`"${text.replaceAll('"', '""')}"`)}</definedName>`,
  );
  const all = [...filters, ...areas, ...titles, ...own, ...texts];
  const element = all.length === 0 ? '' : `<definedNames>${all.join('')}</definedNames>`;
  const without = workbookXml.replace(/<definedNames>.*?<\/definedNames>|<definedNames\/>/s, '');
  return without.replace('</sheets>', () => `</sheets>${element}`);
}

function printTitles(sheet: Sheet): string | null {
  const { titleRows, titleColumns } = sheet.print;
  const name = `'${sheet.name.replaceAll("'", "''")}'`;
  const parts: string[] = [];
  if (titleColumns !== undefined) {
    parts.push(`${name}!$${columnLetters(titleColumns[0])}:$${columnLetters(titleColumns[1])}`);
  }
  if (titleRows !== undefined) parts.push(`${name}!$${titleRows[0]}:$${titleRows[1]}`);
  return parts.length === 0 ? null : parts.join(',');
}

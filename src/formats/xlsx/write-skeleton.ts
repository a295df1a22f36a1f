import ExcelJS from 'exceljs';
import { rangeAddress } from './write-address.ts';
import type { Book, CellStyle, LineStyle, Sheet } from './write-sheet.ts';
import { headerText } from './write-text.ts';

/** Paper sizes as the format numbers them. @source ECMA-376 part 1, 18.3.1.63 (paperSize). */
const PAPER_SIZE = { A3: 8, A4: 9 } as const;

/**
 * The book without its rows, as a zipped package made by the workbook library: styles, sheets with
 * print set-up, panes, filters and places of pictures (`xl/media/image1.png` … in order, empty). The first sheet's first row holds one empty
 * cell a style, twice (plain, then as text), in the order of the book's styles.
 */
export async function skeletonPackage(book: Book): Promise<Uint8Array> {
  const workbook = new ExcelJS.Workbook();
  const { properties } = book;
  // The library wants dates as objects; this one comes from the settings, not from the clock.
  // biome-ignore lint/style/noRestrictedGlobals: made from the settings' date.
  const date = new Date(`${properties.date}T00:00:00Z`);
  workbook.created = date;
  workbook.modified = date;
  workbook.title = properties.title;
  workbook.subject = properties.subject;
  workbook.creator = properties.creator;
  workbook.lastModifiedBy = properties.creator;
  workbook.description = properties.description;
  workbook.keywords = properties.keywords;
  for (const sheet of book.sheets) addSheet(workbook, sheet);
  const first = workbook.worksheets[0];
  if (first !== undefined) primeStyles(first, book);
  return new Uint8Array(await workbook.xlsx.writeBuffer());
}

function addSheet(workbook: ExcelJS.Workbook, sheet: Sheet): void {
  const { print, frozen } = sheet;
  const worksheet = workbook.addWorksheet(sheet.name, {
    views: [
      frozen === undefined
        ? { showGridLines: false, zoomScale: 100 }
        : {
            showGridLines: false,
            zoomScale: 100,
            state: 'frozen',
            xSplit: frozen.columns,
            ySplit: frozen.rows,
          },
    ],
    pageSetup: {
      paperSize: PAPER_SIZE[print.paper] as ExcelJS.PaperSize,
      orientation: print.landscape ? 'landscape' : 'portrait',
      horizontalCentered: print.isCentred ?? false,
      margins: { left: 0.45, right: 0.45, top: 0.5, bottom: 0.6, header: 0.25, footer: 0.3 },
      ...(print.fit === 'full size'
        ? { scale: 100 }
        : {
            fitToPage: true,
            fitToWidth: print.fit.pagesWide,
            fitToHeight: print.fit.pagesHigh ?? 0,
          }),
    },
    headerFooter: {
      oddFooter: footer(sheet),
    },
  });
  for (const [index, width] of sheet.columnWidths.entries()) {
    worksheet.getColumn(index + 1).width = width;
  }
  for (const row of print.breakAfterRows ?? []) worksheet.getRow(row).addPageBreak();
  if (sheet.filter !== undefined) worksheet.autoFilter = rangeAddress(sheet.filter);
  addPictures(workbook, worksheet, sheet);
}

/** Left, centre and right. The blank after the size keeps a text that begins with a digit apart from it. */
function footer({ name, print }: Sheet): string {
  const left = headerText(print.footerLeft, 55);
  const centre = headerText(print.footerCentre, 100);
  return `&L&8 ${left}&C&8 ${centre}&R&8 ${headerText(name, 31)} · page &P of &N`;
}

function addPictures(workbook: ExcelJS.Workbook, worksheet: ExcelJS.Worksheet, sheet: Sheet): void {
  for (const picture of sheet.pictures ?? []) {
    // An empty stand-in: the library would pack each picture, and the real one is put in later.
    const buffer = new Uint8Array() as unknown as ExcelJS.Buffer;
    const id = workbook.addImage({ buffer, extension: 'png' });
    worksheet.addImage(id, {
      tl: {
        nativeCol: picture.column - 1,
        nativeColOff: 0,
        nativeRow: picture.row - 1,
        nativeRowOff: 0,
      },
      ext: { width: pixels(picture.widthMm), height: pixels(picture.heightMm) },
    } as unknown as ExcelJS.ImagePosition);
  }
}

/** The library takes sizes in pixels of 1/96 inch. */
function pixels(lengthMm: number): number {
  return (lengthMm / 25.4) * 96;
}

function primeStyles(worksheet: ExcelJS.Worksheet, book: Book): void {
  let column = 1;
  for (const style of Object.values<CellStyle>(book.styles)) {
    worksheet.getCell(1, column).style = libraryStyle(style, book.fontName);
    worksheet.getCell(1, column + 1).style = {
      ...libraryStyle(style, book.fontName),
      numFmt: '@',
    };
    column += 2;
  }
}

function libraryStyle(style: CellStyle, fontName: string): Partial<ExcelJS.Style> {
  return {
    font: {
      name: fontName,
      size: style.sizePt ?? 9,
      bold: style.bold ?? false,
      italic: style.italic ?? false,
      underline: style.underline ?? false,
      color: { argb: `FF${style.colour ?? '000000'}` },
    },
    alignment: {
      horizontal: style.across ?? 'left',
      vertical: style.down ?? 'top',
      wrapText: style.wrap ?? false,
      ...(style.indent === undefined ? {} : { indent: style.indent }),
    },
    ...(style.fill === undefined
      ? {}
      : { fill: { type: 'pattern', pattern: 'solid', fgColor: { argb: `FF${style.fill}` } } }),
    ...(style.format === undefined ? {} : { numFmt: style.format }),
    border: libraryLines(style.lines),
  };
}

function libraryLines(lines: CellStyle['lines']): Partial<ExcelJS.Borders> {
  const side = (line: LineStyle | undefined) =>
    line === undefined ? undefined : { style: line.weight, color: { argb: `FF${line.colour}` } };
  const borders: Partial<ExcelJS.Borders> = {};
  const top = side(lines?.top);
  const bottom = side(lines?.bottom);
  const left = side(lines?.left);
  const right = side(lines?.right);
  if (top !== undefined) borders.top = top;
  if (bottom !== undefined) borders.bottom = bottom;
  if (left !== undefined) borders.left = left;
  if (right !== undefined) borders.right = right;
  return borders;
}

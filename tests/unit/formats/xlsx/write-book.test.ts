import ExcelJS from 'exceljs';
import { strFromU8, unzipSync } from 'fflate';
import { expect, test } from 'vitest';
import { writeBook } from '../../../../src/formats/xlsx/write-book.ts';
import type { Book, Sheet, SheetRow } from '../../../../src/formats/xlsx/write-sheet.ts';
import { HOSTILE } from '../../../makers/issue/make-issue.ts';
import { packageFaults } from '../../../set-up/package-faults.ts';

const PIXEL = Uint8Array.from(
  atob(
    'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==',
  ),
  (character) => character.charCodeAt(0),
);

function makeSheet(name: string, rows: readonly SheetRow[], changes: Partial<Sheet> = {}): Sheet {
  return {
    name,
    columnWidths: [10, 20, 30],
    rows,
    rowCount: rows.length,
    print: {
      paper: 'A3',
      landscape: true,
      fit: { pagesWide: 1 },
      footerLeft: 'left & right',
      footerCentre: 'centre',
    },
    ...changes,
  };
}

function makeBook(sheets: readonly Sheet[], changes: Partial<Book> = {}): Book {
  return {
    properties: {
      title: 'Title',
      subject: 'Subject',
      creator: 'design engineer',
      description: 'Description',
      keywords: 'key',
      date: '2026-02-27',
    },
    fontName: 'Arial',
    styles: { plain: {}, bold: { bold: true, format: '#,##0.0' } },
    sheets,
    names: [],
    ...changes,
  };
}

const row = (...values: SheetRow['cells'][number][]): SheetRow => ({ cells: values });
const plain = (value: NonNullable<SheetRow['cells'][number]>['value']) => ({
  value,
  style: 'plain',
});

async function readBack(bytes: Uint8Array): Promise<ExcelJS.Workbook> {
  const workbook = new ExcelJS.Workbook();
  await workbook.xlsx.load(bytes.buffer as ArrayBuffer);
  return workbook;
}

function part(bytes: Uint8Array, name: string): string {
  return strFromU8(unzipSync(bytes)[name] ?? new Uint8Array());
}

test('texts, numbers, formulas and empty cells are read back as they were written', async () => {
  const bytes = await writeBook(
    makeBook([
      makeSheet('One', [
        row(plain('text'), { value: 1.5, style: 'bold' }, plain(null)),
        row(
          plain({ formula: 'SUM(B1:B1)*2', result: 3 }),
          null,
          plain({ formula: '"a"&"b"', result: 'ab' }),
        ),
      ]),
    ]),
  );
  const sheet = (await readBack(bytes)).getWorksheet('One');
  expect(sheet?.getCell('A1').value).toBe('text');
  expect(sheet?.getCell('B1').value).toBe(1.5);
  expect(sheet?.getCell('B1').font.bold).toBe(true);
  expect(sheet?.getCell('B1').numFmt).toBe('#,##0.0');
  expect(sheet?.getCell('C1').value).toBeNull();
  expect(sheet?.getCell('A2').value).toEqual({ formula: 'SUM(B1:B1)*2', result: 3 });
  expect(sheet?.getCell('C2').value).toEqual({ formula: '"a"&"b"', result: 'ab' });
});

test('hostile texts stay texts, and cells that look like formulas are formatted as text', async () => {
  const bytes = await writeBook(
    makeBook([
      makeSheet(
        'One',
        HOSTILE.map((text) => row(plain(text))),
      ),
    ]),
  );
  const sheet = (await readBack(bytes)).getWorksheet('One');
  for (const [at, text] of HOSTILE.entries()) {
    const cell = sheet?.getCell(at + 1, 1);
    expect(cell?.type).toBe(ExcelJS.ValueType.String);
    if (/^[=+\-@\t]/.test(text)) expect(cell?.numFmt).toBe('@');
  }
  expect(sheet?.getCell('A1').value).toBe(HOSTILE[0]);
  expect(part(bytes, 'xl/worksheets/sheet1.xml')).not.toContain('<f>');
});

test('the same book gives the same bytes, in any time zone', async () => {
  const make = () =>
    writeBook(
      makeBook([
        makeSheet('One', [row(plain('a'))], {
          pictures: [{ png: () => PIXEL, column: 1, row: 1, widthMm: 10, heightMm: 10 }],
        }),
      ]),
    );
  const zone = process.env['TZ'];
  process.env['TZ'] = 'Pacific/Kiritimati';
  const there = await make();
  process.env['TZ'] = 'America/Los_Angeles';
  const here = await make();
  if (zone === undefined) delete process.env['TZ'];
  else process.env['TZ'] = zone;
  expect(Buffer.from(here).equals(Buffer.from(there))).toBe(true);
});

test('elements of a sheet stand in the order of the schema', async () => {
  const range = { firstColumn: 1, firstRow: 1, lastColumn: 2, lastRow: 2 };
  const bytes = await writeBook(
    makeBook([
      makeSheet('One', [row(plain({ text: 'go', link: { sheet: 'One', row: 2 } })), row()], {
        filter: range,
        merges: [{ firstColumn: 2, firstRow: 1, lastColumn: 3, lastRow: 1 }],
        choices: [{ range, values: ['a', 'b'], prompt: 'a or b' }],
        frozen: { rows: 1, columns: 1 },
        pictures: [{ png: () => PIXEL, column: 1, row: 1, widthMm: 10, heightMm: 10 }],
        print: {
          paper: 'A4',
          landscape: false,
          fit: 'full size',
          breakAfterRows: [1],
          footerLeft: '',
          footerCentre: '',
        },
      }),
    ]),
  );
  const xml = part(bytes, 'xl/worksheets/sheet1.xml');
  // ECMA-376 part 1, 18.3.1.99 (worksheet): the sequence of CT_Worksheet.
  const order = [
    '<sheetPr',
    '<dimension',
    '<sheetViews',
    '<sheetFormatPr',
    '<cols',
    '<sheetData',
    '<autoFilter',
    '<mergeCells',
    '<dataValidations',
    '<hyperlinks',
    '<printOptions',
    '<pageMargins',
    '<pageSetup',
    '<headerFooter',
    '<rowBreaks',
    '<drawing',
  ];
  const places = order.map((element) => xml.indexOf(element)).filter((at) => at >= 0);
  expect(places.length).toBeGreaterThanOrEqual(13);
  expect(places).toEqual([...places].sort((a, b) => a - b));
});

test('every part has a content type, every relation a target, and nothing is left over', async () => {
  const bytes = await writeBook(
    makeBook([
      makeSheet('One', [row(plain('a'))], {
        pictures: [{ png: () => PIXEL, column: 1, row: 1, widthMm: 10, heightMm: 10 }],
      }),
      makeSheet('Two', [row(plain('b'))]),
    ]),
  );
  expect(packageFaults(bytes)).toEqual([]);
});

test('pictures keep their size whatever the columns are', async () => {
  const bytes = await writeBook(
    makeBook([
      makeSheet('One', [row(plain('a'))], {
        pictures: [{ png: () => PIXEL, column: 2, row: 3, widthMm: 100, heightMm: 50 }],
      }),
    ]),
  );
  const drawing = part(bytes, 'xl/drawings/drawing1.xml');
  // 36,000 EMU a millimetre: ECMA-376 part 1, 20.1.2.1 (ST_Coordinate, 914,400 an inch).
  const [, cx, cy] = /<xdr:ext cx="(\d+)" cy="(\d+)"/.exec(drawing) ?? [];
  expect(Number(cx)).toBeCloseTo(3_600_000, -3);
  expect(Number(cy)).toBeCloseTo(1_800_000, -3);
  expect(drawing).toContain('<xdr:oneCellAnchor>');
  expect(unzipSync(bytes)['xl/media/image1.png']).toEqual(PIXEL);
});

test('names and repeated headings lead to the right cells', async () => {
  const bytes = await writeBook(
    makeBook(
      [
        makeSheet("Pit's list", [row(plain('a'))], {
          print: {
            paper: 'A3',
            landscape: true,
            fit: { pagesWide: 2 },
            titleRows: [4, 5],
            titleColumns: [1, 2],
            footerLeft: '',
            footerCentre: '',
          },
        }),
      ],
      {
        names: [
          {
            name: 'list',
            sheet: "Pit's list",
            range: { firstColumn: 1, firstRow: 5, lastColumn: 3, lastRow: 9 },
          },
        ],
      },
    ),
  );
  const xml = part(bytes, 'xl/workbook.xml');
  expect(xml).toContain('<definedName name="list">&apos;Pit&apos;&apos;s list&apos;!$A$5:$C$9<');
  expect(xml).toContain('!$A:$B,&apos;Pit&apos;&apos;s list&apos;!$4:$5<');
});

test('a cell of an unknown style is refused', async () => {
  const book = makeBook([makeSheet('One', [row({ value: 1, style: 'missing' })])]);
  await expect(writeBook(book)).rejects.toThrow(/no style "missing"/);
});

test('a footer keeps a number at its beginning apart from the size of the type, and is short enough', async () => {
  const footer = async (left: string) => {
    const sheet = makeSheet('One', [row(plain('a'))]);
    const print = { ...sheet.print, footerLeft: left };
    const bytes = await writeBook(makeBook([{ ...sheet, print }]));
    return /<oddFooter>([^<]*)</.exec(part(bytes, 'xl/worksheets/sheet1.xml'))?.[1] ?? '';
  };
  expect(await footer('2041-SEAL-1')).toContain('&amp;L&amp;8 2041-SEAL-1&amp;C');
  expect((await footer('&'.repeat(300))).replaceAll('&amp;', '&').length).toBeLessThan(255);
});

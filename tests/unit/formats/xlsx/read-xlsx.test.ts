import { unzipSync, zipSync } from 'fflate';
import { describe, expect, test } from 'vitest';
import type { SheetTable } from '../../../../src/formats/shared/sheet-table.ts';
import { readXlsx } from '../../../../src/formats/xlsx/read-xlsx.ts';
import { xlsxFile } from '../../../makers/schedule/xlsx-file.ts';

const cellAt = (sheet: SheetTable | undefined, row: number, column: number) =>
  sheet?.rows.find((each) => each.row === row)?.cells[column] ?? null;

describe('cells', () => {
  const read = async () => {
    const file = await xlsxFile((workbook) => {
      const sheet = workbook.addWorksheet('Power');
      sheet.getCell('A1').value = '  padded ';
      sheet.getCell('B1').value = 24.099999999999998;
      sheet.getCell('C1').value = { formula: 'B1*2', result: 48.2 };
      sheet.getCell('D1').value = { formula: 'B1*2' };
      sheet.getCell('E1').value = {
        richText: [{ text: 'P-' }, { text: '101', font: { bold: true } }],
      };
      sheet.getCell('F1').value = new Date(Date.UTC(2026, 10, 1));
      sheet.getCell('G1').value = { error: '#REF!' };
      sheet.getCell('H1').value = '007';
      sheet.getCell('I1').value = { text: 'P-102', hyperlink: 'https://example.org' };
      sheet.getCell('J1').value = { formula: 'CONCATENATE("P-",103)', result: 'P-103' };
      sheet.getCell('A3').value = 'over three';
      sheet.mergeCells('A3:C3');
      sheet.getCell('E3').value = 'down';
      sheet.mergeCells('E3:E5');
      sheet.getRow(4).hidden = true;
      sheet.getCell('A4').value = 'hidden';
      workbook.addWorksheet('Lists', { state: 'hidden' }).getCell('A1').value = 'x';
    });
    return readXlsx(file.bytes);
  };

  test('hold the text a person reads and the number where there is one', async () => {
    const [sheet] = await read();
    expect(cellAt(sheet, 1, 0)).toMatchObject({ text: 'padded', number: null });
    expect(cellAt(sheet, 1, 1)).toMatchObject({ text: '24.1', number: 24.1 });
    expect(cellAt(sheet, 1, 7)).toMatchObject({ text: '007', number: null });
    expect(cellAt(sheet, 1, 4)).toMatchObject({ text: 'P-101' });
    expect(cellAt(sheet, 1, 8)).toMatchObject({ text: 'P-102' });
  });

  test('formulas give their stored result, and say so where there is none', async () => {
    const [sheet] = await read();
    expect(cellAt(sheet, 1, 2)).toMatchObject({ number: 48.2, oddity: null });
    expect(cellAt(sheet, 1, 9)).toMatchObject({ text: 'P-103', oddity: null });
    expect(cellAt(sheet, 1, 3)).toMatchObject({ oddity: 'uncalculated' });
  });

  test('dates and errors are marked', async () => {
    const [sheet] = await read();
    expect(cellAt(sheet, 1, 5)).toMatchObject({ text: '2026-11-01', oddity: 'date' });
    expect(cellAt(sheet, 1, 6)).toMatchObject({ text: '#REF!', oddity: 'error' });
  });

  test('merges repeat their content, marked as a copy', async () => {
    const [sheet] = await read();
    expect(cellAt(sheet, 3, 0)).toMatchObject({ text: 'over three', copyOf: null });
    expect(cellAt(sheet, 3, 2)).toMatchObject({ text: 'over three', copyOf: 'left' });
    expect(cellAt(sheet, 5, 4)).toMatchObject({ text: 'down', copyOf: 'above' });
  });

  test('hidden rows and sheets are marked, empty rows left out', async () => {
    const sheets = await read();
    expect(sheets.map(({ name, isHidden }) => [name, isHidden])).toEqual([
      ['Power', false],
      ['Lists', true],
    ]);
    expect(sheets[0]?.rows.map(({ row, isHidden }) => [row, isHidden])).toEqual([
      [1, false],
      [3, false],
      [4, true],
      [5, false],
    ]);
  });
});

describe('hostile and unusable files', () => {
  const plain = () => xlsxFile((workbook) => workbook.addWorksheet('A').addRow(['x']));

  /** The workbook with one part changed. */
  async function withPart(name: string, change: (text: string) => string): Promise<Uint8Array> {
    const { bytes } = await plain();
    const parts = unzipSync(bytes);
    const text = new TextDecoder().decode(parts[name]);
    return zipSync({ ...parts, [name]: new TextEncoder().encode(change(text)) });
  }

  test('a merge over the whole sheet is left unread instead of filling memory', async () => {
    const bytes = await withPart('xl/worksheets/sheet1.xml', (text) =>
      text.replace(
        '</sheetData>',
        '</sheetData><mergeCells count="1"><mergeCell ref="A2:XFD1048576"/></mergeCells>',
      ),
    );
    const [sheet] = await readXlsx(bytes);
    expect(sheet?.rows).toHaveLength(1);
  });

  test('a validation over whole columns costs nothing', async () => {
    const rule =
      '<dataValidations count="1"><dataValidation type="list" sqref="A1:Z1048576"><formula1>"a,b"</formula1></dataValidation></dataValidations>';
    const bytes = await withPart('xl/worksheets/sheet1.xml', (text) =>
      text.replace('</sheetData>', `</sheetData>${rule}`),
    );
    const [sheet] = await readXlsx(bytes);
    expect(sheet?.rows).toHaveLength(1);
  });

  test('an archive that unpacks to too much is refused before it is unpacked', async () => {
    const { bytes } = await plain();
    const parts = unzipSync(bytes);
    const bomb = zipSync({ ...parts, 'xl/worksheets/sheet1.xml': new Uint8Array(300 * 2 ** 20) });
    expect(bomb.length).toBeLessThan(2 ** 20);
    await expect(readXlsx(bomb)).rejects.toMatchObject({ code: 'input-too-large' });
  });

  test('a size the archive lies about can not unpack to more', async () => {
    const { bytes } = await plain();
    const parts = unzipSync(bytes);
    const size = 40 * 2 ** 20;
    const bomb = zipSync({ ...parts, 'xl/worksheets/sheet1.xml': new Uint8Array(size) });
    // Wherever a header states the true size, it now says 100 bytes.
    const view = new DataView(bomb.buffer, bomb.byteOffset, bomb.byteLength);
    for (let at = 0; at + 4 <= bomb.length; at++) {
      if (view.getUint32(at, true) === size) view.setUint32(at, 100, true);
    }
    await expect(readXlsx(bomb)).rejects.toMatchObject({ code: 'input-unreadable' });
  });

  test.each([
    ['an old workbook', Uint8Array.of(0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1), 'xlsx'],
    ['a zip that is no workbook', zipSync({ 'a.txt': Uint8Array.of(1) }), 'xlsx'],
    ['an OpenDocument file', zipSync({ 'content.xml': Uint8Array.of(1) }), 'xlsx'],
    ['a cut-off zip', Uint8Array.of(0x50, 0x4b, 3, 4, 0, 0, 0, 0), 'again'],
  ])('%s is refused with what to do', async (_, bytes, todo) => {
    await expect(readXlsx(bytes)).rejects.toMatchObject({
      code: 'input-unreadable',
      todo: expect.stringContaining(todo),
    });
  });
});

import ExcelJS from 'exceljs';
import { strFromU8, strToU8, unzipSync, zipSync } from 'fflate';
import { expect } from 'vitest';
import { writeWorkbook } from '../../src/write/workbook/write-workbook.ts';
import { HOSTILE, makeIssue } from '../makers/issue/make-issue.ts';
import { convertWorkbook } from '../set-up/libreoffice.ts';
import { testWith } from '../set-up/outside.ts';
import { svgToPng } from '../set-up/svg-to-png.ts';

// The second opinion on every formula: LibreOffice calculates the whole book anew.

interface FormulaCell {
  readonly formula: string;
  readonly result: unknown;
}

async function formulasOf(bytes: Uint8Array): Promise<Map<string, FormulaCell>> {
  const workbook = new ExcelJS.Workbook();
  await workbook.xlsx.load(bytes.buffer as ArrayBuffer);
  const formulas = new Map<string, FormulaCell>();
  for (const sheet of workbook.worksheets) {
    sheet.eachRow((row) => {
      row.eachCell((cell) => {
        if (cell.type !== ExcelJS.ValueType.Formula) return;
        formulas.set(`${sheet.name}!${cell.address}`, {
          formula: cell.formula,
          result: cell.result,
        });
      });
    });
  }
  return formulas;
}

function differences(
  ours: ReadonlyMap<string, FormulaCell>,
  theirs: ReadonlyMap<string, FormulaCell>,
): string[] {
  const found: string[] = [];
  for (const [address, { formula, result }] of ours) {
    const recalculated = theirs.get(address)?.result;
    const agrees =
      typeof result === 'number' && typeof recalculated === 'number'
        ? Math.abs(result - recalculated) <= 1e-9 * Math.max(1, Math.abs(result))
        : result === recalculated;
    if (!agrees) found.push(`${address} =${formula}: ${result}, recalculated ${recalculated}`);
  }
  return found;
}

testWith(['libreoffice'], 'every formula equals its value when recalculated', async () => {
  const bytes = await writeWorkbook(makeIssue(), { svgToPng });
  const ours = await formulasOf(bytes);
  expect(ours.size).toBeGreaterThan(50);
  expect(differences(ours, await formulasOf(convertWorkbook(bytes, 'xlsx')))).toEqual([]);
});

testWith(['libreoffice'], 'a wrong value would be seen', async () => {
  const bytes = await writeWorkbook(makeIssue(), { svgToPng });
  const parts = unzipSync(bytes);
  const name = 'xl/worksheets/sheet5.xml';
  const xml = strFromU8(parts[name] ?? new Uint8Array());
  const wrong = xml.replace(
    /(<f>[^<]*<\/f><v>)([\d.]+)(<\/v>)/,
    (_, before, __, after) => `${before}12345${after}`,
  );
  expect(wrong).not.toBe(xml);
  const broken = zipSync({ ...parts, [name]: strToU8(wrong) });
  const found = differences(
    await formulasOf(broken),
    await formulasOf(convertWorkbook(broken, 'xlsx')),
  );
  expect(found).toHaveLength(1);
});

testWith(
  ['libreoffice'],
  'hostile texts come out of LibreOffice as the texts they were',
  async () => {
    const bytes = await writeWorkbook(makeIssue(), { svgToPng });
    const workbook = new ExcelJS.Workbook();
    await workbook.xlsx.load(convertWorkbook(bytes, 'xlsx').buffer as ArrayBuffer);
    const cables = workbook.getWorksheet('Cables');
    const found = HOSTILE.map((_, at) => cables?.getCell(10 + at, 1).value);
    const marked = HOSTILE.map((text) =>
      // biome-ignore lint/suspicious/noControlCharactersInRegex: what XML forbids is marked.
      text.replace(/[\u0000-\u0008\u000b-\u001f]|\p{Surrogate}/gu, '\ufffd'),
    );
    expect(found).toEqual(marked);
  },
);

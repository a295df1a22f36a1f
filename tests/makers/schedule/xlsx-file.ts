import ExcelJS from 'exceljs';
import type { InputFile } from '../../../src/model/input.ts';

/** A workbook as `fill` makes it. */
export async function xlsxFile(
  fill: (workbook: ExcelJS.Workbook) => void,
  name = 'cables.xlsx',
): Promise<InputFile> {
  const workbook = new ExcelJS.Workbook();
  fill(workbook);
  const buffer = await workbook.xlsx.writeBuffer();
  return { key: 'cables', name, bytes: new Uint8Array(buffer as ArrayBuffer) };
}

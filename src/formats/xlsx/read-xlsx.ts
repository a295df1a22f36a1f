import ExcelJS from 'exceljs';
import { SealbookError } from '../../basics/errors.ts';
import { beyondLimit, type ReadLimits, USUAL_LIMITS } from '../../basics/limits.ts';
import type { SheetCell, SheetRow, SheetTable } from '../shared/sheet-table.ts';
import { readCell } from './read-cell.ts';
import { readParts } from './read-parts.ts';

/** Merges beyond this are left unread: the library visits every cell of each. */
const MOST_MERGED_CELLS = 500_000;

/** Parts of a sheet that hold no cells; some of them cost the library a visit to every cell. */
const UNWANTED_NODES = [
  'dataValidations',
  'conditionalFormatting',
  'hyperlinks',
  'drawing',
  'picture',
  'tableParts',
  'extLst',
  'rowBreaks',
  'headerFooter',
];

/** What the library's loader takes beyond its own types. */
type Load = (
  bytes: Uint8Array,
  options: { readonly ignoreNodes: readonly string[] },
) => Promise<unknown>;

/**
 * All sheets of a workbook in their order, hidden ones marked. Formulas give their stored result,
 * rich text its plain text, and cells covered by a merge the content of the merge.
 * @throws SealbookError `input-unreadable`, `input-too-large`.
 */
export async function readXlsx(
  bytes: Uint8Array,
  limits: ReadLimits = USUAL_LIMITS,
): Promise<readonly SheetTable[]> {
  const parts = readParts(bytes, limits);
  const ignoreNodes =
    parts.mergedCells > MOST_MERGED_CELLS ? [...UNWANTED_NODES, 'mergeCells'] : UNWANTED_NODES;
  const workbook = new ExcelJS.Workbook();
  try {
    const load = workbook.xlsx.load.bind(workbook.xlsx) as unknown as Load;
    await load(parts.bytes, { ignoreNodes });
  } catch (cause) {
    throw new SealbookError('input-unreadable', 'The workbook could not be read.', {
      todo: 'Open it in a spreadsheet program and save it again as .xlsx, or as .csv.',
      cause,
    });
  }
  let cells = 0;
  return workbook.worksheets.map((sheet) => {
    const rows: SheetRow[] = [];
    sheet.eachRow((row, number) => {
      const read = readRow(row);
      cells += read.length;
      if (cells > limits.cells) {
        throw beyondLimit('cells', `The workbook has more than ${limits.cells} cells.`);
      }
      if (read.some((cell) => cell !== null)) {
        rows.push({ row: number, isHidden: row.hidden === true, cells: read });
      }
    });
    return { name: sheet.name, isHidden: sheet.state !== 'visible', rows };
  });
}

function readRow(row: ExcelJS.Row): (SheetCell | null)[] {
  const cells: (SheetCell | null)[] = [];
  row.eachCell((cell, column) => {
    while (cells.length < column - 1) cells.push(null);
    cells.push(readCell(cell));
  });
  return cells;
}

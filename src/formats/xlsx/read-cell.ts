import type ExcelJS from 'exceljs';
import type { SheetCell } from '../shared/sheet-table.ts';

/** One cell of a workbook as text and number; null where it is empty. */
export function readCell(cell: ExcelJS.Cell): SheetCell | null {
  const content = contentOf(cell.value);
  if (content === null || (content.text === '' && content.oddity === null)) return null;
  return { ...content, copyOf: copyOf(cell) };
}

type Content = Omit<SheetCell, 'copyOf'>;

function copyOf(cell: ExcelJS.Cell): SheetCell['copyOf'] {
  if (!cell.isMerged || cell.master.address === cell.address) return null;
  return cell.master.col === cell.col ? 'above' : 'left';
}

/** The library's cell values are a loose union; each kind is told apart here, once. */
function contentOf(value: unknown): Content | null {
  if (value === null || value === undefined) return null;
  if (typeof value === 'number') return numberContent(value);
  if (typeof value === 'string') return plain(value);
  if (typeof value === 'boolean') return plain(value ? 'yes' : 'no');
  if (isDate(value)) return { text: dateText(value), number: null, oddity: 'date' };
  if (typeof value !== 'object') return null;
  if ('error' in value) return { text: String(value.error), number: null, oddity: 'error' };
  if ('richText' in value && Array.isArray(value.richText)) return plain(richText(value.richText));
  if ('formula' in value || 'sharedFormula' in value) {
    const result = 'result' in value ? contentOf(value.result) : null;
    return result ?? { text: '', number: null, oddity: 'uncalculated' };
  }
  if ('text' in value) return contentOf(value.text);
  return null;
}

function plain(text: string): Content {
  return { text: text.trim(), number: null, oddity: null };
}

/** Binary noise such as 24.099999999999998 is cut: a sheet shows at most 15 digits. */
function numberContent(value: number): Content {
  // The library gives this for a number that is none; what was written there is gone.
  if (!Number.isFinite(value)) return { text: '#NUM!', number: null, oddity: 'error' };
  const rounded = Number(value.toPrecision(12));
  return { text: String(rounded), number: rounded, oddity: null };
}

function richText(runs: readonly unknown[]): string {
  return runs
    .map((run) =>
      typeof run === 'object' && run !== null && 'text' in run ? String(run.text) : '',
    )
    .join('');
}

interface DateLike {
  toISOString(): string;
  getTime(): number;
}

/** The library makes dates of numbers in a date format; told by shape, not by the clock's class. */
function isDate(value: unknown): value is DateLike {
  return typeof value === 'object' && value !== null && 'toISOString' in value;
}

function dateText(value: DateLike): string {
  return Number.isFinite(value.getTime()) ? value.toISOString().slice(0, 10) : 'date';
}

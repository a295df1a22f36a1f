import type { SheetCell } from '../../formats/shared/sheet-table.ts';

/** A cell as a value to decide or record, or why it is none. */
export type CellReading =
  | { readonly value: string }
  | { readonly fault: string; readonly quoted: string };

const WORD_FIELDS: ReadonlySet<string> = new Set(['review', 'status', 'state']);
const SIZE_FIELDS: ReadonlySet<string> = new Set(['opening', 'openingMm']);
const NUMBER_FIELDS: ReadonlySet<string> = new Set([
  'separationMm',
  'edgeMm',
  'setBackMm',
  'faces',
  'diameterMm',
  'depthNearMm',
  'depthFarMm',
]);

/**
 * What a filled-in cell says for a field: words in lower case, numbers with a point, sizes as
 * "150" or "300x200". What does not look like it is given as it stands, for later steps to ask about.
 */
export function readOpenCell(cell: SheetCell | null | undefined, field: string): CellReading {
  if (cell === null || cell === undefined) return { value: '' };
  const { text, oddity } = cell;
  if (oddity === 'error') return { fault: 'the cell holds an error', quoted: text };
  if (oddity === 'uncalculated') {
    return {
      fault:
        'the file does not hold what the formula comes to: open it in a spreadsheet program and save it',
      quoted: text,
    };
  }
  if (oddity === 'date' && (NUMBER_FIELDS.has(field) || SIZE_FIELDS.has(field))) {
    return { fault: 'the spreadsheet program made a date of what was typed', quoted: text };
  }
  if (WORD_FIELDS.has(field)) return { value: text.toLowerCase() };
  if (NUMBER_FIELDS.has(field)) return { value: numberText(text) };
  if (SIZE_FIELDS.has(field)) return { value: sizeText(text) };
  return { value: text };
}

/** "20,5 mm" is 20.5; what is no number stays as it is. */
function numberText(text: string): string {
  const found = /^(\d+)(?:[.,](\d+))?\s*(?:mm)?$/i.exec(text);
  if (found === null) return text;
  const [, whole = '', part] = found;
  return String(Number(part === undefined ? whole : `${whole}.${part}`));
}

/** "Ø 150", "150 dia", "300 × 200 mm" as openings are typed elsewhere; other texts stay. */
function sizeText(text: string): string {
  const bare = text
    .toLowerCase()
    .replace(/mm|dia\.?|ø|⌀|\s/g, '')
    .replaceAll(',', '.')
    .replaceAll('×', 'x');
  return /^\d+(\.\d+)?(x\d+(\.\d+)?)?$/.test(bare) ? bare : text;
}

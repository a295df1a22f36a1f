import { zipSync } from 'fflate';
import { SealbookError } from '../../basics/errors.ts';
import { beyondLimit, type ReadLimits } from '../../basics/limits.ts';
import { readZip } from '../shared/zip-archive.ts';

const WANTED =
  /^(\[Content_Types\]\.xml|_rels\/\.rels|xl\/workbook\.xml|xl\/_rels\/workbook\.xml\.rels|xl\/sharedStrings\.xml|xl\/styles\.xml|xl\/worksheets\/[^/]+\.xml)$/i;

export interface WorkbookParts {
  /** The workbook with nothing but cells, texts and styles: no pictures, notes, tables, links. */
  readonly bytes: Uint8Array;
  /** Cells covered by merges, all sheets together. */
  readonly mergedCells: number;
}

/**
 * The parts of a workbook that hold cells, zipped anew. Sizes are checked before anything is
 * inflated, and inflating is held to the sizes the directory states, so that no archive can
 * outgrow memory.
 * @throws SealbookError `input-unreadable` for what is no workbook, `input-too-large`.
 */
export function readParts(bytes: Uint8Array, limits: ReadLimits): WorkbookParts {
  refuseOtherFormats(bytes);
  const archive = readZip(bytes, limits);
  if (!archive.has('xl/workbook.xml')) throw noWorkbook(archive);
  const parts = Object.fromEntries([...archive].filter(([name]) => WANTED.test(name)));
  refuseTooManyCells(parts, limits.cells);
  refuseLostCells(parts);
  // Not packed again: the library unpacks it at once.
  return { bytes: zipSync(parts, { level: 0 }), mergedCells: countMerged(parts) };
}

/** Counted in the bytes, since the library takes about 2 kB a cell before it can be asked. */
function refuseTooManyCells(parts: Readonly<Record<string, Uint8Array>>, most: number): void {
  let cells = 0;
  for (const [name, part] of Object.entries(parts)) {
    if (!name.startsWith('xl/worksheets/')) continue;
    for (let at = part.indexOf(LESS); at >= 0; at = part.indexOf(LESS, at + 1)) {
      if (part[at + 1] === LETTER_C && (part[at + 2] ?? 0) <= GREATER) cells += 1;
    }
    if (cells > most) throw beyondLimit('cells', `The workbook has more than ${most} cells.`);
  }
}

/** What the library would leave out, or read as the number of a text, without a word. */
function refuseLostCells(parts: Readonly<Record<string, Uint8Array>>): void {
  const texts = countOf(parts['xl/sharedStrings.xml'], /<si[\s/>]/g);
  for (const [name, part] of Object.entries(parts)) {
    if (!name.startsWith('xl/worksheets/')) continue;
    const sheet = new TextDecoder().decode(part);
    for (const [, row = ''] of sheet.matchAll(/<row\b[^>]*?\sr="([^"]*)"/g)) {
      if (!/^0*[1-9]\d*$/.test(row)) throw lostCells(`a row of ${name} is numbered "${row}"`);
    }
    for (const [, text = ''] of sheet.matchAll(/<c\s[^>]*?\bt="s"[^>]*>\s*<v>([^<]*)</g)) {
      if (!(Number(text) < texts)) throw lostCells(`a cell of ${name} refers to no text`);
    }
  }
}

function countOf(part: Uint8Array | undefined, mark: RegExp): number {
  return part === undefined ? 0 : [...new TextDecoder().decode(part).matchAll(mark)].length;
}

function lostCells(what: string): SealbookError {
  return new SealbookError('input-unreadable', `The workbook is damaged: ${what}.`, {
    todo: 'Open it in a spreadsheet program and save it again as .xlsx.',
  });
}

const LESS = 0x3c;
const LETTER_C = 0x63;
/** What may follow the name of a tag (blank, slash, closing bracket) is at most this. */
const GREATER = 0x3e;

function countMerged(parts: Readonly<Record<string, Uint8Array>>): number {
  let cells = 0;
  for (const [name, part] of Object.entries(parts)) {
    if (!name.startsWith('xl/worksheets/')) continue;
    const text = new TextDecoder().decode(part);
    const start = text.indexOf('<mergeCells');
    if (start < 0) continue;
    for (const [, ref = ''] of text.slice(start).matchAll(/<mergeCell\s[^>]*?\bref="([^"]*)"/g)) {
      cells += areaOf(ref, name);
    }
  }
  return cells;
}

/** Cells of a merge. The library visits each of them, so an address beyond any sheet never ends. */
function areaOf(ref: string, sheet: string): number {
  const [, from, to = from] = /^([A-Z]{1,3}\d{1,7})(?::([A-Z]{1,3}\d{1,7}))?$/.exec(ref) ?? [];
  if (from === undefined || to === undefined) throw lostCells(`a merge of ${sheet} reads "${ref}"`);
  const a = cellPlace(from);
  const b = cellPlace(to);
  const column = Math.max(a.column, b.column);
  const row = Math.max(a.row, b.row);
  if (column > MOST_COLUMNS || row > MOST_ROWS) {
    throw lostCells(`a merge of ${sheet} reaches beyond the sheet, "${ref}"`);
  }
  return (Math.abs(a.column - b.column) + 1) * (Math.abs(a.row - b.row) + 1);
}

/**
 * What a sheet can hold.
 * @source ECMA-376 part 1, 18.3.1.4 and 18.3.1.73 leave it open; programs hold 2^14 by 2^20 cells
 */
const MOST_COLUMNS = 16_384;
const MOST_ROWS = 1_048_576;

function cellPlace(address: string): { readonly column: number; readonly row: number } {
  let column = 0;
  let at = 0;
  for (; at < address.length && address.charCodeAt(at) >= 65; at++) {
    column = column * 26 + address.charCodeAt(at) - 64;
  }
  return { column, row: Number(address.slice(at)) };
}

function refuseOtherFormats(bytes: Uint8Array): void {
  if (bytes[0] === 0xd0 && bytes[1] === 0xcf) {
    throw new SealbookError(
      'input-unreadable',
      'This is an old or a password-protected workbook.',
      {
        todo: 'Save it without a password as .xlsx.',
      },
    );
  }
}

function noWorkbook(archive: ReadonlyMap<string, Uint8Array>): SealbookError {
  const isOpenDocument = archive.has('content.xml');
  return new SealbookError(
    'input-unreadable',
    isOpenDocument ? 'This is an OpenDocument file.' : 'The archive holds no workbook.',
    { todo: 'Save the schedule as .xlsx or .csv.' },
  );
}

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
  const texts = countOf(parts['xl/sharedStrings.xml'], /<si[\s/>]/g);
  let mergedCells = 0;
  for (const [name, part] of Object.entries(parts)) {
    if (name === 'xl/workbook.xml') parts[name] = leanWorkbook(part);
    if (!name.startsWith('xl/worksheets/')) continue;
    const sheet = new TextDecoder().decode(part);
    refuseLostCells(name, sheet, texts);
    mergedCells += countMerged(name, sheet);
    parts[name] = withoutElement(part, sheet, 'cols');
  }
  // Not packed again: the library unpacks it at once.
  return { bytes: zipSync(parts, { level: 0 }), mergedCells };
}

/** The list of sheets. Names of ranges go: the library lists every cell of each. */
function leanWorkbook(part: Uint8Array): Uint8Array {
  const text = new TextDecoder().decode(part);
  for (const [, id = ''] of text.matchAll(/<sheet\s[^>]*?\bsheetId\s*=\s*["']([^"']*)["']/g)) {
    // The library keeps sheets in a list by this number.
    if (!(Number(id) <= MOST_SHEETS)) throw lostCells(`a sheet has the number "${id}"`);
  }
  return withoutElement(part, text, 'definedNames');
}

/**
 * Cuts an element that says nothing of cells, wherever it stands and as often as it does.
 * @throws SealbookError `input-unreadable` where it would take cells with it
 */
function withoutElement(part: Uint8Array, text: string, name: string): Uint8Array {
  const open = new RegExp(`<${name}(?:\\s[^>/]*)?>`, 'g');
  const close = `</${name}>`;
  const kept: string[] = [];
  let from = 0;
  for (const { index } of text.matchAll(open)) {
    if (index < from) continue;
    const end = text.indexOf(close, index);
    // What does not close is left for the library to refuse.
    if (end < 0) break;
    if (/<(?:row|sheet)[\s>]/.test(text.slice(index, end)))
      throw lostCells(`its ${name} do not end`);
    kept.push(text.slice(from, index));
    from = end + close.length;
  }
  if (from === 0) return part;
  return new TextEncoder().encode([...kept, text.slice(from)].join(''));
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

/** What the library would leave out, or read as the number of a text, without a word, or count up to. */
function refuseLostCells(name: string, sheet: string, texts: number): void {
  for (const [, row = ''] of sheet.matchAll(/<row\b[^>]*?\sr\s*=\s*["']([^"']*)["']/g)) {
    if (!(/^0*[1-9]\d*$/.test(row) && Number(row) <= MOST_ROWS)) {
      throw lostCells(`a row of ${name} is numbered "${row}"`);
    }
  }
  for (const [, text = ''] of sheet.matchAll(
    /<c\s[^>]*?\bt\s*=\s*["']s["'][^>]*>\s*<v>([^<]*)</g,
  )) {
    if (!(Number(text) < texts)) throw lostCells(`a cell of ${name} refers to no text`);
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

function countMerged(name: string, sheet: string): number {
  let cells = 0;
  for (const [, ref = ''] of sheet.matchAll(/<mergeCell\s[^>]*?\bref\s*=\s*["']([^"']*)["']/g)) {
    cells += areaOf(ref, name);
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

/** Sheets of one book, as programs number them. Our own choice beyond any that was seen. */
const MOST_SHEETS = 65_535;

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

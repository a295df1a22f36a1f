import { beyondLimit, type ReadLimits } from '../../basics/limits.ts';
import type { SheetCell, SheetRow } from '../shared/sheet-table.ts';
import { chunksOf, plainText, streamParser } from './stream-texts.ts';

/** What cells of a sheet refer to in the rest of the book. */
export interface CellBook {
  readonly texts: readonly string[];
  /** By style number: whether it shows dates. */
  readonly styles: readonly boolean[];
  readonly isFrom1904: boolean;
}

/** Last column of the format. @source ECMA-376 leaves it open; 16,384 is what spreadsheet programs take. */
const MOST_COLUMNS = 16_384;

/** A cell as the parser gathers it. */
interface RawCell {
  column: number;
  type: string;
  style: number;
  value: string;
  inline: string;
  /** Null where there is none; only the first cell of a shared formula has its text. */
  formula: string | null;
}

/** Rows with content of a sheet's part, in order, each made when it is asked for. */
export function* streamRows(
  part: Uint8Array,
  book: CellBook,
  limits: Pick<ReadLimits, 'cells' | 'checkTime'>,
): Generator<SheetRow> {
  const done: SheetRow[] = [];
  const parser = parserInto(done, book, limits.cells);
  for (const chunk of chunksOf(part)) {
    limits.checkTime?.();
    parser.write(chunk);
    yield* done.splice(0);
  }
  parser.close();
  yield* done.splice(0);
}

function parserInto(done: SheetRow[], book: CellBook, mostCells: number) {
  const parser = streamParser();
  let row = { number: 0, isHidden: false, cells: [] as (SheetCell | null)[] };
  let cell: RawCell | null = null;
  let into: 'value' | 'inline' | 'formula' | null = null;
  let phonetic = 0;
  let count = 0;
  parser.on('opentag', ({ name, attributes }) => {
    const get = (key: string) => {
      const value: unknown = attributes[key];
      return typeof value === 'string' ? value : null;
    };
    switch (name) {
      case 'row':
        row = {
          number: Number(get('r') ?? row.number + 1),
          isHidden: get('hidden') === '1' || get('hidden') === 'true',
          cells: [],
        };
        return;
      case 'c':
        cell = {
          column: columnOf(get('r')) ?? row.cells.length + 1,
          type: get('t') ?? 'n',
          style: Number(get('s') ?? 0),
          value: '',
          inline: '',
          formula: null,
        };
        return;
      case 'f':
        if (cell !== null) cell.formula = '';
        into = 'formula';
        return;
      case 'rPh':
        phonetic += 1;
        return;
      case 'v':
        into = 'value';
        return;
      case 't':
        into = phonetic === 0 ? 'inline' : null;
    }
  });
  parser.on('text', (text) => {
    if (cell !== null && into !== null) cell[into] = `${cell[into] ?? ''}${text}`;
  });
  parser.on('closetag', ({ name }) => {
    if (name === 'v' || name === 't' || name === 'f') into = null;
    else if (name === 'rPh') phonetic -= 1;
    else if (name === 'c' && cell !== null) {
      count += 1;
      if (count > mostCells) {
        throw beyondLimit('cells', `A sheet has more than ${mostCells} cells.`);
      }
      place(row.cells, cell, book);
      cell = null;
    } else if (name === 'row' && row.cells.length > 0) {
      done.push({ row: row.number, isHidden: row.isHidden, cells: row.cells });
    }
  });
  return parser;
}

function place(cells: (SheetCell | null)[], raw: RawCell, book: CellBook): void {
  if (raw.column < 1 || raw.column > MOST_COLUMNS) return;
  const read = contentOf(raw, book);
  if (read === null) return;
  while (cells.length < raw.column - 1) cells.push(null);
  cells[raw.column - 1] = { ...read, copyOf: null };
}

/** The column of an address, counted from 1; null where there is no address. */
function columnOf(address: string | null): number | null {
  const letters = address === null ? null : /^[A-Z]{1,3}/.exec(address)?.[0];
  if (letters === null || letters === undefined) return null;
  return [...letters].reduce((column, letter) => column * 26 + letter.charCodeAt(0) - 64, 0);
}

/** @source ECMA-376 part 1, 18.18.11 (ST_CellType). */
function contentOf(raw: RawCell, book: CellBook): Omit<SheetCell, 'copyOf'> | null {
  const { type, value } = raw;
  switch (type) {
    case 's':
      return textContent(book.texts[Number(value)] ?? '');
    case 'inlineStr':
      return textContent(plainText(raw.inline));
    case 'str':
      return textContent(plainText(value));
    case 'b':
      return textContent(value === '1' ? 'yes' : 'no');
    case 'e':
      return { text: value, number: null, oddity: 'error' };
    case 'd':
      return { text: value.slice(0, 10), number: null, oddity: 'date' };
    default:
      return numberContent(raw, book);
  }
}

function textContent(raw: string): Omit<SheetCell, 'copyOf'> | null {
  const text = raw.trim();
  return text === '' ? null : { text, number: null, oddity: null };
}

function numberContent(raw: RawCell, book: CellBook): Omit<SheetCell, 'copyOf'> | null {
  const written = raw.value.trim();
  if (written === '') {
    if (raw.formula === null) return null;
    return { text: `=${raw.formula}`, number: null, oddity: 'uncalculated' };
  }
  // Binary noise such as 24.099999999999998 is cut: a sheet shows at most 15 digits.
  const number = Number(Number(written).toPrecision(12));
  if (!Number.isFinite(number)) return textContent(written);
  if (book.styles[raw.style] !== true) return { text: String(number), number, oddity: null };
  return { text: dateText(number, book.isFrom1904), number: null, oddity: 'date' };
}

/** 1970-01-01 in the date system that begins with 1900. */
const DAYS_TO_1970 = 25_569;
const DAYS_TO_1904 = 1462;

/** A day count as an ISO date. @source ECMA-376 part 1, 18.17.4.1 (date systems). */
function dateText(days: number, isFrom1904: boolean): string {
  const since1970 = Math.floor(days) + (isFrom1904 ? DAYS_TO_1904 : 0) - DAYS_TO_1970;
  // biome-ignore lint/style/noRestrictedGlobals: made from a number of the file, not from the clock.
  const date = new Date(since1970 * 86_400_000);
  return Number.isFinite(date.getTime()) ? date.toISOString().slice(0, 10) : 'date';
}

import { parse } from 'csv-parse/sync';
import { SealbookError } from '../../basics/errors.ts';
import { beyondLimit, type ReadLimits, USUAL_LIMITS } from '../../basics/limits.ts';
import { type SheetRow, type SheetTable, textCell } from '../shared/sheet-table.ts';
import { type DecodedText, decodeText } from './decode-text.ts';
import { findDelimiter } from './find-delimiter.ts';

export interface CsvOptions {
  readonly delimiter?: string;
  readonly encoding?: string;
  readonly limits?: Pick<ReadLimits, 'rows' | 'cells' | 'checkTime'>;
}

export interface CsvContent {
  readonly table: SheetTable;
  readonly delimiter: string;
  readonly encoding: string;
  readonly encodingReason: DecodedText['reason'];
  /** Rows whose quotes don't close or that swallowed line ends with delimiters in them. */
  readonly doubtfulRows: readonly number[];
}

const ROWS_A_CHECK = 1000;
/** A text can't be longer in the engines this runs in. */
const LONGEST_TEXT = 2 ** 29 - 32;
const MOST_COLUMNS = 2_000;
const MOST_CELL_CHARACTERS = 100_000;

/**
 * A delimited file as one table named `CSV`. Rows are counted as a spreadsheet program would show
 * them: a line end inside quotes starts no new row.
 * @throws SealbookError `input-unreadable`, `input-too-large`.
 */
export function readCsv(bytes: Uint8Array, options: CsvOptions = {}): CsvContent {
  if (bytes.length > LONGEST_TEXT) throw tooLarge('The file is too long to be read as one text.');
  const { text, encoding, reason } = decodeText(bytes, options.encoding);
  const clean = text.charCodeAt(0) === 0xfeff ? text.slice(1) : text;
  const delimiter = options.delimiter ?? findDelimiter(clean);
  const limits = options.limits ?? USUAL_LIMITS;
  const { records, areQuotesRead } = cutRecords(clean, delimiter, limits.rows);
  let count = 0;
  const rows: SheetRow[] = [];
  const doubtfulRows: number[] = [];
  records.forEach((record, index) => {
    const row = index + 1;
    if (row % ROWS_A_CHECK === 0) limits.checkTime?.();
    count += record.length;
    if (count > limits.cells) {
      throw beyondLimit('cells', `The file has more than ${limits.cells} cells.`);
    }
    if (record.length > MOST_COLUMNS) throw tooLarge(`Row ${row} has ${record.length} cells.`);
    if (index === 0 && /^sep=.?$/i.test(record.join(delimiter))) return;
    const isDoubtful = (cell: string) =>
      swallowedRows(cell, delimiter) || (!areQuotesRead && hasOpenQuote(cell));
    if (record.some(isDoubtful)) doubtfulRows.push(row);
    const cells = record.map((cell) => textCell(cell.slice(0, MOST_CELL_CHARACTERS)));
    if (cells.some((cell) => cell !== null)) rows.push({ row, isHidden: false, cells });
  });
  return {
    table: { name: 'CSV', isHidden: false, rows },
    delimiter,
    encoding,
    encodingReason: reason,
    doubtfulRows,
  };
}

function cutRecords(text: string, delimiter: string, mostRows: number) {
  // A quote that never closes would end the parse; then quotes are read as plain characters.
  for (const quote of ['"', null]) {
    try {
      const records: string[][] = parse(text, {
        delimiter,
        quote,
        relax_quotes: true,
        relax_column_count: true,
        skip_empty_lines: false,
        to: mostRows + 1,
      });
      if (records.length > mostRows) {
        throw beyondLimit('rows', `The file has more than ${mostRows} rows.`);
      }
      return { records, areQuotesRead: quote !== null };
    } catch (cause) {
      if (cause instanceof SealbookError) throw cause;
      if (quote === null) {
        throw new SealbookError('input-unreadable', 'The delimited file could not be cut up.', {
          todo: 'Save it again as CSV, or set delimiter and encoding for this file.',
          cause,
        });
      }
    }
  }
  return { records: [], areQuotesRead: true };
}

/** A cell that begins with a quote and does not end with one. */
function hasOpenQuote(cell: string): boolean {
  const text = cell.trim();
  return text.startsWith('"') && (text.length === 1 || !text.endsWith('"'));
}

/** A quote left open by mistake runs on until the next one and swallows rows between. */
function swallowedRows(cell: string, delimiter: string): boolean {
  if (!cell.includes('\n')) return false;
  return cell.split('\n').some((line) => line.split(delimiter).length > 3);
}

function tooLarge(text: string): SealbookError {
  return new SealbookError('input-too-large', text, {
    todo: 'Split the file, or remove what is no part of the schedule.',
  });
}

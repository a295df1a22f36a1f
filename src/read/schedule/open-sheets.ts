import { SealbookError, withFile } from '../../basics/errors.ts';
import { type ReadLimits, USUAL_LIMITS } from '../../basics/limits.ts';
import { makeQuery, type Query, type WithQueries } from '../../basics/query.ts';
import { readCsv } from '../../formats/csv/read-csv.ts';
import type { SheetTable } from '../../formats/shared/sheet-table.ts';
import { readXlsx } from '../../formats/xlsx/read-xlsx.ts';
import type { InputFile } from '../../model/input.ts';

/** What the project file may say about a schedule. */
export interface ScheduleFileSettings {
  readonly sheets?: readonly string[] | undefined;
  /** First row of the header, from 1. */
  readonly headerRow?: number | undefined;
  /** Our column name to the heading in the file. */
  readonly columns?: Readonly<Record<string, string>> | undefined;
  readonly delimiter?: string | undefined;
  readonly encoding?: string | undefined;
}

export interface OpenedSheets {
  readonly format: 'XLSX' | 'CSV';
  readonly sheets: readonly SheetTable[];
  /** For people: delimiter and encoding of a delimited file. */
  readonly facts: readonly { readonly name: string; readonly value: string }[];
}

/**
 * The sheets of a workbook or delimited file, told apart by content, not by name.
 * @throws SealbookError `input-unreadable`, `input-too-large`, with the file named.
 */
export async function openSheets(
  file: InputFile,
  settings: ScheduleFileSettings,
  limits: ReadLimits = USUAL_LIMITS,
): Promise<WithQueries<OpenedSheets>> {
  try {
    if (file.bytes.length === 0) {
      throw new SealbookError('input-unreadable', 'The file is empty.', {
        todo: 'Export the schedule again.',
      });
    }
    return isZip(file.bytes) || isCompoundFile(file.bytes)
      ? await openWorkbook(file, limits)
      : openDelimited(file, settings, limits);
  } catch (error) {
    if (error instanceof SealbookError) throw withFile(error, file.name);
    throw error;
  }
}

async function openWorkbook(
  file: InputFile,
  limits: ReadLimits,
): Promise<WithQueries<OpenedSheets>> {
  const sheets = await readXlsx(file.bytes, limits);
  return { result: { format: 'XLSX', sheets, facts: [] }, queries: [] };
}

function openDelimited(
  file: InputFile,
  settings: ScheduleFileSettings,
  limits: ReadLimits,
): WithQueries<OpenedSheets> {
  refuseBinary(file.bytes);
  const content = readCsv(file.bytes, {
    limits,
    ...(settings.delimiter === undefined ? {} : { delimiter: settings.delimiter }),
    ...(settings.encoding === undefined ? {} : { encoding: settings.encoding }),
  });
  const queries: Query[] = content.doubtfulRows.map((row) =>
    makeQuery('schedule-row-unclear', {
      about: `${file.key}:${content.table.name}:row ${row}:quotes`,
      text: `${file.name}, row ${row}: a quotation mark is not closed, or its cell runs over lines that look like rows.`,
      why: 'A quotation mark left open swallows the rows after it, and their cables with them.',
      settles: 'The file with this quotation mark closed or removed.',
      evidence: [
        {
          fact: 'row',
          text: 'cell with line ends and delimiters',
          place: { fileKey: file.key, sheet: content.table.name, row },
        },
      ],
    }),
  );
  if (content.encodingReason === 'guess') queries.push(encodingGuessed(file, content.encoding));
  return {
    result: {
      format: 'CSV',
      sheets: [content.table],
      facts: [
        { name: 'delimiter', value: content.delimiter === '\t' ? 'tab' : content.delimiter },
        { name: 'encoding', value: content.encoding },
      ],
    },
    queries,
  };
}

function encodingGuessed(file: InputFile, encoding: string): Query {
  return makeQuery('schedule-row-unclear', {
    about: `${file.key}:encoding`,
    severity: 'note',
    text: `${file.name} does not say how its letters are coded; ${encoding} was taken.`,
    why: 'With another code page, letters with marks come out wrong, and references with them.',
    settles: 'The file saved as UTF-8, or encoding set for it.',
    evidence: [{ fact: 'encoding', text: encoding, place: { fileKey: file.key } }],
  });
}

function isZip(bytes: Uint8Array): boolean {
  return bytes[0] === 0x50 && bytes[1] === 0x4b;
}

function isCompoundFile(bytes: Uint8Array): boolean {
  return bytes[0] === 0xd0 && bytes[1] === 0xcf;
}

/** Text has no control characters; zero bytes alone may be UTF-16. */
function refuseBinary(bytes: Uint8Array): void {
  const start = bytes.subarray(0, 2000);
  const controls = start.filter((byte) => byte > 0 && byte < 9).length;
  if (controls > start.length * 0.01) {
    throw new SealbookError('input-unreadable', 'This is neither a workbook nor delimited text.', {
      todo: 'Save the schedule as .xlsx or .csv.',
    });
  }
}

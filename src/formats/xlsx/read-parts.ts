import { unzipSync, zipSync } from 'fflate';
import { SealbookError } from '../../basics/errors.ts';

/** Inflated size of the parts that are read. A sheet of 200,000 cells takes about 10 MB. */
const MOST_INFLATED_BYTES = 400 * 1024 * 1024;
const MOST_PARTS = 2_000;
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
export function readParts(bytes: Uint8Array): WorkbookParts {
  refuseOtherFormats(bytes);
  let total = 0;
  let parts = 0;
  const names: string[] = [];
  let inflated: Record<string, Uint8Array>;
  try {
    inflated = unzipSync(bytes, {
      filter: (file) => {
        parts += 1;
        names.push(file.name);
        if (parts > MOST_PARTS) throw tooLarge(`It holds more than ${MOST_PARTS} parts.`);
        if (!WANTED.test(file.name)) return false;
        total += file.originalSize;
        if (total > MOST_INFLATED_BYTES) throw tooLarge('Its sheets inflate to over 400 MB.');
        return true;
      },
    });
  } catch (cause) {
    if (cause instanceof SealbookError) throw cause;
    throw new SealbookError('input-unreadable', 'The workbook is damaged: it cannot be unzipped.', {
      todo: 'Open it in a spreadsheet program and save it again as .xlsx.',
      cause,
    });
  }
  if (!names.includes('xl/workbook.xml')) throw noWorkbook(names);
  return { bytes: zipSync(inflated, { level: 0 }), mergedCells: countMerged(inflated) };
}

function countMerged(parts: Readonly<Record<string, Uint8Array>>): number {
  let cells = 0;
  for (const [name, part] of Object.entries(parts)) {
    if (!name.startsWith('xl/worksheets/')) continue;
    const text = new TextDecoder().decode(part);
    const start = text.indexOf('<mergeCells');
    if (start < 0) continue;
    for (const [, from, to] of text
      .slice(start)
      .matchAll(/<mergeCell [^>]*?ref="([A-Z]{1,3}\d{1,7}):([A-Z]{1,3}\d{1,7})"/g)) {
      cells += areaOf(from ?? '', to ?? '');
    }
  }
  return cells;
}

function areaOf(from: string, to: string): number {
  const a = cellPlace(from);
  const b = cellPlace(to);
  return (Math.abs(a.column - b.column) + 1) * (Math.abs(a.row - b.row) + 1);
}

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

function noWorkbook(names: readonly string[]): SealbookError {
  const isOpenDocument = names.includes('content.xml');
  return new SealbookError(
    'input-unreadable',
    isOpenDocument ? 'This is an OpenDocument file.' : 'The archive holds no workbook.',
    { todo: 'Save the schedule as .xlsx or .csv.' },
  );
}

function tooLarge(text: string): SealbookError {
  return new SealbookError('input-too-large', text, {
    todo: 'Remove sheets and pictures that are no part of the schedule.',
  });
}

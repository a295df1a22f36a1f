import { zipSync } from 'fflate';
import { SealbookError } from '../../basics/errors.ts';
import { readZip } from '../shared/zip-archive.ts';

/** A sheet of 200,000 cells takes about 10 MB. */
const LIMITS = { entries: 2_000, entryBytes: 256 * 2 ** 20, totalBytes: 400 * 2 ** 20 };
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
  const archive = readZip(bytes, LIMITS);
  if (!archive.has('xl/workbook.xml')) throw noWorkbook(archive);
  const parts = Object.fromEntries([...archive].filter(([name]) => WANTED.test(name)));
  // Not packed again: the library unpacks it at once.
  return { bytes: zipSync(parts, { level: 0 }), mergedCells: countMerged(parts) };
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

function noWorkbook(archive: ReadonlyMap<string, Uint8Array>): SealbookError {
  const isOpenDocument = archive.has('content.xml');
  return new SealbookError(
    'input-unreadable',
    isOpenDocument ? 'This is an OpenDocument file.' : 'The archive holds no workbook.',
    { todo: 'Save the schedule as .xlsx or .csv.' },
  );
}

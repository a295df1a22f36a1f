import { type UnzipFileInfo, unzipSync, zipSync } from 'fflate';
import { SealbookError } from '../../basics/errors.ts';

/** How much an archive may unpack to; an archive beyond it is refused before it is unpacked. */
export interface ZipLimits {
  readonly entries: number;
  readonly entryBytes: number;
  readonly totalBytes: number;
}

const MEBIBYTE = 2 ** 20;

const USUAL_ZIP_LIMITS: ZipLimits = {
  entries: 20_000,
  entryBytes: 256 * MEBIBYTE,
  totalBytes: 512 * MEBIBYTE,
};

/**
 * Entries of a zip archive by name, folders left out. Sizes are judged by what the archive declares,
 * and the unpacker writes no more than that. Only what `wants` names is unpacked.
 *
 * @throws SealbookError `input-too-large` beyond the limits, `input-unreadable` if it is no zip.
 */
export function readZip(
  bytes: Uint8Array,
  limits: ZipLimits = USUAL_ZIP_LIMITS,
  wants: (name: string) => boolean = () => true,
): Map<string, Uint8Array> {
  let entries = 0;
  let total = 0;
  const admit = (info: UnzipFileInfo) => {
    entries += 1;
    total += info.originalSize;
    if (entries > limits.entries) throw tooLarge(`more than ${limits.entries} entries`);
    if (info.originalSize > limits.entryBytes) throw tooLarge(`"${info.name}" is too large`);
    if (total > limits.totalBytes) throw tooLarge(`more than ${limits.totalBytes} bytes unpacked`);
    return !info.name.endsWith('/') && wants(info.name);
  };
  let files: Record<string, Uint8Array>;
  try {
    files = unzipSync(bytes, { filter: admit });
  } catch (error) {
    if (error instanceof SealbookError) throw error;
    throw new SealbookError('input-unreadable', 'The file is not a zip archive or is damaged.', {
      todo: 'Export or copy the file again.',
      cause: error,
    });
  }
  return new Map(Object.entries(files));
}

/**
 * A zip archive with fixed times, so that the same entries give the same bytes. Entries keep their
 * order; a name that ends in `/` is a folder and holds nothing.
 *
 * @param date ISO date the entries carry; the zip format knows none before 1980.
 */
export function writeZip(
  entries: readonly { readonly name: string; readonly bytes: Uint8Array }[],
  date: string | null,
): Uint8Array {
  const files: Record<string, Uint8Array> = {};
  for (const { name, bytes } of entries) files[name] = bytes;
  const mtime = `${date !== null && date >= '1980' ? date : '1980-01-01'}T00:00:00`;
  return zipSync(files, { mtime, level: 6 });
}

function tooLarge(what: string): SealbookError {
  return new SealbookError('input-too-large', `The archive is refused: ${what}.`, {
    todo: 'Check where the archive comes from.',
  });
}

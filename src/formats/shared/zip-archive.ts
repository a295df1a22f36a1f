import { inflateSync, zipSync } from 'fflate';
import { SealbookError } from '../../basics/errors.ts';
import { beyondLimit, type ReadLimits, USUAL_LIMITS } from '../../basics/limits.ts';
import { crc32, type ZipEntry, zipEntries } from './zip-directory.ts';

export type ZipLimits = Pick<
  ReadLimits,
  'archiveEntries' | 'unpackedMb' | 'unpackedRatio' | 'checkTime'
>;

const MEBIBYTE = 2 ** 20;
/** An archive that unpacks to no more than this may be packed as tightly as it likes. */
const RATIO_FREE_BYTES = 64 * MEBIBYTE;
/** Deflate never packs tighter (258 bytes in 2 bits); what declares more lies. */
const TIGHTEST_RATIO = 1032;

/**
 * Entries of a zip archive by name, folders left out. What the directory declares is judged before
 * anything is unpacked; unpacking stops at the declared size, and size and CRC-32 of each entry must
 * come out as declared, so that an archive which lies or was damaged is refused, never cut short in
 * silence. Only what `wants` names is unpacked.
 *
 * @throws SealbookError `input-too-large` beyond the limits, `input-unreadable` if it is no zip, is
 *   damaged or packed in another way than deflate.
 */
export function readZip(
  bytes: Uint8Array,
  limits: ZipLimits = USUAL_LIMITS,
  wants: (name: string) => boolean = () => true,
): Map<string, Uint8Array> {
  const admitted = admittedEntries(bytes, limits).filter(
    ({ name }) => !name.endsWith('/') && wants(name),
  );
  const files = new Map<string, Uint8Array>();
  for (const entry of admitted) {
    limits.checkTime?.();
    if (files.has(entry.name)) throw damaged(`it holds "${entry.name}" twice`);
    files.set(entry.name, unpacked(bytes, entry));
  }
  return files;
}

function admittedEntries(bytes: Uint8Array, limits: ZipLimits): ZipEntry[] {
  const listed = zipEntries(bytes);
  if (listed === null) throw damaged('it has no directory');
  const most = limits.unpackedMb * MEBIBYTE;
  const entries: ZipEntry[] = [];
  let total = 0;
  try {
    for (const entry of listed) {
      entries.push(entry);
      total += entry.bytes;
      if (entries.length > limits.archiveEntries) {
        throw beyondLimit(
          'archiveEntries',
          `The archive holds more than ${limits.archiveEntries} entries.`,
        );
      }
      if (total > most) {
        throw beyondLimit(
          'unpackedMb',
          `The archive unpacks to more than ${limits.unpackedMb} MB ("${entry.name}" passes it).`,
        );
      }
    }
  } catch (error) {
    if (error instanceof RangeError) throw damaged('its directory is cut short', error);
    throw error;
  }
  if (total > RATIO_FREE_BYTES && total > bytes.length * limits.unpackedRatio) {
    throw beyondLimit(
      'unpackedRatio',
      `The archive unpacks to more than ${limits.unpackedRatio} times its size.`,
    );
  }
  return entries;
}

function unpacked(archive: Uint8Array, entry: ZipEntry): Uint8Array {
  const { name, at, packedBytes } = entry;
  if (entry.isEncrypted) throw damaged(`"${name}" is locked with a password`);
  if (at === null) throw damaged(`"${name}" lies outside of it`);
  const packed = archive.subarray(at, at + packedBytes);
  const content = entry.method === 0 ? packed.slice() : inflated(packed, entry);
  if (content.length !== entry.bytes) throw damaged(`"${name}" has not the size it declares`);
  if (crc32(content) !== entry.crc32) throw damaged(`"${name}" is not what was packed`);
  return content;
}

function inflated(packed: Uint8Array, { name, method, bytes }: ZipEntry): Uint8Array {
  if (method !== 8) throw damaged(`"${name}" is packed by method ${method}`);
  if (bytes > packed.length * TIGHTEST_RATIO) throw damaged(`"${name}" declares a false size`);
  if (bytes === 0) return new Uint8Array(0);
  try {
    // One byte more than declared: whatever would not fit shows as a wrong size.
    return inflateSync(packed, { out: new Uint8Array(bytes + 1) });
  } catch (cause) {
    throw damaged(`"${name}" can't be unpacked`, cause);
  }
}

function damaged(what: string, cause?: unknown): SealbookError {
  return new SealbookError(
    'input-unreadable',
    `The file is not a zip archive or is damaged: ${what}.`,
    { todo: 'Export or copy the file again.', ...(cause === undefined ? {} : { cause }) },
  );
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

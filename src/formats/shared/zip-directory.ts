/**
 * The central directory of a zip archive: what it says it holds, before anything is unpacked.
 *
 * @source APPNOTE.TXT (.ZIP File Format Specification) 6.3.10, 4.3.7 (local header), 4.3.12 (central
 *   directory), 4.3.14 to 4.3.16 (end records), 4.5.3 (zip64 extra field).
 */

export interface ZipEntry {
  readonly name: string;
  /** 0 stored, 8 deflated; others are not unpacked. */
  readonly method: number;
  readonly isEncrypted: boolean;
  readonly crc32: number;
  readonly packedBytes: number;
  readonly bytes: number;
  /** Offset of the packed bytes; null where they lie outside the archive. */
  readonly at: number | null;
}

const END = 0x06054b50;
const END_64 = 0x06064b50;
const END_64_PLACE = 0x07064b50;
const ENTRY = 0x02014b50;
const LOCAL = 0x04034b50;
const END_BYTES = 22;
const ENTRY_BYTES = 46;
const LOCAL_BYTES = 30;
const LONGEST_COMMENT = 0xffff;
const IN_ZIP64 = 0xffffffff;
const UTF8_FLAG = 0x800;

/** Entries in the directory's order, one by one, so that a caller can stop; null for what is no zip. */
export function zipEntries(bytes: Uint8Array): Iterable<ZipEntry> | null {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const end = endRecord(view);
  if (end === null) return null;
  const place = directoryPlace(view, end);
  return place === null ? null : walk(bytes, view, place.at, place.count);
}

function endRecord(view: DataView): number | null {
  const first = Math.max(0, view.byteLength - END_BYTES - LONGEST_COMMENT);
  for (let at = view.byteLength - END_BYTES; at >= first; at -= 1) {
    if (view.getUint32(at, true) === END) return at;
  }
  return null;
}

function directoryPlace(view: DataView, end: number): { at: number; count: number } | null {
  const count = view.getUint16(end + 10, true);
  const at = view.getUint32(end + 16, true);
  if (count !== 0xffff && at !== IN_ZIP64) return { at, count };
  const locator = end - 20;
  if (locator < 0 || view.getUint32(locator, true) !== END_64_PLACE) return { at, count };
  const end64 = longAt(view, locator + 8);
  if (end64 === null || end64 + 56 > view.byteLength) return null;
  if (view.getUint32(end64, true) !== END_64) return null;
  const count64 = longAt(view, end64 + 32);
  const at64 = longAt(view, end64 + 48);
  return count64 === null || at64 === null ? null : { at: at64, count: count64 };
}

function* walk(
  bytes: Uint8Array,
  view: DataView,
  from: number,
  count: number,
): Generator<ZipEntry> {
  let at = from;
  for (let n = 0; n < count; n += 1) {
    if (at + ENTRY_BYTES > bytes.length || view.getUint32(at, true) !== ENTRY) {
      throw new RangeError('The directory is cut short.');
    }
    const nameBytes = view.getUint16(at + 28, true);
    const extraBytes = view.getUint16(at + 30, true);
    const commentBytes = view.getUint16(at + 32, true);
    const nameEnd = at + ENTRY_BYTES + nameBytes;
    if (nameEnd + extraBytes > bytes.length) throw new RangeError('The directory is cut short.');
    const flags = view.getUint16(at + 8, true);
    const sizes = sizesOf(view, at, nameEnd, nameEnd + extraBytes);
    yield {
      name: entryName(bytes.subarray(at + ENTRY_BYTES, nameEnd), (flags & UTF8_FLAG) !== 0),
      method: view.getUint16(at + 10, true),
      isEncrypted: (flags & 1) !== 0,
      crc32: view.getUint32(at + 16, true),
      packedBytes: sizes.packed,
      bytes: sizes.unpacked,
      at: contentPlace(view, sizes.local, sizes.packed),
    };
    at = nameEnd + extraBytes + commentBytes;
  }
}

/** Sizes and place of an entry; those that do not fit 32 bits stand in its zip64 field, in order. */
function sizesOf(view: DataView, entry: number, extra: number, extraEnd: number) {
  const field = zip64Field(view, extra, extraEnd);
  let at = field?.at ?? 0;
  const wide = (short: number): number => {
    if (short !== IN_ZIP64 || field === null || at + 8 > field.end) return short;
    const value = longAt(view, at) ?? Number.MAX_SAFE_INTEGER;
    at += 8;
    return value;
  };
  const unpacked = wide(view.getUint32(entry + 24, true));
  const packed = wide(view.getUint32(entry + 20, true));
  const local = wide(view.getUint32(entry + 42, true));
  return { unpacked, packed, local };
}

function zip64Field(view: DataView, from: number, end: number) {
  for (let at = from; at + 4 <= end; ) {
    const size = view.getUint16(at + 2, true);
    if (view.getUint16(at, true) === 1) return { at: at + 4, end: Math.min(end, at + 4 + size) };
    at += 4 + size;
  }
  return null;
}

function contentPlace(view: DataView, local: number, packedBytes: number): number | null {
  if (local + LOCAL_BYTES > view.byteLength || view.getUint32(local, true) !== LOCAL) return null;
  const at =
    local + LOCAL_BYTES + view.getUint16(local + 26, true) + view.getUint16(local + 28, true);
  return at + packedBytes > view.byteLength ? null : at;
}

function longAt(view: DataView, at: number): number | null {
  if (at + 8 > view.byteLength) return null;
  const value = view.getUint32(at, true) + view.getUint32(at + 4, true) * 2 ** 32;
  return Number.isSafeInteger(value) ? value : null;
}

/** UTF-8 where the entry says so or the name is plain ASCII; else one byte a character. */
function entryName(bytes: Uint8Array, isUtf8: boolean): string {
  return new TextDecoder(isUtf8 ? 'utf-8' : 'windows-1252').decode(bytes);
}

const CRC_TABLE = Uint32Array.from({ length: 256 }, (_, byte) => {
  let crc = byte;
  for (let bit = 0; bit < 8; bit += 1) crc = (crc & 1) === 1 ? 0xedb88320 ^ (crc >>> 1) : crc >>> 1;
  return crc;
});

/** CRC-32 of ISO 3309, as zip uses it. */
export function crc32(bytes: Uint8Array): number {
  let crc = 0xffffffff;
  for (const byte of bytes) crc = (CRC_TABLE[(crc ^ byte) & 0xff] ?? 0) ^ (crc >>> 8);
  return (crc ^ 0xffffffff) >>> 0;
}

import { stableBytes } from '../../basics/stable-uuid.ts';
import { GLOBAL_ID_LENGTH, ifcGlobalId, readGlobalId } from '../../formats/ifc/step-global-id.ts';

/** Bytes that hold the name's digest; those after them are a sum over them that only ours carry. */
const DIGEST_BYTES = 10;
/** Starts of the two halves of the sum; made once, never changed. */
const SUM_STARTS = [0x5ea1b00c, 0x2f7c0d5a] as const;
const FNV_STEP = 0x01000193;
const VERSION_BYTE = 6;
const VARIANT_BYTE = 8;

/**
 * A GlobalId that follows from a name, and that tells by itself that it is one of ours: however a
 * program renumbers and rewrites our lines, they are found again.
 *
 * @source RFC 9562, clause 5.8 (UUID version 8: 122 bits of the maker's own). 74 bits are of the
 * SHA-1 digest of the name, 48 a sum over them: one in 2^48 of the ids of others would pass for ours.
 */
export function ownGlobalId(name: string): string {
  const uuid = stableBytes(name).slice();
  uuid[VERSION_BYTE] = ((uuid[VERSION_BYTE] ?? 0) & 0x0f) | 0x80;
  uuid[VARIANT_BYTE] = ((uuid[VARIANT_BYTE] ?? 0) & 0x3f) | 0x80;
  const [high, low] = sumOf(uuid);
  const view = new DataView(uuid.buffer);
  view.setUint16(DIGEST_BYTES, high >>> 16);
  view.setUint32(DIGEST_BYTES + 2, low);
  return ifcGlobalId(uuid);
}

const read = new Uint8Array(16);
const readView = new DataView(read.buffer);

/** Whether the letters of a GlobalId that start at `start` are one of ours. */
export function isOwnGlobalId(bytes: Uint8Array, start: number): boolean {
  if (start + GLOBAL_ID_LENGTH > bytes.length || !readGlobalId(bytes, start, read)) return false;
  if ((read[VERSION_BYTE] ?? 0) >> 4 !== 8 || (read[VARIANT_BYTE] ?? 0) >> 6 !== 2) return false;
  const [high, low] = sumOf(read);
  return (
    readView.getUint16(DIGEST_BYTES) === high >>> 16 && readView.getUint32(DIGEST_BYTES + 2) === low
  );
}

/** Two sums of FNV-1a over the digest, 32 bits each. */
function sumOf(uuid: Uint8Array): readonly [number, number] {
  const sum = (start: number) => {
    let hash = start;
    for (let at = 0; at < DIGEST_BYTES; at++) hash = Math.imul(hash ^ (uuid[at] ?? 0), FNV_STEP);
    return hash >>> 0;
  };
  return [sum(SUM_STARTS[0]), sum(SUM_STARTS[1])];
}

/** Bytes taken out at one place and put in instead. */
export interface BytePatch {
  /** Offset in the source. */
  readonly at: number;
  /** Bytes of the source that go; 0 for a pure insertion. */
  readonly remove: number;
  readonly insert: Uint8Array;
}

/**
 * The patched file as parts in order: views into the source and the inserted bytes, no copies, so
 * that a large file can be written to disk part by part. Patches may come in any order; two at the
 * same offset keep their order.
 *
 * @throws RangeError where patches overlap or lie outside the source.
 */
export function patchedParts(source: Uint8Array, patches: readonly BytePatch[]): Uint8Array[] {
  const parts: Uint8Array[] = [];
  let done = 0;
  for (const patch of [...patches].sort((a, b) => a.at - b.at)) {
    if (patch.at < done || patch.at + patch.remove > source.length) {
      throw new RangeError(`Patch at ${patch.at} overlaps another or lies outside the file.`);
    }
    if (patch.at > done) parts.push(source.subarray(done, patch.at));
    if (patch.insert.length > 0) parts.push(patch.insert);
    done = patch.at + patch.remove;
  }
  if (done < source.length) parts.push(source.subarray(done));
  return parts;
}

/** The patched file in one piece. */
export function applyPatches(source: Uint8Array, patches: readonly BytePatch[]): Uint8Array {
  return joinBytes(patchedParts(source, patches));
}

/** Parts one after another. */
function joinBytes(parts: readonly Uint8Array[]): Uint8Array {
  const joined = new Uint8Array(parts.reduce((length, part) => length + part.length, 0));
  let at = 0;
  for (const part of parts) {
    joined.set(part, at);
    at += part.length;
  }
  return joined;
}

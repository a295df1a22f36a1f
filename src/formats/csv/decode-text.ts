import { SealbookError } from '../../basics/errors.ts';

export interface DecodedText {
  readonly text: string;
  /** Label of the encoding used. */
  readonly encoding: string;
  /** Why that one: the settings, a byte order mark, valid UTF-8, or a guess. */
  readonly reason: 'set' | 'mark' | 'valid' | 'guess';
}

/**
 * Text of a delimited file. A given encoding wins; then a byte order mark; then UTF-8 when the
 * bytes are valid UTF-8; UTF-16 without a mark by its zero bytes; else the western code page,
 * as a guess that the caller reports.
 * @throws SealbookError `input-unreadable` for an encoding nobody knows.
 */
export function decodeText(bytes: Uint8Array, encoding?: string): DecodedText {
  if (encoding !== undefined) {
    return { text: decodeAs(encoding, bytes), encoding, reason: 'set' };
  }
  const marked = markedEncoding(bytes);
  if (marked !== null) return { text: decodeAs(marked, bytes), encoding: marked, reason: 'mark' };
  const wide = wideEncoding(bytes);
  if (wide !== null) return { text: decodeAs(wide, bytes), encoding: wide, reason: 'guess' };
  try {
    const text = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
    return { text, encoding: 'utf-8', reason: 'valid' };
  } catch {
    // Not UTF-8: one byte a character. Which code page can't be told from the bytes alone.
    const text = new TextDecoder('windows-1252').decode(bytes);
    return { text, encoding: 'windows-1252', reason: 'guess' };
  }
}

function decodeAs(encoding: string, bytes: Uint8Array): string {
  let decoder: TextDecoder;
  try {
    decoder = new TextDecoder(encoding);
  } catch (cause) {
    throw new SealbookError('input-unreadable', `No such text encoding: ${encoding}.`, {
      todo: 'Set encoding to a name such as utf-8, windows-1252, windows-1250 or iso-8859-15.',
      cause,
    });
  }
  return decoder.decode(bytes);
}

function markedEncoding(bytes: Uint8Array): string | null {
  if (bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf) return 'utf-8';
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return 'utf-16le';
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return 'utf-16be';
  return null;
}

/** UTF-16 without a mark: nearly every second byte of a table in Latin letters is zero. */
function wideEncoding(bytes: Uint8Array): string | null {
  const length = Math.min(bytes.length, 1000);
  if (length < 4) return null;
  let evenZeros = 0;
  let oddZeros = 0;
  for (let at = 0; at < length; at++) {
    if (bytes[at] !== 0) continue;
    if (at % 2 === 0) evenZeros++;
    else oddZeros++;
  }
  if (oddZeros > length * 0.3 && evenZeros < length * 0.05) return 'utf-16le';
  if (evenZeros > length * 0.3 && oddZeros < length * 0.05) return 'utf-16be';
  return null;
}

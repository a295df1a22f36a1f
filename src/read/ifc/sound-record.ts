import { commentEnd, skipBlank } from '../../formats/ifc/step-scan.ts';

const QUOTE = 0x27;
const DOUBLE_QUOTE = 0x22;
const OPEN = 0x28;
const CLOSE = 0x29;
const DOT = 0x2e;
const SLASH = 0x2f;
const HASH = 0x23;
const STAR = 0x2a;
const COMMA = 0x2c;
/** What may stand in a record besides texts, references and words: numbers, "not given" and "derived". */
const OTHER_BYTES = Uint8Array.from({ length: 256 }, (_, byte) =>
  '0123456789.+-$*'.includes(String.fromCharCode(byte)) ? 1 : 0,
);
/** Lengths beyond 10^12 of any unit are no building. */
const LARGEST_EXPONENT = 12;

/**
 * Whether the attributes of a record can be handed to a geometry engine: brackets close where the
 * record ends, there is an attribute, numbers are numbers of a size that a model can have. Engines
 * have been seen never to end on others.
 * @param from the opening bracket
 * @param end the byte after the semicolon
 */
export function isSoundRecord(bytes: Uint8Array, from: number, end: number): boolean {
  let depth = 0;
  let hasContent = false;
  let at = from;
  while (at < end) {
    const byte = bytes[at] ?? 0;
    if (byte === SLASH && bytes[at + 1] === STAR) {
      at = commentEnd(bytes, at);
      continue;
    }
    if (byte === OPEN) depth += 1;
    else if (byte === CLOSE) {
      depth -= 1;
      if (depth === 0) return hasContent && endsThere(bytes, at + 1, end);
    } else if (byte === QUOTE || byte === DOUBLE_QUOTE) {
      hasContent = true;
      const close = bytes.indexOf(byte, at + 1);
      if (close < 0 || close >= end) return false;
      at = close;
    } else if (byte === HASH) {
      hasContent = true;
      if (!isDigit(bytes[at + 1])) return false;
    } else if (byte === DOT && isLetter(bytes[at + 1]) && !isNumberByte(bytes[at - 1])) {
      hasContent = true;
      at = endOfWord(bytes, at + 1, end);
      if (bytes[at] !== DOT) return false;
    } else if (isLetter(byte)) {
      const next = endOfWord(bytes, at, end);
      const isExponent = (byte === 0x45 || byte === 0x65) && isNumberByte(bytes[at - 1]);
      if (isExponent) {
        if (Number.parseInt(digitsAfter(bytes, at + 1), 10) > LARGEST_EXPONENT) return false;
      } else if (bytes[skipBlank(bytes, next)] !== OPEN) return false;
      else at = next - 1;
    } else if (byte === DOT && !isDigit(bytes[at - 1]) && !isDigit(bytes[at + 1])) {
      return false;
    } else if (byte > 0x20 && byte !== COMMA) {
      if (OTHER_BYTES[byte] !== 1) return false;
      hasContent = true;
    }
    at += 1;
  }
  return false;
}

function endsThere(bytes: Uint8Array, from: number, end: number): boolean {
  return skipBlank(bytes, from) === end - 1;
}

function endOfWord(bytes: Uint8Array, from: number, end: number): number {
  let at = from;
  while (at < end && (isLetter(bytes[at]) || isNumberByte(bytes[at], true))) at += 1;
  return at;
}

function isLetter(byte: number | undefined): boolean {
  return (
    byte !== undefined &&
    ((byte >= 0x41 && byte <= 0x5a) || (byte >= 0x61 && byte <= 0x7a) || byte === 0x5f)
  );
}

function isNumberByte(byte: number | undefined, digitsOnly = false): boolean {
  if (byte === undefined) return false;
  return (byte >= 0x30 && byte <= 0x39) || (!digitsOnly && byte === DOT);
}

function isDigit(byte: number | undefined): boolean {
  return isNumberByte(byte, true);
}

/** Sign and digits of an exponent as text, at most six. */
function digitsAfter(bytes: Uint8Array, from: number): string {
  let text = '';
  for (let at = from; at < from + 7; at += 1) {
    const byte = bytes[at] ?? 0;
    const isPart =
      (byte >= 0x30 && byte <= 0x39) || (at === from && (byte === 0x2d || byte === 0x2b));
    if (!isPart) break;
    text += String.fromCharCode(byte);
  }
  return text === '' ? '0' : text;
}

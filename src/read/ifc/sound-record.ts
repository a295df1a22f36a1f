import { commentEnd, skipBlank } from '../../formats/ifc/step-scan.ts';

const QUOTE = 0x27;
const DOUBLE_QUOTE = 0x22;
const HASH = 0x23;
const DOLLAR = 0x24;
const OPEN = 0x28;
const CLOSE = 0x29;
const STAR = 0x2a;
const PLUS = 0x2b;
const COMMA = 0x2c;
const MINUS = 0x2d;
const DOT = 0x2e;
const SLASH = 0x2f;
const SMALL = 0x20;
const LETTER_E = 0x65;
/** Lengths beyond 10^12 of any unit are no building. */
const LARGEST_EXPONENT = 12;
/** Where no token ends, and what a record that can't be handed on has of attributes. */
export const UNSOUND = -1;

/** What an attribute is written as; 0 for `$`. Two bits each, the first attribute lowest. */
const WRITTEN = { list: 1, reference: 2, value: 3 } as const;
/** Attributes whose kind is kept. */
export const KINDS_KEPT = 16;
/** Attributes that are counted: no type of any schema has more. */
export const MOST_COUNTED = 63;
const COUNTS = MOST_COUNTED + 1;

/** A record's number of attributes, at most `MOST_COUNTED`. */
export const attributeCount = (form: number): number => form % COUNTS;
/** A record's kinds of attributes; all 0 where one is derived (`*`), since it then has no fixed place. */
export const attributeKinds = (form: number): number => Math.floor(form / COUNTS) >>> 0;

/** What was last met within a bracket: it alone, a comma, or a value. */
const NOTHING = 0;
const AFTER_COMMA = 1;
const AFTER_VALUE = 2;

/**
 * The form of a record, for `attributeCount` and `attributeKinds`, or `UNSOUND` where its attributes
 * can't be handed to a geometry engine: brackets close where the record ends, there is an attribute,
 * every comma stands between two values, every token is one of the format, numbers are of a size that a
 * model can have. Engines have been seen never to end on others: `#-1`, `#1E12`, `..`, `=`, `,,`.
 * @param from the opening bracket
 * @param end the byte after the semicolon
 * @source ISO 10303-21:2016, clause 6.4 (tokens).
 */
export function recordForm(bytes: Uint8Array, from: number, end: number): number {
  let count = 1;
  let depth = 0;
  let hasContent = false;
  let last = NOTHING;
  let kinds = 0;
  let isDerived = false;
  let at = from;
  while (at < end) {
    const byte = bytes[at] ?? 0;
    if (byte <= 0x20) at += 1;
    else if (byte === SLASH && bytes[at + 1] === STAR) at = commentEnd(bytes, at);
    else if (byte === COMMA) {
      if (last !== AFTER_VALUE) return UNSOUND;
      if (depth === 1) count += 1;
      last = AFTER_COMMA;
      at += 1;
    } else if (byte === OPEN) {
      if (depth === 1) kinds = withKind(kinds, count, WRITTEN.list);
      depth += 1;
      last = NOTHING;
      at += 1;
    } else if (byte === CLOSE) {
      if (last === AFTER_COMMA) return UNSOUND;
      depth -= 1;
      last = AFTER_VALUE;
      at += 1;
      if (depth > 0) continue;
      const isSound = hasContent && skipBlank(bytes, at) === end - 1;
      if (!isSound) return UNSOUND;
      return (isDerived ? 0 : kinds >>> 0) * COUNTS + Math.min(count, MOST_COUNTED);
    } else {
      if (depth === 1) {
        if (byte === STAR) isDerived = true;
        else if (byte !== DOLLAR) {
          kinds = withKind(kinds, count, byte === HASH ? WRITTEN.reference : WRITTEN.value);
        }
      }
      const isTyped = isLetter(byte);
      at = isTyped ? typedStart(bytes, at, end) : tokenEnd(bytes, at, end);
      if (at === UNSOUND || !(isTyped || endsToken(bytes[at]))) return UNSOUND;
      if (!isTyped) {
        hasContent = true;
        last = AFTER_VALUE;
      } else if (last === AFTER_COMMA) last = NOTHING;
    }
  }
  return UNSOUND;
}

/** Kinds with that of an attribute; a value of a named type keeps its kind when its bracket follows. */
function withKind(kinds: number, count: number, kind: number): number {
  const shift = 2 * (count - 1);
  return count <= KINDS_KEPT && ((kinds >>> shift) & 3) === 0 ? kinds | (kind << shift) : kinds;
}

/** The byte after a token, or `UNSOUND` for what is none. */
function tokenEnd(bytes: Uint8Array, at: number, end: number): number {
  const byte = bytes[at] ?? 0;
  switch (byte) {
    case QUOTE:
    case DOUBLE_QUOTE:
      return textEnd(bytes, at, end);
    case HASH: {
      const last = digitsEnd(bytes, at + 1);
      return last > at + 1 ? last : UNSOUND;
    }
    case DOLLAR:
    case STAR:
      return at + 1;
    case DOT:
      if (isLetter(bytes[at + 1])) {
        const dot = wordEnd(bytes, at + 1, end);
        return bytes[dot] === DOT ? dot + 1 : UNSOUND;
      }
  }
  return numberEnd(bytes, at);
}

/** A doubled quote inside a text closes and opens it again. */
function textEnd(bytes: Uint8Array, at: number, end: number): number {
  const quote = bytes[at] ?? 0;
  let from = at + 1;
  for (;;) {
    const close = bytes.indexOf(quote, from);
    if (close < 0 || close >= end) return UNSOUND;
    if (bytes[close + 1] !== quote) return close + 1;
    from = close + 2;
  }
}

/** The bracket of a typed value such as `IFCLABEL('x')`. */
function typedStart(bytes: Uint8Array, at: number, end: number): number {
  const bracket = skipBlank(bytes, wordEnd(bytes, at, end));
  return bytes[bracket] === OPEN ? bracket : UNSOUND;
}

function numberEnd(bytes: Uint8Array, from: number): number {
  const first = isSign(bytes[from]) ? from + 1 : from;
  let at = digitsEnd(bytes, first);
  let digits = at - first;
  if (bytes[at] === DOT) {
    const decimals = at + 1;
    at = digitsEnd(bytes, decimals);
    digits += at - decimals;
  }
  if (digits === 0) return UNSOUND;
  return ((bytes[at] ?? 0) | SMALL) === LETTER_E ? exponentEnd(bytes, at + 1) : at;
}

function exponentEnd(bytes: Uint8Array, from: number): number {
  const isNegative = bytes[from] === MINUS;
  const first = isSign(bytes[from]) ? from + 1 : from;
  const at = digitsEnd(bytes, first);
  let exponent = 0;
  for (let i = first; i < at && exponent < 1000; i += 1) {
    exponent = exponent * 10 + (bytes[i] ?? 0) - 0x30;
  }
  return at === first || (!isNegative && exponent > LARGEST_EXPONENT) ? UNSOUND : at;
}

function digitsEnd(bytes: Uint8Array, from: number): number {
  let at = from;
  while (isDigit(bytes[at])) at += 1;
  return at;
}

function wordEnd(bytes: Uint8Array, from: number, end: number): number {
  let at = from;
  while (at < end && (isLetter(bytes[at]) || isDigit(bytes[at]))) at += 1;
  return at;
}

/** Whether a token may end before this byte. */
function endsToken(byte: number | undefined): boolean {
  return byte !== undefined && (byte <= 0x20 || byte === COMMA || byte === CLOSE || byte === SLASH);
}

function isSign(byte: number | undefined): boolean {
  return byte === PLUS || byte === MINUS;
}

function isDigit(byte: number | undefined): boolean {
  return byte !== undefined && byte >= 0x30 && byte <= 0x39;
}

function isLetter(byte: number | undefined): boolean {
  return (
    byte !== undefined &&
    ((byte >= 0x41 && byte <= 0x5a) || (byte >= 0x61 && byte <= 0x7a) || byte === 0x5f)
  );
}

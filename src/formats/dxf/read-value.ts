/** Powers of ten that a double holds exactly. */
const TENS: readonly number[] = Array.from({ length: 23 }, (_, i) => 10 ** i);
/** Numbers of this many digits are whole doubles without rounding. */
const EXACT_DIGITS = 15;

/**
 * A decimal number in ASCII bytes; NaN for anything else: words, `nan`, a decimal comma, nothing.
 * Short numbers are put together here, which is exact: a whole number below 2⁵³ over a power of ten
 * below 10²³ is one correctly rounded division. Longer ones and exponents go through `Number`.
 */
export function readNumber(bytes: Uint8Array, start: number, end: number): number {
  let i = start;
  const first = bytes[i];
  if (first === 45 || first === 43) i += 1;
  let whole = 0;
  let digits = 0;
  let decimals = -1;
  for (; i < end; i++) {
    const byte = bytes[i] ?? 0;
    const digit = byte - 48;
    if (digit >= 0 && digit <= 9) {
      whole = whole * 10 + digit;
      if (whole > 0) digits += 1;
      if (decimals >= 0) decimals += 1;
    } else if (byte === 46 && decimals < 0) decimals = 0;
    else return longNumber(bytes, start, end);
  }
  const count = Math.max(decimals, 0);
  const hasDigit =
    end > start && (decimals > 0 || isDigit(bytes[decimals === 0 ? end - 2 : end - 1]));
  if (!hasDigit) return Number.NaN;
  const scale = TENS[count];
  if (digits > EXACT_DIGITS || scale === undefined) return longNumber(bytes, start, end);
  const value = count === 0 ? whole : whole / scale;
  return first === 45 ? -value : value;
}

const isDigit = (byte: number | undefined): boolean =>
  byte !== undefined && byte >= 48 && byte <= 57;

/** Letters that a number in exponent form has; `Number` alone would take "0x1F" and "Infinity". */
function longNumber(bytes: Uint8Array, start: number, end: number): number {
  const text = asciiText(bytes, start, end);
  return /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?$/.test(text) ? Number(text) : Number.NaN;
}

/** Bytes as text of single bytes (Latin-1). */
function asciiText(bytes: Uint8Array, start: number, end: number): string {
  let text = '';
  for (let i = start; i < end; i++) text += String.fromCharCode(bytes[i] ?? 0);
  return text;
}

/** Text in the file's encoding; plain ASCII, which most of it is, without the decoder. */
export function readText(
  bytes: Uint8Array,
  start: number,
  end: number,
  decoder: TextDecoder,
): string {
  for (let i = start; i < end; i++) {
    if ((bytes[i] ?? 0) > 126) return decoder.decode(bytes.subarray(start, end));
  }
  return asciiText(bytes, start, end);
}

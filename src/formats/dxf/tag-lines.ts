import { SealbookError } from '../../basics/errors.ts';

const LF = 10;
const CR = 13;
const SPACE = 32;
const TAB = 9;

/**
 * Walks the tags of a text DXF in its bytes: a line with a group code, a line with its value.
 * After `next()` the fields tell the code and where the value stands, without the spaces round it.
 */
export class TagLines {
  readonly bytes: Uint8Array;
  code = 0;
  /** Value without leading and trailing blanks. */
  valueStart = 0;
  valueEnd = 0;
  /** Value with its blanks, without the line's end. */
  rawStart = 0;
  rawEnd = 0;
  /** Line of the group code, from 1. */
  line = -1;
  private at: number;
  private readonly lineEnd: number;

  constructor(bytes: Uint8Array) {
    this.bytes = bytes;
    const hasBom = bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf;
    this.at = hasBom ? 3 : 0;
    // Files of old machines end their lines with CR alone.
    this.lineEnd = bytes.subarray(0, 65536).includes(LF) ? LF : CR;
  }

  /** Moves to the next tag; false at the end of the bytes. Blank lines at the end are no tags. */
  next(): boolean {
    const { bytes } = this;
    this.line += 2;
    const codeStart = this.at;
    const codeEnd = this.endOfLine();
    if (codeEnd === -1) return false;
    const code = parseCode(bytes, codeStart, codeEnd);
    if (code === null) {
      if (this.isBlankFrom(codeStart)) return false;
      throw new SealbookError(
        'input-unreadable',
        `Line ${this.line} should hold a group code and does not: the tags are out of step or this is no DXF file.`,
        { where: { line: this.line }, todo: 'Save the drawing again as DXF (text, not binary).' },
      );
    }
    this.code = code;
    this.rawStart = this.at;
    const valueEnd = this.endOfLine();
    if (valueEnd === -1) throw cutOff(this.line, 'after a group code without its value');
    this.rawEnd = valueEnd;
    let start = this.rawStart;
    let end = valueEnd;
    while (start < end && isBlank(bytes[start])) start += 1;
    while (end > start && isBlank(bytes[end - 1])) end -= 1;
    this.valueStart = start;
    this.valueEnd = end;
    return true;
  }

  /** The value as text of single bytes (Latin-1): enough for names that the format fixes. */
  asciiValue(): string {
    let text = '';
    for (let i = this.valueStart; i < this.valueEnd; i++) {
      text += String.fromCharCode(this.bytes[i] ?? 0);
    }
    return text;
  }

  /** End of the line that begins at `at`, without CR; moves `at` past it. −1 at the end of bytes. */
  private endOfLine(): number {
    const { bytes, lineEnd } = this;
    const length = bytes.length;
    if (this.at >= length) return -1;
    let end = this.at;
    while (end < length && bytes[end] !== lineEnd) end += 1;
    this.at = end + 1;
    return end > 0 && bytes[end - 1] === CR && lineEnd === LF ? end - 1 : end;
  }

  private isBlankFrom(start: number): boolean {
    for (let i = start; i < this.bytes.length; i++) {
      const byte = this.bytes[i];
      if (!isBlank(byte) && byte !== LF && byte !== CR && byte !== 0 && byte !== 0x1a) return false;
    }
    return true;
  }
}

export function cutOff(line: number, place: string): SealbookError {
  return new SealbookError('input-unreadable', `The file ends ${place}: it has been cut off.`, {
    where: { line },
    todo: 'Get the whole file again, or save the drawing again as DXF.',
  });
}

const isBlank = (byte: number | undefined): boolean => byte === SPACE || byte === TAB;

/** Whole number between blanks, or null. */
function parseCode(bytes: Uint8Array, start: number, end: number): number | null {
  let i = start;
  while (i < end && isBlank(bytes[i])) i += 1;
  const isNegative = bytes[i] === 45;
  if (isNegative) i += 1;
  let code = 0;
  let digits = 0;
  for (; i < end; i++) {
    const digit = (bytes[i] ?? 0) - 48;
    if (digit < 0 || digit > 9) break;
    code = code * 10 + digit;
    digits += 1;
  }
  while (i < end && isBlank(bytes[i])) i += 1;
  if (digits === 0 || digits > 5 || i < end) return null;
  return isNegative ? -code : code;
}

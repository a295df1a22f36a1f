import { asciiText, commentEnd } from './step-scan.ts';
import { stepText } from './step-text.ts';

/** A parameter of a record, as the file writes it. */
export type StepValue =
  /** `$` */
  | { readonly kind: 'null' }
  /** `*` */
  | { readonly kind: 'derived' }
  | { readonly kind: 'text'; readonly text: string }
  | { readonly kind: 'number'; readonly value: number }
  /** `.NAME.`; booleans and logicals are the names T, F and U. */
  | { readonly kind: 'enum'; readonly name: string }
  | { readonly kind: 'ref'; readonly id: number }
  | { readonly kind: 'list'; readonly items: readonly StepValue[] }
  /** `IFCLABEL('…')` */
  | { readonly kind: 'typed'; readonly type: string; readonly value: StepValue }
  | { readonly kind: 'binary'; readonly digits: string };

const NULL: StepValue = { kind: 'null' };
const DERIVED: StepValue = { kind: 'derived' };
const DEPTH_LIMIT = 64;

/**
 * Parameters of the record whose opening bracket is at `paramsStart`. What can't be read becomes
 * `$`; the rest of the record is still read.
 */
export function stepParameters(bytes: Uint8Array, paramsStart: number, end: number): StepValue[] {
  const reader = new ParameterReader(bytes, paramsStart + 1, end);
  return reader.list(0);
}

/**
 * Numbers of a record whose first parameter is a bare list of them, as those of points and directions
 * are: far more records are points than anything else. Null where it is written in any other way.
 */
export function stepNumbers(bytes: Uint8Array, paramsStart: number): number[] | null {
  const numbers: number[] = [];
  let at = paramsStart + 1;
  if (bytes[at] !== 40) return null;
  do {
    const start = at + 1;
    at = start;
    while (isNumberByte(bytes[at] ?? 0)) at += 1;
    const value = plainDecimal(bytes, start, at);
    if (value === null) return null;
    numbers.push(value);
  } while (bytes[at] === 44);
  return bytes[at] === 41 ? numbers : null;
}

class ParameterReader {
  readonly #bytes: Uint8Array;
  #at: number;
  readonly #end: number;

  constructor(bytes: Uint8Array, at: number, end: number) {
    this.#bytes = bytes;
    this.#at = at;
    this.#end = end;
  }

  list(depth: number): StepValue[] {
    const items: StepValue[] = [];
    while (this.#at < this.#end) {
      this.#skip();
      const byte = this.#bytes[this.#at];
      if (byte === undefined || byte === 59) break;
      if (byte === 41) {
        this.#at += 1;
        break;
      }
      if (byte === 44) {
        this.#at += 1;
        continue;
      }
      items.push(this.#value(depth));
    }
    return items;
  }

  #value(depth: number): StepValue {
    const byte = this.#bytes[this.#at] ?? 0;
    if (byte === 36) return this.#single(NULL);
    if (byte === 42) return this.#single(DERIVED);
    if (byte === 39) return this.#string();
    if (byte === 35) return this.#reference();
    if (byte === 46) return this.#enumeration();
    if (byte === 34) return { kind: 'binary', digits: this.#quoted(34) };
    if (byte === 40) {
      this.#at += 1;
      if (depth >= DEPTH_LIMIT) {
        this.#at = this.#end;
        return NULL;
      }
      return { kind: 'list', items: this.list(depth + 1) };
    }
    if ((byte >= 48 && byte <= 57) || byte === 43 || byte === 45) return this.#number();
    const name = this.#word();
    if (name === '') return this.#single(NULL);
    this.#skip();
    if (this.#bytes[this.#at] !== 40 || depth >= DEPTH_LIMIT) return NULL;
    this.#at += 1;
    const [value] = this.list(depth + 1);
    return { kind: 'typed', type: name.toUpperCase(), value: value ?? NULL };
  }

  #single(value: StepValue): StepValue {
    this.#at += 1;
    return value;
  }

  #string(): StepValue {
    return { kind: 'text', text: stepText(this.#quoted(39)) };
  }

  /** What stands between two quotes; a doubled quote is part of it. */
  #quoted(quote: number): string {
    const start = this.#at + 1;
    let i = start;
    while (i < this.#end) {
      if (this.#bytes[i] === quote) {
        if (this.#bytes[i + 1] !== quote) break;
        i += 1;
      }
      i += 1;
    }
    this.#at = i + 1;
    return decodeString(this.#bytes.subarray(start, i));
  }

  #reference(): StepValue {
    this.#at += 1;
    let id = 0;
    for (;;) {
      const byte = this.#bytes[this.#at] ?? 0;
      if (byte < 48 || byte > 57) return { kind: 'ref', id };
      id = id * 10 + byte - 48;
      this.#at += 1;
    }
  }

  #enumeration(): StepValue {
    // A dot may also start a number that some programs write without its zero.
    const next = this.#bytes[this.#at + 1] ?? 0;
    if (next >= 48 && next <= 57) return this.#number();
    this.#at += 1;
    const name = this.#word();
    if (this.#bytes[this.#at] === 46) this.#at += 1;
    return { kind: 'enum', name: name.toUpperCase() };
  }

  #number(): StepValue {
    const start = this.#at;
    while (this.#at < this.#end && isNumberByte(this.#bytes[this.#at] ?? 0)) this.#at += 1;
    const plain = plainDecimal(this.#bytes, start, this.#at);
    const value = plain ?? Number(asciiText(this.#bytes, start, this.#at));
    return Number.isNaN(value) ? NULL : { kind: 'number', value };
  }

  #word(): string {
    const start = this.#at;
    let text = '';
    for (let i = start; i < this.#end; i++) {
      const byte = this.#bytes[i] ?? 0;
      const isWord =
        (byte >= 65 && byte <= 90) ||
        (byte >= 97 && byte <= 122) ||
        (byte >= 48 && byte <= 57) ||
        byte === 95;
      if (!isWord) break;
      text += String.fromCharCode(byte);
    }
    this.#at = start + text.length;
    return text;
  }

  #skip(): void {
    for (;;) {
      const byte = this.#bytes[this.#at];
      if (byte !== undefined && byte <= 32) this.#at += 1;
      else if (byte === 47 && this.#bytes[this.#at + 1] === 42) {
        this.#at = commentEnd(this.#bytes, this.#at);
      } else return;
    }
  }
}

function isNumberByte(byte: number): boolean {
  return (
    (byte >= 48 && byte <= 57) ||
    byte === 46 ||
    byte === 43 ||
    byte === 45 ||
    byte === 69 ||
    byte === 101
  );
}

/** So many digits always make a whole number that a double holds exactly. */
const EXACT_DIGITS = 15;
const POWERS_OF_TEN = Array.from({ length: EXACT_DIGITS + 1 }, (_, n) => 10 ** n);

/**
 * Value of a short number without an exponent, else null: both the digits and the power of ten are
 * exact in a double, so that one division rounds as reading the text would.
 * @source W. D. Clinger, How to read floating point numbers accurately, 1990 (from memory)
 */
function plainDecimal(bytes: Uint8Array, start: number, end: number): number | null {
  const isNegative = bytes[start] === 45;
  let digits = 0;
  let value = 0;
  let point = -1;
  for (let at = isNegative || bytes[start] === 43 ? start + 1 : start; at < end; at += 1) {
    const digit = (bytes[at] ?? 0) - 48;
    if (digit >= 0 && digit <= 9) {
      value = value * 10 + digit;
      digits += 1;
    } else if (bytes[at] === 46 && point < 0) point = digits;
    else return null;
  }
  if (digits === 0 || digits > EXACT_DIGITS) return null;
  const size = point < 0 ? value : value / (POWERS_OF_TEN[digits - point] ?? 1);
  return isNegative ? -size : size;
}

const UTF8 = new TextDecoder('utf-8', { fatal: true });
const LATIN1 = new TextDecoder('iso-8859-1');

/** ASCII by the standard; programs also write UTF-8 or a Windows code page. */
function decodeString(bytes: Uint8Array): string {
  try {
    return UTF8.decode(bytes);
  } catch {
    return LATIN1.decode(bytes);
  }
}

/**
 * A scan over the bytes of an ISO 10303-21 file ("STEP"), record by record, without building a
 * model. Nothing is assumed of the content: a file of three lines without a project is as good as
 * any other.
 *
 * @source ISO 10303-21:2016, clause 5 (tokens) and clause 6 to 10 (structure).
 */

export interface StepLayout {
  /** Name in FILE_SCHEMA, upper case; null where there is none. */
  readonly schema: string | null;
  /** Offset of the `ENDSEC` that closes the last data section; null where it is missing. */
  readonly lastEndsec: number | null;
  readonly dataSections: number;
  /** Whether `END-ISO-10303-21;` was reached: a cut file has none. */
  readonly isComplete: boolean;
  /** Line end of the file, as its first line shows it. */
  readonly lineEnd: '\r\n' | '\n';
  readonly records: number;
  readonly highestId: number;
  /** Start and end of statements that may not stand there: records outside data sections, others in them. */
  readonly strays: readonly (readonly [number, number])[];
}

/** Told of each record: id, hash and place of its name, offset of the bracket, and after the `;`. */
export type OnStepRecord = (
  id: number,
  nameHash: number,
  nameStart: number,
  nameEnd: number,
  paramsStart: number,
  end: number,
) => void;

const QUOTE = 39;
const OPEN = 40;
const STAR = 42;
const SLASH = 47;
const SEMICOLON = 59;
const EQUALS = 61;
const HASH = 35;
const LINE_FEED = 10;

/** 1 for each byte of the set: one look a byte, where comparisons would take several. */
function byteSet(isIn: (byte: number) => boolean): Uint8Array {
  return Uint8Array.from({ length: 256 }, (_, byte) => (isIn(byte) ? 1 : 0));
}

const NAME_BYTES = byteSet((byte) => /\w/.test(String.fromCharCode(byte)));
const STOP_BYTES = byteSet((byte) => [SEMICOLON, QUOTE, SLASH].includes(byte));

/** Told of each comment between records: offset of its start, and after its end. */
export type OnStepComment = (start: number, end: number) => void;

/** Scans the whole file once. Never throws: what is missing shows in the layout. */
export function scanStep(
  bytes: Uint8Array,
  onRecord: OnStepRecord,
  onComment?: OnStepComment,
): StepLayout {
  const length = bytes.length;
  let schema: string | null = null;
  let lastEndsec: number | null = null;
  let dataSections = 0;
  let isComplete = false;
  let inData = false;
  const strays: (readonly [number, number])[] = [];
  let records = 0;
  let highestId = 0;
  let at = 0;
  while (at < length) {
    // Most records follow the last one after a single line end: the call is for the others.
    if (bytes[at] === LINE_FEED) at += 1;
    if (bytes[at] !== HASH) at = skipBlank(bytes, at, onComment);
    if (at >= length) break;
    const start = at;
    if (bytes[start] === HASH) {
      let i = start + 1;
      let id = 0;
      for (let digit = (bytes[i] ?? 0) - 48; digit >= 0 && digit <= 9; ) {
        id = id * 10 + digit;
        i += 1;
        digit = (bytes[i] ?? 0) - 48;
      }
      if (bytes[i] !== EQUALS) i = skipBlank(bytes, i);
      const isRecord = bytes[i] === EQUALS;
      if (isRecord) i += 1;
      const nameStart = isRecord && (bytes[i] ?? 0) <= SLASH ? skipBlank(bytes, i) : i;
      let nameEnd = nameStart;
      let hash = HASH_START;
      for (let byte = bytes[nameEnd] ?? 0; NAME_BYTES[byte] === 1; ) {
        hash = Math.imul(hash ^ (byte & CAPITAL), HASH_STEP);
        nameEnd += 1;
        byte = bytes[nameEnd] ?? 0;
      }
      const paramsStart = bytes[nameEnd] === OPEN ? nameEnd : skipBlank(bytes, nameEnd);
      const end = statementEnd(bytes, paramsStart);
      if (end === -1) break;
      at = end;
      if (!inData || !isRecord || bytes[paramsStart] !== OPEN) {
        strays.push([start, end]);
        continue;
      }
      records += 1;
      if (id > highestId) highestId = id;
      onRecord(id, hash, nameStart, nameEnd, paramsStart, end);
      continue;
    }
    const end = statementEnd(bytes, at);
    if (end === -1) break;
    at = end;
    const word = asciiText(bytes, start, Math.min(end, start + 20)).toUpperCase();
    const isStray = inData ? !/^(ENDSEC|END-ISO)/.test(word) : !KEYWORD.test(word);
    if (word.startsWith('ENDSEC')) {
      if (inData) lastEndsec = start;
      inData = false;
    } else if (/^DATA\s*[;(/]/.test(word)) {
      inData = true;
      dataSections += 1;
    } else if (word.startsWith('FILE_SCHEMA')) {
      schema = /'([^']*)'/.exec(asciiText(bytes, start, Math.min(end, start + 400)))?.[1] ?? null;
    } else if (word.startsWith('END-ISO-10303-21')) {
      isComplete = true;
      break;
    }
    if (isStray) strays.push([start, end]);
  }
  return {
    schema: schema?.trim().toUpperCase() ?? null,
    lastEndsec,
    dataSections,
    isComplete,
    lineEnd: firstLineEnd(bytes),
    records,
    highestId,
    strays,
  };
}

/** How statements outside data sections begin: those of the header, and names of other sections. */
const KEYWORD =
  /^(ISO-10303-21|DATA|ENDSEC|HEADER|FILE_|SCHEMA_|SECTION_|ANCHOR|REFERENCE|SIGNATURE|<)/;

/** FNV-1a, 32 bit, over bytes without the bit that tells small letters from capitals. */
const HASH_START = 0x811c9dc5;
const HASH_STEP = 0x01000193;
const CAPITAL = 0xdf;

/** Hash of bytes as `scanStep` gives it for names. */
export function hashOfBytes(bytes: Uint8Array, start: number, end: number): number {
  let hash = HASH_START;
  for (let i = start; i < end; i++) {
    hash = Math.imul(hash ^ ((bytes[i] ?? 0) & CAPITAL), HASH_STEP);
  }
  return hash;
}

/** Bytes as text, one character a byte. For names and other plain ASCII. */
export function asciiText(bytes: Uint8Array, start: number, end: number): string {
  let text = '';
  for (let i = start; i < end; i++) text += String.fromCharCode(bytes[i] ?? 0);
  return text;
}

/** Offset after the semicolon that ends the statement, or -1 where the file ends first. */
function statementEnd(bytes: Uint8Array, from: number): number {
  const length = bytes.length;
  let i = from;
  for (;;) {
    while (i < length && STOP_BYTES[bytes[i] ?? 0] === 0) i += 1;
    if (i >= length) return -1;
    const byte = bytes[i];
    if (byte === SEMICOLON) return i + 1;
    if (byte === QUOTE) {
      // A doubled quote inside a string closes and opens it again, which comes to the same here.
      i += 1;
      while (i < length && bytes[i] !== QUOTE) i += 1;
      if (i >= length) return -1;
      i += 1;
    } else i = bytes[i + 1] === STAR ? commentEnd(bytes, i) : i + 1;
  }
}

/** Past white space and comments. */
export function skipBlank(bytes: Uint8Array, from: number, onComment?: OnStepComment): number {
  const length = bytes.length;
  let i = from;
  while (i < length) {
    const byte = bytes[i] ?? 0;
    if (byte <= 32) i += 1;
    else if (byte === SLASH && bytes[i + 1] === STAR) {
      const end = commentEnd(bytes, i);
      onComment?.(i, end);
      i = end;
    }
    // A byte order mark at the very start.
    else if (i === 0 && byte === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf) i = 3;
    else return i;
  }
  return i;
}

/** Offset after the comment that starts at `from`; the file's end where it is not closed. */
export function commentEnd(bytes: Uint8Array, from: number): number {
  let i = from + 2;
  for (;;) {
    const star = bytes.indexOf(STAR, i);
    if (star === -1) return bytes.length;
    if (bytes[star + 1] === SLASH) return star + 2;
    i = star + 1;
  }
}

function firstLineEnd(bytes: Uint8Array): '\r\n' | '\n' {
  const feed = bytes.indexOf(10);
  return feed > 0 && bytes[feed - 1] === 13 ? '\r\n' : '\n';
}

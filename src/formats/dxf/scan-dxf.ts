import { SealbookError } from '../../basics/errors.ts';
import { ENTITY_READERS, PART_TYPES } from './entity-readers.ts';
import type { EntityTags } from './entity-tags.ts';
import { readNumber, readText } from './read-value.ts';
import { cutOff, TagLines } from './tag-lines.ts';

/**
 * The scan over the tags: counts every record by type and layer, and hands on those that some
 * reader takes, with the values that readers look at (no comments, extended data, pictures of
 * proxies). Whatever else a record holds is passed over, so that nothing odd in it can do harm.
 */

/** Raw records of one type on one layer. */
export interface RawCount {
  readonly type: string;
  readonly layer: string;
  readonly where: 'entities' | 'blocks';
  found: number;
  /** Left out because a value in them is no number. */
  broken: number;
}

export interface ScanResult {
  readonly counts: readonly RawCount[];
  readonly remarks: readonly string[];
}

export type RecordPlace = 'entities' | 'blocks' | 'tables';

export interface ScanOptions {
  /** Largest number of records in the ENTITIES and BLOCKS sections. */
  readonly maxRecords: number;
  readonly decoder: TextDecoder;
  /** Takes each record in file order. Its lists are used again for the next one. */
  readonly onRecord: (tags: EntityTags, where: RecordPlace) => void;
  /** Told now and then how many bytes have been scanned. */
  readonly onBytes?: (done: number) => void;
}

/** Flag that marks, in code 70, a VERTEX whose place could not be read. */
export const BROKEN_VERTEX = 32768;

const NO_TYPE = 'NO TYPE';
const RECORDS_PER_REPORT = 10_000;

/** @throws SealbookError `input-unreadable` (cut off, out of step), `input-too-large` */
export function scanDxf(bytes: Uint8Array, options: ScanOptions): ScanResult {
  return new Scan(bytes, options).run();
}

class Scan {
  private readonly lines: TagLines;
  private readonly options: ScanOptions;
  private readonly counts: RawCount[] = [];
  private readonly countsIn = {
    entities: new Map<string, Map<string, RawCount>>(),
    blocks: new Map<string, Map<string, RawCount>>(),
  };
  private readonly names = new Map<string, string>();
  private readonly remarks: string[] = [];
  private readonly handles = new Set<string>();
  /** Handles that are plain numbers, as nearly all are: a set of numbers is quicker. */
  private readonly handleNumbers = new Set<number>();
  private records = 0;
  private brokenRecords = 0;
  private section: string | null = null;
  private table: string | null = null;
  private hasEntities = false;
  private isAtEnd = false;

  // The record being read.
  private type = '';
  private layer = '0';
  private handle = '';
  private isKept = false;
  private isBroken = false;
  private isPastEnd = false;
  private readonly codes: number[] = [];
  private readonly values: (string | number)[] = [];

  constructor(bytes: Uint8Array, options: ScanOptions) {
    this.lines = new TagLines(bytes);
    this.options = options;
  }

  run(): ScanResult {
    const { lines } = this;
    while (!this.isAtEnd && lines.next()) {
      if (lines.code === 0) this.newRecord(this.name(lines.asciiValue().toUpperCase()));
      else this.tag();
    }
    this.endRecord();
    if (this.section !== null) throw cutOff(lines.line, `inside its ${this.section} section`);
    if (!this.hasEntities) {
      throw new SealbookError('input-unreadable', 'The file has no ENTITIES section.', {
        todo: 'Save the whole drawing as DXF, not a part of it.',
      });
    }
    if (!this.isAtEnd) this.remarks.push('The file has no end mark; all its sections are closed.');
    if (this.brokenRecords > 0) {
      this.remarks.push(
        `${this.brokenRecords} records hold something that is no number where one belongs; they were left out.`,
      );
    }
    return { counts: this.counts, remarks: this.remarks };
  }

  private newRecord(type: string): void {
    this.endRecord();
    this.type = '';
    switch (type) {
      case 'SECTION':
        this.section = '';
        return;
      case 'ENDSEC':
        this.section = null;
        return;
      case 'EOF':
        this.isAtEnd = true;
        return;
      case 'TABLE':
        this.table = '';
        return;
      case 'ENDTAB':
        this.table = null;
        return;
    }
    this.startRecord(type);
  }

  private startRecord(type: string): void {
    const where = this.where();
    if (where === null) return;
    // A record without a type is content all the same, and counted.
    this.type = type === '' ? NO_TYPE : type;
    this.layer = '0';
    this.handle = '';
    this.isBroken = false;
    this.isPastEnd = false;
    this.isKept = isReadIn(where, type, this.table);
    this.codes.length = 0;
    this.values.length = 0;
    if (where === 'tables') return;
    this.records += 1;
    if (this.records % RECORDS_PER_REPORT === 0) this.options.onBytes?.(this.lines.rawEnd);
    if (this.records > this.options.maxRecords) {
      throw new SealbookError(
        'input-too-large',
        `The drawing holds more than ${this.options.maxRecords} records.`,
        { todo: 'Raise limits.entities in the project file, or give a smaller drawing.' },
      );
    }
  }

  private where(): RecordPlace | null {
    if (this.section === 'ENTITIES') return 'entities';
    if (this.section === 'BLOCKS') return 'blocks';
    return this.section === 'TABLES' ? 'tables' : null;
  }

  private tag(): void {
    const { lines } = this;
    const { code } = lines;
    if (code === 2 && this.section === '') {
      this.section = lines.asciiValue().toUpperCase();
      if (this.section === 'ENTITIES') this.hasEntities = true;
    } else if (code === 2 && this.table === '') this.table = lines.asciiValue().toUpperCase();
    if (this.type === '' || this.isPastEnd) return;
    // An embedded object repeats codes of the entity with other meanings.
    if (code === 101) this.isPastEnd = true;
    else if (code === 5) this.handle = lines.asciiValue();
    else if (code === 8) {
      this.layer = this.name(this.text(lines.valueStart, lines.valueEnd));
      if (this.isKept) this.keep(code, this.layer);
    } else if (this.isKept) this.keepValue(code);
  }

  private keepValue(code: number): void {
    const { lines } = this;
    if (isNumeric(code)) {
      const value = readNumber(lines.bytes, lines.valueStart, lines.valueEnd);
      if (!Number.isFinite(value)) this.isBroken = true;
      this.keep(code, value);
    } else if (code === 1 || code === 3) {
      // Spaces at the ends count: long texts are cut into pieces anywhere.
      this.keep(code, this.text(lines.rawStart, lines.rawEnd));
    } else if (isWord(code)) {
      const word = this.text(lines.valueStart, lines.valueEnd);
      this.keep(code, code === 6 ? this.name(word) : word);
    }
  }

  private keep(code: number, value: string | number): void {
    this.codes.push(code);
    this.values.push(value);
  }

  private text(start: number, end: number): string {
    return readText(this.lines.bytes, start, end, this.options.decoder);
  }

  /** One string for each name, however often it stands in the file. */
  private name(text: string): string {
    const known = this.names.get(text);
    if (known !== undefined) return known;
    this.names.set(text, text);
    return text;
  }

  private endRecord(): void {
    if (this.type === '') return;
    const where = this.where();
    if (where === null) return;
    if (where !== 'tables') this.count(where);
    if (!this.isKept) return;
    if (this.isBroken && !this.markBroken()) return;
    this.keep(5, this.ownHandle());
    this.options.onRecord({ type: this.type, codes: this.codes, values: this.values }, where);
  }

  /** Drops a record; a vertex stays as a mark, lest its polyline close up over the missing corner. */
  private markBroken(): boolean {
    this.brokenRecords += 1;
    if (this.type !== 'VERTEX') return false;
    this.codes.length = 0;
    this.values.length = 0;
    this.keep(70, BROKEN_VERTEX);
    return true;
  }

  /** The handle if the file gives one that is its own, else one made from the record's content. */
  private ownHandle(): string {
    const given = this.handle;
    if (given !== '' && this.isNew(given)) return given;
    const base = given === '' ? `n${this.contentHash()}` : `${given}~${this.contentHash()}`;
    let own = base;
    // Same content twice: counted.
    for (let copy = 2; !this.isNew(own); copy++) own = `${base}~${copy}`;
    return own;
  }

  private isNew(handle: string): boolean {
    const number = hexNumber(handle);
    if (number === null) {
      if (this.handles.has(handle)) return false;
      this.handles.add(handle);
      return true;
    }
    const before = this.handleNumbers.size;
    this.handleNumbers.add(number);
    return this.handleNumbers.size > before;
  }

  /** FNV-1a, 32 bits, of type, codes and values. */
  private contentHash(): string {
    let hash = 0x811c9dc5;
    const content = `${this.type}\n${this.codes.join()}\n${this.values.join('\n')}`;
    for (let i = 0; i < content.length; i++) {
      hash = Math.imul(hash ^ content.charCodeAt(i), 0x01000193);
    }
    return (hash >>> 0).toString(16).padStart(8, '0');
  }

  private count(where: 'entities' | 'blocks'): void {
    if (this.type === 'BLOCK' || this.type === 'ENDBLK') return;
    const count = this.countOf(where);
    count.found += 1;
    if (this.isKept && this.isBroken) count.broken += 1;
  }

  private countOf(where: 'entities' | 'blocks'): RawCount {
    const ofPlace = this.countsIn[where];
    let ofType = ofPlace.get(this.type);
    if (ofType === undefined) {
      ofType = new Map();
      ofPlace.set(this.type, ofType);
    }
    let count = ofType.get(this.layer);
    if (count === undefined) {
      count = { type: this.type, layer: this.layer, where, found: 0, broken: 0 };
      ofType.set(this.layer, count);
      this.counts.push(count);
    }
    return count;
  }
}

const LONGEST_HEX = 12;

/** A handle as a number; null for one that is no plain hexadecimal number in capitals. */
function hexNumber(handle: string): number | null {
  if (handle.length > LONGEST_HEX || handle.startsWith('0')) return null;
  let number = 0;
  for (let i = 0; i < handle.length; i++) {
    const char = handle.charCodeAt(i);
    const digit = char >= 48 && char <= 57 ? char - 48 : char >= 65 && char <= 70 ? char - 55 : -1;
    if (digit < 0) return null;
    number = number * 16 + digit;
  }
  return number;
}

function isReadIn(where: RecordPlace, type: string, table: string | null): boolean {
  if (where === 'tables') return type === 'LAYER' && table === 'LAYER';
  if (type === 'LAYER') return false;
  if (where === 'entities' && (type === 'BLOCK' || type === 'ENDBLK')) return false;
  return PART_TYPES.has(type) || ENTITY_READERS.has(type);
}

/** Codes of numbers that some reader looks at. */
function isNumeric(code: number): boolean {
  if (code >= 10 && code <= 99) return true;
  return code === 210 || code === 220 || code === 230 || code === 370 || code === 420;
}

/** Codes of words that some reader looks at: names, handles, marks of nested lists. */
function isWord(code: number): boolean {
  return code === 2 || code === 6 || code === 340 || (code >= 302 && code <= 305);
}

import { SealbookError } from '../../basics/errors.ts';
import { ByteBuffer } from './byte-buffer.ts';
import { KEPT_SPACE, READ_TYPES } from './parse-chunk.ts';
import { cutOff, TagLines } from './tag-lines.ts';

/**
 * The scan over the raw tags: counts every record by type and layer, and hands on, in pieces, the
 * records that can be read, stripped of what nobody needs (comments, extended data, pictures of
 * proxies) and of everything that loops or throws the parser behind it.
 */

/** Raw records of one type on one layer. Layers as undecoded bytes (Latin-1 text). */
export interface RawCount {
  readonly type: string;
  readonly rawLayer: string;
  readonly where: 'entities' | 'blocks';
  found: number;
  broken: number;
}

export interface ScanResult {
  readonly counts: readonly RawCount[];
  readonly remarks: readonly string[];
}

export interface ScanOptions {
  /** Largest number of records in the ENTITIES and BLOCKS sections. */
  readonly maxRecords: number;
  /**
   * Takes whole records in file order; `where` is the section they come from, `done` the number of
   * bytes scanned so far.
   */
  readonly onRecords: (
    records: Uint8Array,
    where: 'entities' | 'blocks' | 'tables',
    done: number,
  ) => void;
}

/** Flag that marks, in code 70, a VERTEX whose place could not be read. */
export const BROKEN_VERTEX = 32768;

/**
 * Bytes of records handed on at a time. Small pieces keep the parser's memory small; below about
 * a quarter of a megabyte the cost a piece shows.
 */
const PIECE_BYTES = 1 << 19;

type Where = 'entities' | 'blocks' | 'tables';

/** @throws SealbookError `input-unreadable` (cut off, out of step), `input-too-large` */
export function scanDxf(bytes: Uint8Array, options: ScanOptions): ScanResult {
  return new Scan(bytes, options).run();
}

class Scan {
  private readonly lines: TagLines;
  private readonly options: ScanOptions;
  private readonly out = new ByteBuffer(PIECE_BYTES * 2);
  private readonly counts = new Map<string, RawCount>();
  private readonly remarks: string[] = [];
  private readonly handles = new Set<string>();
  private records = 0;
  private brokenNumbers = 0;
  private section: string | null = null;
  private table: string | null = null;
  private hasEntities = false;
  private isAtEnd = false;

  // The record being read.
  private type = '';
  private layer = '0';
  private handle = '';
  private start = 0;
  private isCopied = false;
  private isBroken = false;
  private isPastEnd = false;

  constructor(bytes: Uint8Array, options: ScanOptions) {
    this.lines = new TagLines(bytes);
    this.options = options;
  }

  run(): ScanResult {
    const { lines } = this;
    while (!this.isAtEnd && lines.next()) {
      if (lines.code === 0) this.newRecord(lines.asciiValue().toUpperCase());
      else this.tag();
    }
    this.endRecord();
    this.handOn();
    if (this.section !== null) throw cutOff(lines.line, `inside its ${this.section} section`);
    if (!this.hasEntities) {
      throw new SealbookError('input-unreadable', 'The file has no ENTITIES section.', {
        todo: 'Save the whole drawing as DXF, not a part of it.',
      });
    }
    if (!this.isAtEnd) this.remarks.push('The file has no end mark; all its sections are closed.');
    if (this.brokenNumbers > 0) {
      this.remarks.push(
        `${this.brokenNumbers} records hold something that is no number where one belongs; they were left out.`,
      );
    }
    return { counts: [...this.counts.values()], remarks: this.remarks };
  }

  private newRecord(type: string): void {
    this.endRecord();
    this.type = '';
    switch (type) {
      case 'SECTION':
        this.handOn();
        this.section = '';
        return;
      case 'ENDSEC':
        this.handOn();
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
    this.type = type;
    this.layer = '0';
    this.handle = '';
    this.isBroken = false;
    this.isPastEnd = false;
    this.isCopied = isReadIn(where, type, this.table);
    this.start = this.out.length;
    if (this.isCopied) this.out.addTag(0, type);
    if (where !== 'tables') this.records += 1;
    if (this.records > this.options.maxRecords) {
      throw new SealbookError(
        'input-too-large',
        `The drawing holds more than ${this.options.maxRecords} records.`,
        { todo: 'Raise limits.entities in the project file, or give a smaller drawing.' },
      );
    }
  }

  private where(): Where | null {
    if (this.section === 'ENTITIES') return 'entities';
    if (this.section === 'BLOCKS') return 'blocks';
    return this.section === 'TABLES' ? 'tables' : null;
  }

  private tag(): void {
    const { lines } = this;
    const { code } = lines;
    if (code === 2 && this.section === '') this.section = lines.asciiValue().toUpperCase();
    else if (code === 2 && this.table === '') this.table = lines.asciiValue().toUpperCase();
    if (this.section === 'ENTITIES') this.hasEntities = true;
    if (this.type === '' || this.isPastEnd) return;
    // An embedded object repeats codes of the entity with other meanings.
    if (code === 101) this.isPastEnd = true;
    else if (code === 5 || (code === 105 && this.handle === '')) this.handle = lines.asciiValue();
    else if (code === 8) this.layer = lines.asciiValue();
    if (this.isCopied) this.copyTag(code);
  }

  private copyTag(code: number): void {
    // The handle is written at the record's end, when it is known to be there and to be its own.
    if (code === 5 || !isNeeded(code)) return;
    const { lines, out } = this;
    if (isNumeric(code)) {
      if (!isNumber(lines.bytes, lines.valueStart, lines.valueEnd)) this.isBroken = true;
      out.addCode(code);
      out.addBytes(lines.bytes, lines.valueStart, lines.valueEnd);
    } else if (code === 1 || code === 3) {
      out.addCode(code);
      out.addText(lines.bytes, lines.rawStart, lines.rawEnd, KEPT_SPACE);
    } else {
      out.addCode(code);
      out.addText(lines.bytes, lines.valueStart, lines.valueEnd, KEPT_SPACE);
    }
    out.endLine();
  }

  private endRecord(): void {
    if (this.type === '') return;
    const where = this.where();
    if (where === 'entities' || where === 'blocks') this.count(where);
    if (!this.isCopied || where === null) return;
    if (this.isBroken) this.dropRecord();
    else this.out.addTag(5, this.ownHandle());
    if (this.out.length >= PIECE_BYTES) this.handOn();
  }

  private dropRecord(): void {
    this.brokenNumbers += 1;
    this.out.cutTo(this.start);
    // Its polyline must not close up over the missing corner.
    if (this.type !== 'VERTEX') return;
    this.out.addTag(0, 'VERTEX');
    this.out.addTag(70, String(BROKEN_VERTEX));
  }

  /** The handle if the file gives one that is its own, else one made from the record's content. */
  private ownHandle(): string {
    const wanted = this.handle === '' ? `n${this.contentHash()}` : this.handle.toUpperCase();
    let own = wanted;
    if (this.handles.has(own) && this.handle !== '') own = `${wanted}~${this.contentHash()}`;
    // Same content twice: counted.
    const base = own;
    for (let copy = 2; this.handles.has(own); copy++) own = `${base}~${copy}`;
    this.handles.add(own);
    return own;
  }

  private contentHash(): string {
    return this.out.hashFrom(this.start).toString(16).padStart(8, '0');
  }

  private count(where: 'entities' | 'blocks'): void {
    if (this.type === 'BLOCK' || this.type === 'ENDBLK') return;
    const key = `${where}\n${this.type}\n${this.layer}`;
    let count = this.counts.get(key);
    if (count === undefined) {
      count = { type: this.type, rawLayer: this.layer, where, found: 0, broken: 0 };
      this.counts.set(key, count);
    }
    count.found += 1;
    if (this.isCopied && this.isBroken) count.broken += 1;
  }

  private handOn(): void {
    const where = this.where();
    if (this.out.length === 0 || where === null) return;
    this.options.onRecords(this.out.bytes(), where, this.lines.rawEnd);
    this.out.cutTo(0);
  }
}

function isReadIn(where: Where, type: string, table: string | null): boolean {
  if (where === 'tables') return type === 'LAYER' && table === 'LAYER';
  if (type === 'LAYER') return false;
  if (where === 'entities' && (type === 'BLOCK' || type === 'ENDBLK')) return false;
  return READ_TYPES.has(type);
}

/** Codes that some handler reads. Whatever else a record holds never reaches the parser. */
function isNeeded(code: number): boolean {
  if (code >= 10 && code <= 99) return true;
  switch (code) {
    case 1:
    case 2:
    case 3:
    case 6:
    case 8:
    case 210:
    case 220:
    case 230:
    case 302:
    case 303:
    case 304:
    case 305:
    case 340:
    case 370:
    case 420:
      return true;
    default:
      return false;
  }
}

const isNumeric = (code: number): boolean =>
  (code >= 10 && code <= 99) ||
  code === 210 ||
  code === 220 ||
  code === 230 ||
  code === 370 ||
  code === 420;

/** Digits, sign, point and exponent only: `nan`, `1,5` and words are no numbers. */
function isNumber(bytes: Uint8Array, start: number, end: number): boolean {
  let digits = 0;
  for (let i = start; i < end; i++) {
    const byte = bytes[i] ?? 0;
    if (byte >= 48 && byte <= 57) digits += 1;
    else if (byte !== 45 && byte !== 46 && byte !== 43 && byte !== 69 && byte !== 101) return false;
  }
  return digits > 0;
}

import { SealbookError } from '../../basics/errors.ts';
import { readHeader } from './read-header.ts';
import { TagLines } from './tag-lines.ts';

/** Where a text DXF can be added to, and what its records look like. Offsets are into its bytes. */
export interface PatchLayout {
  /** `AC1009` (R12) and so on. */
  readonly version: string;
  readonly lineEnd: string;
  /** Offset of the tag that ends each part: what is added goes before it. */
  readonly layersEnd: number;
  readonly blockRecordsEnd: number | null;
  readonly blocksEnd: number | null;
  /** Offset of the section's own start: where a missing BLOCKS section belongs. */
  readonly entitiesStart: number;
  readonly entitiesEnd: number;
  /** Value of `$HANDSEED`; null where the file has none. */
  readonly handseed: { readonly start: number; readonly end: number; readonly text: string } | null;
  /** First handle that is surely free. */
  readonly nextHandle: number;
  /** Whether entities carry handles (always from R13 on). */
  readonly hasHandles: boolean;
  /** Whether records carry subclass marks (code 100): never in R12, nor in what is written like it. */
  readonly hasSubclasses: boolean;
  /** Whether records name their owner (code 330). */
  readonly hasOwners: boolean;
  /** Handles of owners; null where the file has none. */
  readonly layerTable: string | null;
  readonly blockRecordTable: string | null;
  readonly modelSpace: string | null;
  /** Tags of layer 0 that a new layer takes over: lineweight, plot style and material. */
  readonly layerExtras: readonly (readonly [number, string])[];
  /** Names in upper case. */
  readonly layerNames: ReadonlySet<string>;
  readonly blockNames: ReadonlySet<string>;
  /** Comments (code 999) with the offset of their tag, and after it. */
  readonly comments: readonly PatchComment[];
}

export interface PatchComment {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

const HANDLE = /^[0-9A-Fa-f]{1,12}$/;

const LAYER_EXTRA_CODES: ReadonlySet<number> = new Set([370, 390, 347, 348]);

/**
 * One scan over the tags of a drawing.
 *
 * @throws SealbookError `input-unreadable` for what is no whole text DXF.
 */
export function patchLayout(bytes: Uint8Array): PatchLayout {
  const header = readHeader(bytes);
  const scan = new LayoutScan(bytes);
  scan.run();
  return scan.layout(header.version ?? 'AC1009');
}

/** Comments and the count of handles of any text DXF, whole or not. */
export function patchRemarks(bytes: Uint8Array): Pick<PatchLayout, 'comments' | 'handseed'> {
  readHeader(bytes);
  const scan = new LayoutScan(bytes);
  scan.run();
  return scan.remarks();
}

interface RecordInside {
  readonly type: string;
  name: string;
  handle: string;
  owner: string | null;
  /** Inside a `{…}` group, whose 330 and 360 are no owners. */
  isGrouped: boolean;
  extras: [number, string][];
}

interface TableInside {
  name: string;
  handle: string | null;
  /** Before the table's first record. */
  isHead: boolean;
}

class LayoutScan {
  readonly #lines: TagLines;
  readonly #bytes: Uint8Array;
  #section: string | null = null;
  #table: TableInside | null = null;
  #record: RecordInside | null = null;
  #variable: string | null = null;
  #highest = 0;
  #entityHandles = false;
  #owners = false;
  #subclasses = false;
  #handseed: PatchLayout['handseed'] = null;
  #layersEnd: number | null = null;
  #blockRecordsEnd: number | null = null;
  #blocksEnd: number | null = null;
  #sectionStart = 0;
  #entitiesStart: number | null = null;
  #entitiesEnd: number | null = null;
  #hasEof = false;
  #layerTable: string | null = null;
  #blockRecordTable: string | null = null;
  #modelSpace: string | null = null;
  #layerExtras: [number, string][] = [];
  readonly #layerNames = new Set<string>();
  readonly #blockNames = new Set<string>();
  readonly #comments: PatchComment[] = [];

  constructor(bytes: Uint8Array) {
    this.#bytes = bytes;
    this.#lines = new TagLines(bytes);
  }

  run(): void {
    const lines = this.#lines;
    const hasMark = this.#bytes[0] === 0xef && this.#bytes[1] === 0xbb;
    let start = hasMark ? 3 : 0;
    while (lines.next()) {
      const next = afterLine(this.#bytes, lines.rawEnd);
      const { code } = lines;
      if (code === 999) {
        this.#comments.push({ start, end: next, text: lines.asciiValue() });
      } else if (code === 0) {
        this.#newRecord(lines.asciiValue().toUpperCase(), start);
        if (this.#hasEof) break;
      } else this.#tag(code);
      start = next;
    }
    this.#endRecord();
  }

  remarks(): Pick<PatchLayout, 'comments' | 'handseed'> {
    return { comments: this.#comments, handseed: this.#handseed };
  }

  layout(version: string): PatchLayout {
    if (this.#layersEnd === null) {
      throw unsafe('it has no layer table: it is a fragment, not a whole drawing');
    }
    if (this.#entitiesStart === null || this.#entitiesEnd === null || !this.#hasEof)
      throw unsafe('its end is missing');
    // Some programs write the plain records of R12 under a later version's name.
    const isPlain = version < 'AC1012' || !this.#subclasses;
    if (this.#blockRecordsEnd !== null && this.#modelSpace === null && !isPlain) {
      throw unsafe('it has no record of its model space');
    }
    const seed = this.#handseed === null ? 0 : Number.parseInt(this.#handseed.text, 16) || 0;
    return {
      version,
      lineEnd: this.#lineEnd(),
      layersEnd: this.#layersEnd,
      blockRecordsEnd: isPlain ? null : this.#blockRecordsEnd,
      blocksEnd: this.#blocksEnd,
      entitiesStart: this.#entitiesStart,
      entitiesEnd: this.#entitiesEnd,
      handseed: this.#handseed,
      nextHandle: Math.max(seed, this.#highest + 1),
      hasHandles: !isPlain || this.#entityHandles,
      hasSubclasses: !isPlain,
      hasOwners: !isPlain && this.#owners,
      layerTable: this.#layerTable,
      blockRecordTable: this.#blockRecordTable,
      modelSpace: this.#modelSpace,
      layerExtras: this.#layerExtras,
      layerNames: this.#layerNames,
      blockNames: this.#blockNames,
      comments: this.#comments,
    };
  }

  #newRecord(type: string, start: number): void {
    this.#endRecord();
    switch (type) {
      case 'SECTION':
        this.#section = '';
        this.#sectionStart = start;
        return;
      case 'ENDSEC':
        if (this.#section === 'BLOCKS') this.#blocksEnd = start;
        if (this.#section === 'ENTITIES') this.#entitiesEnd = start;
        this.#section = null;
        return;
      case 'TABLE':
        this.#table = { name: '', handle: null, isHead: true };
        return;
      case 'ENDTAB':
        if (this.#table?.name === 'LAYER') this.#layersEnd = start;
        if (this.#table?.name === 'BLOCK_RECORD') this.#blockRecordsEnd = start;
        this.#table = null;
        return;
      case 'EOF':
        this.#hasEof = true;
        return;
    }
    if (this.#table !== null) this.#table.isHead = false;
    this.#record = { type, name: '', handle: '', owner: null, isGrouped: false, extras: [] };
  }

  #tag(code: number): void {
    const value = () => this.#lines.asciiValue();
    if (code === 2 && this.#section === '') {
      this.#section = value().toUpperCase();
      if (this.#section === 'ENTITIES') this.#entitiesStart = this.#sectionStart;
    } else if (this.#section === 'HEADER') this.#headerTag(code);
    else if (this.#table?.isHead === true) this.#tableTag(this.#table, code);
    else if (this.#record !== null) this.#recordTag(this.#record, code);
  }

  #headerTag(code: number): void {
    if (code === 9) this.#variable = this.#lines.asciiValue();
    else if (this.#variable === '$HANDSEED' && this.#handseed === null) {
      const { valueStart, valueEnd } = this.#lines;
      this.#handseed = { start: valueStart, end: valueEnd, text: this.#lines.asciiValue() };
    }
  }

  #tableTag(table: TableInside, code: number): void {
    const value = this.#lines.asciiValue();
    if (code === 2 && table.name === '') table.name = value.toUpperCase();
    else if (code === 5) {
      table.handle = value;
      this.#noteHandle(value);
    }
    if (table.name === 'LAYER') this.#layerTable = table.handle;
    if (table.name === 'BLOCK_RECORD') this.#blockRecordTable = table.handle;
  }

  #recordTag(record: RecordInside, code: number): void {
    const value = () => this.#lines.asciiValue();
    if (code === 102) record.isGrouped = value().startsWith('{');
    // In a table of drawing order code 5 refers to a handle; it is none of its own.
    else if (code === 5 && record.handle === '' && record.type !== 'DIMSTYLE') {
      record.handle = value();
      this.#noteHandle(record.handle);
    } else if (code === 105) this.#noteHandle(value());
    else if (code === 330 && !record.isGrouped && record.owner === null) record.owner = value();
    else if (code === 2 && record.name === '') record.name = value();
    else if (code === 100) this.#subclasses = true;
    else if (LAYER_EXTRA_CODES.has(code)) record.extras.push([code, value()]);
  }

  #endRecord(): void {
    const record = this.#record;
    this.#record = null;
    if (record === null) return;
    if (record.owner !== null) this.#owners = true;
    if (this.#section === 'ENTITIES' && HANDLE.test(record.handle)) this.#entityHandles = true;
    const name = record.name.toUpperCase();
    if (this.#table?.name === 'LAYER') {
      this.#layerNames.add(name);
      if (name === '0') this.#layerExtras = record.extras;
    }
    if (this.#table?.name === 'BLOCK_RECORD' && name === '*MODEL_SPACE') {
      this.#modelSpace = record.handle;
    }
    if (this.#section === 'BLOCKS' && record.type === 'BLOCK') this.#blockNames.add(name);
  }

  #noteHandle(text: string): void {
    if (!HANDLE.test(text)) return;
    this.#highest = Math.max(this.#highest, Number.parseInt(text, 16));
  }

  #lineEnd(): string {
    const feed = this.#bytes.indexOf(10);
    if (feed === -1) return '\r';
    return feed > 0 && this.#bytes[feed - 1] === 13 ? '\r\n' : '\n';
  }
}

function afterLine(bytes: Uint8Array, end: number): number {
  if (bytes[end] === 13) return bytes[end + 1] === 10 ? end + 2 : end + 1;
  return bytes[end] === 10 ? end + 1 : end;
}

function unsafe(reason: string): SealbookError {
  return new SealbookError('input-unreadable', `The drawing can't be tagged: ${reason}.`, {
    todo: 'Save the whole drawing again as DXF (text), R12 or newer.',
  });
}

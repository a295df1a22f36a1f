import type { BytePatch } from '../shared/byte-patch.ts';
import { type BlockMarks, BlockWatch } from './step-block.ts';
import {
  asciiText,
  hashOfBytes,
  type OnStepRecord,
  type StepLayout,
  scanStep,
  skipBlank,
} from './step-scan.ts';
import { type StepValue, stepParameters } from './step-values.ts';

/** A record with its parameters, read when asked for. */
export interface StepRecord {
  readonly id: number;
  /** Class in upper case; empty for a complex instance. */
  readonly type: string;
  readonly values: readonly StepValue[];
}

/**
 * A record's parameters without the `*` that stand for derived attributes, in the order of its
 * class's attributes.
 */
export function storedValues({ values }: StepRecord): readonly StepValue[] {
  return values.some(({ kind }) => kind === 'derived')
    ? values.filter(({ kind }) => kind !== 'derived')
    : values;
}

/** What to keep of a file; all records where nothing is said. Classes in upper case. */
export type StepSelection =
  | {
      readonly classes: ReadonlySet<string>;
      /** Records with one of these GlobalIds are kept too, whatever their class. */
      readonly globalIds: ReadonlySet<string>;
    }
  /** All but these classes. */
  | { readonly except: ReadonlySet<string> };

export interface StepFileOptions {
  /** Records between these comments are passed over. */
  readonly marks?: BlockMarks;
  /** Records to pass over, by the offset of their bracket. */
  readonly skip?: ReadonlySet<number>;
  /** Told of every record that is not passed over, selected or not; perhaps twice of the same. */
  readonly onRecord?: OnStepRecord;
}

/**
 * Records of a file, found by id or class. Records are kept as offsets into the bytes; their
 * parameters are read on demand and kept. With a selection a large file costs no more memory than
 * what is selected.
 */
export class StepFile {
  readonly layout: StepLayout;
  /** Patches that take out the blocks that were passed over. */
  readonly blocks: readonly BytePatch[];
  readonly #bytes: Uint8Array;
  readonly #spans = new Map<number, { type: string; paramsStart: number; end: number }>();
  readonly #byType = new Map<string, number[]>();
  readonly #byGlobalId = new Map<string, number[]>();
  readonly #read = new Map<number, StepRecord>();
  #highestId = 0;

  constructor(bytes: Uint8Array, selection?: StepSelection, options: StepFileOptions = {}) {
    this.#bytes = bytes;
    const kept = selection === undefined ? null : new SelectedRecords(bytes, selection);
    const { marks } = options;
    const watch = marks === undefined ? null : new BlockWatch(bytes, marks);
    this.layout = this.#scan(kept, watch, options);
    this.blocks = watch?.removals ?? [];
    if (marks === undefined || watch?.isInside !== true) return;
    // A block without an end hid what came after it: once more, now that this is known.
    this.#spans.clear();
    this.#byType.clear();
    this.#byGlobalId.clear();
    const closed = new Set(watch.removals.map(({ at }) => at));
    this.#scan(kept, new BlockWatch(bytes, marks, closed), options);
  }

  /** Highest number of the records that were not passed over. */
  get highestId(): number {
    return this.#highestId;
  }

  #scan(
    kept: SelectedRecords | null,
    watch: BlockWatch | null,
    { skip, onRecord }: StepFileOptions,
  ): StepLayout {
    const bytes = this.#bytes;
    const onEach: OnStepRecord = (id, hash, nameStart, nameEnd, paramsStart, end) => {
      if (watch?.isInside === true || skip?.has(paramsStart) === true) return;
      if (id > this.#highestId) this.#highestId = id;
      onRecord?.(id, hash, nameStart, nameEnd, paramsStart, end);
      const globalId = kept?.globalId(paramsStart, end) ?? null;
      if (globalId !== null) push(this.#byGlobalId, globalId, id);
      if (kept !== null && globalId === null && !kept.keeps(hash, nameStart, nameEnd)) return;
      // A repeated id is an error of the file; the first record counts, as for most readers.
      if (this.#spans.has(id)) return;
      const type = asciiText(bytes, nameStart, nameEnd).toUpperCase();
      this.#spans.set(id, { type, paramsStart, end });
      push(this.#byType, type, id);
    };
    if (watch === null) return scanStep(bytes, onEach);
    return scanStep(bytes, onEach, (start, end) => watch.comment(start, end));
  }

  /** Ids of the records with one of the selected GlobalIds; more than one where a file repeats it. */
  idsOfGlobalId(globalId: string): readonly number[] {
    return this.#byGlobalId.get(globalId) ?? [];
  }

  record(id: number): StepRecord | null {
    const known = this.#read.get(id);
    if (known !== undefined) return known;
    const span = this.#spans.get(id);
    if (span === undefined) return null;
    const values = stepParameters(this.#bytes, span.paramsStart, span.end);
    const record = { id, type: span.type, values };
    this.#read.set(id, record);
    return record;
  }

  /** The record a parameter refers to, or null. */
  follow(value: StepValue | undefined): StepRecord | null {
    return value?.kind === 'ref' ? this.record(value.id) : null;
  }

  /** Records a parameter refers to: one, or a list of them. */
  followAll(value: StepValue | undefined): StepRecord[] {
    const items = value?.kind === 'list' ? value.items : value === undefined ? [] : [value];
    return items.flatMap((item) => this.follow(item) ?? []);
  }

  /** Classes that occur, in order of first appearance. */
  types(): string[] {
    return [...this.#byType.keys()];
  }

  /** Ids of the records of exactly this class, in file order. */
  idsOf(type: string): readonly number[] {
    return this.#byType.get(type) ?? [];
  }

  recordsOf(type: string): StepRecord[] {
    return this.idsOf(type).flatMap((id) => this.record(id) ?? []);
  }
}

/**
 * Picks records without making a text of each: names and GlobalIds are compared by a hash of their
 * bytes first.
 */
class SelectedRecords {
  readonly #bytes: Uint8Array;
  readonly #classes: ReadonlySet<string>;
  readonly #isExcept: boolean;
  readonly #globalIds: ReadonlySet<string>;
  readonly #hashes: ReadonlySet<number>;

  constructor(bytes: Uint8Array, selection: StepSelection) {
    this.#bytes = bytes;
    this.#isExcept = 'except' in selection;
    this.#classes = 'except' in selection ? selection.except : selection.classes;
    this.#globalIds = 'except' in selection ? new Set() : selection.globalIds;
    const encoder = new TextEncoder();
    this.#hashes = new Set(
      [...this.#classes, ...this.#globalIds].map((word) => {
        const encoded = encoder.encode(word);
        return hashOfBytes(encoded, 0, encoded.length);
      }),
    );
  }

  keeps(hash: number, start: number, end: number): boolean {
    const isNamed =
      this.#hashes.has(hash) && this.#classes.has(asciiText(this.#bytes, start, end).toUpperCase());
    return isNamed !== this.#isExcept;
  }

  /** The record's first parameter where it is one of the GlobalIds. */
  globalId(paramsStart: number, end: number): string | null {
    if (this.#globalIds.size === 0) return null;
    const start = skipBlank(this.#bytes, paramsStart + 1) + 1;
    if (this.#bytes[start - 1] !== 39 || this.#bytes[start + 22] !== 39 || start + 22 > end) {
      return null;
    }
    if (!this.#hashes.has(hashOfBytes(this.#bytes, start, start + 22))) return null;
    const globalId = asciiText(this.#bytes, start, start + 22);
    return this.#globalIds.has(globalId) ? globalId : null;
  }
}

function push<Key>(map: Map<Key, number[]>, key: Key, id: number): void {
  const ids = map.get(key);
  if (ids === undefined) map.set(key, [id]);
  else ids.push(id);
}

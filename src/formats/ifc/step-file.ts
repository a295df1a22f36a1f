import { asciiText, type StepLayout, scanStep } from './step-scan.ts';
import { type StepValue, stepParameters } from './step-values.ts';

/** A record with its parameters, read when asked for. */
export interface StepRecord {
  readonly id: number;
  /** Class in upper case; empty for a complex instance. */
  readonly type: string;
  readonly values: readonly StepValue[];
}

/**
 * All records of a file, found by id or class. Records are kept as offsets into the bytes; their
 * parameters are read on demand and kept.
 */
export class StepFile {
  readonly layout: StepLayout;
  readonly #bytes: Uint8Array;
  readonly #spans = new Map<number, { type: string; paramsStart: number; end: number }>();
  readonly #byType = new Map<string, number[]>();
  readonly #read = new Map<number, StepRecord>();

  constructor(bytes: Uint8Array) {
    this.#bytes = bytes;
    this.layout = scanStep(bytes, (id, _start, nameStart, nameEnd, paramsStart, end) => {
      const type = asciiText(bytes, nameStart, nameEnd).toUpperCase();
      // A repeated id is an error of the file; the first record counts, as for most readers.
      if (this.#spans.has(id)) return;
      this.#spans.set(id, { type, paramsStart, end });
      const ids = this.#byType.get(type);
      if (ids === undefined) this.#byType.set(type, [id]);
      else ids.push(id);
    });
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

import { type BlockMarks, BlockWatch } from './step-block.ts';
import { asciiText, commentEnd, scanStep } from './step-scan.ts';

/** Where a record stands in the bytes. */
export interface StepSpan {
  readonly id: number;
  /** Offset of its `#`. */
  readonly start: number;
  readonly nameStart: number;
  readonly paramsStart: number;
  /** After its `;`. */
  readonly end: number;
}

/**
 * All records of a file with what they refer to, for who must know who else uses a record. Costs
 * 16 bytes a record; references are read from the bytes each time.
 */
export class StepReferences {
  readonly #bytes: Uint8Array;
  readonly #ids: Uint32Array;
  readonly #nameStarts: Uint32Array;
  readonly #paramsStarts: Uint32Array;
  readonly #ends: Uint32Array;
  #count = 0;
  /** Places by number, where the numbers do not rise through the file. */
  readonly #places: Map<number, number> | null;

  /**
   * @param records How many the file has at most.
   * @param marks Records between these comments are passed over.
   */
  constructor(bytes: Uint8Array, records: number, marks: BlockMarks) {
    this.#bytes = bytes;
    this.#ids = new Uint32Array(records);
    this.#nameStarts = new Uint32Array(records);
    this.#paramsStarts = new Uint32Array(records);
    this.#ends = new Uint32Array(records);
    const watch = new BlockWatch(bytes, marks);
    const add = (id: number, nameStart: number, paramsStart: number, end: number) => {
      const at = this.#count;
      this.#ids[at] = id;
      this.#nameStarts[at] = nameStart;
      this.#paramsStarts[at] = paramsStart;
      this.#ends[at] = end;
      this.#count = at + 1;
    };
    scanStep(
      bytes,
      (id, _hash, nameStart, _nameEnd, paramsStart, end) => {
        if (!watch.isInside) add(id, nameStart, paramsStart, end);
      },
      (start, end) => watch.comment(start, end),
    );
    this.#places = this.#isRising() ? null : this.#placesById();
  }

  #isRising(): boolean {
    for (let at = 1; at < this.#count; at++) {
      if ((this.#ids[at] ?? 0) <= (this.#ids[at - 1] ?? 0)) return false;
    }
    return true;
  }

  #placesById(): Map<number, number> {
    const places = new Map<number, number>();
    for (let at = this.#count - 1; at >= 0; at--) places.set(this.#ids[at] ?? 0, at);
    return places;
  }

  /** In file order. */
  *spans(): Generator<StepSpan> {
    for (let at = 0; at < this.#count; at++) yield this.#spanAt(at);
  }

  /** The first record of that number, or null. */
  span(id: number): StepSpan | null {
    const at = this.#placeOf(id);
    return at === -1 ? null : this.#spanAt(at);
  }

  /** Class in upper case. */
  typeOf({ nameStart, paramsStart }: StepSpan): string {
    const [type = ''] = /^\w*/.exec(asciiText(this.#bytes, nameStart, paramsStart)) ?? [];
    return type.toUpperCase();
  }

  /** Numbers a record refers to, in order; what stands in texts and comments is none. */
  refsOf({ paramsStart, end }: StepSpan): number[] {
    const bytes = this.#bytes;
    const refs: number[] = [];
    let i = paramsStart;
    while (i < end) {
      const byte = bytes[i];
      if (byte === 39) {
        const close = bytes.indexOf(39, i + 1);
        if (close === -1) break;
        i = close + 1;
      } else if (byte === 35) {
        let id = 0;
        i += 1;
        for (let digit = (bytes[i] ?? 0) - 48; digit >= 0 && digit <= 9; ) {
          id = id * 10 + digit;
          i += 1;
          digit = (bytes[i] ?? 0) - 48;
        }
        refs.push(id);
      } else if (byte === 47 && bytes[i + 1] === 42) i = commentEnd(bytes, i);
      else i += 1;
    }
    return refs;
  }

  #spanAt(at: number): StepSpan {
    const nameStart = this.#nameStarts[at] ?? 0;
    const paramsStart = this.#paramsStarts[at] ?? 0;
    let start = nameStart;
    while (start > 0 && this.#bytes[start] !== 35) start -= 1;
    const id = this.#ids[at] ?? 0;
    return { id, start, nameStart, paramsStart, end: this.#ends[at] ?? 0 };
  }

  #placeOf(id: number): number {
    if (this.#places !== null) return this.#places.get(id) ?? -1;
    const ids = this.#ids;
    let [low, high] = [0, this.#count - 1];
    while (low <= high) {
      const middle = (low + high) >> 1;
      const found = ids[middle] ?? 0;
      if (found === id) return middle;
      if (found < id) low = middle + 1;
      else high = middle - 1;
    }
    return -1;
  }
}

/**
 * Places in the file of records by their numbers. Programs number records nearly without gaps, so a
 * plain array holds them in a tenth of a map's memory; numbers far beyond go into a map after all.
 */
export class RecordPlaces {
  /** Place + 1 by number; 0 for none. */
  #near = new Int32Array(LEAST);
  readonly #far = new Map<number, number>();
  #count = 0;

  get size(): number {
    return this.#count;
  }

  get(id: number): number | undefined {
    const place = this.#near[id] ?? 0;
    return place > 0 ? place - 1 : this.#far.get(id);
  }

  /** Adds a number that is not known yet. Places count up from 0, so the next one is `size`. */
  add(id: number): void {
    this.#count += 1;
    if (id >= this.#near.length && id < GAPS * (this.#count + LEAST)) this.#growTo(id);
    if (id < this.#near.length) this.#near[id] = this.#count;
    else this.#far.set(id, this.#count - 1);
  }

  #growTo(id: number): void {
    const grown = new Int32Array(Math.max(id + 1, 2 * this.#near.length));
    grown.set(this.#near);
    this.#near = grown;
  }
}

const LEAST = 1 << 12;
/** A file may use one number in so many before its numbers count as far apart. */
const GAPS = 8;

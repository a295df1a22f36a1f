const LF = 10;
const CR = 13;
const SPACE = 32;

/** Bytes that grow at the end and can be cut back. */
export class ByteBuffer {
  length = 0;
  private store: Uint8Array;

  constructor(capacity: number) {
    this.store = new Uint8Array(capacity);
  }

  /** The bytes so far; they change with the next write. */
  bytes(): Uint8Array {
    return this.store.subarray(0, this.length);
  }

  cutTo(length: number): void {
    this.length = length;
  }

  addTag(code: number, value: string): void {
    this.addCode(code);
    this.makeRoom(value.length + 1);
    for (let i = 0; i < value.length; i++) this.store[this.length++] = value.charCodeAt(i);
    this.endLine();
  }

  addCode(code: number): void {
    this.makeRoom(8);
    const text = String(code);
    for (let i = 0; i < text.length; i++) this.store[this.length++] = text.charCodeAt(i);
    this.store[this.length++] = LF;
  }

  addBytes(source: Uint8Array, start: number, end: number): void {
    this.makeRoom(end - start + 1);
    for (let i = start; i < end; i++) this.store[this.length++] = source[i] ?? 0;
  }

  /**
   * A text value: blanks at its ends become `keptSpace`, so that whoever trims leaves them, and
   * stray carriage returns become spaces, so that it stays one line.
   */
  addText(source: Uint8Array, start: number, end: number, keptSpace: number): void {
    const from = this.length;
    this.addBytes(source, start, end);
    const { store } = this;
    for (let i = from; i < this.length; i++) if (store[i] === CR) store[i] = SPACE;
    for (let i = from; i < this.length && store[i] === SPACE; i++) store[i] = keptSpace;
    for (let i = this.length - 1; i >= from && store[i] === SPACE; i--) store[i] = keptSpace;
  }

  endLine(): void {
    this.makeRoom(1);
    this.store[this.length++] = LF;
  }

  /** FNV-1a, 32 bits, of the bytes from `start` on. */
  hashFrom(start: number): number {
    let hash = 0x811c9dc5;
    for (let i = start; i < this.length; i++) {
      hash = Math.imul(hash ^ (this.store[i] ?? 0), 0x01000193);
    }
    return hash >>> 0;
  }

  private makeRoom(extra: number): void {
    if (this.length + extra <= this.store.length) return;
    const larger = new Uint8Array(Math.max(this.store.length * 2, this.length + extra));
    larger.set(this.store.subarray(0, this.length));
    this.store = larger;
  }
}

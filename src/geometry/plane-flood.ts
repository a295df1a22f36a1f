import type { Vec2 } from './vec.ts';

/** Most cells of a raster; a large plan gets larger cells. */
const MOST_CELLS = 4_000_000;

/**
 * Which parts of a plane hang together, on a raster of square cells with barriers drawn into it.
 * Barriers are closed for steps along the rows and columns, the only ones that are taken.
 */
export class PlaneFlood {
  readonly cellMm: number;
  readonly #origin: Vec2;
  readonly #columns: number;
  readonly #rows: number;
  /** 0 not looked at yet, −1 barrier, else the number of the region. */
  readonly #cells: Int32Array;
  #regions = 0;

  /** @param box the part of the plane that counts, mm; what lies beyond belongs to no region */
  constructor([x1, y1, x2, y2]: readonly [number, number, number, number], leastCellMm: number) {
    const area = Math.max(0, x2 - x1) * Math.max(0, y2 - y1);
    this.cellMm = Math.max(leastCellMm, Math.sqrt(area / MOST_CELLS));
    this.#origin = [x1, y1];
    this.#columns = Math.max(1, Math.ceil((x2 - x1) / this.cellMm));
    this.#rows = Math.max(1, Math.ceil((y2 - y1) / this.cellMm));
    this.#cells = new Int32Array(this.#columns * this.#rows);
  }

  /** Draws a barrier along a line. All of them come before the first region is asked for. */
  block(from: Vec2, to: Vec2): void {
    const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
    const steps = Math.max(1, Math.ceil((2 * Math.hypot(dx, dy)) / this.cellMm));
    for (let step = 0; step <= steps; step += 1) {
      const at = this.#cellAt([from[0] + (dx * step) / steps, from[1] + (dy * step) / steps]);
      if (at !== null) this.#cells[at] = -1;
    }
  }

  /** Number of the region a place lies in; null in a barrier and beyond the box. */
  regionAt(place: Vec2): number | null {
    const at = this.#cellAt(place);
    if (at === null || this.#cells[at] === -1) return null;
    if (this.#cells[at] === 0) this.#fill(at);
    return this.#cells[at] ?? null;
  }

  #cellAt([x, y]: Vec2): number | null {
    const column = Math.floor((x - this.#origin[0]) / this.cellMm);
    const row = Math.floor((y - this.#origin[1]) / this.cellMm);
    const isIn = column >= 0 && row >= 0 && column < this.#columns && row < this.#rows;
    return isIn ? row * this.#columns + column : null;
  }

  #fill(start: number): void {
    this.#regions += 1;
    const region = this.#regions;
    const cells = this.#cells;
    const columns = this.#columns;
    cells[start] = region;
    const open = [start];
    for (let at = open.pop(); at !== undefined; at = open.pop()) {
      const column = at % columns;
      const next = [
        column > 0 ? at - 1 : -1,
        column < columns - 1 ? at + 1 : -1,
        at - columns,
        at + columns,
      ];
      for (const other of next) {
        if (other < 0 || other >= cells.length || cells[other] !== 0) continue;
        cells[other] = region;
        open.push(other);
      }
    }
  }
}

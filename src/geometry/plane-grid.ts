import type { Vec2 } from './vec.ts';
import { distance2 } from './vec.ts';

/** Finds points close to a place, for a fixed small reach: a hash of square cells. */
export class PointGrid<T> {
  private readonly cells = new Map<string, { readonly point: Vec2; readonly item: T }[]>();
  private readonly reach: number;

  constructor(reach: number) {
    this.reach = reach;
  }

  add(point: Vec2, item: T): void {
    const key = this.key(Math.floor(point[0] / this.reach), Math.floor(point[1] / this.reach));
    const cell = this.cells.get(key);
    if (cell === undefined) this.cells.set(key, [{ point, item }]);
    else cell.push({ point, item });
  }

  /** Items within the reach of a place, in the order in which they were added within each cell. */
  near(place: Vec2): T[] {
    const x = Math.floor(place[0] / this.reach);
    const y = Math.floor(place[1] / this.reach);
    const found: T[] = [];
    for (let dx = -1; dx <= 1; dx++) {
      for (let dy = -1; dy <= 1; dy++) {
        for (const { point, item } of this.cells.get(this.key(x + dx, y + dy)) ?? []) {
          if (distance2(point, place) <= this.reach) found.push(item);
        }
      }
    }
    return found;
  }

  private key(x: number, y: number): string {
    return `${x},${y}`;
  }
}

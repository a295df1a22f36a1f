import { pathPoints } from '../../geometry/plane-curve.ts';
import type { DrawnEntity, DrawnSymbol } from '../../model/drawing.ts';
import type { ElementRef } from '../../model/ids.ts';

/**
 * One entry of the account: an entity on a service or opening layer. What a block on such a layer
 * holds counts as the block.
 */
export interface SheetItem {
  readonly id: string;
  readonly ref: ElementRef;
  readonly layer: string;
  readonly type: string;
  readonly entities: readonly DrawnEntity[];
  readonly symbol: DrawnSymbol | null;
}

/** What is larger draws services rather than marks a place. */
const LARGEST_SYMBOL_MM = 1500;

/** Whether the box round an item is of the size of a symbol; that of an item that draws nothing is. */
export const isSymbolSized = (box: ReturnType<typeof boxOfItem>): boolean =>
  box === null || Math.max(box[2] - box[0], box[3] - box[1]) <= LARGEST_SYMBOL_MM;

/** Whether an item draws closed outlines and nothing else. */
export const isClosedOutlines = ({ entities }: SheetItem): boolean =>
  entities.every(({ loops }) => loops.every(({ isClosed }) => isClosed));

/** Smallest box round an item's lines: x1, y1, x2, y2; null when it draws nothing. */
export function boxOfItem(item: SheetItem): readonly [number, number, number, number] | null {
  let box: [number, number, number, number] | null = null;
  for (const { loops } of item.entities) {
    for (const { pieces } of loops) {
      for (const [x, y] of pathPoints(pieces)) {
        box =
          box === null
            ? [x, y, x, y]
            : [Math.min(box[0], x), Math.min(box[1], y), Math.max(box[2], x), Math.max(box[3], y)];
      }
    }
  }
  return box;
}

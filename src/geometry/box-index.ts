import Flatbush from 'flatbush';
import { type Box, boxesMeet } from './box.ts';

/** Finds boxes that meet a box: an index in plan, then heights. */
export interface BoxIndex {
  /** Numbers of the boxes that meet this one, ascending. */
  meeting(box: Box): readonly number[];
}

/** Index of boxes; null boxes are never found. */
export function indexBoxes(boxes: readonly (Box | null)[]): BoxIndex {
  const numbers: number[] = [];
  boxes.forEach((box, n) => {
    if (box !== null) numbers.push(n);
  });
  if (numbers.length === 0) return { meeting: () => [] };
  const index = new Flatbush(numbers.length);
  for (const n of numbers) {
    const box = boxes[n];
    if (box) index.add(box.low[0], box.low[1], box.high[0], box.high[1]);
  }
  index.finish();
  return {
    meeting(box) {
      const { low, high } = box;
      // Numbers go up with places in the index, so that both have one order.
      return index
        .search(low[0], low[1], high[0], high[1], (place) => {
          const other = boxes[numbers[place] ?? -1];
          return other != null && boxesMeet(box, other);
        })
        .sort((a, b) => a - b)
        .map((place) => numbers[place] ?? -1);
    },
  };
}

import type { Shape } from '../../geometry/shape.ts';
import { shapeAreaMm2 } from '../../geometry/shape.ts';

/** Steps by which an opening that is built or cored may grow, mm; own choice. */
const OPENING_STEP_MM = 10;
/** No opening is offered that is more than this many times as large; own choice. */
const MOST_GROWTH = 3;

/**
 * The openings that may be offered instead, each larger than the last: round ones by their
 * diameter, rectangles by width and by height in turn, others in proportion.
 */
function largerOpenings(shape: Shape): readonly (readonly Shape[])[] {
  const sizes = (fromMm: number) => {
    const first = Math.floor(fromMm / OPENING_STEP_MM) * OPENING_STEP_MM + OPENING_STEP_MM;
    const count = Math.ceil((fromMm * (MOST_GROWTH - 1)) / OPENING_STEP_MM);
    return Array.from({ length: count }, (_, at) => first + at * OPENING_STEP_MM);
  };
  switch (shape.type) {
    case 'circle':
      return [sizes(shape.diameterMm).map((diameterMm) => ({ type: 'circle', diameterMm }))];
    case 'rectangle':
      return [
        sizes(shape.widthMm).map((widthMm) => ({ ...shape, widthMm })),
        sizes(shape.heightMm).map((heightMm) => ({ ...shape, heightMm })),
      ];
    case 'slot':
    case 'oval':
      return [
        sizes(shape.widthMm).map((widthMm) => ({
          ...shape,
          widthMm,
          lengthMm: Math.round((shape.lengthMm * widthMm) / shape.widthMm),
        })),
      ];
    case 'polygon':
      // A traced outline has no next size; what it could become is for a person to draw.
      return [];
  }
}

/**
 * The smallest of a row, each larger than the last, that works; null when none does. Taken as
 * working from some size on: strides that double from the small end, since the large ones are the
 * dear ones to try, then halving within the last stride.
 */
export function smallestThatWorks<T>(row: readonly T[], works: (one: T) => boolean): T | null {
  const worksAt = (at: number) => {
    const one = row[at];
    return one !== undefined && works(one);
  };
  let low = 0;
  let high = 0;
  for (let stride = 1; !worksAt(high); stride *= 2) {
    if (high >= row.length - 1) return null;
    low = high + 1;
    high = Math.min(high + stride, row.length - 1);
  }
  while (low < high) {
    const middle = Math.floor((low + high) / 2);
    if (worksAt(middle)) high = middle;
    else low = middle + 1;
  }
  return row[high] ?? null;
}

/** The one of least area among the smallest openings that work; null when none does. */
export function smallestOpening(shape: Shape, works: (one: Shape) => boolean): Shape | null {
  return largerOpenings(shape)
    .flatMap((row) => smallestThatWorks(row, works) ?? [])
    .reduce<Shape | null>(
      (least, one) => (least === null || shapeAreaMm2(one) < shapeAreaMm2(least) ? one : least),
      null,
    );
}

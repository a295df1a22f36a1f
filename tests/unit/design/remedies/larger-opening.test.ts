import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  smallestOpening,
  smallestThatWorks,
} from '../../../../src/design/remedies/larger-opening.ts';
import { shapeAreaMm2 } from '../../../../src/geometry/shape.ts';

describe('the smallest that works', () => {
  test('is what looking at each in turn finds', () => {
    fc.assert(
      fc.property(fc.nat(60), fc.nat(70), (count, from) => {
        const row = Array.from({ length: count }, (_, at) => at);
        const expected = row.find((one) => one >= from) ?? null;
        expect(smallestThatWorks(row, (one) => one >= from)).toBe(expected);
      }),
    );
  });
  test('of a rectangle grows the side that adds less', () => {
    // 10 mm steps: 300 × 210 adds 3000 mm², 310 × 200 adds 2000 mm².
    const works = (areaMm2: number) =>
      smallestOpening(
        { type: 'rectangle', widthMm: 300, heightMm: 200 },
        (one) => shapeAreaMm2(one) >= areaMm2,
      );
    expect(works(61_500)).toEqual({ type: 'rectangle', widthMm: 310, heightMm: 200 });
    expect(works(1e9)).toBeNull();
  });
  test('of a traced outline is for a person to draw', () => {
    const polygon = {
      type: 'polygon',
      pointsMm: [
        [0, 0],
        [9, 0],
        [0, 9],
      ],
    } as const;
    expect(smallestOpening(polygon, () => true)).toBeNull();
  });
});

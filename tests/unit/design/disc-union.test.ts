import fc from 'fast-check';
import { expect, test } from 'vitest';
import { type Disc, discUnionAreaMm2 } from '../../../src/design/disc-union.ts';

const disc = (xMm: number, yMm: number, radiusMm: number): Disc => ({ xMm, yMm, radiusMm });

test('discs apart, inside one another and the same', () => {
  expect(discUnionAreaMm2([])).toBe(0);
  expect(discUnionAreaMm2([disc(0, 0, 2)])).toBeCloseTo(4 * Math.PI, 12);
  expect(discUnionAreaMm2([disc(0, 0, 2), disc(10, 0, 1)])).toBeCloseTo(5 * Math.PI, 12);
  expect(discUnionAreaMm2([disc(0, 0, 2), disc(0.5, 0, 1)])).toBeCloseTo(4 * Math.PI, 12);
  expect(discUnionAreaMm2([disc(1, 1, 2), disc(1, 1, 2)])).toBeCloseTo(4 * Math.PI, 12);
  // Found by fast-check: discs that differ by less than a float of their size swallowed each other.
  expect(discUnionAreaMm2([disc(0, 0, 2), disc(0, -5e-324, 2)])).toBeCloseTo(4 * Math.PI, 12);
});

test('two unit discs a radius apart', () => {
  // Lens of two unit circles with centres 1 apart: 2π/3 − √3/2 (Weisstein, circle-circle intersection).
  const lens = (2 * Math.PI) / 3 - Math.sqrt(3) / 2;
  expect(discUnionAreaMm2([disc(0, 0, 1), disc(1, 0, 1)])).toBeCloseTo(2 * Math.PI - lens, 12);
});

test('any discs, against strips across them', () => {
  const one = fc.record({
    xMm: fc.double({ min: -10, max: 10, noNaN: true }),
    yMm: fc.double({ min: -10, max: 10, noNaN: true }),
    radiusMm: fc.double({ min: 0.5, max: 8, noNaN: true }),
  });
  fc.assert(
    fc.property(fc.array(one, { maxLength: 6 }), (discs) => {
      const byStrips = stripArea(discs);
      expect(Math.abs(discUnionAreaMm2(discs) - byStrips)).toBeLessThan(0.01 * byStrips + 0.05);
    }),
    { numRuns: 100 },
  );
});

/** Union area by the covered length of many horizontal lines. */
function stripArea(discs: readonly Disc[]): number {
  const heightMm = 40 / 2000;
  let area = 0;
  for (let y = -20 + heightMm / 2; y < 20; y += heightMm) {
    const spans = discs
      .flatMap(({ xMm, yMm, radiusMm }) => {
        const half = Math.sqrt(Math.max(0, radiusMm ** 2 - (y - yMm) ** 2));
        return half > 0 ? [[xMm - half, xMm + half] as const] : [];
      })
      .sort((a, b) => a[0] - b[0]);
    let right = -Infinity;
    for (const [from, to] of spans) {
      area += Math.max(0, to - Math.max(from, right)) * heightMm;
      right = Math.max(right, to);
    }
  }
  return area;
}

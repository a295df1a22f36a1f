import fc from 'fast-check';
import { expect, test } from 'vitest';
import { waterLoad } from '../../../src/design/hydrostatics.ts';
import { neededOpening } from '../../../src/design/needed-shape.ts';
import { shapePerimeterMm } from '../../../src/design/outline-measures.ts';
import { sizeOne } from '../../../src/design/size-one.ts';
import { type Shape, shapeAreaMm2 } from '../../../src/geometry/shape.ts';
import { Settings } from '../../../src/model/settings.ts';
import { makeRange } from '../../makers/seal/make-range.ts';
import { plainArrangement } from '../../makers/seal/plain-arrangement.ts';

// Dimension checks: when every length is k times as long, areas are k², volumes k³, thrust under a
// uniform head k², shear under it 1 and fill 1 times what they were. A slip between mm, m and ml
// or a forgotten length shows.

const length = fc.double({ min: 20, max: 400, noNaN: true });
const scale = fc.double({ min: 0.2, max: 5, noNaN: true });
const shape: fc.Arbitrary<Shape> = fc.oneof(
  length.map((diameterMm) => ({ type: 'circle' as const, diameterMm })),
  fc
    .tuple(length, length)
    .map(([widthMm, heightMm]) => ({ type: 'rectangle' as const, widthMm, heightMm })),
  fc.tuple(length, length).map(([a, b]) => ({
    type: 'slot' as const,
    lengthMm: Math.max(a, b),
    widthMm: Math.min(a, b),
  })),
  fc
    .tuple(length, length)
    .map(([lengthMm, widthMm]) => ({ type: 'oval' as const, lengthMm, widthMm })),
);

function scaled(one: Shape, k: number): Shape {
  switch (one.type) {
    case 'circle':
      return { ...one, diameterMm: one.diameterMm * k };
    case 'rectangle':
      return { ...one, widthMm: one.widthMm * k, heightMm: one.heightMm * k };
    case 'slot':
    case 'oval':
      return { ...one, lengthMm: one.lengthMm * k, widthMm: one.widthMm * k };
    case 'polygon':
      return { ...one, pointsMm: one.pointsMm.map(([x, y]) => [x * k, y * k]) };
  }
}

const near = (a: number, b: number) => expect(a / b).toBeCloseTo(1, 9);

test('perimeter by k, area by k², thrust from a level by k³', () => {
  fc.assert(
    fc.property(shape, scale, (one, k) => {
      near(shapePerimeterMm(scaled(one, k)), k * shapePerimeterMm(one));
      near(shapeAreaMm2(scaled(one, k)), k ** 2 * shapeAreaMm2(one));
      // Head is a length as well.
      near(waterLoad(scaled(one, k), 0.7 * k).thrustN, k ** 3 * waterLoad(one, 0.7).thrustN);
    }),
  );
});

test('a seal: volumes by k³, thrust under a given head by k², its shear and fill by 1', () => {
  const sealOf = (one: Shape, diameterMm: number, k: number) =>
    sizeOne(
      {
        opening: scaled(one, k),
        bodies: [{ ref: '1', outline: { type: 'circle', diameterMm: diameterMm * k } }],
        range: makeRange([310], {
          sealants: [
            {
              name: 's',
              containers: [{ sizeMl: 310 }],
              bond: [{ substrate: 'any', shearKPa: 50_000, source: 'made for a test' }],
              source: 'made for a test',
            },
          ],
        }),
        design: Settings.parse({ design: { setBackMm: 20 * k, overfillMm: k } }).design,
        duties: [{ kind: 'water', headM: 3, side: null, rating: null, reason: 'asked' }],
      },
      { arrange: plainArrangement },
    );
  fc.assert(
    fc.property(shape, fc.double({ min: 5, max: 15, noNaN: true }), scale, (one, cable, k) => {
      const [before, after] = [sealOf(one, cable, 1), sealOf(one, cable, k)];
      near(after.freeAreaMm2 ?? 0, k ** 2 * (before.freeAreaMm2 ?? 0));
      near(after.fillRatio ?? 0, before.fillRatio ?? 0);
      near(after.sealant?.netMl ?? 0, k ** 3 * (before.sealant?.netMl ?? 0));
      near(after.sealant?.withAllowancesMl ?? 0, k ** 3 * (before.sealant?.withAllowancesMl ?? 0));
      const value = (seal: typeof before, name: string) =>
        seal.checks.find((check) => check.name === name)?.value ?? 0;
      near(value(after, 'water thrust'), k ** 2 * value(before, 'water thrust'));
      near(value(after, 'bond shear under water'), value(before, 'bond shear under water'));
    }),
    { numRuns: 50 },
  );
});

test('a needed opening holds every footprint with its clearance', () => {
  const footprint = fc.record({
    outline: fc.oneof(
      length.map((diameterMm) => ({ type: 'circle' as const, diameterMm })),
      fc.tuple(length, length).map(([widthMm, heightMm]) => ({
        type: 'rectangle' as const,
        widthMm,
        heightMm,
        turns: 'none' as const,
      })),
    ),
    atMm: fc.tuple(fc.integer({ min: -500, max: 500 }), fc.integer({ min: -500, max: 500 })),
  });
  fc.assert(
    fc.property(fc.array(footprint, { minLength: 1, maxLength: 5 }), (footprints) => {
      const needed = neededOpening(footprints, 25, 0);
      if (needed === null) throw new Error('nothing needed');
      for (const { outline, atMm } of footprints) {
        const half =
          outline.type === 'circle'
            ? [outline.diameterMm / 2, outline.diameterMm / 2]
            : [outline.widthMm / 2, outline.heightMm / 2];
        const [x, y] = [atMm[0] - needed.centreMm[0], atMm[1] - needed.centreMm[1]];
        const [width, height] =
          needed.shape.type === 'circle'
            ? [needed.shape.diameterMm, needed.shape.diameterMm]
            : needed.shape.type === 'rectangle'
              ? [needed.shape.widthMm, needed.shape.heightMm]
              : [0, 0];
        expect(Math.abs(x) + (half[0] ?? 0) + 25).toBeLessThanOrEqual(width / 2 + 1e-6);
        expect(Math.abs(y) + (half[1] ?? 0) + 25).toBeLessThanOrEqual(height / 2 + 1e-6);
      }
    }),
  );
});

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { ceilCount, smallestWasteMix } from '../../../src/design/containers.ts';
import { Sealant } from '../../../src/model/range.ts';

const sealantOf = (containers: readonly object[]) =>
  Sealant.parse({ name: 's', containers, source: 'made for a test' });
const mlOf = (mix: readonly { sizeMl: number; count: number }[]) =>
  mix.reduce((ml, { sizeMl, count }) => ml + sizeMl * count, 0);

describe('containers', () => {
  test('the mix with least left over, then the fewest', () => {
    const two = sealantOf([{ sizeMl: 310 }, { sizeMl: 600 }]);
    // 900: 600 + 310 leaves 10, two of 600 leave 300, three of 310 leave 30.
    expect(smallestWasteMix(900, two)).toEqual([
      { sizeMl: 600, count: 1 },
      { sizeMl: 310, count: 1 },
    ]);
    expect(smallestWasteMix(600, two)).toEqual([{ sizeMl: 600, count: 1 }]);
    expect(smallestWasteMix(0, two)).toEqual([]);
    const halves = sealantOf([{ sizeMl: 300 }, { sizeMl: 600 }]);
    expect(smallestWasteMix(1200, halves)).toEqual([{ sizeMl: 600, count: 2 }]);
  });
  test('kinds that need another gun are not mixed: the first kind of the range is worked with', () => {
    const kinds = sealantOf([
      { sizeMl: 310, kind: 'cartridge' },
      { sizeMl: 600, kind: 'foil' },
    ]);
    expect(smallestWasteMix(590, kinds)).toEqual([{ sizeMl: 310, count: 2 }]);
  });
  test('what stays behind in a container is not there to seal with', () => {
    const lossy = sealantOf([{ sizeMl: 310, lossMl: 10 }]);
    expect(smallestWasteMix(300, lossy)).toEqual([{ sizeMl: 310, count: 1 }]);
    expect(smallestWasteMix(305, lossy)).toEqual([{ sizeMl: 310, count: 2 }]);
  });
  test('rounding up forgives the last bits of a float and no more', () => {
    expect(ceilCount(22.000000000000004)).toBe(22);
    expect(ceilCount(22.0000001)).toBe(23);
    expect(ceilCount(0)).toBe(0);
    expect(ceilCount(-1)).toBe(0);
  });
});

describe('properties', () => {
  const sizes = fc.uniqueArray(fc.integer({ min: 50, max: 1000 }), { minLength: 1, maxLength: 3 });
  const volume = fc.double({ min: 0, max: 5000, noNaN: true });

  test('a mix holds the volume, and no count by brute force leaves less', () => {
    fc.assert(
      fc.property(sizes, volume, (sizesMl, ml) => {
        const mix = smallestWasteMix(ml, sealantOf(sizesMl.map((sizeMl) => ({ sizeMl }))));
        expect(mlOf(mix)).toBeGreaterThanOrEqual(ml - 1e-6);
        expect(mlOf(mix)).toBeLessThanOrEqual(bruteForceMl(sizesMl, ml) + 1e-6);
      }),
      { numRuns: 100 },
    );
  });

  test('pooled never takes more than opening by opening', () => {
    fc.assert(
      fc.property(sizes, fc.array(volume, { maxLength: 10 }), (sizesMl, volumes) => {
        const sealant = sealantOf(sizesMl.map((sizeMl) => ({ sizeMl })));
        const pooled = mlOf(
          smallestWasteMix(
            volumes.reduce((sum, ml) => sum + ml, 0),
            sealant,
          ),
        );
        const apart = volumes.reduce((sum, ml) => sum + mlOf(smallestWasteMix(ml, sealant)), 0);
        expect(pooled).toBeLessThanOrEqual(apart + 1e-6);
      }),
      { numRuns: 100 },
    );
  });
});

/** Least total of whole containers that holds a volume, over all counts. */
function bruteForceMl(sizesMl: readonly number[], ml: number): number {
  const [size, ...rest] = sizesMl;
  if (size === undefined) return ml <= 1e-9 ? 0 : Infinity;
  let least = Infinity;
  for (let count = 0; count <= Math.ceil(ml / size); count += 1) {
    least = Math.min(least, count * size + bruteForceMl(rest, Math.max(0, ml - count * size)));
  }
  return least;
}

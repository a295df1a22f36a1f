import fc from 'fast-check';
import { expect, test } from 'vitest';
import { RecordPlaces } from '../../../../src/read/ifc/record-places.ts';

const number = fc.oneof(
  fc.nat(200),
  fc.nat(1_000_000),
  fc.constantFrom(2 ** 31, 2 ** 40, 1e300, Number.POSITIVE_INFINITY),
);

test('places are those a map would give, whatever the numbers are', () => {
  fc.assert(
    fc.property(fc.uniqueArray(number, { maxLength: 300 }), fc.array(number), (ids, asked) => {
      const places = new RecordPlaces();
      const map = new Map<number, number>();
      for (const id of ids) {
        expect(places.get(id)).toBeUndefined();
        map.set(id, places.size);
        places.add(id);
      }
      expect(places.size).toBe(ids.length);
      for (const id of [...ids, ...asked]) expect(places.get(id)).toBe(map.get(id));
    }),
  );
});

test('numbers without gaps stay out of the map, and one far beyond grows no array', () => {
  const places = new RecordPlaces();
  for (let id = 1; id <= 100_000; id += 1) places.add(id);
  places.add(2 ** 31 - 1);
  expect(places.get(100_000)).toBe(99_999);
  expect(places.get(2 ** 31 - 1)).toBe(100_000);
});

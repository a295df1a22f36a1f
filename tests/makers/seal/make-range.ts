import { Range } from '../../../src/model/range.ts';

const MADE = 'made for a test';

/** A range with one sealant in the containers given, and two tubes. */
export function makeRange(containersMl: readonly number[], changes: object = {}): Range {
  return Range.parse({
    name: 'test range',
    fillers: [
      { name: 'tube 25', outsideMm: 25, boreMm: 17, lengthMm: 100, source: MADE },
      { name: 'tube 16', outsideMm: 16, boreMm: 10, lengthMm: 100, source: MADE },
    ],
    sealants: [
      {
        name: 'sealant',
        containers: containersMl.map((sizeMl) => ({ sizeMl })),
        source: MADE,
      },
    ],
    ...changes,
  });
}

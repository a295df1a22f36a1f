import type { FillerSize } from '../../../src/model/arrangement.ts';

/** Invented sizes for benches. */
export const SAMPLE_TUBES: readonly FillerSize[] = [
  {
    name: 'large',
    outsideMm: 25,
    boreMm: 17,
    lengthMm: 150,
    takesCableMm: { smallestMm: 8, largestMm: 17 },
  },
  { name: 'small', outsideMm: 16, boreMm: 10, lengthMm: 150, takesCableMm: null },
];

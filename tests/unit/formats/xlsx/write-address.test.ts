import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  cellAddress,
  columnLetters,
  fixedRange,
  quotedSheet,
} from '../../../../src/formats/xlsx/write-address.ts';

test('columns count in letters', () => {
  expect([1, 26, 27, 52, 53, 702, 703, 16_384].map(columnLetters)).toEqual([
    'A',
    'Z',
    'AA',
    'AZ',
    'BA',
    'ZZ',
    'AAA',
    'XFD',
  ]);
});

test('letters read back give the same column', () => {
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 16_384 }), (column) => {
      const back = [...columnLetters(column)].reduce(
        (total, letter) => total * 26 + letter.charCodeAt(0) - 64,
        0,
      );
      expect(back).toBe(column);
    }),
  );
});

test('a range of one cell is written as a cell', () => {
  const range = { firstColumn: 2, firstRow: 3, lastColumn: 2, lastRow: 3 };
  expect(fixedRange('Take-off', range)).toBe("'Take-off'!$B$3");
  expect(fixedRange('A', { ...range, lastColumn: 3 })).toBe("'A'!$B$3:$C$3");
  expect(cellAddress(28, 12)).toBe('AB12');
});

test('an apostrophe in a sheet name is doubled', () => {
  expect(quotedSheet("Pit's")).toBe("'Pit''s'");
});

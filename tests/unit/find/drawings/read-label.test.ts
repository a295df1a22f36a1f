import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readLabel } from '../../../../src/find/drawings/read-label.ts';

const sizes = (text: string) =>
  readLabel(text).sizes.map(({ section }) =>
    section.type === 'circle' ? section.diameterMm : [section.widthMm, section.heightMm],
  );

describe('sizes, counts and references', () => {
  test.each([
    ['4x150 dia', 4, [150], []],
    ['Ø110', null, [110], []],
    ['50Ø', null, [50], []],
    ['2 No. 100 ducts', 2, [100], []],
    ['4 NO. 100 DUCTS D-01 TO D-04', 4, [100], ['D-01', 'D-02', 'D-03', 'D-04']],
    ['300x50', null, [[300, 50]], []],
    ['TRAY 300W x 50H R-01', null, [[300, 50]], ['R-01']],
    ['4x100', 4, [100], []],
    ['50x25 TRUNKING', null, [[50, 25]], []],
    ['D-01 150 DIA', null, [150], ['D-01']],
    ['LV-1-03 Ø160', null, [160], ['LV-1-03']],
    ['4" dia', null, [101.6], []],
    ['1 1/2" CONDUIT', null, [38.1], []],
    ['2x4" DIA', 2, [101.6], []],
    ['12"x6"', null, [[304.8, 152.4]], []],
    ['PEN-004 400x300x200', null, [[400, 300]], ['PEN-004']],
    ['3-100Ø', 3, [100], []],
    ['4 fourreaux Ø110', 4, [110], []],
    ['6 WAY DUCT BANK', 6, [], []],
    ['D-01..06', 6, [], ['D-01', 'D-02', 'D-03', 'D-04', 'D-05', 'D-06']],
    ['R 01', null, [], ['R 01']],
    ['Ø 3,5', null, [3.5], []],
  ])('%s', (text, count, size, references) => {
    expect(readLabel(text)).toMatchObject({ count, references });
    expect(sizes(text)).toEqual(size);
  });

  test.each(['3x1c240mm²', '4C 95', '1:100', 'IP65', '11kV', 'SECTION A-A', 'duct 3', '400V 50Hz'])(
    '%s holds no size',
    (text) => {
      expect(sizes(text)).toEqual([]);
    },
  );

  test.each([
    ['DN100', 'nominal'],
    ['100 NB PIPE', 'nominal'],
    ['OD 110', 'outside'],
    ['DA 160', 'outside'],
    ['100 ID', 'bore'],
    ['100 dia', 'unknown'],
  ])('%s is %s', (text, basis) => {
    expect(readLabel(text).sizes[0]?.basis).toBe(basis);
  });

  test('a cable called after its two ends is no range, unless the count says so', () => {
    expect(readLabel('P1-P3').references).toEqual(['P1-P3']);
    expect(readLabel('3x100 dia P1-P3').references).toEqual(['P1', 'P2', 'P3']);
  });

  test.each([
    ['CL +2.400', 2400, 'centre'],
    ['U/S 2400 AFFL', 2400, 'underside'],
    ['IL -1.250', -1250, 'invert'],
    ['TOP +3.10', 3100, 'top'],
    ['150 dia @ 900 AFFL', 900, 'centre'],
  ])('%s', (text, heightMm, point) => {
    expect(readLabel(text).height).toMatchObject({ heightMm, point });
  });
});

test('a wall says how thick it is', () => {
  expect(readLabel('WALL 300 THK').thicknessMm).toBe(300);
});

test('no text makes it slow, throws, or gives a size that is none', () => {
  const pieces = fc.constantFrom(
    '1',
    '23',
    'x',
    'Ø',
    ' dia',
    ' no.',
    '"',
    '-',
    ' TO ',
    'D-',
    '/',
    ' ',
    '.',
    '(',
    'DN',
    '٣',
    '𝟙',
  );
  fc.assert(
    fc.property(fc.array(pieces, { maxLength: 300 }), (parts) => {
      for (const { section } of readLabel(parts.join('')).sizes) {
        const values = Object.values(section).filter((value) => typeof value === 'number');
        expect(values.every((value) => value >= 3 && value <= 6000)).toBe(true);
      }
    }),
    { seed: 3, numRuns: 300 },
  );
});

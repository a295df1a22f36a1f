import { expect, test } from 'vitest';
import { parseCables, parseOpening } from '../../../src/pipeline/size-words.ts';

test('one number is a circle by its diameter, two are a rectangle', () => {
  expect(parseOpening('150')).toEqual({ type: 'circle', diameterMm: 150 });
  expect(parseOpening('300x200.5')).toEqual({ type: 'rectangle', widthMm: 300, heightMm: 200.5 });
});

test('3x37,12 is three of 37 and one of 12, counted from 1', () => {
  expect(parseCables('3x37, 12')).toEqual([
    { ref: '1', outline: { type: 'circle', diameterMm: 37 } },
    { ref: '2', outline: { type: 'circle', diameterMm: 37 } },
    { ref: '3', outline: { type: 'circle', diameterMm: 37 } },
    { ref: '4', outline: { type: 'circle', diameterMm: 12 } },
  ]);
});

test('no cables is an empty opening', () => {
  expect(parseCables('')).toEqual([]);
});

test.each(['0', '-5', 'abc', '1e3', '300x', 'NaN', '100x200x300', ''])(
  'the opening "%s" is refused with what to give',
  (text) => {
    expect(() => parseOpening(text)).toThrow(expect.objectContaining({ code: 'usage' }));
  },
);

test.each(['3x', '0x37', 'x37', '3x0', '3*37', '999999999x5'])(
  'cables "%s" are refused',
  (text) => {
    expect(() => parseCables(text)).toThrow(expect.objectContaining({ code: 'usage' }));
  },
);

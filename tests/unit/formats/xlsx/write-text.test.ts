import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  cellText,
  cellXml,
  escapeXml,
  headerText,
  looksLikeFormula,
} from '../../../../src/formats/xlsx/write-text.ts';

test('characters that XML forbids leave a visible mark', () => {
  expect(cellText('a\u0000b\u0007c\u001fd')).toBe('a\ufffdb\ufffdc\ufffdd');
  expect(cellText('lone \ud800 end')).toBe('lone \ufffd end');
  expect(cellText('kept: \t \n é 日 😀')).toBe('kept: \t \n é 日 😀');
});

test('line ends become line feeds', () => {
  expect(cellText('a\r\nb\rc')).toBe('a\nb\nc');
});

test('a text that looks like an escaped character keeps its letters', () => {
  // ECMA-376 part 1, 22.9.2.19: _x0041_ would be read as "A".
  expect(cellXml('_x0041_')).toBe('_x005F_x0041_');
  expect(cellXml('_x00_ and _xyz_')).toBe('_x00_ and _xyz_');
});

test('a text too long for a cell is cut and says so', () => {
  const cut = cellText('x'.repeat(40_000));
  expect(cut).toHaveLength(32_767);
  expect(cut.endsWith('(cut)')).toBe(true);
});

test('markup is escaped', () => {
  expect(escapeXml(`<a b='c' d="e">&</a>`)).toBe(
    '&lt;a b=&apos;c&apos; d=&quot;e&quot;&gt;&amp;&lt;/a&gt;',
  );
});

test.each(['=1', '+1', '-1', '@a', '\t=1', '\r=1', '\n=1'])(
  '%j may be taken for a formula',
  (text) => {
    expect(looksLikeFormula(text)).toBe(true);
  },
);

test('plain texts are not taken for formulas', () => {
  for (const text of ['', 'a=1', '1-2', 'x@y', ' =1']) expect(looksLikeFormula(text)).toBe(false);
});

test('an ampersand in a footer is doubled, since it begins a code there', () => {
  expect(headerText('Pumps & outfall &P', 50)).toBe('Pumps && outfall &&P');
  expect(headerText('x'.repeat(99), 50)).toHaveLength(50);
});

test('no text at all escapes as markup or forbidden character', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'binary' }), (text) => {
      const xml = cellXml(text);
      return !MARKUP.test(xml) && !BARE_AMPERSAND.test(xml) && !FORBIDDEN.test(xml);
    }),
  );
});

const MARKUP = /[<>"']/;
const BARE_AMPERSAND = /&(?!(amp|lt|gt|quot|apos);)/;
// biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for.
const FORBIDDEN = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]/;

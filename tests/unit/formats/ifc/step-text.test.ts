import fc from 'fast-check';
import { expect, test } from 'vitest';
import { real } from '../../../../src/formats/ifc/step-lines.ts';
import { stepString, stepText } from '../../../../src/formats/ifc/step-text.ts';

test('the directives of the standard are read', () => {
  // ISO 10303-21:2016, 6.4.3, examples of the control directives.
  expect(stepText('see \\X\\A7 4.1')).toBe('see § 4.1');
  expect(stepText('\\PA\\h\\S\\ttel')).toBe('hôtel');
  expect(stepText('\\X2\\03B103B203B3\\X0\\')).toBe('αβγ');
  expect(stepText('\\X4\\0001F600\\X0\\')).toBe('😀');
  expect(stepText("don''t")).toBe("don't");
  expect(stepText('C:\\\\models')).toBe('C:\\models');
  // Cyrillic, part 5 of ISO 8859: the letter at 0xB6.
  expect(stepText('\\PE\\\\S\\6')).toBe('Ж');
});

test('any text survives writing and reading, and is written in printable ASCII', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'grapheme' }), (text) => {
      const written = stepString(text);
      expect(written).toMatch(/^'[\x20-\x7e]*'$/);
      expect(stepText(written.slice(1, -1))).toBe(text);
    }),
  );
});

test('a broken directive stays as it is', () => {
  expect(stepText('\\X2\\12')).toBe('\\X2\\12');
});

test('reals always have a point', () => {
  expect([0, -0, 1, -2.5, 1e21, 1.5e-7].map(real)).toEqual([
    '0.',
    '0.',
    '1.',
    '-2.5',
    '1.E21',
    '1.5E-7',
  ]);
  expect(() => real(Number.NaN)).toThrow(RangeError);
});

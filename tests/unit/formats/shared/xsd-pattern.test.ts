import fc from 'fast-check';
import { expect, test } from 'vitest';
import { xsdPattern } from '../../../../src/formats/shared/xsd-pattern.ts';

const matches = (pattern: string, text: string) => xsdPattern(pattern)?.(text) ?? null;

// IDS 1.0, user manual, restrictions.md: table of patterns with values that meet and fail them.
test.each([
  ['DT01', ['DT01'], ['DT1', 'DT011']],
  ['DT_ABC-01', ['DT_ABC-01'], ['DT_ABC_01']],
  ['DT.', ['DT1', 'DTA', 'DT+'], ['DT01', 'ADT1']],
  ['DT..', ['DT01', 'DTXY', 'DT++'], ['DT1']],
  ['DT.*', ['DT1', 'DTXYZ', 'DT+1-BC=123'], ['ADT', 'ABC-DT01']],
  ['.*DT.*', ['DT', 'ADT1', 'ABC-DT-01'], ['ADIT', 'TD', 'D-T']],
  ['DT[0-9]', ['DT0', 'DT9'], ['DT', 'DTA', 'DT123']],
  ['DT[0-9]*', ['DT', 'DT12', 'DT012345'], ['DTABC', 'DT01A']],
  ['DT[0-9]{2}', ['DT01', 'DT99'], ['DTA', 'DT0', 'DT123']],
])('%s', (pattern, meets, fails) => {
  for (const text of meets) expect(matches(pattern, text), text).toBe(true);
  for (const text of fails) expect(matches(pattern, text), text).toBe(false);
});

test('classes, subtraction and categories of XML Schema', () => {
  expect(matches('[a-z-[aeiou]]+', 'xyz')).toBe(true);
  expect(matches('[a-z-[aeiou]]+', 'xaz')).toBe(false);
  expect(matches('\\p{Lu}\\d{3,}', 'Ж123')).toBe(true);
  expect(matches('[^\\s]+', 'a b')).toBe(false);
  expect(matches('\\i\\c*', 'name-1')).toBe(true);
  expect(matches('(a|bc){2}', 'abc')).toBe(true);
  expect(matches('a{0,2}b', 'aab')).toBe(true);
  expect(matches('[a\\-z]+', 'a-z')).toBe(true);
  expect(matches('$^', '$^')).toBe(true);
});

test('what is no pattern gives none', () => {
  for (const pattern of ['(', '[a', '*a', 'a{2,1}', '\\q', '\\p{Foo}', 'a{99999}{99999}']) {
    expect(xsdPattern(pattern), pattern).toBeNull();
  }
});

test('a pattern made to explode ends at once', () => {
  expect(matches('(a*)*b', 'a'.repeat(5000))).toBe(false);
  expect(matches('(a|a)*(a|a)*c', 'a'.repeat(5000))).toBe(false);
});

test('agrees with JavaScript where the two languages are the same', () => {
  const piece = fc.constantFrom('a', 'b', '.', '[ab]', '[^a]', '(a|b)', '(ab)?');
  const quantified = fc
    .tuple(piece, fc.constantFrom('', '?', '*', '+', '{2}', '{1,2}'))
    .map(([each, quantifier]) => (each.endsWith('?') ? each : each + quantifier));
  fc.assert(
    fc.property(
      fc.array(quantified, { maxLength: 5 }),
      fc.string({ unit: fc.constantFrom('a', 'b', 'c'), maxLength: 8 }),
      (pieces, text) => {
        const pattern = pieces.join('');
        expect(matches(pattern, text)).toBe(new RegExp(`^(?:${pattern})$`).test(text));
      },
    ),
  );
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { stepNumbers, stepParameters } from '../../../../src/formats/ifc/step-values.ts';

const bytes = (text: string) => new TextEncoder().encode(text);

/** Numbers as programs write them: with and without point, sign, exponent, many digits. */
const written = fc.oneof(
  fc.integer({ min: -1_000_000, max: 1_000_000 }).map((value) => `${value}.`),
  fc.double({ noNaN: true, noDefaultInfinity: true }).map((value) => String(value).toUpperCase()),
  fc
    .tuple(fc.constantFrom('', '-', '+'), fc.nat(), fc.nat(), fc.nat(9))
    .map(([sign, whole, part, zeros]) => `${sign}${whole}.${'0'.repeat(zeros)}${part}`),
  fc.stringMatching(/^[-+]?\d{0,18}\.?\d{0,18}$/).filter((text) => /\d/.test(text)),
);

describe('numbers of points and directions', () => {
  it('are those that the language itself reads from the same text, to the last bit', () => {
    fc.assert(
      fc.property(fc.array(written, { minLength: 1, maxLength: 4 }), (texts) => {
        const record = bytes(`((${texts.join(',')}));`);
        const [list] = stepParameters(record, 0, record.length);
        const items = list?.kind === 'list' ? list.items : [];
        const values = items.map((item) => (item.kind === 'number' ? item.value : Number.NaN));
        expect(values).toEqual(texts.map(Number));
        const quick = stepNumbers(record, 0);
        if (quick !== null) expect(quick).toEqual(values);
      }),
      { numRuns: 500 },
    );
  });

  it.each([
    ['((1.,-2.5,0.))', [1, -2.5, 0]],
    ['((0.1))', [0.1]],
    ['((1.E3,2.))', null],
    ['((1., 2.))', null],
    ['((#1,#2))', null],
    ['(1.,2.)', null],
    ['(())', null],
    ['((1.,2.', null],
    ['((1.2.3))', null],
    ['((-))', null],
  ])('%s', (text, expected) => {
    expect(stepNumbers(bytes(text), 0)).toEqual(expected);
  });
});

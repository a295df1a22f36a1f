import { describe, expect, test } from 'vitest';
import { answersFireRating, parseFireRating } from '../../../src/design/fire-rating.ts';

describe('ratings as written', () => {
  test.each([
    ['EI 120', true, 120],
    ['EI120', true, 120],
    ['REI 90', true, 90],
    ['E 60', false, 60],
    ['RE 30', false, 30],
    ['-/120/120', true, 120],
    ['120/120/120', true, 120],
    ['60/60/-', false, 60],
    ['2 h', true, 120],
    ['2HR', true, 120],
    ['1.5 hours', true, 90],
    ['F90', true, 90],
    ['120 min', true, 120],
    ['90', true, 90],
    ['EI 60 (a<->b)', true, 60],
    ['EW 30', true, 30],
  ] as const)('%s', (text, needsInsulation, minutes) => {
    expect(parseFireRating(text)).toEqual({ needsInsulation, minutes });
  });
  test.each(['', 'none', 'fire rated', '-', '0'])('"%s" is no rating', (text) => {
    expect(parseFireRating(text)).toBeNull();
  });
  test('a long text does not make it slow or wrong', () => {
    expect(parseFireRating(`${' '.repeat(100_000)}EI 60`)).toBeNull();
  });
});

describe('what answers what', () => {
  // EN 13501-2: EI t answers EI u and E u for u ≤ t, E t alone never EI (from memory).
  const answers = (tested: string, asked: string) => {
    const [a, b] = [parseFireRating(tested), parseFireRating(asked)];
    return a !== null && b !== null && answersFireRating(a, b);
  };
  test.each([
    ['EI 120', 'EI 60', true],
    ['EI 120', 'E 120', true],
    ['EI 60', 'EI 90', false],
    ['E 120', 'EI 60', false],
    ['E 120', 'E 120', true],
    // 100 lies between two periods: the next one up is asked.
    ['EI 110', 'EI 100', false],
    ['EI 120', 'EI 100', true],
  ] as const)('%s for %s: %s', (tested, asked, expected) => {
    expect(answers(tested, asked)).toBe(expected);
  });
});

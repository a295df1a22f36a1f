import { describe, expect, test } from 'vitest';
import { SealbookError } from '../../../../src/basics/errors.ts';
import { readRange } from '../../../../src/read/range/read-range.ts';
import { sampleRange } from '../../../../src/read/range/sample-range.ts';

const GOOD = `name: Depot stock
fillers:
  - name: large
    outsideMm: 25
    boreMm: 17
    lengthMm: 100
    source: measured
sealants:
  - name: grey
    containers:
      - sizeMl: 310
    source: data sheet
`;

function read(text: string) {
  return readRange({ key: 'range', name: 'range.yaml', bytes: new TextEncoder().encode(text) });
}

function faultOf(text: string): SealbookError {
  try {
    read(text);
  } catch (error) {
    if (error instanceof SealbookError) return error;
    throw error;
  }
  throw new Error('was read');
}

describe('a range file', () => {
  test('is read with its defaults', () => {
    const range = read(GOOD);
    expect(range.name).toBe('Depot stock');
    expect(range.sample).toBe(false);
    expect(range.tubeClearanceMm).toBe(2);
    expect(range.sealants[0]?.containers[0]?.kind).toBe('cartridge');
  });
  test('with a bore larger than the outside is refused at its line', () => {
    const fault = faultOf(GOOD.replace('boreMm: 17', 'boreMm: 27'));
    expect(fault.code).toBe('settings-invalid');
    expect(fault.where).toEqual({ file: 'range.yaml', line: 5 });
    expect(fault.message).toContain('the bore must be smaller than the outside');
  });
  test('with a field that is not one is refused, saying what is allowed', () => {
    const fault = faultOf(GOOD.replace('lengthMm: 100', 'lengthMm: 100\n    colour: red'));
    expect(fault.where.line).toBe(7);
    expect(fault.todo).toContain('outsideMm');
  });
  test('with a value without source is refused', () => {
    const fault = faultOf(GOOD.replace('    source: measured\n', ''));
    expect(fault.message).toContain('source');
  });
  test.each([
    ['a negative size', 'outsideMm: 25', 'outsideMm: -25'],
    ['a text for a number', 'outsideMm: 25', 'outsideMm: wide'],
    ['no number', 'outsideMm: 25', 'outsideMm: .nan'],
    ['an endless number', 'outsideMm: 25', 'outsideMm: .inf'],
    ['a container of nothing', 'sizeMl: 310', 'sizeMl: 0'],
  ])('with %s is refused', (_what, from, to) => {
    expect(faultOf(GOOD.replace(from, to)).code).toBe('settings-invalid');
  });
  test.each([
    ['a tube in metres', 'outsideMm: 25', 'outsideMm: 0.025', 'mm'],
    ['a container in litres', 'sizeMl: 310', 'sizeMl: 0.31', 'ml'],
  ])('with %s is refused: check the unit', (_what, from, to, unit) => {
    const fault = faultOf(GOOD.replace(from, to));
    expect(fault.message).toContain(`${unit} is expected: check the unit`);
  });
  test('with a tube for cables from large to small is refused', () => {
    const wrong = GOOD.replace(
      'lengthMm: 100',
      'lengthMm: 100\n    takesCableMm: { smallestMm: 16, largestMm: 12 }',
    );
    expect(faultOf(wrong).message).toContain('smallest');
  });
  test('with two fillers of one name is refused: quantities go by name', () => {
    const twice = GOOD.replace(
      'sealants:',
      '  - { name: large, outsideMm: 16, boreMm: 10, lengthMm: 100, source: s }\nsealants:',
    );
    expect(faultOf(twice).message).toContain('large');
  });
  test('that is not YAML is refused at its line', () => {
    expect(faultOf('name: [').code).toBe('settings-invalid');
  });
});

describe('the sample range', () => {
  const range = sampleRange();
  test('is marked as sample, and every value says that it is invented', () => {
    expect(range.sample).toBe(true);
    expect(range.name).toMatch(/sample/i);
    for (const { source } of [...range.fillers, ...range.sealants, ...range.records]) {
      expect(source).toMatch(/sample/i);
    }
  });
  test('has two sizes of tube and of container', () => {
    expect(range.fillers.length).toBeGreaterThanOrEqual(2);
    expect(range.sealants[0]?.containers.map(({ sizeMl }) => sizeMl)).toEqual([310, 600]);
  });
});

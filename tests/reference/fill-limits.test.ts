import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { sizeOne } from '../../src/design/size-one.ts';
import { necFillLimit, TRUNKING_SPACE_FACTOR } from '../../src/design/tables/fill-limits.ts';
import type { Shape } from '../../src/geometry/shape.ts';
import type { Raceway } from '../../src/model/seal.ts';
import { Settings } from '../../src/model/settings.ts';
import { makeRange } from '../makers/seal/make-range.ts';
import { plainArrangement } from '../makers/seal/plain-arrangement.ts';
import { sharedPath, testWith } from '../set-up/outside.ts';

const IN2_MM2 = 25.4 ** 2;
const diameterOf = (areaMm2: number) => Math.sqrt((4 * areaMm2) / Math.PI);

function checksOf(
  opening: Shape,
  diametersMm: readonly number[],
  raceway: Raceway,
  fillCode: 'NEC ch. 9' | 'BS 7671' = 'NEC ch. 9',
) {
  const seal = sizeOne(
    {
      opening,
      bodies: diametersMm.map((diameterMm, at) => ({
        ref: String(at + 1),
        outline: { type: 'circle', diameterMm },
      })),
      range: makeRange([310]),
      design: Settings.parse({ design: { fillCode } }).design,
      raceway,
    },
    { arrange: plainArrangement },
  );
  const named = (name: string) => seal.checks.find((check) => check.name.startsWith(name));
  return { fill: named('fill'), jam: named('jam') };
}

/** Bore of a raceway by its table area, so that areas of code tables meet areas of code tables. */
const boreOfArea = (areaIn2: number): Shape => ({
  type: 'circle',
  diameterMm: diameterOf(areaIn2 * IN2_MM2),
});

describe('NEC chapter 9', () => {
  // NFPA 70, ch. 9, table 1 (limits), table 4 (EMT, PVC schedule 40), table 5 (THHN areas), as in
  // shared reference nec-fill.json; fills of the worked cases computed there from the tables.
  test('limits of table 1', () => {
    expect(necFillLimit(1).ratio).toBe(0.53);
    expect(necFillLimit(2).ratio).toBe(0.31);
    expect(necFillLimit(3).ratio).toBe(0.4);
    expect(necFillLimit(30).ratio).toBe(0.4);
  });
  test.each([
    ['three 500 kcmil in 2-1/2 EMT', 5.858, Array(3).fill(0.7073), 0.36222, 'met'],
    ['three 500 kcmil in 2 EMT', 3.356, Array(3).fill(0.7073), 0.63227, 'not met'],
    ['two 4/0 in 2 EMT', 3.356, Array(2).fill(0.3237), 0.19291, 'met'],
    ['two 4/0 in 1-1/2 EMT', 2.036, Array(2).fill(0.3237), 0.31798, 'not met'],
    ['one 250 kcmil in 1 EMT', 0.864, [0.397], 0.45949, 'met'],
    ['one 250 kcmil in 3/4 EMT', 0.533, [0.397], 0.74484, 'not met'],
    [
      'four 12 AWG and two 10 AWG in 1/2 EMT',
      0.304,
      [0.0133, 0.0133, 0.0133, 0.0133, 0.0211, 0.0211],
      0.31382,
      'met',
    ],
    ['three 3/0 in 2 PVC schedule 40', 3.291, Array(3).fill(0.2679), 0.24421, 'met'],
    ['three 3/0 in 1-1/2 PVC schedule 40', 1.986, Array(3).fill(0.2679), 0.40468, 'not met'],
  ] as const)('%s', (_name, areaIn2, areasIn2: readonly number[], fill, verdict) => {
    const check = checksOf(
      boreOfArea(areaIn2),
      areasIn2.map((area) => diameterOf(area * IN2_MM2)),
      'conduit',
    ).fill;
    expect(Math.abs((check?.value ?? 0) - fill)).toBeLessThan(6e-6);
    expect(check?.verdict).toBe(verdict);
  });
  test('three 500 kcmil (0.949 in) may jam in 2-1/2 EMT (2.731 in) but not in 3 (3.356 in)', () => {
    // Informational note: 2.8 to 3.2.
    const cables = Array<number>(3).fill(0.949 * 25.4);
    const small = checksOf({ type: 'circle', diameterMm: 2.731 * 25.4 }, cables, 'conduit').jam;
    const next = checksOf({ type: 'circle', diameterMm: 3.356 * 25.4 }, cables, 'conduit').jam;
    expect(small?.value).toBeCloseTo(2.8778, 4);
    expect(small?.verdict).toBe('not met');
    expect(next?.value).toBeCloseTo(3.5364, 4);
    expect(next?.verdict).toBe('met');
  });
  test('an opening or a sleeve has no limit, so it is not assessed', () => {
    for (const raceway of ['opening', 'sleeve'] as const) {
      const { fill } = checksOf({ type: 'circle', diameterMm: 150 }, [140], raceway);
      expect(fill?.verdict).toBe('not assessed');
      expect(fill?.limit).toBeNull();
      expect(fill?.missing.length).toBeGreaterThan(0);
    }
  });
});

describe('45 % space factor of trunking', () => {
  const trunking: Shape = { type: 'rectangle', widthMm: 100, heightMm: 100 };
  test('holds for trunking only', () => {
    expect(TRUNKING_SPACE_FACTOR.ratio).toBe(0.45);
    expect(checksOf(trunking, [10], 'trunking', 'BS 7671').fill?.verdict).toBe('met');
    expect(checksOf(trunking, [10], 'conduit', 'BS 7671').fill?.verdict).toBe('not assessed');
    expect(checksOf(trunking, [10], 'trunking').fill?.verdict).toBe('not assessed');
  });
  test('57 cables of 10 mm fill 100 × 100 to 44.8 %, 58 to 45.6 %', () => {
    // 57 · 25π / 10 000 = 0.44768; 58 · 25π / 10 000 = 0.45553.
    const with57 = checksOf(trunking, Array<number>(57).fill(10), 'trunking', 'BS 7671').fill;
    const with58 = checksOf(trunking, Array<number>(58).fill(10), 'trunking', 'BS 7671').fill;
    expect(with57?.value).toBeCloseTo(0.44768, 5);
    expect(with57?.verdict).toBe('met');
    expect(with58?.verdict).toBe('not met');
  });
});

testWith(['shared'], 'the worked cases above are all those of the reference file', () => {
  const { worked, fill_limits } = JSON.parse(
    readFileSync(sharedPath('reference', 'nec-fill.json'), 'utf8'),
  ) as {
    worked: { id: string; fill: number; fill_limit: number; conductors: { qty: number }[] }[];
    fill_limits: { limit: number }[];
  };
  expect(worked.map(({ fill }) => fill)).toEqual([0.36222, 0.19291, 0.45949, 0.31382, 0.24421]);
  expect(fill_limits.map(({ limit }) => limit)).toEqual([0.53, 0.31, 0.4, 0.6]);
  for (const { conductors, fill_limit } of worked) {
    const count = conductors.reduce((all, { qty }) => all + qty, 0);
    expect(necFillLimit(count).ratio).toBe(fill_limit);
  }
});

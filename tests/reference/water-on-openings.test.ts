import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { pressureKPa, waterLoad } from '../../src/design/hydrostatics.ts';
import { sizeOne } from '../../src/design/size-one.ts';
import { Settings } from '../../src/model/settings.ts';
import { makeRange } from '../makers/seal/make-range.ts';
import { plainArrangement } from '../makers/seal/plain-arrangement.ts';
import { sharedPath, testWith } from '../set-up/outside.ts';

/** Weight of water, lb/ft³, and what makes our newtons of it: 1 lb over 1 ft³ as kN/m³. */
const LB_FT3_AS_KN_M3 = 0.45359237 * 9.80665 * 35.31466672148859 * 1e-3;
const FT_MM = 304.8;
const LB_N = 0.45359237 * 9.80665;

describe('5 m of water on a 150 mm bore, 20 mm deep', () => {
  // ρ = 1000 kg/m³, g = 9.81 m/s²; shared reference hydrostatic.json, core.
  const seal = sizeOne(
    {
      opening: { type: 'circle', diameterMm: 150 },
      bodies: ['1', '2', '3'].map((ref) => ({ ref, outline: { type: 'circle', diameterMm: 37 } })),
      range: makeRange([310], {
        records: [
          { name: 'r', duty: 'water', standard: 's', largestHeadM: 5, source: 'made for a test' },
        ],
        sealants: [
          {
            name: 'sealant',
            containers: [{ sizeMl: 310 }],
            bond: [{ substrate: 'any', shearKPa: 92, source: 'made for a test' }],
            source: 'made for a test',
          },
        ],
      }),
      design: Settings.parse({}).design,
      duties: [{ kind: 'water', headM: 5, side: null, rating: null, reason: 'asked' }],
    },
    { arrange: plainArrangement },
  );
  const check = (name: string) => seal.checks.find((one) => one.name === name);
  test('pressure 49.05 kPa', () => {
    expect(check('water pressure')?.value).toBeCloseTo(49.05, 6);
    expect(check('water pressure')?.verdict).toBe('met');
  });
  test('thrust 866.785 N on the whole bore', () => {
    expect(check('water thrust')?.value).toBeCloseTo(866.7850480795, 6);
  });
  test('mean bond shear 91.969 kPa on the wall alone decides, 43.208 kPa with the cables is shown', () => {
    const bond = check('bond shear under water');
    expect(bond?.value).toBeCloseTo(91.96875, 6);
    expect(bond?.verdict).toBe('met');
    expect(bond?.note).toContain('43.2 kPa');
  });
});

test('pressure of heads and of sea water', () => {
  // hydrostatic.json, core: p = ρ g h. 1025 kg/m³ for sea water: from memory.
  expect(pressureKPa(1)).toBeCloseTo(9.81, 9);
  expect(pressureKPa(2)).toBeCloseTo(19.62, 9);
  expect(pressureKPa(10)).toBeCloseTo(98.1, 9);
  expect(pressureKPa(5, 1.025 * 9.81)).toBeCloseTo(50.27625, 9);
});

test('the centre of pressure of a 150 mm duct at 5 m lies 0.28 mm low', () => {
  // hydrostatic.json, vertical-150-cp-offset: e = D²/(16 h).
  const load = waterLoad({ type: 'circle', diameterMm: 150 }, 5);
  expect(load.centreBelowOriginMm).toBeCloseTo(0.28125, 6);
});

describe('textbook gates', () => {
  // Hydraulics study notes, "hydrostatic forces on plane surfaces"; force and depth recomputed.
  test('1.5 × 3 m, top 2 m below the surface: 154.51 kN at 3.714 m', () => {
    const load = waterLoad({ type: 'rectangle', widthMm: 1500, heightMm: 3000 }, 3.5);
    expect(load.thrustN / 1000).toBeCloseTo(154.5075, 6);
    expect(3.5 + (load.centreBelowOriginMm ?? 0) / 1000).toBeCloseTo(3.714285714, 6);
  });
  test('3 × 3 m with its centre of pressure 8 cm low: 827.72 kN', () => {
    const load = waterLoad({ type: 'rectangle', widthMm: 3000, heightMm: 3000 }, 7.875 + 1.5);
    expect(load.thrustN / 1000).toBeCloseTo(827.71875, 6);
    expect(load.centreBelowOriginMm).toBeCloseTo(80, 6);
  });
  test('1.2 m circle, centre at 2.5 m: 27.737 kN at 2.536 m', () => {
    const load = waterLoad({ type: 'circle', diameterMm: 1200 }, 2.5);
    expect(load.thrustN / 1000).toBeCloseTo(27.737121538, 6);
    expect(2.5 + (load.centreBelowOriginMm ?? 0) / 1000).toBeCloseTo(2.536, 6);
  });
  test('4 m circle, centre at 8 m: 986.209 kN at 8.125 m, 61.638 kN at its edge', () => {
    // Civil engineering notes on a gate hinged at its centre; π instead of the page's 12.56/4.
    const load = waterLoad({ type: 'circle', diameterMm: 4000 }, 8);
    const offsetM = (load.centreBelowOriginMm ?? 0) / 1000;
    expect(load.thrustN / 1000).toBeCloseTo(986.2087658, 5);
    expect(offsetM).toBeCloseTo(0.125, 7);
    expect((load.thrustN / 1000) * (offsetM / 2)).toBeCloseTo(61.6380478634, 5);
  });
  test('2 × 3 m, top 1 m below the surface: 147.15 kN at 2.8 m', () => {
    const load = waterLoad({ type: 'rectangle', widthMm: 2000, heightMm: 3000 }, 2.5);
    expect(load.thrustN).toBeCloseTo(147150, 3);
    expect(2.5 + (load.centreBelowOriginMm ?? 0) / 1000).toBeCloseTo(2.8, 7);
  });
  test('triangular trough end, 8 ft wide and 3 ft deep, full: 748.8 lb', () => {
    // OpenStax Calculus, "Physical applications", finding hydrostatic force: set-up read.
    const load = waterLoad(
      {
        type: 'polygon',
        pointsMm: [
          [-4 * FT_MM, 0],
          [4 * FT_MM, 0],
          [0, -3 * FT_MM],
        ],
      },
      0,
      1,
      62.4 * LB_FT3_AS_KN_M3,
    );
    expect(load.thrustN / LB_N).toBeCloseTo(748.8, 4);
  });
  test('dam face, trapezoid 1250/750 ft wide, 750 ft high, water 10 ft below its top', () => {
    // OpenStax Calculus, "Applications of integration": 62.4 ∫ (1250 − 2x/3)(x − 10) dx, 10 to 540.
    const widthAt = (depthFt: number) => 1250 - (2 * depthFt) / 3;
    const face = [
      [(-widthAt(0) / 2) * FT_MM, 0],
      [(widthAt(0) / 2) * FT_MM, 0],
      [(widthAt(540) / 2) * FT_MM, -540 * FT_MM],
      [(-widthAt(540) / 2) * FT_MM, -540 * FT_MM],
    ] as const;
    const load = waterLoad(
      { type: 'polygon', pointsMm: face },
      (-10 * FT_MM) / 1000,
      1,
      62.4 * LB_FT3_AS_KN_M3,
    );
    // 8 832 245 066.67 lb, relative to what a float of this size holds.
    expect(load.thrustN / LB_N / 8832245066.666666).toBeCloseTo(1, 9);
  });
});

testWith(['shared'], 'the figures above are those of the reference file', () => {
  const { core, textbook } = JSON.parse(
    readFileSync(sharedPath('reference', 'hydrostatic.json'), 'utf8'),
  ) as {
    core: { id: string; expected: Record<string, number> }[];
    textbook: { id: string; computed: Record<string, number> }[];
  };
  const expected = (id: string) => core.find((one) => one.id === id)?.expected ?? {};
  expect(expected('head5-pressure')['pressure_kPa']).toBeCloseTo(49.05, 9);
  expect(expected('head5-thrust-150')['thrust_N']).toBeCloseTo(866.7850480795, 9);
  expect(expected('head5-bond-shear-150-20')['mean_shear_kPa']).toBeCloseTo(91.96875, 9);
  expect(expected('head5-free-area-3x37-150')['mean_shear_kPa']).toBeCloseTo(43.2076939655, 9);
  expect(textbook.map(({ id }) => id).sort()).toEqual([
    'circle-1.2-h2.5',
    'circle-4-h8',
    'dam-face-trapezoid',
    'rect-1.5x3-top2',
    'rect-2x3-top1',
    'square-3x3-e8cm',
    'trough-triangle',
  ]);
});

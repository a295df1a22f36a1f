import { describe, expect, test } from 'vitest';
import { designSeals } from '../../../../src/design/design-seals.ts';
import { type SizeInput, sizeOne } from '../../../../src/design/size-one.ts';
import type { Duty } from '../../../../src/model/seal.ts';
import { Settings } from '../../../../src/model/settings.ts';
import {
  makeCable,
  makeCrossing,
  makeHost,
  makeMatch,
  makeMatches,
  makePenetration,
  makeSchedule,
} from '../../../makers/seal/make-penetration.ts';
import { makeRange } from '../../../makers/seal/make-range.ts';
import { plainArrangement } from '../../../makers/seal/plain-arrangement.ts';

const MADE = 'made for a test';
const water: Duty = { kind: 'water', headM: 5, side: null, rating: null, reason: 'asked' };

function withBond(
  bond: readonly object[],
  changes: Partial<SizeInput> = {},
  settings: object = {},
) {
  return sizeOne(
    {
      opening: { type: 'circle', diameterMm: 150 },
      bodies: [{ ref: '1', outline: { type: 'circle', diameterMm: 37 } }],
      range: makeRange([310], {
        sealants: [
          {
            name: 's',
            containers: [{ sizeMl: 310 }],
            bond: bond.map((row) => ({ substrate: 'any', source: MADE, ...row })),
            source: MADE,
          },
        ],
      }),
      design: Settings.parse({ design: settings }).design,
      duties: [water],
      thicknessMm: 300,
      ...changes,
    },
    { arrange: plainArrangement },
  );
}
const bondOf = (seal: ReturnType<typeof withBond>) =>
  seal.checks.find(({ name }) => name === 'bond shear under water');

describe('bond under water', () => {
  // 5 m on 150 mm, 20 mm deep: 91.97 kPa (hydrostatic.json).
  test('a dry or a short-lived allowable does not count', () => {
    expect(bondOf(withBond([{ shearKPa: 500, condition: 'dry' }]))?.verdict).toBe('not assessed');
    expect(bondOf(withBond([{ shearKPa: 500, duration: 'short' }]))?.verdict).toBe('not assessed');
    expect(bondOf(withBond([{ shearKPa: 500 }]))?.verdict).toBe('met');
  });
  test('the substrate’s own row goes before the one for any', () => {
    const bond = [{ shearKPa: 500 }, { shearKPa: 80, substrate: 'steel' }];
    expect(bondOf(withBond(bond))?.verdict).toBe('met');
    expect(bondOf(withBond(bond, { substrate: 'Steel S235' }))?.limit).toBe(80);
  });
  test('the worse direction counts unless the wet face is among the sealed ones', () => {
    const bond = [
      { shearKPa: 120, direction: 'against fillers' },
      { shearKPa: 60, direction: 'off the face' },
    ];
    const one = withBond(bond);
    expect(bondOf(one)?.limit).toBe(60);
    expect(one.remedies?.map(({ kind }) => kind)).toContain('wet side');
    expect(bondOf(withBond(bond, {}, { faces: 2 }))?.limit).toBe(120);
  });
  test('one direction without a figure is not assessed', () => {
    const bond = [{ shearKPa: 120, direction: 'against fillers' }];
    expect(bondOf(withBond(bond))?.verdict).toBe('not assessed');
  });
  test('the least depth that works is offered, in steps of 5 mm', () => {
    // p D / (4 t) ≤ 60 kPa: t ≥ 30.66 mm.
    const seal = withBond([{ shearKPa: 60 }]);
    const deeper = seal.remedies?.find(
      ({ kind, settles }) => kind === 'deeper layer' && settles === 'bond shear under water',
    );
    expect(deeper?.text).toContain('35 mm deep');
  });
  test('no depth is offered that the host does not have', () => {
    const seal = withBond([{ shearKPa: 60 }], { thicknessMm: 30 });
    expect(seal.remedies ?? []).toEqual([]);
  });
  test('a head that is not known is not assessed', () => {
    const seal = withBond([{ shearKPa: 60 }], { duties: [{ ...water, headM: null }] });
    const pressure = seal.checks.find(({ name }) => name === 'water pressure');
    expect(pressure?.verdict).toBe('not assessed');
    expect(pressure?.missing).toEqual(['water level or head']);
  });
  test('the highest of several heads counts', () => {
    const seal = withBond([{ shearKPa: 60 }], { duties: [{ ...water, headM: 1 }, water] });
    expect(bondOf(seal)?.value).toBeCloseTo(91.96875, 6);
  });
});

describe('water by level', () => {
  const conduit = makeCrossing({ id: 'c', boreMm: 94, offsetMm: [0, 200] });
  const hole = makePenetration({
    shape: { type: 'rectangle', widthMm: 300, heightMm: 600 },
    crossings: [conduit],
    hosts: [makeHost({ isExternal: true })],
  });
  const sealsAt = (waterLevelMm: number) =>
    designSeals(
      {
        penetrations: [hole],
        schedule: makeSchedule([]),
        matches: makeMatches([]),
        range: makeRange([310], {
          records: [{ name: 'r', duty: 'water', standard: 's', largestHeadM: 9, source: MADE }],
        }),
        settings: Settings.parse({ ground: { waterLevelMm } }),
      },
      { arrange: plainArrangement },
    ).result;
  const pressureOf = (seal: ReturnType<typeof sealsAt>[number] | undefined) =>
    seal?.checks.find(({ name }) => name === 'water pressure')?.value;
  test('each leak path has the head at its own height', () => {
    const [annulus, bore] = sealsAt(3000);
    // Lowest points: the hole's at 1000 − 300, the bore's at 1000 + 200 − 47.
    expect(pressureOf(annulus)).toBeCloseTo(9.81 * 2.3, 9);
    expect(pressureOf(bore)).toBeCloseTo(9.81 * 1.847, 9);
  });
  test('half under water: thrust of the wet half, and nothing on a bore above it', () => {
    const [annulus, bore] = sealsAt(1000);
    // 300 mm wide, 300 mm deep: γ · 0.15 m · 0.09 m² = 132.435 N.
    const thrust = annulus?.checks.find(({ name }) => name === 'water thrust');
    expect(thrust?.note).toContain('132.4 N on 90000 mm²');
    expect(bore?.checks.some(({ name }) => name.startsWith('water'))).toBe(false);
  });
});

describe('buildability', () => {
  const tube = { name: 't', outsideMm: 25, boreMm: 17, lengthMm: 100, source: MADE };
  const depthOf = (
    thicknessMm: number,
    faces: 1 | 2,
    fillers: readonly object[] = [{ ...tube, cutToMm: 100 }],
  ) => withBond([], { thicknessMm, duties: [], range: makeRange([310], { fillers }) }, { faces });
  const depthCheck = (...args: Parameters<typeof depthOf>) =>
    depthOf(...args).checks.find(({ name }) => name === 'depth of host');
  test('a host must hold its layers and a filler that may not be cut', () => {
    // 120 mm for one layer of 20 and a tube of 100, 140 mm for two.
    expect(depthCheck(120, 1)?.verdict).toBe('met');
    expect(depthCheck(119, 1)?.verdict).toBe('not met');
    expect(depthCheck(120, 2)?.verdict).toBe('not met');
    expect(depthOf(120, 2).remedies?.map(({ kind }) => kind)).toEqual(['one face']);
  });
  test('a filler may be cut to twice its outside unless the range says otherwise', () => {
    // 2 · 20 + 2 · 25 = 90 mm.
    expect(depthCheck(90, 2, [tube])?.verdict).toBe('met');
    expect(depthCheck(90, 2, [tube])?.note).toContain('cut to 50 mm');
    expect(depthCheck(89, 2, [tube])?.verdict).toBe('not met');
  });
  test('a cable laid elsewhere than shown needs free length to its next fixing', () => {
    const line = makeCrossing({
      id: 'l',
      kind: 'cable',
      section: { type: 'circle', diameterMm: 37 },
      offsetMm: [60, 0],
    });
    const hole = makePenetration({ crossings: [line] });
    const cable = makeCable('A1');
    const { result } = designSeals(
      {
        penetrations: [hole],
        schedule: makeSchedule([cable]),
        matches: makeMatches([makeMatch(cable, hole, 'l')]),
        range: makeRange([310]),
        settings: Settings.parse({}),
      },
      // Always at the middle, so 60 mm off; R = 12 · 37 = 444: √(60 · (4 · 444 − 60)) = 320.9.
      { arrange: plainArrangement },
    );
    const note = result[0]?.checks.find(({ name }) => name === 'cables moved sideways')?.note;
    expect(note).toContain('60 mm sideways');
    expect(note).toContain('321 mm free');
  });
  test('a hole that takes no filler says so', () => {
    const seal = sizeOne(
      {
        opening: { type: 'circle', diameterMm: 60 },
        bodies: [{ ref: '1', outline: { type: 'circle', diameterMm: 50 } }],
        range: makeRange([310]),
        design: Settings.parse({ design: { splitTubes: false } }).design,
      },
      { arrange: (problem) => ({ ...plainArrangement(problem), fillers: [] }) },
    );
    expect(seal.checks.find(({ name }) => name === 'gap for a filler')?.verdict).toBe('not met');
  });
});

describe('what would make it work', () => {
  test('a conduit filled too far: the next size of its family, and how many fit', () => {
    // EMT 2 in has 52.5 mm, 2-1/2 in 69.37 mm (NFPA 70 ch. 9 table 4); three of 20 mm: 43.5 %,
    // 24.9 %; two: 29.0 % of 31 %.
    const seal = sizeOne(
      {
        opening: { type: 'circle', diameterMm: 52.5 },
        bodies: ['1', '2', '3'].map((ref) => ({
          ref,
          outline: { type: 'circle', diameterMm: 20 },
        })),
        range: makeRange([310]),
        design: Settings.parse({}).design,
        raceway: 'conduit',
      },
      { arrange: plainArrangement },
    );
    const texts = seal.remedies?.filter(({ settles }) => settles.startsWith('fill'));
    expect(texts?.find(({ kind }) => kind === 'next conduit size')?.text).toContain('EMT 2-1/2 in');
    expect(texts?.find(({ kind }) => kind === 'fewer bodies')?.text).toContain('2 of 3 fit');
  });
  test('room for later cables: the opening that has it', () => {
    const seal = sizeOne({
      opening: { type: 'circle', diameterMm: 60 },
      bodies: [{ ref: '1', outline: { type: 'circle', diameterMm: 37 } }],
      range: makeRange([310]),
      design: Settings.parse({ design: { spare: { count: 2, diameterMm: 25 } } }).design,
    });
    const spare = seal.checks.find(({ subject }) => subject === 'spare');
    expect(spare?.verdict).toBe('not met');
    const remedy = seal.remedies?.find(({ settles }) => settles === spare?.name);
    expect(remedy?.kind).toBe('larger opening');
  });
  test('nothing is offered where all is well', () => {
    const seal = sizeOne({
      opening: { type: 'circle', diameterMm: 150 },
      bodies: [{ ref: '1', outline: { type: 'circle', diameterMm: 37 } }],
      range: makeRange([310]),
      design: Settings.parse({}).design,
    });
    expect(seal.remedies).toBeUndefined();
  });
});

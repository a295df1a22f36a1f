import { describe, expect, test } from 'vitest';
import { designSeals } from '../../../src/design/design-seals.ts';
import { takeOff } from '../../../src/design/take-off.ts';
import type { Penetration } from '../../../src/model/penetration.ts';
import { Settings } from '../../../src/model/settings.ts';
import {
  makeCable,
  makeCrossing,
  makeHost,
  makeMatch,
  makeMatches,
  makePenetration,
  makeSchedule,
} from '../../makers/seal/make-penetration.ts';
import { makeRange } from '../../makers/seal/make-range.ts';
import { plainArrangement } from '../../makers/seal/plain-arrangement.ts';

const MADE = 'made for a test';
const tube = { name: 'tube', outsideMm: 25, boreMm: 17, lengthMm: 100, source: MADE };

function takeOffOf(penetrations: readonly Penetration[], changes: object = {}, settings = {}) {
  const range = makeRange([310], changes);
  const all = Settings.parse(settings);
  const { result } = designSeals(
    {
      penetrations,
      schedule: makeSchedule([]),
      matches: makeMatches([]),
      range,
      settings: all,
    },
    { arrange: plainArrangement },
  );
  return takeOff(result, penetrations, range, all);
}

const onLevel = (id: string, level: string | null, changes: Partial<Penetration> = {}) => {
  const plain = makePenetration({ id, ...changes });
  return { ...plain, where: { ...plain.where, level } };
};

describe('areas', () => {
  test('are the levels, sorted, and holes on none have an area of their own', () => {
    const { sealants } = takeOffOf([onLevel('a', 'L02'), onLevel('b', 'L01'), onLevel('c', null)]);
    expect(sealants.map(({ area, seals }) => [area, seals])).toEqual([
      ['L01', 1],
      ['L02', 1],
      ['no level', 1],
    ]);
  });
  test('a seal that is a query is counted apart, not taken off', () => {
    const unknown = onLevel('b', 'L01', {
      crossings: [makeCrossing({ kind: 'pipe', section: null })],
    });
    const nominal = onLevel('c', 'L01', {
      crossings: [makeCrossing({ kind: 'pipe', sizeBasis: 'nominal' })],
    });
    const { sealants, notCounted } = takeOffOf([onLevel('a', 'L01'), unknown, nominal]);
    expect(sealants[0]?.seals).toBe(1);
    expect(sealants[0]?.netMl).toBeCloseTo(353.4292, 3);
    expect(notCounted).toBe(2);
  });
  test('allowances stand apart from net', () => {
    const [row] = takeOffOf([onLevel('a', 'L01')], {}, { design: { faceFactor: 1.5 } }).sealants;
    // Net π/4 · 150² · 20; allowances: × 21/20 · 1.1 · 1.5 less the net.
    expect(row?.netMl).toBeCloseTo(353.4292, 3);
    expect(row?.allowancesMl).toBeCloseTo(353.4292 * (1.05 * 1.1 * 1.5 - 1), 3);
  });
});

describe('fillers', () => {
  test('two faces take a set each, unless one length reaches from layer to layer', () => {
    const thick = onLevel('a', 'L01', {
      thicknessMm: 200,
      hosts: [makeHost({ fireRating: 'EI 60' })],
    });
    // 200 − 2 · 20 = 160 mm between the layers: a tube of 100 does not reach, one of 160 does.
    expect(takeOffOf([thick], { fillers: [tube] }).fillers[0]?.whole).toBe(2);
    const long = { ...tube, lengthMm: 160 };
    expect(takeOffOf([thick], { fillers: [long] }).fillers[0]).toMatchObject({
      whole: 1,
      lengthMm: 160,
    });
  });
  test('rows of one tube share its packs, and short pieces its length', () => {
    const thin = ['a', 'b', 'c'].map((id) => onLevel(id, 'L01', { thicknessMm: 70 }));
    const thick = ['d', 'e'].map((id) => onLevel(id, 'L01'));
    const { fillers } = takeOffOf([...thin, ...thick], { fillers: [{ ...tube, perPack: 4 }] });
    // 70 − 20 = 50 mm: two from a tube of 100, so three pieces take two tubes; two more whole: 4.
    expect(fillers.map(({ lengthMm, whole }) => [lengthMm, whole])).toEqual([
      [50, 3],
      [100, 2],
    ]);
    expect(fillers.reduce((packs, row) => packs + row.packs, 0)).toBe(1);
  });
});

describe('labour, open time and prices', () => {
  const labour = [
    {
      name: 'fitter',
      hoursPerSeal: 0.5,
      hoursPerFace: 0.25,
      wetFactor: 2,
      pricePerHour: 40,
      source: MADE,
    },
  ];
  test('hours by seal and face, more where it is wet', () => {
    const wet = onLevel('b', 'L01', { hosts: [makeHost({ isExternal: true })] });
    const { labour: rows } = takeOffOf(
      [onLevel('a', 'L01'), wet],
      { labour },
      { ground: { waterLevelMm: 3000 } },
    );
    expect(rows).toEqual([{ area: 'L01', name: 'fitter', hours: 0.75 + 1.5 }]);
  });
  test('containers are pooled within the open time', () => {
    const holes = ['a', 'b', 'c', 'd'].map((id) =>
      onLevel(id, 'L01', { shape: { type: 'circle', diameterMm: 100 } }),
    );
    // Each takes π/4 · 100² · 21 · 1.1 = 181.4 ml and 45 min; two are made within 90 min.
    const sealants = (openTimeMin: number) => [
      { name: 's', containers: [{ sizeMl: 310 }], openTimeMin, source: MADE },
    ];
    const pooled = (openTimeMin: number) =>
      takeOffOf(holes, { labour, sealants: sealants(openTimeMin) }).sealants[0];
    expect(pooled(1000)).toMatchObject({ pooled: [{ sizeMl: 310, count: 3 }], batches: 1 });
    expect(pooled(90)).toMatchObject({ pooled: [{ sizeMl: 310, count: 4 }], batches: 2 });
    expect(pooled(10)).toMatchObject({ pooled: [{ sizeMl: 310, count: 4 }], batches: 4 });
  });
  test('only lines with a price cost something', () => {
    const { costs } = takeOffOf([onLevel('a', 'L01')], {
      currency: 'EUR',
      labour: labour.map((rate) => ({ ...rate, currency: 'GBP' })),
      fillers: [{ ...tube, price: 12 }],
    });
    expect(costs).toEqual([
      {
        area: 'L01',
        item: 'tube',
        kind: 'filler',
        quantity: 1,
        unit: 'pack',
        price: 12,
        amount: 12,
        currency: 'EUR',
      },
      {
        area: 'L01',
        item: 'fitter',
        kind: 'labour',
        quantity: 0.75,
        unit: 'h',
        price: 40,
        amount: 30,
        currency: 'GBP',
      },
    ]);
  });
});

test('lengths that differ by less than a saw cuts are one line', () => {
  const holes = [159.9999997, 160, 160.0000004].map((thicknessMm, at) =>
    onLevel(`h${at}`, 'L01', { thicknessMm }),
  );
  const long = { ...tube, lengthMm: 200 };
  const { fillers } = takeOffOf(holes, { fillers: [long] });
  expect(fillers.map(({ lengthMm, whole }) => [lengthMm, whole])).toEqual([[140, 3]]);
});

describe('tools', () => {
  const tools = [
    { name: 'gun', perVisit: 2, forContainers: 'cartridge', source: MADE },
    { name: 'foil gun', forContainers: 'foil', source: MADE },
    { name: 'tower', aboveMm: 2500, source: MADE },
  ];
  test('by visit to an area, by kind of container and by height', () => {
    const high = onLevel('b', 'L02', {
      where: { ...makePenetration().where, level: 'L02', heightAboveLevelMm: 3000 },
    });
    expect(takeOffOf([onLevel('a', 'L01'), high], { tools }).tools).toEqual([
      { area: 'L01', name: 'gun', quantity: 2 },
      { area: 'L02', name: 'gun', quantity: 2 },
      { area: 'L02', name: 'tower', quantity: 1 },
    ]);
  });
});

test('future cables have their place but the layer is filled without them', () => {
  const hole = makePenetration();
  const cables = [makeCable('now'), makeCable('later', { status: 'future' })];
  const { result } = designSeals(
    {
      penetrations: [hole],
      schedule: makeSchedule(cables),
      matches: makeMatches(cables.map((cable) => makeMatch(cable, hole))),
      range: makeRange([310]),
      settings: Settings.parse({}),
    },
    { arrange: plainArrangement },
  );
  expect(result[0]?.bodies).toHaveLength(2);
  // π/4 · (150² − 37²): only the cable that is there is taken off.
  expect(result[0]?.freeAreaMm2).toBeCloseTo(16596.2486, 3);
});

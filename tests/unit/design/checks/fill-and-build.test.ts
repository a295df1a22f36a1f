import { describe, expect, test } from 'vitest';
import { designSeals } from '../../../../src/design/design-seals.ts';
import { sizeOne } from '../../../../src/design/size-one.ts';
import type { Body } from '../../../../src/model/arrangement.ts';
import type { Cable } from '../../../../src/model/cable.ts';
import type { Duty } from '../../../../src/model/seal.ts';
import { Settings } from '../../../../src/model/settings.ts';
import {
  makeCable,
  makeCrossing,
  makeMatch,
  makeMatches,
  makePenetration,
  makeSchedule,
} from '../../../makers/seal/make-penetration.ts';
import { makeRange } from '../../../makers/seal/make-range.ts';

const water: Duty = { kind: 'water', headM: 2, side: null, rating: null, reason: 'asked' };

function checksOf(
  diametersMm: readonly number[],
  boreMm: number,
  changes: Partial<Parameters<typeof sizeOne>[0]> & { readonly settings?: object } = {},
) {
  const { settings = {}, ...rest } = changes;
  const bodies = diametersMm.map(
    (diameterMm, at): Body => ({ ref: `${at + 1}`, outline: { type: 'circle', diameterMm } }),
  );
  const { checks } = sizeOne({
    opening: { type: 'circle', diameterMm: boreMm },
    bodies,
    range: makeRange([310]),
    design: Settings.parse({
      design: { separationMm: 0, edgeMm: 0, splitTubes: false, ...settings },
    }).design,
    raceway: 'conduit',
    ...rest,
  });
  return (name: string) => checks.find((check) => check.name === name);
}

describe('pulling room (cable makers’ handbooks, from memory)', () => {
  test('one cable: the bore less the cable', () => {
    expect(checksOf([37], 50)('pulling room')).toMatchObject({ value: 13, verdict: 'met' });
    expect(checksOf([45], 50)('pulling room')).toMatchObject({ value: 5, verdict: 'not met' });
  });
  test('three in a triangle: D/2 − 1.366 d + (D − d)/2 · √(1 − (d/(D − d))²)', () => {
    // D = 100, d = 30: 50 − 40.98 + 35 · √(1 − (3/7)²) = 9.02 + 31.6228 = 40.6428
    expect(checksOf([30, 30, 30], 100)('pulling room')?.value).toBeCloseTo(40.6428, 3);
  });
  test('anything else asks how it is pulled', () => {
    expect(checksOf([30, 20], 100)('pulling room')?.verdict).toBe('not assessed');
    expect(checksOf([30], 100, { raceway: 'opening' })('pulling room')).toBeUndefined();
  });
});

describe('jam ratio (NEC ch. 9: 2.8 to 3.2)', () => {
  // A ratio above 1 exactly where it is not met.
  test.each([
    [2.5, 'met', 2.5 / 2.8],
    [3, 'not met', 3.2 / 3],
    [4, 'met', 3.2 / 4],
  ])('bore over cable %s', (ratio, verdict, expected) => {
    const check = checksOf([20, 20, 20], 20 * ratio)('jam ratio');
    expect(check?.verdict).toBe(verdict);
    expect(check?.ratio).toBeCloseTo(expected, 6);
  });
});

test('a draw cord is no conductor', () => {
  const bodies: Body[] = [
    { ref: '1', outline: { type: 'circle', diameterMm: 30 } },
    { ref: 'cord', outline: { type: 'circle', diameterMm: 6 }, isDrawCord: true },
  ];
  // One cable: 53 %, not the 31 % of two.
  expect(checksOf([], 100, { bodies })('fill, NEC ch. 9')?.limit).toBe(0.53);
});

describe('what can be built', () => {
  test('cables that touch leave no way for sealant', () => {
    const bodies: Body[] = [-15, 15].map((xMm, at) => ({
      ref: `${at}`,
      outline: { type: 'circle', diameterMm: 30 },
      fixedAt: { xMm, yMm: 0 },
    }));
    expect(checksOf([], 100, { bodies })('cables touching')?.verdict).toBe('not met');
    const apart = bodies.map((body, at) => ({ ...body, fixedAt: { xMm: at * 40 - 20, yMm: 0 } }));
    expect(checksOf([], 100, { bodies: apart })('cables touching')).toMatchObject({
      value: 10,
      verdict: 'met',
    });
  });
  test('both faces and floors ask for access', () => {
    expect(checksOf([30], 100)('access to the faces')).toBeUndefined();
    expect(checksOf([30], 100, { settings: { faces: 2 } })('access to the faces')?.missing).toEqual(
      ['that both faces can be reached'],
    );
    expect(checksOf([30], 100, { hostKinds: ['slab'] })('access to the faces')?.verdict).toBe(
      'not assessed',
    );
  });
  test('which face must be sealed against water', () => {
    const unknown = checksOf([30], 100, { duties: [water] })('face to be sealed');
    expect(unknown?.missing[0]).toBe('which side the water comes from');
    const far = checksOf([30], 100, { duties: [{ ...water, side: 'far' }] })('face to be sealed');
    expect(far?.note).toContain('the far face must be sealed');
    const both = { duties: [water], settings: { faces: 2 } };
    expect(checksOf([30], 100, both)('face to be sealed')).toBeUndefined();
  });
});

function designed(cables: readonly Cable[], design: object = {}, material: string | null = 'PVC') {
  const conduits = ['mep:c1', 'mep:c2'].map((id, at) =>
    makeCrossing({
      id,
      boreMm: 100,
      material,
      offsetMm: [at * 160 - 80, 0],
      section: { type: 'circle', diameterMm: 110 },
    }),
  );
  const hole = makePenetration({
    shape: { type: 'rectangle', widthMm: 400, heightMm: 200 },
    crossings: conduits,
    hosts: makePenetration().hosts.map((host) => ({ ...host, material: 'steel plate' })),
  });
  const matches = cables.map((cable, at) => makeMatch(cable, hole, `mep:c${(at % 2) + 1}`));
  const { result } = designSeals({
    penetrations: [hole],
    schedule: makeSchedule(cables),
    matches: makeMatches(matches),
    range: makeRange([310]),
    settings: Settings.parse({ design }),
  });
  return result;
}

describe('an oval duct', () => {
  const check = (design: object) =>
    designed([makeCable('a', { diameterMm: 60 })], design)
      .find(({ of }) => of === 'mep:c1')
      ?.checks.find(({ name }) => name === 'oval or damaged duct');
  test('says how much it may be narrower; judged where an allowance is given', () => {
    // 60 in 100 leaves 20 mm all round where it lies in the middle: 40 %.
    expect(check({})?.verdict).toBe('not assessed');
    expect(check({ ovalRatio: 0.05 })?.verdict).toBe('met');
  });
  test('the allowance is kept clear by the arrangement', () => {
    const seal = designed([makeCable('a', { diameterMm: 60 })], { ovalRatio: 0.1 }).find(
      ({ of }) => of === 'mep:c1',
    );
    // 4 mm asked for and half of 10 % of 100 mm.
    expect(seal?.arrangement?.edgeMm).toBe(9);
  });
});

describe('what closes round a hole closes round what its conduits carry', () => {
  const line = (ref: string, phase: string, changes: Partial<Cable> = {}) =>
    makeCable(ref, {
      cores: 1,
      circuit: 'LV',
      current: 'AC',
      circuitRef: 'DB1',
      phase,
      diameterMm: 20,
      ...changes,
    });
  const loopOf = (cables: readonly Cable[]) =>
    designed(cables)
      .find(({ path }) => path === 'annulus')
      ?.checks.find(({ name }) => name === 'single-core AC in a ferrous loop');
  test('each line in its own plastic conduit through one hole in a steel plate', () => {
    expect(loopOf([line('a', 'L'), line('b', 'N')])?.verdict).toBe('met');
  });
  test('steel armour on single-core AC', () => {
    const seals = designed([line('a', 'L', { type: 'XLPE/SWA/PVC' })]);
    const armour = seals
      .flatMap(({ checks }) => checks)
      .find(({ name }) => name === 'steel armour on single-core AC');
    expect(armour?.verdict).toBe('not met');
  });
  const power = makeCable('p', { circuit: 'LV', cores: 4, diameterMm: 30 });
  const data = makeCable('d', { circuit: 'data', type: 'Cat 6 U/UTP', diameterMm: 10 });
  const apart = (material: string) =>
    designed([power, data], {}, material)
      .find(({ path }) => path === 'annulus')
      ?.checks.find(({ name }) => name === 'power from data');
  test('power and data in two plastic conduits of one opening stand apart; metal parts them', () => {
    // EN 50174-2, class b, three circuits: 100 · 0.2 = 20 mm; shown 50 mm apart.
    expect(apart('PVC')).toMatchObject({ limit: 20, verdict: 'met' });
    expect(apart('PVC')?.value).toBeCloseTo(50, 6);
    expect(apart('galvanised steel')).toBeUndefined();
  });
});

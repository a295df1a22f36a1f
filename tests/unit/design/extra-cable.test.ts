import { describe, expect, test } from 'vitest';
import type { AsBuiltState } from '../../../src/design/extra/extra-input.ts';
import { extraCable } from '../../../src/design/extra-cable.ts';
import { sizeOne } from '../../../src/design/size-one.ts';
import { Settings } from '../../../src/model/settings.ts';
import { makeRange } from '../../makers/seal/make-range.ts';

const range = makeRange([310]);
const { design } = Settings.parse({});
const sealOf = (openingMm: number, diametersMm: readonly number[]) =>
  sizeOne({
    opening: { type: 'circle', diameterMm: openingMm },
    bodies: diametersMm.map((diameterMm, at) => ({
      ref: `C${at + 1}`,
      outline: { type: 'circle', diameterMm },
    })),
    range,
    design,
  });
const asDrawn: AsBuiltState = {
  isSealed: true,
  isAsDrawn: true,
  depthMm: 20,
  isOpeningAsDesigned: true,
  openDefects: null,
};

describe('one more cable', () => {
  const seal = sealOf(150, [37, 37, 37]);
  const ask = (diameterMm: number, asBuilt: AsBuiltState | null = asDrawn) =>
    extraCable({ seal, ref: 'NEW', diameterMm, range, design, asBuilt });

  test('goes through the smallest empty tube that takes it with clearance', () => {
    const { way, tube, refill, spareBefore, spareAfter, after } = ask(7);
    expect(way).toBe('spare tube');
    expect(tube?.name).toBe('tube 16');
    expect(refill?.cutDiameterMm).toBe(10);
    // π/4 · (10² − 7²) · 20 mm; with 1 mm overfill and 10 % waste × 21/20 × 1.1.
    expect(refill?.netMl).toBeCloseTo(0.80111, 4);
    expect(refill?.withAllowancesMl).toBeCloseTo(0.80111 * 1.155, 4);
    expect(spareAfter?.emptyTubes).toBe((spareBefore?.emptyTubes ?? 0) - 1);
    expect(after?.bodies.map(({ ref }) => ref)).toEqual(['C1', 'C2', 'C3', 'NEW']);
    expect(after?.fillRatio).toBeCloseTo((3 * 37 ** 2 + 7 ** 2) / 150 ** 2, 9);
  });

  test('line to line is no fit: a cable as large as the bore less its clearance is the largest', () => {
    expect(ask(8).tube?.name).toBe('tube 16');
    expect(ask(8.01).tube?.name).toBe('tube 25');
    expect(ask(15).tube?.name).toBe('tube 25');
    expect(ask(15.01).way).not.toBe('spare tube');
  });

  test('else tubes come out and nothing else moves', () => {
    const { way, tubesOut, place, refill, after, spareAfter } = ask(30);
    expect(way).toBe('tubes out');
    expect(tubesOut.length).toBeGreaterThan(0);
    for (const item of after?.arrangement?.items ?? []) {
      if (item.ref === 'NEW' || place === null) continue;
      const apart = Math.hypot(item.xMm - place.xMm, item.yMm - place.yMm);
      expect(apart).toBeGreaterThanOrEqual((37 + 30) / 2 + 4 - 1e-6);
      const before = seal.arrangement?.items.find(({ ref }) => ref === item.ref);
      expect([item.xMm, item.yMm]).toEqual([before?.xMm, before?.yMm]);
    }
    // At least the new cable's own disc is cut, at most that and every tube that comes out.
    const ownMm2 = (Math.PI * 30 ** 2) / 4;
    const tubesMm2 = tubesOut.reduce((mm2, tube) => mm2 + (Math.PI * tube.outsideMm ** 2) / 4, 0);
    expect(refill?.cutAreaMm2 ?? 0).toBeGreaterThan(ownMm2 - 1e-6);
    expect(refill?.cutAreaMm2 ?? 0).toBeLessThanOrEqual(ownMm2 + tubesMm2 + 1e-6);
    expect(spareAfter?.emptyTubes).toBe((seal.spare?.emptyTubes ?? 0) - tubesOut.length);
  });

  test('else the cables would have to move, else it does not fit', () => {
    const fixed = seal.spare?.largestExtraFixedMm ?? 0;
    const movable = seal.spare?.largestExtraMovableMm ?? 0;
    expect(movable).toBeGreaterThan(fixed + 1);
    expect(ask((fixed + movable) / 2).way).toBe('rearranged');
    const no = ask(140);
    expect(no.way).toBe('no');
    expect(no.after).toBeNull();
    expect(no.reasons.join(' ')).toContain('cannot fit');
  });

  test('fills again as deep as the layer was measured', () => {
    const deep = ask(7, { ...asDrawn, depthMm: 30 }).refill;
    // π/4 · (10² − 7²) · 30 mm.
    expect(deep?.netMl).toBeCloseTo(1.20166, 4);
  });

  test('says what nobody recorded', () => {
    expect(ask(7).unverified).toEqual([]);
    expect(ask(7, null).unverified.length).toBe(4);
  });

  test('refuses where the site record forbids it', () => {
    expect(ask(7, { ...asDrawn, isAsDrawn: false }).way).toBe('refused');
    expect(ask(7, { ...asDrawn, isSealed: false }).way).toBe('refused');
    expect(ask(7, { ...asDrawn, isOpeningAsDesigned: false }).way).toBe('refused');
    const damaged = ask(7, { ...asDrawn, openDefects: 'crack at the top' });
    expect(damaged.way).toBe('refused');
    expect(damaged.reasons.join(' ')).toContain('crack at the top');
  });

  test('refuses a seal that is not designed', () => {
    const unfit = sealOf(50, [37, 37]);
    const answer = extraCable({
      seal: unfit,
      ref: 'N',
      diameterMm: 7,
      range,
      design,
      asBuilt: null,
    });
    expect(answer.way).toBe('refused');
  });

  test('a diameter that makes no sense is an error', () => {
    expect(() => ask(0)).toThrow('makes no sense');
    expect(() => ask(Number.NaN)).toThrow('makes no sense');
  });
});

describe('checks before and after', () => {
  const water = {
    kind: 'water',
    headM: 2,
    side: null,
    rating: null,
    reason: 'asked',
  } as const;
  const bonded = makeRange([310], {
    sealants: [
      {
        name: 's',
        containers: [{ sizeMl: 310 }],
        bond: [{ substrate: 'concrete', shearKPa: 60, source: 'test' }],
        source: 'test',
      },
    ],
  });
  const seal = sizeOne({
    opening: { type: 'circle', diameterMm: 100 },
    bodies: [{ ref: 'C1', outline: { type: 'circle', diameterMm: 40 } }],
    range: bonded,
    design,
    duties: [water],
    raceway: 'conduit',
    substrate: 'concrete',
    thicknessMm: 300,
    hostKinds: ['wall'],
  });
  // As a register holds it: facts of the hole go with the seal.
  const kept = JSON.parse(JSON.stringify(seal)) as typeof seal;
  const answer = extraCable({
    seal: kept,
    ref: 'NEW',
    diameterMm: 30,
    range: bonded,
    design,
    asBuilt: asDrawn,
    ...kept.hole,
  });
  const verdictOf = (checks: typeof seal.checks, name: string) =>
    checks.find((check) => check.name === name);
  test('the fill of a conduit is judged again: 16 % of one, then 25 % of two against 31 %', () => {
    const name = 'fill, NEC ch. 9';
    expect(verdictOf(answer.checksBefore, name)).toMatchObject({ value: 0.16, limit: 0.53 });
    expect(verdictOf(answer.checksAfter, name)?.value).toBeCloseTo(0.25, 9);
    expect(verdictOf(answer.checksAfter, name)?.limit).toBe(0.31);
  });
  test('the bond is judged on the same substrate', () => {
    const name = 'bond shear under water';
    // p · D / (4 · t) = 19.62 · 100 / 80, on the wall alone: the cables change nothing.
    for (const checks of [answer.checksBefore, answer.checksAfter]) {
      expect(verdictOf(checks, name)).toMatchObject({ value: 24.525, limit: 60, verdict: 'met' });
    }
  });
  test('nothing that was checked before goes unsaid', () => {
    const after = new Set(answer.checksAfter.map(({ name }) => name));
    for (const { name } of answer.checksBefore) expect(after).toContain(name);
  });
});

import { describe, expect, test } from 'vitest';
import { designSeals } from '../../../../src/design/design-seals.ts';
import type { Cable } from '../../../../src/model/cable.ts';
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

function checksFor(here: readonly Cable[], elsewhere: readonly Cable[], material: string | null) {
  const conduit = makeCrossing({ id: 'mep:c', boreMm: 150, material });
  const hole = makePenetration({
    shape: { type: 'circle', diameterMm: 250 },
    crossings: [{ ...conduit, section: { type: 'circle', diameterMm: 160 } }],
  });
  const { result } = designSeals({
    penetrations: [hole],
    schedule: makeSchedule([...here, ...elsewhere]),
    matches: makeMatches(here.map((cable) => makeMatch(cable, hole, 'mep:c'))),
    range: makeRange([310]),
    settings: Settings.parse({}),
  });
  return result.find(({ path }) => path === 'bore')?.checks ?? [];
}

const single = (ref: string, phase: string | null, changes: Partial<Cable> = {}) =>
  makeCable(ref, {
    cores: 1,
    circuit: 'LV',
    current: 'AC',
    circuitRef: 'DB1',
    phase,
    diameterMm: 20,
    ...changes,
  });
const loop = 'single-core AC in a ferrous loop';

describe(loop, () => {
  // BS 7671 521.5.1: all lines and the neutral of a circuit in one ferrous enclosure.
  const all = ['L1', 'L2', 'L3', 'N'].map((phase) => single(phase, phase));
  test('all lines and the neutral in one steel conduit', () => {
    expect(checksFor(all, [], 'steel').find(({ name }) => name === loop)?.verdict).toBe('met');
  });
  test('one line elsewhere', () => {
    const check = checksFor(all.slice(0, 3), all.slice(3), 'galvanised steel').find(
      ({ name }) => name === loop,
    );
    expect(check?.verdict).toBe('not met');
    expect(check?.note).toContain('N elsewhere');
  });
  test('one parallel set here and the other in another conduit', () => {
    const second = ['L1', 'L2', 'L3', 'N'].map((phase) => single(`b${phase}`, phase));
    expect(checksFor(all, second, 'steel').find(({ name }) => name === loop)?.verdict).toBe('met');
  });
  test('a plastic duct closes no loop', () => {
    expect(checksFor(all.slice(0, 1), all.slice(1), 'PVC').some(({ name }) => name === loop)).toBe(
      false,
    );
  });
  test.each([
    ['material', [single('L1', 'L1')], null],
    ['circuit', [single('L1', 'L1', { circuitRef: null })], 'steel'],
    ['phase', [single('L1', null)], 'steel'],
    ['current', [single('L1', 'L1', { current: null })], 'steel'],
  ] as const)('unknown %s is not assessed', (_what, here, material) => {
    expect(checksFor(here, [], material).find(({ name }) => name === loop)?.verdict).toBe(
      'not assessed',
    );
  });
  test('a direct current, or more cores, needs no such care', () => {
    const dc = single('L1', 'L1', { current: 'DC' });
    const three = single('L1', 'L1', { cores: 3 });
    expect(checksFor([dc, three], [], 'steel').some(({ name }) => name === loop)).toBe(false);
  });
});

describe('power from data', () => {
  const power = makeCable('P1', { circuit: 'LV', cores: 3, diameterMm: 20 });
  const data = makeCable('D1', { circuit: 'data', type: 'Cat 6 U/UTP', diameterMm: 7 });
  test('are arranged as far apart as the table asks', () => {
    // EN 50174-2: class b, none or non-metallic, 1 to 3 circuits: 100 · 0.2 = 20 mm.
    const check = checksFor([power, data], [], 'PVC').find(
      ({ name }) => name === 'power from data',
    );
    expect(check?.limit).toBeCloseTo(20, 9);
    expect(check?.verdict).toBe('met');
    expect(check?.value ?? 0).toBeGreaterThanOrEqual(20 - 1e-6);
  });
  test('fibre needs no distance', () => {
    const fibre = makeCable('F1', { circuit: 'fibre', diameterMm: 7 });
    expect(
      checksFor([power, fibre], [], 'PVC').some(({ name }) => name === 'power from data'),
    ).toBe(false);
  });
  test('what does not fit apart is told, and what would', () => {
    const many = Array.from({ length: 4 }, (_, at) =>
      makeCable(`P${at}`, { circuit: 'LV', cores: 4, diameterMm: 48 }),
    );
    // Four three-phase circuits count as 12: 100 · 0.8 = 80 mm.
    const check = checksFor([...many, data], [], 'PVC').find(
      ({ name }) => name === 'power from data',
    );
    expect(check?.limit).toBeCloseTo(80, 9);
    expect(check?.verdict).toBe('not met');
  });
});

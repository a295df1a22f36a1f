import { describe, expect, test } from 'vitest';
import { designSeals } from '../../../src/design/design-seals.ts';
import { takeOff } from '../../../src/design/take-off.ts';
import { smallestGapMm } from '../../../src/geometry/body-gaps.ts';
import type { Cable } from '../../../src/model/cable.ts';
import { Settings } from '../../../src/model/settings.ts';
import {
  makeCable,
  makeMatch,
  makeMatches,
  makePenetration,
  makeSchedule,
} from '../../makers/seal/make-penetration.ts';
import { makeRange } from '../../makers/seal/make-range.ts';

function staged(cables: readonly Cable[], changes: object = {}) {
  const hole = makePenetration();
  const range = makeRange([310], changes);
  const settings = Settings.parse({});
  const { result } = designSeals({
    penetrations: [hole],
    schedule: makeSchedule(cables),
    matches: makeMatches(cables.map((cable) => makeMatch(cable, hole))),
    range,
    settings,
  });
  const [seal] = result;
  if (seal === undefined) throw new Error('no seal');
  return { seal, takeOff: takeOff(result, [hole], range, settings) };
}

const A = makeCable('a');
const later = (ref: string, stage: string | null = null) =>
  makeCable(ref, { status: 'future', stage });

describe('designed for the last stage, a seal a stage', () => {
  const { seal } = staged([A, later('b', 'Stage 10'), later('c', 'Stage 2')]);
  test('stages in the order of their numbers, each with all that came before', () => {
    expect(seal.stages?.map(({ name, comes, refs }) => [name, comes, refs])).toEqual([
      ['now', ['a'], ['a']],
      ['Stage 2', ['c'], ['a', 'c']],
      ['Stage 10', ['b'], ['a', 'b', 'c']],
    ]);
  });
  test('each layer is the opening less what is there then: π/4 (150² − n · 37²) · 20', () => {
    const netMl = seal.stages?.map(({ sealant }) => sealant.netMl) ?? [];
    expect(netMl[0]).toBeCloseTo(331.925, 3);
    expect(netMl[1]).toBeCloseTo(310.421, 3);
    // Three 37 mm cables: 288.917 ml, shared reference, take-off cases.
    expect(netMl[2]).toBeCloseTo(288.917, 3);
  });
  test('what is built now is the first stage; what is checked is the last', () => {
    expect(seal.sealant?.netMl).toBeCloseTo(331.925, 3);
    expect(seal.fillerQuantities).toEqual(seal.stages?.[0]?.fillerQuantities);
    expect(seal.arrangement?.items).toHaveLength(3);
    expect(seal.fillers).toEqual(seal.stages?.at(-1)?.fillers);
  });
  test('tubes stand where cables come later, and clear of the cables that are there', () => {
    const tubes = seal.stages?.map(({ fillers }) =>
      fillers.reduce((count, filler) => count + filler.count, 0),
    );
    expect(tubes?.[0]).toBeGreaterThan(tubes?.[2] ?? Infinity);
    const here = seal.arrangement?.items.filter(({ ref }) => ref === 'a') ?? [];
    const standing = (seal.stages?.[0]?.fillers ?? []).flatMap(({ positionsMm, outsideMm, name }) =>
      positionsMm.map(([xMm, yMm], at) => ({
        ref: `${name} ${at}`,
        xMm,
        yMm,
        outline: { type: 'circle' as const, diameterMm: outsideMm },
        angleRad: 0,
        tube: null,
      })),
    );
    const gapMm = smallestGapMm([...here, ...standing], { type: 'circle', diameterMm: 150 });
    expect(gapMm).toBeGreaterThan(-1e-6);
  });
});

test('without later cables there are no stages', () => {
  expect(staged([A, makeCable('b')]).seal.stages).toBeUndefined();
});

test('labour and consumables count what passes now', () => {
  const { takeOff: counted } = staged([A, later('b')], {
    consumables: [{ name: 'wipes', unit: 'pc', perCable: 1, source: 'test' }],
  });
  expect(counted.consumables[0]?.quantity).toBe(1);
});

describe('a draw cord', () => {
  const { seal } = staged([A, makeCable('Draw cord', { diameterMm: null })], {
    fillers: [
      {
        name: 'tube 16',
        outsideMm: 16,
        boreMm: 10,
        lengthMm: 100,
        source: 'test',
        takesCableMm: { smallestMm: 4, largestMm: 9 },
      },
    ],
  });
  test('gets a tube of its own, without a diameter in the schedule', () => {
    expect(seal.state).toBe('designed');
    expect(seal.bodies.find(({ isDrawCord }) => isDrawCord)?.ref).toBe('Draw cord');
    const item = seal.arrangement?.items.find(({ ref }) => ref === 'Draw cord');
    expect(item?.tube?.name).toBe('tube 16');
  });
  test('its tube is no spare', () => {
    const whole = seal.fillers.reduce((count, filler) => count + filler.count, 0);
    expect(seal.spare?.emptyTubes).toBe(whole);
  });
});

import { describe, expect, test } from 'vitest';
import { dutiesOf } from '../../../src/design/duties.ts';
import type { Penetration } from '../../../src/model/penetration.ts';
import { Settings } from '../../../src/model/settings.ts';
import { makeHost, makePenetration } from '../../makers/seal/make-penetration.ts';

const external = makePenetration({ hosts: [makeHost({ isExternal: true })] });
const outside: Penetration = { ...external, where: { ...external.where, outside: 'near' } };

function kinds(settings: object, hole = outside): string[] {
  return dutiesOf(hole, Settings.parse(settings)).map(({ kind }) => kind);
}

describe('duties', () => {
  test('an external host asks for air and pests', () => {
    expect(kinds({})).toEqual(['air', 'pests']);
  });
  test('unless the project file has a rule of its own for them', () => {
    const duties = [{ when: { belowGround: true }, duty: 'pests' }];
    expect(kinds({ duties })).toEqual(['air']);
  });
  test('what rule and model both ask for stands once, with the rule’s reason and the known side', () => {
    const duties = [{ duty: 'water', waterLevelMm: 3000 }];
    const found = dutiesOf(outside, Settings.parse({ duties, ground: { waterLevelMm: 3000 } }));
    const water = found.filter(({ kind }) => kind === 'water');
    expect(water).toHaveLength(1);
    expect(water[0]?.side).toBe('near');
  });
  test('heads of different levels both stand', () => {
    const duties = [{ duty: 'water', waterLevelMm: 2000 }];
    const found = dutiesOf(outside, Settings.parse({ duties, ground: { waterLevelMm: 3000 } }));
    expect(found.filter(({ kind }) => kind === 'water').map(({ headM }) => headM)).toEqual([
      1.075, 2.075,
    ]);
  });
  test('below ground without a water level, the head is asked for', () => {
    const [water] = dutiesOf(outside, Settings.parse({ ground: { levelMm: 2000 } })).filter(
      ({ kind }) => kind === 'water',
    );
    expect(water?.headM).toBeNull();
  });
  test('above the water nothing stands against it', () => {
    expect(kinds({ ground: { waterLevelMm: 900 } })).toEqual(['air', 'pests']);
  });
  test('through a slab the lowest point is its underside', () => {
    const slab = makePenetration({
      hosts: [makeHost({ isExternal: true, kind: 'slab' })],
      frame: { originMm: [0, 0, 0], axis: [0, 0, 1], right: [1, 0, 0], up: [0, 1, 0] },
    });
    const [water] = dutiesOf(slab, Settings.parse({ ground: { waterLevelMm: 900 } })).filter(
      ({ kind }) => kind === 'water',
    );
    // Underside at −100.
    expect(water?.headM).toBeCloseTo(1, 9);
  });
  test.each(['', ' ', '-', '0', 'None', 'n/a', 'not rated'])('"%s" is no fire rating', (rating) => {
    const hole = makePenetration({ hosts: [makeHost({ fireRating: rating })] });
    expect(kinds({}, hole)).toEqual([]);
  });
  test('a hole that must still be made reaches as deep as it is needed', () => {
    const none = { ...outside, shape: null };
    const settings = Settings.parse({ ground: { waterLevelMm: 900 } });
    const needed = { type: 'circle', diameterMm: 300 } as const;
    const water = dutiesOf(none, settings, needed).find(({ kind }) => kind === 'water');
    // Centre at 1000, lowest point at 850.
    expect(water?.headM).toBeCloseTo(0.05, 9);
  });
  test('a zone is a level or a space on either side', () => {
    const settings = {
      zones: [{ name: 'wet', space: 'Pump*' }],
      duties: [{ when: { zone: 'wet' }, duty: 'gas' }],
    };
    const hole = makePenetration();
    const near = { ...hole, where: { ...hole.where, spaces: { near: 'Pump hall', far: null } } };
    expect(kinds(settings, near)).toEqual(['gas']);
    expect(kinds(settings, hole)).toEqual([]);
  });
  test('a head given as a figure is uniform, one from a level falls with height', () => {
    const duties = [
      { duty: 'water', headM: 3 },
      { duty: 'water', waterLevelMm: 2000, side: 'far' },
    ];
    const found = dutiesOf(makePenetration(), Settings.parse({ duties }));
    expect(found.map(({ headM, headIs, side }) => [headM, headIs, side])).toEqual([
      [3, undefined, null],
      [1.075, 'from level', 'far'],
    ]);
  });
});

describe('an assembly of several layers', () => {
  const layers = (...ratings: (string | null)[]) =>
    makePenetration({
      hosts: ratings.map((fireRating, n) => makeHost({ name: `leaf ${n + 1}`, fireRating })),
    });
  const fire = (hole: Penetration) =>
    dutiesOf(hole, Settings.parse({})).find(({ kind }) => kind === 'fire');

  test('asks for the best of its ratings and names the weaker layers', () => {
    const duty = fire(layers('EI 60', 'EI 120', null));
    expect(duty?.rating).toBe('EI 120');
    expect(duty?.reason).toBe(
      'host leaf 2 is rated EI 120; weaker layers: leaf 1 EI 60, leaf 3 not rated',
    );
  });
  test('says nothing of weaker layers where all are alike', () => {
    expect(fire(layers('EI 60', 'EI 60'))?.reason).toBe('host leaf 1 is rated EI 60');
  });
  test('hours and minutes are compared by their length', () => {
    expect(fire(layers('90', '2 h'))?.rating).toBe('2 h');
  });
});

describe('zones', () => {
  const inZones = makePenetration({
    where: { ...outside.where, zones: { near: ['Plant'], far: ['Compartment 2'] } },
  });
  test('that the model tells need no entry in the project file', () => {
    const rule = { when: { zone: 'compartment*' }, duty: 'smoke' };
    expect(kinds({ duties: [rule] }, inZones)).toContain('smoke');
    expect(kinds({ duties: [{ ...rule, when: { zone: 'Office' } }] }, inZones)).toEqual([]);
  });
});

import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Penetration } from '../../../src/model/penetration.ts';
import { assignTags, levelCode } from '../../../src/register/assign-tags.ts';

function at(
  id: string,
  level: string | null,
  elevationMm: number | null,
  xMm: number,
): Penetration {
  return {
    id,
    kind: 'opening',
    frame: { originMm: [xMm, 0, 0], axis: [0, 1, 0], right: [1, 0, 0], up: [0, 0, 1] },
    hosts: [],
    thicknessMm: 200,
    openings: [],
    crossings: [],
    shape: { type: 'circle', diameterMm: 100 },
    where: {
      level,
      levelElevationMm: elevationMm,
      heightAboveLevelMm: null,
      grid: null,
      spaces: { near: null, far: null },
      outside: null,
    },
    references: [],
    evidence: [],
  };
}

test('tags count level by level from below, then by place', () => {
  const tags = assignTags(
    [at('c', 'Level 01', 4000, 0), at('b', 'Pit', -3000, 900), at('a', 'Pit', -3000, 100)],
    '{level}-{number:4}',
  );
  expect([...tags]).toEqual([
    ['a', 'PIT-0001'],
    ['b', 'PIT-0002'],
    ['c', 'L01-0001'],
  ]);
});

test('without the level in the pattern, numbers run on', () => {
  const tags = assignTags([at('a', 'Pit', 0, 0), at('b', 'Roof', 9000, 0)], 'P-{number:3}');
  expect([...tags.values()]).toEqual(['P-001', 'P-002']);
});

test('a level name that looks like a pattern of replacement stays as it is', () => {
  expect([...assignTags([at('a', '$&', 0, 0)], '{level}-{number}').values()]).toEqual(['XX-1']);
});

test.each([
  ['Level 01', 'L01'],
  ['Ground floor', 'GF'],
  ['Pit', 'PIT'],
  ['00 Erdgeschoss', '00E'],
  [null, 'XX'],
  ['—', 'XX'],
])('the code of level %s is %s', (level, code) => {
  expect(levelCode(level)).toBe(code);
});

test('whatever the order of finding, the tags are the same and each is used once', () => {
  const penetration = fc
    .record({
      id: fc.uuid(),
      level: fc.constantFrom('Pit', 'Ground floor', 'Grand foyer', null),
      xMm: fc.integer({ min: -5, max: 5 }),
    })
    .map(({ id, level, xMm }) => at(id, level, level === null ? null : level.length, xMm));
  fc.assert(
    fc.property(
      fc.uniqueArray(penetration, { selector: (each) => each.id, maxLength: 30 }),
      fc.func(fc.integer()),
      (penetrations, mix) => {
        const tags = assignTags(penetrations, '{level}-{number:3}');
        const shuffled = [...penetrations].sort((a, b) => mix(a.id) - mix(b.id));
        expect([...assignTags(shuffled, '{level}-{number:3}')]).toEqual([...tags]);
        expect(new Set(tags.values()).size).toBe(penetrations.length);
      },
    ),
  );
});

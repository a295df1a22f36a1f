import fc from 'fast-check';
import { expect, test } from 'vitest';
import { levelCode } from '../../../src/register/assign-tags.ts';
import { tagPenetrations } from '../../../src/register/update-register.ts';
import { madePenetration } from '../../makers/register/made-penetration.ts';

const at = (name: string, level: string | null, elevationMm: number | null, xMm: number) =>
  madePenetration({
    opening: `arch:${name}`,
    service: `mep:${name}`,
    level,
    elevationMm,
    atMm: [xMm, 0, 0],
  });
const tagsOf = (penetrations: ReturnType<typeof at>[], pattern: string) => [
  ...tagPenetrations(penetrations, null, pattern).tags.values(),
];

test('tags count level by level from below, then by place', () => {
  const { tags } = tagPenetrations(
    [at('c', 'Level 01', 4000, 0), at('b', 'Pit', -3000, 900), at('a', 'Pit', -3000, 100)],
    null,
    '{level}-{number:4}',
  );
  expect([...tags]).toEqual([
    ['arch:H1/arch:a', 'PIT-0001'],
    ['arch:H1/arch:b', 'PIT-0002'],
    ['arch:H1/arch:c', 'L01-0001'],
  ]);
});

test('without the level in the pattern, numbers run on', () => {
  expect(tagsOf([at('a', 'Pit', 0, 0), at('b', 'Roof', 9000, 0)], 'P-{number:3}')).toEqual([
    'P-001',
    'P-002',
  ]);
});

test('a level name that looks like a pattern of replacement stays as it is', () => {
  expect(tagsOf([at('a', '$&', 0, 0)], '{level}-{number}')).toEqual(['XX-1']);
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
        const { tags } = tagPenetrations(penetrations, null, '{level}-{number:3}');
        const shuffled = [...penetrations].sort((a, b) => mix(a.id) - mix(b.id));
        expect([...tagPenetrations(shuffled, null, '{level}-{number:3}').tags]).toEqual([...tags]);
        expect(new Set(tags.values()).size).toBe(penetrations.length);
      },
    ),
  );
});

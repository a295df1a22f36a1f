import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Penetration } from '../../../src/model/penetration.ts';
import type { Register } from '../../../src/model/register.ts';
import { issuedFacts } from '../../../src/register/issued-facts.ts';
import { tagPenetrations, updateRegister } from '../../../src/register/update-register.ts';
import { madeBasis, madePenetration } from '../../makers/register/made-penetration.ts';

const ALL_FILES = new Set(['arch', 'mep']);

/** One run: tags, register and changes. */
function run(
  penetrations: readonly Penetration[],
  before: Register | null,
  revision: string,
  filesRead: ReadonlySet<string> = ALL_FILES,
) {
  const tagging = tagPenetrations(penetrations, before, 'P-{number:3}');
  const facts = new Map(penetrations.map((each) => [each.id, issuedFacts(each, [], [])]));
  const update = updateRegister({
    tagging,
    penetrations,
    facts,
    seals: new Map(),
    basis: madeBasis(),
    before,
    decisions: before?.decisions ?? [],
    taken: before?.taken ?? [],
    revision,
    filesRead,
  });
  const tagOf = (name: string) =>
    [...tagging.tags].find(([id]) => id.includes(name))?.[1] ?? `no tag for ${name}`;
  return { ...update, tagOf };
}

const hole = (name: string, xMm: number, more: Parameters<typeof madePenetration>[0] = {}) =>
  madePenetration({
    opening: `arch:O-${name}`,
    service: `mep:S-${name}`,
    atMm: [xMm, 0, 0],
    ...more,
  });

describe('tags stay', () => {
  const first = run([hole('a', 0), hole('b', 1000), hole('c', 2000)], null, 'A');

  test('a first issue has no changes', () => {
    expect(first.changes).toEqual([]);
    expect(first.register.records.map((record) => record.tag)).toEqual(['P-001', 'P-002', 'P-003']);
  });

  test('a rerun of the same revision gives the same register and no changes', () => {
    const again = run([hole('c', 2000), hole('a', 0), hole('b', 1000)], first.register, 'A');
    expect(again.register).toEqual(first.register);
    expect(again.changes).toEqual([]);
  });

  test('a wall that moves by 300 mm keeps the tags of its openings', () => {
    const moved = run([hole('a', 300), hole('b', 1300), hole('c', 2300)], first.register, 'B');
    expect(['O-a', 'O-b', 'O-c'].map(moved.tagOf)).toEqual(['P-001', 'P-002', 'P-003']);
    expect(moved.changes.map(({ tag, kind }) => `${tag} ${kind}`)).toEqual([
      'P-001 moved',
      'P-002 moved',
      'P-003 moved',
    ]);
  });

  test('re-made ids at the same place keep the tag; far away they get a new one', () => {
    const remade = (xMm: number, name: string) =>
      hole(name, xMm, { host: 'arch:H9', opening: `arch:new-${name}`, service: `mep:new-${name}` });
    const next = run([remade(20, 'a'), remade(1060, 'b')], first.register, 'B');
    expect(next.tagOf('new-a')).toBe('P-001');
    expect(next.tagOf('new-b')).toBe('P-004');
    expect(next.changes.map(({ tag, kind }) => `${tag} ${kind}`)).toEqual([
      'P-001 moved',
      'P-002 removed',
      'P-003 removed',
      'P-004 added',
    ]);
  });

  test('two neighbours with re-made ids, both a little moved, do not swap', () => {
    const close = run([hole('a', 0), hole('b', 60)], null, 'A');
    const remade = (xMm: number, name: string) =>
      hole(name, xMm, { host: 'arch:H9', opening: `arch:n-${name}`, service: `mep:n-${name}` });
    // The nearer pair first would give the left hole the right one's tag.
    const next = run([remade(40, 'a'), remade(100, 'b')], close.register, 'B');
    expect([next.tagOf('n-a'), next.tagOf('n-b')]).toEqual(['P-001', 'P-002']);
  });

  test('the opening is new but host and service are the same: the tag stays', () => {
    const next = run([hole('a', 0, { opening: 'arch:cut', kind: 'opening' })], first.register, 'B');
    expect(next.tagOf('cut')).toBe('P-001');
  });

  test('what lies in a file that was not read is not seen, and not retired', () => {
    const next = run([], first.register, 'B', new Set(['mep']));
    expect(next.register.records.map((record) => record.state)).toEqual([
      'not seen',
      'not seen',
      'not seen',
    ]);
  });

  test('a retired tag is never given again, and comes back with its own hole', () => {
    const without = run([hole('a', 0), hole('b', 1000)], first.register, 'B');
    const added = run([hole('a', 0), hole('b', 1000), hole('d', 2000)], without.register, 'C');
    expect(added.tagOf('O-d')).toBe('P-004');
    const back = run([hole('c', 2000), hole('d', 2000)], added.register, 'D');
    expect(back.tagOf('O-c')).toBe('P-003');
    expect(back.tagOf('O-d')).toBe('P-004');
  });

  test('resized is told with both sizes', () => {
    const next = run([hole('a', 0, { diameterMm: 200 })], first.register, 'B');
    expect(next.changes.find(({ kind }) => kind === 'resized')).toMatchObject({
      tag: 'P-001',
      before: 'opening, 150 dia, 200 thick',
      after: 'opening, 200 dia, 200 thick',
    });
  });
});

test('through any number of random revisions no tag is used twice and none is swapped', () => {
  const revision = fc.uniqueArray(fc.integer({ min: 0, max: 15 }), { maxLength: 12 });
  fc.assert(
    fc.property(fc.array(revision, { minLength: 1, maxLength: 6 }), (revisions) => {
      const tagOfHole = new Map<number, string>();
      let register: Register | null = null;
      for (const [index, holes] of revisions.entries()) {
        const next = run(
          holes.map((each) => hole(`x${each}x`, each * 500)),
          register,
          String.fromCharCode(65 + index),
        );
        for (const each of holes) {
          const tag = next.tagOf(`x${each}x`);
          expect(tagOfHole.get(each) ?? tag).toBe(tag);
          tagOfHole.set(each, tag);
        }
        register = next.register;
      }
      expect(new Set(tagOfHole.values()).size).toBe(tagOfHole.size);
    }),
  );
});

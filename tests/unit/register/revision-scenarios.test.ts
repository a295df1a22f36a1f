import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Register } from '../../../src/model/register.ts';
import { issuedFacts } from '../../../src/register/issued-facts.ts';
import { tagPenetrations, updateRegister } from '../../../src/register/update-register.ts';
import { madeBasis, madePenetration } from '../../makers/register/made-penetration.ts';

// What happens to models between two issues, as data, with the tag that each hole must have after.

interface Hole {
  /** Which hole it truly is, whatever the files call it. */
  readonly truth: number;
  readonly host: string;
  readonly opening: string;
  readonly service: string;
  readonly xMm: number;
  readonly yMm: number;
}

/** Three walls with ten holes each, half a metre apart. */
const FIRST: readonly Hole[] = Array.from({ length: 30 }, (_, truth) => ({
  truth,
  host: `arch:W${Math.floor(truth / 10)}`,
  opening: `arch:O${truth}`,
  service: `mep:S${truth}`,
  xMm: (truth % 10) * 500,
  yMm: Math.floor(truth / 10) * 5000,
}));

const added = (truth: number, xMm: number): Hole => ({
  truth,
  host: 'arch:W1',
  opening: `arch:new${truth}`,
  service: `mep:new${truth}`,
  xMm,
  yMm: 5000,
});
const withNewIds = (hole: Hole): Hole => ({
  ...hole,
  host: `${hole.host}-new`,
  opening: `${hole.opening}-new`,
  service: `${hole.service}-new`,
});

interface Scenario {
  readonly name: string;
  readonly after: readonly Hole[];
  /** Holes that get a tag of their own; all others keep theirs. */
  readonly fresh?: readonly number[];
}

const SCENARIOS: readonly Scenario[] = [
  { name: 'nothing', after: FIRST },
  { name: 'GlobalIds re-made on export', after: FIRST.map(withNewIds) },
  {
    name: 'GlobalIds re-made and coordinates a little off',
    after: FIRST.map(withNewIds).map((hole) => ({ ...hole, xMm: hole.xMm + 30 })),
  },
  {
    name: 'a wall moved by 300 mm',
    after: FIRST.map((hole) => (hole.host === 'arch:W1' ? { ...hole, yMm: hole.yMm + 300 } : hole)),
  },
  {
    name: 'a slab split in two',
    after: FIRST.map((hole) =>
      hole.host === 'arch:W2' ? { ...hole, host: hole.xMm < 2500 ? 'arch:W2a' : 'arch:W2b' } : hole,
    ),
  },
  {
    name: 'a slab split in two, its openings made anew',
    after: FIRST.map((hole) =>
      hole.host === 'arch:W2'
        ? { ...hole, host: `${hole.host}${hole.xMm < 2500}`, opening: `${hole.opening}-cut` }
        : hole,
    ),
  },
  {
    name: 'services renumbered, in the opposite order',
    after: FIRST.map((hole) => ({ ...hole, service: `mep:S${29 - hole.truth}` })),
  },
  {
    name: '10 % added',
    after: [...FIRST, ...[30, 31, 32].map((at) => added(at, 250 + at * 500))],
    fresh: [30, 31, 32],
  },
  { name: '10 % removed', after: FIRST.filter(({ truth }) => ![3, 14, 29].includes(truth)) },
  {
    name: '10 % removed, others put in between',
    after: [
      ...FIRST.filter(({ truth }) => ![3, 14, 29].includes(truth)),
      ...[30, 31, 32].map((at) => added(at, 250 + (at - 30) * 500)),
    ],
    fresh: [30, 31, 32],
  },
  {
    name: 'a mirrored wing: every hole stands where another stood',
    after: FIRST.map((hole) => ({ ...hole, xMm: 4500 - hole.xMm })),
  },
];

function run(holes: readonly Hole[], before: Register | null, revision: string) {
  const made = holes.map(({ host, opening, service, xMm, yMm }) =>
    madePenetration({ host, opening, service, atMm: [xMm, yMm, 0] }),
  );
  const tagging = tagPenetrations(made, before, 'P-{number:3}');
  const { register, changes } = updateRegister({
    tagging,
    penetrations: made,
    facts: new Map(made.map((each) => [each.id, issuedFacts(each, [], [])])),
    seals: new Map(),
    basis: madeBasis(),
    before,
    decisions: [],
    taken: [],
    revision,
    filesRead: new Set(['arch', 'mep']),
  });
  const tagOf = new Map(
    holes.map(({ truth }, at) => [truth, tagging.tags.get(made[at]?.id ?? '') ?? 'none']),
  );
  return { register, changes, tagOf };
}

test.each(SCENARIOS)('$name: each hole keeps its tag', ({ after, fresh = [] }) => {
  const first = run(FIRST, null, 'A');
  const next = run([...after].reverse(), first.register, 'B');
  const old = new Set(first.tagOf.values());
  for (const { truth } of after) {
    const tag = next.tagOf.get(truth) ?? '';
    if (fresh.includes(truth)) expect(old.has(tag), `${truth} has ${tag}`).toBe(false);
    else expect(tag, `hole ${truth}`).toBe(first.tagOf.get(truth));
  }
  const gone = FIRST.filter(({ truth }) => !after.some((hole) => hole.truth === truth));
  const retired = next.register.records.filter(({ state }) => state === 'retired');
  expect(retired.map(({ tag }) => tag)).toEqual(
    gone.map(({ truth }) => first.tagOf.get(truth)).sort(),
  );
  // Once more with the same files: nothing changes.
  const again = run(after, next.register, 'B');
  expect(again.register).toEqual(next.register);
  expect(again.changes).toEqual(next.changes);
});

test('whatever happens in random revisions, no tag is used again and none is swapped', () => {
  const step = fc.record({
    removed: fc.uniqueArray(fc.nat(29), { maxLength: 4 }),
    remade: fc.uniqueArray(fc.nat(29), { maxLength: 8 }),
    moved: fc.uniqueArray(fc.nat(29), { maxLength: 8 }),
    renumbered: fc.boolean(),
    added: fc.nat(3),
  });
  fc.assert(
    fc.property(fc.array(step, { minLength: 1, maxLength: 5 }), (steps) => {
      let holes = FIRST;
      let { register, tagOf } = run(holes, null, 'A');
      const owner = new Map([...tagOf].map(([truth, tag]) => [tag, truth]));
      let next = 100;
      for (const [index, { removed, remade, moved, renumbered, added: count }] of steps.entries()) {
        holes = holes
          .filter((_, at) => !removed.includes(at))
          .map((hole, at) => {
            const round = `r${index}`;
            // A hole keeps its ids or its place; with neither nobody could know it again.
            if (remade.includes(at)) {
              const ids = {
                opening: `arch:${hole.truth}${round}`,
                service: `mep:${hole.truth}${round}`,
              };
              return { ...hole, ...ids, host: `${hole.host}${round}` };
            }
            if (moved.includes(at)) return { ...hole, yMm: hole.yMm + 700 };
            return renumbered ? { ...hole, service: `mep:${round}-${29 - at}` } : hole;
          });
        for (let at = 0; at < count; at += 1) {
          next += 1;
          holes = [...holes, added(next, 20_000 + next * 500)];
        }
        const result = run(holes, register, String.fromCharCode(66 + index));
        for (const [truth, tag] of result.tagOf) {
          expect(owner.get(tag) ?? truth, `${tag} in step ${index}`).toBe(truth);
          expect(tagOf.get(truth) ?? tag).toBe(tag);
          owner.set(tag, truth);
        }
        tagOf = new Map([...tagOf, ...result.tagOf]);
        register = result.register;
      }
    }),
    { numRuns: 100 },
  );
});

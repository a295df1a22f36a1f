import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { canonicalProblem, withOwnRefs } from '../../../src/design/canonical-problem.ts';
import type { ArrangementProblem, Body } from '../../../src/model/arrangement.ts';
import { plainArrangement } from '../../makers/seal/plain-arrangement.ts';

function problemOf(bodies: readonly Body[], changes: Partial<ArrangementProblem> = {}) {
  return {
    opening: { type: 'circle', diameterMm: 200 },
    bodies,
    separationMm: 4,
    edgeMm: 4,
    fillers: [],
    splitTubes: true,
    packingAllowanceRatio: 0,
    tubeClearanceMm: 2,
    policy: null,
    effort: 'quick',
    seed: 1,
    ...changes,
  } satisfies ArrangementProblem;
}

const circle = (ref: string, diameterMm: number, more: Partial<Body> = {}): Body => ({
  ref,
  outline: { type: 'circle', diameterMm },
  ...more,
});

describe('the same problem', () => {
  test('whatever its bodies are called and in whatever order they come', () => {
    const sizes = fc.array(fc.constantFrom(10, 20, 30), { minLength: 1, maxLength: 8 });
    fc.assert(
      fc.property(sizes, fc.infiniteStream(fc.nat()), (diametersMm, random) => {
        const named = diametersMm.map((mm, at) => circle(`A${at}`, mm));
        const keys = new Map(named.map((body) => [body, random.next().value ?? 0]));
        const shuffled = [...named]
          .sort((a, b) => (keys.get(a) ?? 0) - (keys.get(b) ?? 0))
          .map((body, at) => ({ ...body, ref: `Z${at}` }));
        expect(canonicalProblem(problemOf(shuffled)).key).toBe(
          canonicalProblem(problemOf(named)).key,
        );
      }),
    );
  });
  test('with what has no say in it: a spread bundle, a class that no pair names', () => {
    const plain = canonicalProblem(problemOf([circle('1', 10)])).key;
    const spread = circle('1', 10, { bundle: { id: 'x', form: 'spread' } });
    const powered = circle('1', 10, { separationClass: 'power' });
    expect(canonicalProblem(problemOf([spread])).key).toBe(plain);
    expect(canonicalProblem(problemOf([powered])).key).toBe(plain);
  });
});

describe('another problem', () => {
  const base = canonicalProblem(problemOf([circle('1', 10), circle('2', 20)])).key;
  const apart = [{ classes: ['power', 'data'] as const, separationMm: 50 }];
  test.each([
    ['size', problemOf([circle('1', 10), circle('2', 20.1)])],
    ['fixed place', problemOf([circle('1', 10), circle('2', 20, { fixedAt: { xMm: 0, yMm: 0 } })])],
    ['separation', problemOf([circle('1', 10), circle('2', 20)], { separationMm: 5 })],
    ['seed', problemOf([circle('1', 10), circle('2', 20)], { seed: 2 })],
    [
      'class that a pair names',
      problemOf([circle('1', 10), circle('2', 20, { separationClass: 'data' })], {
        classSeparations: apart,
      }),
    ],
    [
      'bundle that is kept',
      problemOf(
        ['1', '2'].map((ref, at) =>
          circle(ref, 10 + 10 * at, { bundle: { id: 'x', form: 'flat' } }),
        ),
      ),
    ],
    ['draw cord', problemOf([circle('1', 10), circle('2', 20, { isDrawCord: true })])],
  ])('by its %s', (_what, problem) => {
    expect(canonicalProblem(problem).key).not.toBe(base);
  });
  test('by which bodies a kept bundle joins', () => {
    const joined = (ids: readonly string[]) =>
      problemOf(ids.map((id, at) => circle(String(at), 10, { bundle: { id, form: 'trefoil' } })));
    const two = canonicalProblem(joined(['a', 'a', 'a', 'b', 'b', 'b'])).key;
    expect(canonicalProblem(joined(['y', 'x', 'y', 'x', 'y', 'x'])).key).toBe(two);
    expect(canonicalProblem(joined(['a', 'a', 'a', 'a', 'a', 'b'])).key).not.toBe(two);
  });
});

test('the answer comes back under the refs that were asked with, each with its own size', () => {
  const bodies = [circle('big', 30), circle('small', 10), circle('middle', 20)];
  const canonical = canonicalProblem(problemOf(bodies));
  const { items } = withOwnRefs(plainArrangement(canonical.problem), canonical.refs);
  const sizes = new Map(
    items.map(({ ref, outline }) => [ref, outline.type === 'circle' ? outline.diameterMm : 0]),
  );
  expect(sizes).toEqual(
    new Map([
      ['big', 30],
      ['small', 10],
      ['middle', 20],
    ]),
  );
});

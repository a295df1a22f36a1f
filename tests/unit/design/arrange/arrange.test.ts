import { describe, expect, test } from 'vitest';
import { arrange } from '../../../../src/design/arrange/arrange.ts';
import type { Shape } from '../../../../src/geometry/shape.ts';
import type { ArrangementProblem, FillerSize } from '../../../../src/model/arrangement.ts';
import { checkArrangement } from '../../../checker/check-arrangement.ts';
import { cables, problemOf } from '../../../makers/openings/feasible-openings.ts';

const tubes: readonly FillerSize[] = [
  { name: 'A', outsideMm: 25, boreMm: 17, lengthMm: 150, takesCableMm: null },
  { name: 'B', outsideMm: 18, boreMm: 10, lengthMm: 150, takesCableMm: null },
];
const splitTube: FillerSize = {
  name: 'S',
  outsideMm: 25,
  boreMm: 17,
  lengthMm: 150,
  takesCableMm: { smallestMm: 8, largestMm: 20 },
};
const circle = (diameterMm: number): Shape => ({ type: 'circle', diameterMm });

/** Arranged, and found right by the checker. */
function checked(problem: ArrangementProblem) {
  const answer = arrange(problem);
  expect(checkArrangement(problem, answer).faults).toEqual([]);
  return answer;
}

describe('verdicts', () => {
  test('three cables of 37 in 150: the gap of the trefoil that fills the duct', () => {
    const answer = checked(problemOf(circle(150), cables([3, 37])));
    expect(answer.verdict).toBe('fits');
    // 37 + 2 (37 + g)/√3 + 2 g = 150, three equal circles being best in a trefoil (proven).
    const gap = (150 - 37 - 74 / Math.sqrt(3)) / (2 / Math.sqrt(3) + 2);
    expect(answer.gapMm).toBeCloseTo(gap, 6);
    expect(answer.gapBoundMm).toBeCloseTo(gap, 5);
  });

  test('three cables of 37 in 80: too tight for 4 mm, with the proof named', () => {
    const answer = checked(problemOf(circle(80), cables([3, 37])));
    expect(answer.verdict).toBe('cannot fit');
    expect(answer.proof).toMatch(/^pair: /);
    expect(answer.gapMm).toBeCloseTo(0.0875, 4);
  });

  test('a third body that slips beside two large ones does not count as touching both', () => {
    // Two of 70 in line fill 140; the pockets beside them hold 140/3 = 46.67 (Descartes).
    const fits = checked(
      problemOf(circle(140), cables([2, 69.9], [1, 46.5]), {
        separationMm: 0,
        edgeMm: 0,
        effort: 'normal',
      }),
    );
    expect(fits.verdict).toBe('fits');
    const no = arrange(
      problemOf(circle(140), cables([2, 69.9], [1, 52]), { separationMm: 0, edgeMm: 0 }),
    );
    expect(no.verdict).not.toBe('fits');
  });

  test('nothing to place fits, and all is spare', () => {
    const answer = checked(problemOf(circle(100), []));
    expect(answer.verdict).toBe('fits');
    expect(answer.gapMm).toBeNull();
    expect(answer.spare.largestExtraFixedMm).toBeCloseTo(92, 4);
  });

  test.each([0, -1, Number.NaN, Number.POSITIVE_INFINITY, 1e9])(
    'a size of %s is refused',
    (size) => {
      const usage = expect.objectContaining({ code: 'usage' });
      expect(() => arrange(problemOf(circle(size), cables([1, 10])))).toThrow(usage);
      expect(() => arrange(problemOf(circle(100), cables([1, size])))).toThrow(usage);
    },
  );

  test('an outline that crosses itself is refused', () => {
    const bow: Shape = {
      type: 'polygon',
      pointsMm: [
        [0, 0],
        [100, 100],
        [100, 0],
        [0, 90],
      ],
    };
    expect(() => arrange(problemOf(bow, cables([1, 10])))).toThrow(/crosses/);
  });

  test('ten thousand cables end in a verdict', () => {
    const many = cables([10_000, 12]);
    expect(arrange(problemOf(circle(1000), many)).verdict).toBe('cannot fit');
    expect(arrange(problemOf(circle(3000), many)).verdict).toBe('fits');
  });

  test('an opening smaller than a cable: the largest body is the proof', () => {
    const answer = arrange(problemOf(circle(10), cables([2, 12])));
    expect(answer.verdict).toBe('cannot fit');
    expect(answer.proof).toMatch(/^largest body: /);
  });

  test('the same problem gives the same answer', () => {
    const problem = problemOf(circle(120), cables([3, 30], [4, 11]), { fillers: tubes });
    expect(arrange(problem)).toEqual(arrange(problem));
  });
});

describe('bodies', () => {
  test('a trefoil kept whole fits where its closest circle does', () => {
    const trefoil = cables([3, 37]).map((body) => ({
      ...body,
      bundle: { id: 't', form: 'trefoil' as const },
    }));
    // Circle round a trefoil of 37: 37 (1 + 2/√3) = 79.72 (reference/geometry-pins.json).
    expect(checked(problemOf(circle(79.73 + 8), trefoil)).verdict).toBe('fits');
    expect(checked(problemOf(circle(79.71 + 8), trefoil)).verdict).toBe('cannot fit');
  });

  test('a tray turns only as far as it may', () => {
    const tray = (turns: 'none' | 'quarter' | 'free') => [
      { ref: 't', outline: { type: 'rectangle' as const, widthMm: 50, heightMm: 200, turns } },
    ];
    const wide: Shape = { type: 'rectangle', widthMm: 210, heightMm: 60 };
    expect(checked(problemOf(wide, tray('none'))).verdict).toBe('cannot fit');
    expect(checked(problemOf(wide, tray('quarter'))).verdict).toBe('fits');
    expect(checked(problemOf(wide, tray('free'))).verdict).toBe('fits');
  });

  test('what stands already stays', () => {
    const fixed = { ...cables([1, 40])[0], ref: 'old', fixedAt: { xMm: 20, yMm: 5 } };
    const problem = problemOf(circle(150), [
      { ref: 'old', outline: { type: 'circle', diameterMm: 40 }, fixedAt: fixed.fixedAt },
      ...cables([3, 30]),
    ]);
    const old = checked(problem).items.find(({ ref }) => ref === 'old');
    expect([old?.xMm, old?.yMm]).toEqual([20, 5]);
  });

  test('power keeps further from data', () => {
    const bodies = [
      { ...cables([1, 20])[0], ref: 'p', separationClass: 'power' },
      { ...cables([1, 20])[0], ref: 'd', separationClass: 'data' },
    ].map((body) => ({ outline: { type: 'circle' as const, diameterMm: 20 }, ...body }));
    const classSeparations = [{ classes: ['power', 'data'] as const, separationMm: 50 }];
    const answer = checked(problemOf(circle(100), bodies, { classSeparations }));
    expect(answer.verdict).toBe('fits');
    const tight = problemOf(circle(80), bodies, { classSeparations });
    expect(checked(tight).verdict).toBe('cannot fit');
  });

  test('a cable in its split tube is max(tube outside, cable + two walls)', () => {
    const problem = problemOf(circle(120), cables([1, 12], [1, 20], [1, 30]), {
      fillers: [splitTube],
      splitTubes: true,
    });
    const items = checked(problem).items;
    const outside = (ref: string) => items.find((item) => item.ref === ref)?.tube?.outsideMm;
    expect(outside('12-1')).toBe(25);
    expect(outside('20-1')).toBe(28);
    expect(outside('30-1')).toBeUndefined();
  });
});

describe('tubes and spare', () => {
  test('a draw cord gets a tube that is no spare', () => {
    const cord = { ...cables([1, 6])[0], ref: 'cord', isDrawCord: true };
    const bodies = [{ outline: { type: 'circle' as const, diameterMm: 6 }, ...cord }];
    const answer = checked(problemOf(circle(26), bodies, { fillers: tubes }));
    expect(answer.items[0]?.tube?.name).toBe('B');
    expect(answer.spare.emptyTubes).toBe(0);
  });

  test.each<{ opening: Shape; split: boolean }>([
    { opening: circle(150), split: false },
    { opening: circle(112), split: true },
    { opening: { type: 'rectangle', widthMm: 200, heightMm: 120 }, split: false },
    { opening: { type: 'slot', lengthMm: 220, widthMm: 110 }, split: false },
    { opening: { type: 'oval', lengthMm: 170, widthMm: 140 }, split: false },
  ])(
    'the largest extra cable really fits when added: $opening.type, $split',
    ({ opening, split }) => {
      const change = split ? { fillers: [splitTube], splitTubes: true } : { fillers: tubes };
      const problem = problemOf(opening, cables([2, 37], [2, 15]), change);
      const { spare, items } = checked(problem);
      const standing = problem.bodies.map((body) => {
        const place = items.find(({ ref }) => ref === body.ref);
        return { ...body, fixedAt: { xMm: place?.xMm ?? 0, yMm: place?.yMm ?? 0 } };
      });
      const withExtra = (bodies: ArrangementProblem['bodies'], diameterMm: number) =>
        checked(
          problemOf(opening, [...bodies, { ref: 'new', outline: { type: 'circle', diameterMm } }], {
            ...change,
            effort: 'normal',
          }),
        ).verdict;
      expect(withExtra(standing, spare.largestExtraFixedMm - 1e-4)).toBe('fits');
      expect(withExtra(problem.bodies, spare.largestExtraMovableMm - 1e-4)).toBe('fits');
    },
  );
});

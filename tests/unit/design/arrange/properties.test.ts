import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { arrange, decide } from '../../../../src/design/arrange/arrange.ts';
import type { Shape } from '../../../../src/geometry/shape.ts';
import type { ArrangementProblem } from '../../../../src/model/arrangement.ts';
import { checkArrangement, commonGap } from '../../../checker/check-arrangement.ts';
import { bodyDistance, type PlainBody, wallDistance } from '../../../checker/plain-distances.ts';
import { problemOf, testRandom } from '../../../makers/openings/feasible-openings.ts';

/** Two to four cables in a circle, rectangle, slot or an L. */
const smallProblem = fc
  .record({
    kind: fc.constantFrom('circle', 'rectangle', 'slot', 'ell'),
    size: fc.integer({ min: 90, max: 200 }),
    diameters: fc.array(fc.integer({ min: 8, max: 40 }), { minLength: 2, maxLength: 4 }),
    separationMm: fc.integer({ min: 0, max: 12 }),
    edgeMm: fc.integer({ min: 0, max: 12 }),
  })
  .map(({ kind, size, diameters, separationMm, edgeMm }) =>
    problemOf(
      openingOf(kind, size),
      diameters.map((diameterMm, i) => ({
        ref: String(i),
        outline: { type: 'circle' as const, diameterMm },
      })),
      { separationMm, edgeMm, effort: 'normal' },
    ),
  );

function openingOf(kind: string, size: number): Shape {
  switch (kind) {
    case 'circle':
      return { type: 'circle', diameterMm: size };
    case 'rectangle':
      return { type: 'rectangle', widthMm: size, heightMm: size * 0.7 };
    case 'slot':
      return { type: 'slot', lengthMm: size, widthMm: size * 0.6 };
    default:
      return {
        type: 'polygon',
        pointsMm: [
          [0, 0],
          [size, 0],
          [size, size * 0.5],
          [size * 0.5, size * 0.5],
          [size * 0.5, size],
          [0, size],
        ],
      };
  }
}

function scaled(problem: ArrangementProblem, factor: number): ArrangementProblem {
  const { opening } = problem;
  const grown: Shape =
    opening.type === 'circle'
      ? { type: 'circle', diameterMm: opening.diameterMm * factor }
      : opening.type === 'rectangle'
        ? {
            type: 'rectangle',
            widthMm: opening.widthMm * factor,
            heightMm: opening.heightMm * factor,
          }
        : opening.type === 'polygon'
          ? {
              type: 'polygon',
              pointsMm: opening.pointsMm.map(([x, y]) => [x * factor, y * factor] as const),
            }
          : {
              type: opening.type,
              lengthMm: opening.lengthMm * factor,
              widthMm: opening.widthMm * factor,
            };
  return {
    ...problem,
    opening: grown,
    bodies: problem.bodies.map((body) => ({
      ...body,
      outline:
        body.outline.type === 'circle'
          ? { type: 'circle' as const, diameterMm: body.outline.diameterMm * factor }
          : body.outline,
    })),
    separationMm: problem.separationMm * factor,
    edgeMm: problem.edgeMm * factor,
  };
}

/** A quarter turn of the opening. */
function turned(opening: Shape): Shape {
  if (opening.type === 'rectangle') {
    return { type: 'rectangle', widthMm: opening.heightMm, heightMm: opening.widthMm };
  }
  if (opening.type === 'slot') {
    return { type: 'slot', lengthMm: opening.widthMm, widthMm: opening.lengthMm };
  }
  if (opening.type !== 'polygon') return opening;
  return { type: 'polygon', pointsMm: opening.pointsMm.map(([x, y]) => [-y, x] as const) };
}

describe('what must not change an answer', () => {
  test('scale, turn and order leave verdict and gap', () => {
    fc.assert(
      fc.property(smallProblem, (problem) => {
        const answer = arrange(problem);
        expect(checkArrangement(problem, answer).faults).toEqual([]);
        for (const [other, factor] of [
          [scaled(problem, 3), 3],
          [{ ...problem, opening: turned(problem.opening) }, 1],
          [{ ...problem, bodies: [...problem.bodies].reverse() }, 1],
        ] as const) {
          const same = arrange(other);
          expect(same.verdict).toBe(answer.verdict);
          expect((same.gapMm ?? -1) / factor).toBeCloseTo(answer.gapMm ?? -1 / factor, 3);
        }
      }),
      { numRuns: 12, seed: 7 },
    );
  });

  test('more room, fewer cables or less asked never turns fits into cannot fit', () => {
    fc.assert(
      fc.property(smallProblem, (problem) => {
        if (decide(problem).verdict !== 'fits') return;
        const { bodies, separationMm, edgeMm } = problem;
        const easier = [
          { ...problem, opening: scaled(problem, 1.1).opening },
          { ...problem, bodies: bodies.slice(1) },
          { ...problem, separationMm: separationMm * 0.7, edgeMm: edgeMm * 0.7 },
        ];
        for (const one of easier) expect(decide(one).verdict).not.toBe('cannot fit');
      }),
      { numRuns: 100, seed: 11 },
    );
  });
});

describe('small cases against a plain search', () => {
  test('no layout tried by hand has a larger gap', () => {
    fc.assert(
      fc.property(smallProblem, (problem) => {
        const { gapMm } = arrange(problem);
        expect(gapMm ?? 0).toBeGreaterThanOrEqual(plainGap(problem) - 1e-3);
      }),
      { numRuns: 12, seed: 3 },
    );
  });

  test('the gap stated is that of the layout given for it', () => {
    fc.assert(
      fc.property(smallProblem, (problem) => {
        const { gapMm, gapItems, items } = arrange(problem);
        if (gapMm === null) return;
        expect(commonGap(problem, gapItems ?? items)).toBeCloseTo(gapMm, 9);
      }),
      { numRuns: 20, seed: 5 },
    );
  });
});

/** Points thrown at random, the best of them moved by ever smaller random steps. */
function plainGap({ opening, bodies }: ArrangementProblem): number {
  const random = testRandom(99);
  const radii = bodies.map(({ outline }) =>
    outline.type === 'circle' ? outline.diameterMm / 2 : 0,
  );
  const reach = 210;
  const gapOf = (at: readonly (readonly [number, number])[]) => {
    const discs = at.map(
      (centre, i): PlainBody => ({ kind: 'disc', centre, radius: radii[i] ?? 0 }),
    );
    let gap = Number.POSITIVE_INFINITY;
    discs.forEach((disc, i) => {
      gap = Math.min(gap, wallDistance(disc, opening));
      for (const other of discs.slice(i + 1)) gap = Math.min(gap, bodyDistance(disc, other));
    });
    return gap;
  };
  let overall = Number.NEGATIVE_INFINITY;
  for (let start = 0; start < 25; start++) {
    let at = radii.map(() => [(random() * 2 - 1) * reach, (random() * 2 - 1) * reach] as const);
    let best = gapOf(at);
    let step = 60;
    for (let k = 0; k < 900; k++) {
      const next = at.map(
        ([x, y]) => [x + step * (random() * 2 - 1), y + step * (random() * 2 - 1)] as const,
      );
      const gap = gapOf(next);
      if (gap > best) {
        best = gap;
        at = next;
      } else step *= 0.99;
    }
    overall = Math.max(overall, best);
  }
  return overall;
}

test('one hundredth more than the largest gap found is not known to fit, at the thorough tier', () => {
  for (let k = 0; k < 4; k++) {
    const random = testRandom(900 + k);
    const size = 80 + Math.floor(random() * 80);
    const diameters = Array.from({ length: 3 + (k % 2) }, () => 8 + Math.floor(random() * 22));
    const problem = problemOf(
      openingOf(['circle', 'rectangle', 'slot', 'ell'][k % 4] ?? 'circle', size),
      diameters.map((diameterMm, i) => ({
        ref: String(i),
        outline: { type: 'circle' as const, diameterMm },
      })),
      { separationMm: 0, edgeMm: 0, effort: 'thorough' },
    );
    const { gapMm } = arrange(problem);
    if (gapMm === null || gapMm <= 0) continue;
    const asked = { ...problem, separationMm: gapMm * 1.01, edgeMm: gapMm * 1.01 };
    expect(arrange(asked).verdict, `case ${k}, gap ${gapMm}`).not.toBe('fits');
  }
}, 300_000);

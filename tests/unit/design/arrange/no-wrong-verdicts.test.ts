import { describe, expect, test } from 'vitest';
import { arrange } from '../../../../src/design/arrange/arrange.ts';
import { jobOf } from '../../../../src/design/arrange/job.ts';
import { proveBySubdivision } from '../../../../src/geometry/packing/subdivision.ts';
import type { Shape } from '../../../../src/geometry/shape.ts';
import type { ArrangementProblem } from '../../../../src/model/arrangement.ts';
import { checkArrangement } from '../../../checker/check-arrangement.ts';
import {
  cables,
  feasibleProblem,
  problemOf,
  type ShapeName,
  testRandom,
} from '../../../makers/openings/feasible-openings.ts';

const KINDS: readonly ShapeName[] = ['circle', 'rectangle', 'slot', 'oval', 'polygon', 'island'];

function provenImpossible(problem: ArrangementProblem): string | null {
  const job = jobOf(problem);
  const early = job.impossibleAt(problem.separationMm, problem.edgeMm);
  return (early ?? proveBySubdivision(job.needs(), 1500))?.text ?? null;
}

describe('openings built to be feasible', () => {
  test('2,000 of all shapes, sparse and full: no proof excludes one', () => {
    const wrong: string[] = [];
    for (let seed = 1; seed <= 2000; seed++) {
      const kind = KINDS[seed % KINDS.length] ?? 'circle';
      const problem = feasibleProblem(seed, {
        kind,
        rectangleRatio: seed % 5 === 0 ? 0.5 : 0,
        most: 2 + (seed % 23),
        throws: seed % 3 === 0 ? 400 : 60,
      });
      const proof = provenImpossible(problem);
      if (proof !== null) wrong.push(`${seed} (${kind}): ${proof}`);
    }
    expect(wrong).toEqual([]);
  });

  test('few large circles, drawn together until they touch: no proof excludes one', () => {
    const wrong: string[] = [];
    for (let seed = 1; seed <= 2000; seed++) {
      const problem = snugCircles(seed);
      const proof = provenImpossible(problem);
      if (proof !== null) wrong.push(`${seed}: ${proof}`);
    }
    expect(wrong).toEqual([]);
  });

  test('those arranged pass the checker, and most are decided at the quick tier', () => {
    let decided = 0;
    let distances = 0;
    const count = 90;
    for (let seed = 1; seed <= count; seed++) {
      const problem = feasibleProblem(seed, {
        kind: KINDS[seed % KINDS.length] ?? 'circle',
        rectangleRatio: seed % 5 === 0 ? 0.5 : 0,
        most: 2 + (seed % 9),
        throws: 60,
      });
      const answer = arrange(problem);
      const report = checkArrangement(problem, answer);
      expect(report.faults, `seed ${seed}`).toEqual([]);
      expect(answer.verdict, `seed ${seed}`).not.toBe('cannot fit');
      distances += report.distances;
      if (answer.verdict === 'fits') decided++;
    }
    expect(distances).toBeGreaterThan(count);
    expect(decided / count).toBeGreaterThanOrEqual(0.95);
  });
});

describe('openings built to be impossible', () => {
  const circle = (diameterMm: number): Shape => ({ type: 'circle', diameterMm });

  // Proven optima of equal circles in a circle (reference/circles-in-circle.json), from memory of
  // the closed forms: 3: 1 + 2/√3, 4: 1 + √2, 5: 1 + √(2 (1 + 1/√5)), 6 and 7: 3.
  test.each([
    [3, 1 + 2 / Math.sqrt(3)],
    [4, 1 + Math.SQRT2],
    [5, 1 + Math.sqrt(2 * (1 + 1 / Math.sqrt(5)))],
    [6, 3],
    [7, 3],
  ])('%i equal cables: proven just below the optimum, found just above', (n, ratio) => {
    const change = { separationMm: 0, edgeMm: 0 } as const;
    const below = arrange(problemOf(circle(30 * ratio * (1 - 1e-5)), cables([n, 30]), change));
    const above = arrange(problemOf(circle(30 * ratio * (1 + 1e-5)), cables([n, 30]), change));
    expect(below.verdict).toBe('cannot fit');
    expect(above.verdict).toBe('fits');
  });

  test('three unlike cables in a rectangle: the larger is proven too much, the smaller found', () => {
    // The gap found and the bound on it enclose the answer; by subdivision close above the gap.
    const opening: Shape = { type: 'rectangle', widthMm: 71, heightMm: 55 };
    const bodies = cables([1, 22], [1, 20], [1, 15]);
    const { gapMm } = arrange(problemOf(opening, bodies, { effort: 'normal' }));
    const at = (gap: number) =>
      arrange(problemOf(opening, bodies, { separationMm: gap, edgeMm: gap, effort: 'normal' }));
    expect(at((gapMm ?? 0) * 0.999).verdict).toBe('fits');
    const above = at((gapMm ?? 0) * 1.02);
    expect(above.verdict).toBe('cannot fit');
    expect(above.proof).toMatch(/^subdivision: /);
  });

  test('more area than there is: never fits', () => {
    for (let seed = 1; seed <= 60; seed++) {
      const problem = feasibleProblem(seed, {
        kind: KINDS[seed % KINDS.length] ?? 'circle',
        rectangleRatio: 0,
        most: 10,
        throws: 60,
      });
      const random = testRandom(seed);
      const more = Array.from({ length: 60 }, (_, k) => ({
        ref: `more ${k}`,
        outline: { type: 'circle' as const, diameterMm: 50 + 30 * random() },
      }));
      const answer = arrange({ ...problem, bodies: [...problem.bodies, ...more] });
      expect(answer.verdict, `seed ${seed}`).toBe('cannot fit');
    }
  });
});

/**
 * Two to five circles in a circle, the first two in line across it, the others moved towards the
 * wall and each other by halving, with separations; the opening is then the smallest circle about
 * the origin that holds them.
 */
function snugCircles(seed: number): ArrangementProblem {
  const random = testRandom(seed);
  const count = 2 + (seed % 4);
  const separationMm = seed % 2 === 0 ? 0 : 10 * random();
  const edgeMm = seed % 3 === 0 ? 0 : 10 * random();
  const radii = Array.from({ length: count }, () => 10 + 40 * random() * random());
  const places: [number, number][] = [];
  radii.forEach((radius, i) => {
    const angle = 2 * Math.PI * random();
    let near = 0;
    let far = 1000;
    for (let step = 0; step < 60; step++) {
      const reach = (near + far) / 2;
      const isClear = places.every(([x, y], j) => {
        const apart = Math.hypot(x - reach * Math.cos(angle), y - reach * Math.sin(angle));
        return apart >= radius + (radii[j] ?? 0) + separationMm;
      });
      if (isClear) far = reach;
      else near = reach;
    }
    if (i > 0) places.push([far * Math.cos(angle), far * Math.sin(angle)]);
    else places.push([0, 0]);
  });
  // About the middle of the farthest pair rather than the first circle.
  const middle = middleOf(places, radii);
  const reach = Math.max(
    ...places.map(([x, y], i) => Math.hypot(x - middle[0], y - middle[1]) + (radii[i] ?? 0)),
  );
  return problemOf(
    { type: 'circle', diameterMm: 2 * (reach + edgeMm) * (1 + 1e-9) },
    radii.map((radius, i) => ({
      ref: String(i),
      outline: { type: 'circle' as const, diameterMm: 2 * radius },
    })),
    { separationMm, edgeMm },
  );
}

/** Centre of a small circle round all of them: a plain walk towards the farthest. */
function middleOf(
  places: readonly (readonly [number, number])[],
  radii: readonly number[],
): [number, number] {
  let [x, y] = [0, 0];
  let step = 0.5;
  for (let round = 0; round < 400; round++) {
    let far: readonly [number, number] = [0, 0];
    let most = -1;
    places.forEach(([px, py], i) => {
      const reach = Math.hypot(px - x, py - y) + (radii[i] ?? 0);
      if (reach > most) {
        most = reach;
        far = [px, py];
      }
    });
    x += step * (far[0] - x);
    y += step * (far[1] - y);
    step *= 0.985;
  }
  return [x, y];
}

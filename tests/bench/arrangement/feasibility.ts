import { arrange, decide } from '../../../src/design/arrange/arrange.ts';
import type { Shape } from '../../../src/geometry/shape.ts';
import type { ArrangementProblem, Effort } from '../../../src/model/arrangement.ts';
import { checkArrangement } from '../../checker/check-arrangement.ts';
import {
  feasibleProblem,
  problemOf,
  type ShapeName,
  testRandom,
} from '../../makers/openings/feasible-openings.ts';
import { type BenchLine, busyMs, ms, percent, quantile } from './measures.ts';

/** Checker runs and faults over all arrangements of the bench. */
export const checked = { arrangements: 0, distances: 0, faults: 0 };

export function arrangeChecked(problem: ArrangementProblem) {
  const start = busyMs();
  const answer = arrange(problem);
  const spent = busyMs() - start;
  const report = checkArrangement(problem, answer);
  checked.arrangements++;
  checked.distances += report.distances;
  checked.faults += report.faults.length;
  return { answer, ms: spent };
}

function decideTimed(problem: ArrangementProblem) {
  const start = busyMs();
  const { verdict } = decide(problem);
  return { verdict, ms: busyMs() - start };
}

/** Random cables in a circle or rectangle that is sized for a given inflated load. */
function loadedProblem(
  seed: number,
  low: number,
  high: number,
  effort: Effort,
): ArrangementProblem {
  const random = testRandom(seed);
  const count = 2 + Math.floor(random() * 18);
  const spread = 1 + 4 * random();
  const separationMm = 2 + 8 * random();
  const radii = Array.from({ length: count }, () => 6 * spread ** random());
  const area = radii.reduce((total, r) => total + Math.PI * (r + separationMm / 2) ** 2, 0);
  const load = low + (high - low) * random();
  // Inflated by half the separation on both sides: edge = separation, so the opening is moved in.
  const ratio = 0.6 + 0.4 * random();
  const width = Math.sqrt(area / load / ratio);
  const opening: Shape =
    seed % 2 === 0
      ? { type: 'circle', diameterMm: 2 * Math.sqrt(area / load / Math.PI) + separationMm }
      : {
          type: 'rectangle',
          widthMm: width + separationMm,
          heightMm: width * ratio + separationMm,
        };
  const bodies = radii.map((radius, i) => ({
    ref: String(i + 1),
    outline: { type: 'circle' as const, diameterMm: 2 * radius },
  }));
  return problemOf(opening, bodies, { separationMm, edgeMm: separationMm, effort });
}

export function benchFeasibility(openings: number): BenchLine[] {
  const lines: BenchLine[] = [];
  for (const [low, high, must] of [
    [0.3, 0.7, 0.98],
    [0.7, 0.8, 0.8],
  ] as const) {
    for (const effort of ['quick', 'normal'] as const) {
      let decided = 0;
      let impossible = 0;
      const times: number[] = [];
      const count = effort === 'quick' ? openings : Math.ceil(openings / 4);
      for (let seed = 1; seed <= count; seed++) {
        const problem = loadedProblem(seed, low, high, effort);
        const { verdict, ms: spent } = decideTimed(problem);
        times.push(spent);
        if (verdict !== 'not found') decided++;
        if (verdict === 'cannot fit') impossible++;
        if (seed % 4 === 0) arrangeChecked(problem);
      }
      const fast = times.filter((time) => time <= 10).length / times.length;
      lines.push({
        work: `random openings, inflated load ${low}–${high}, ${effort}, ${count}`,
        must: `decided ≥ ${percent(must)}${low < 0.7 ? ', 95 % in ≤ 10 ms' : ''}`,
        reached: `${percent(decided / count)} (${percent(impossible / count)} cannot fit), ${percent(fast)} in ≤ 10 ms, 95 % in ${ms(quantile(times, 0.95))}`,
        isMet: decided / count >= must && (low >= 0.7 || fast >= 0.95),
      });
    }
  }
  return lines;
}

export function benchShapes(openings: number): BenchLine[] {
  const kinds: readonly ShapeName[] = ['rectangle', 'slot', 'oval', 'polygon', 'island', 'circle'];
  return (['discs', 'rectangles'] as const).map((contents) => {
    let decided = 0;
    let wrong = 0;
    const times: number[] = [];
    for (let seed = 1; seed <= openings; seed++) {
      const problem = feasibleProblem(seed * 7, {
        kind: kinds[seed % kinds.length] ?? 'rectangle',
        rectangleRatio: contents === 'discs' ? 0 : 0.6,
        most: 12,
        throws: 150,
      });
      const { verdict, ms: spent } = decideTimed(problem);
      times.push(spent);
      if (verdict === 'fits') decided++;
      if (verdict === 'cannot fit') wrong++;
      if (seed % 4 === 0) arrangeChecked(problem);
    }
    return {
      work: `${contents} in openings of six shapes, built feasible, quick, ${openings}`,
      must: 'fits ≥ 98 %, cannot fit 0, 95 % in ≤ 10 ms',
      reached: `${percent(decided / openings)}, ${wrong} cannot fit, 95 % in ${ms(quantile(times, 0.95))}`,
      isMet: decided / openings >= 0.98 && wrong === 0 && quantile(times, 0.95) <= 10,
    };
  });
}

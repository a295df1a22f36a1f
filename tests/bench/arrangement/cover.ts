import { readFileSync } from 'node:fs';
import path from 'node:path';
import type { ArrangementProblem, Effort } from '../../../src/model/arrangement.ts';
import { feasibleProblem, type ShapeName } from '../../makers/openings/feasible-openings.ts';
import { repoRoot } from '../../set-up/outside.ts';
import { arrangeChecked } from './feasibility.ts';
import { type BenchLine, median, ms } from './measures.ts';
import { SAMPLE_TUBES } from './sample-tubes.ts';

export const COVER_OPENINGS = 20;
const KINDS: readonly ShapeName[] = ['circle', 'circle', 'rectangle', 'slot', 'oval', 'polygon'];

/** Twenty fixed openings with a few cables, whose covered share is compared. */
export function coverProblem(k: number, effort: Effort, seed = 1): ArrangementProblem {
  const problem = feasibleProblem(1000 + k, {
    kind: KINDS[k % KINDS.length] ?? 'circle',
    rectangleRatio: 0,
    most: 1 + (k % 7),
    throws: 40,
  });
  return { ...problem, fillers: SAMPLE_TUBES, effort, seed };
}

/** Best layout found by a long search, kept as data beside this file. */
export interface BestCover {
  readonly opening: number;
  readonly coveredRatio: number;
  readonly cables: readonly (readonly [ref: string, xMm: number, yMm: number])[];
  readonly tubes: readonly (readonly [outsideMm: number, xMm: number, yMm: number])[];
}

export const BEST_COVERS_FILE = path.join(repoRoot, 'tests/bench/arrangement/best-covers.json');

export function bestCovers(): BestCover[] {
  return JSON.parse(readFileSync(BEST_COVERS_FILE, 'utf8'));
}

export function benchCover(): BenchLine[] {
  const best = bestCovers();
  const rows: readonly (readonly [Effort, number, number])[] = [
    ['quick', 0.96, 100],
    ['normal', 0.985, 1000],
  ];
  return rows.map(([effort, must, limit]) => {
    const shares: number[] = [];
    const times: number[] = [];
    for (let k = 0; k < COVER_OPENINGS; k++) {
      const run = arrangeChecked(coverProblem(k, effort));
      const known = best.find(({ opening }) => opening === k)?.coveredRatio ?? Number.NaN;
      shares.push(run.answer.coveredRatio / known);
      times.push(run.ms);
    }
    return {
      work: `covered share with two tube sizes, ${COVER_OPENINGS} openings, ${effort}`,
      must: `median ≥ ${must} of the best known in ${limit} ms`,
      reached: `median ${median(shares).toFixed(4)} in ${ms(median(times))} (median)`,
      isMet: median(shares) >= must && median(times) <= limit,
    };
  });
}

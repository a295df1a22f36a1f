/*
 * Long search for the covered share of the twenty fixed openings; writes best-covers.json, keeping
 * what is better there already. Arguments: first seed, last seed, effort. Run by hand, for an hour.
 */
import { existsSync, writeFileSync } from 'node:fs';
import { arrange } from '../../../src/design/arrange/arrange.ts';
import type { Effort } from '../../../src/model/arrangement.ts';
import { checkArrangement } from '../../checker/check-arrangement.ts';
import {
  BEST_COVERS_FILE,
  type BestCover,
  bestCovers,
  COVER_OPENINGS,
  coverProblem,
} from './cover.ts';

const file = BEST_COVERS_FILE;
const [from = '1', to = '1', effort = 'thorough'] = process.argv.slice(2);
const best = new Map<number, BestCover>();
if (existsSync(file)) for (const one of bestCovers()) best.set(one.opening, one);

for (let seed = Number(from); seed <= Number(to); seed++) {
  for (let k = 0; k < COVER_OPENINGS; k++) {
    const problem = coverProblem(k, effort as Effort, seed);
    const answer = arrange(problem);
    if (answer.verdict !== 'fits' || checkArrangement(problem, answer).faults.length > 0) continue;
    if (answer.coveredRatio <= (best.get(k)?.coveredRatio ?? 0)) continue;
    console.log(`opening ${k}, seed ${seed}: ${answer.coveredRatio}`);
    best.set(k, {
      opening: k,
      coveredRatio: answer.coveredRatio,
      cables: answer.items.map(({ ref, xMm, yMm }) => [ref, xMm, yMm] as const),
      tubes: answer.fillers.flatMap(({ outsideMm, positionsMm }) =>
        positionsMm.map(([x, y]) => [outsideMm, x, y] as const),
      ),
    });
  }
  const all = [...best.values()].sort((a, b) => a.opening - b.opening);
  writeFileSync(file, `[\n${all.map((one) => JSON.stringify(one)).join(',\n')}\n]\n`);
}

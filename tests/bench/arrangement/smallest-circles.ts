import { readFileSync } from 'node:fs';
import { smallestCircle } from '../../makers/openings/smallest-circle.ts';
import { sharedPath } from '../../set-up/outside.ts';
import { type BenchLine, busyMs, median, ms, percent } from './measures.ts';

interface Row {
  readonly n: number;
  readonly ratio?: number;
  readonly R?: number;
  readonly R_computed?: number;
}

function table(name: string): readonly Row[] {
  return JSON.parse(readFileSync(sharedPath('reference', name), 'utf8')).values;
}

interface Run {
  readonly gap: number;
  readonly ms: number;
}

function runs(radii: readonly number[], best: number, work: number, seeds: number): Run[] {
  return Array.from({ length: seeds }, (_, k) => {
    const start = busyMs();
    const found = smallestCircle(radii, { work, seed: k + 1, enough: best * (1 + 1e-6) });
    return { gap: found.radius / best - 1, ms: busyMs() - start };
  });
}

/** Equal circles and radii 1 to n against the tables of best known radii. */
export function benchSmallestCircles(seeds: number): BenchLine[] {
  const equal = table('circles-in-circle.json');
  const unequal = table('circles-radii-1-to-n.json');
  const lines: BenchLine[] = [];
  const equalRuns = (n: number, work: number) =>
    runs(
      Array.from({ length: n }, () => 1),
      equal.find((row) => row.n === n)?.ratio ?? Number.NaN,
      work,
      seeds,
    );
  runs([1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12], 1, 3_000_000, 1);
  for (const n of [10, 19, 37]) {
    const all = equalRuns(n, 20_000_000);
    const worst = Math.max(...all.map((run) => run.gap));
    const slowest = Math.max(...all.map((run) => run.ms));
    lines.push({
      work: `smallest circle, ${n} equal, ${seeds} seeds`,
      must: '≤ 1e-6 in 200 ms, every seed',
      reached: `worst gap ${worst.toExponential(1)}, slowest ${ms(slowest)}, median ${ms(median(all.map((run) => run.ms)))}`,
      isMet: worst <= 1.0001e-6 && slowest <= 200,
    });
  }
  for (const n of [30, 50, 61]) {
    const all = equalRuns(n, 20_000_000);
    const hits = all.filter((run) => run.gap <= 1.0001e-6 && run.ms <= 1000).length / all.length;
    lines.push({
      work: `smallest circle, ${n} equal, ${seeds} seeds`,
      must: '≤ 1e-6 within 1 s in 80 % of seeds',
      reached: `${percent(hits)}, median ${ms(median(all.map((run) => run.ms)))}`,
      isMet: hits >= 0.8,
    });
  }
  lines.push(...unequalLines(unequal, seeds));
  return lines;
}

function unequalLines(rows: readonly Row[], seeds: number): BenchLine[] {
  const best = (n: number) => {
    const row = rows.find((one) => one.n === n);
    return row?.R_computed ?? row?.R ?? Number.NaN;
  };
  const radii = (n: number) => Array.from({ length: n }, (_, k) => k + 1);
  const ten = runs(radii(10), best(10), 30_000_000, seeds);
  const tenMs = median(
    ten.map((run) => (run.gap <= 1.0001e-6 ? run.ms : Number.POSITIVE_INFINITY)),
  );
  const short = runs(radii(20), best(20), 6_500_000, Math.min(seeds, 9));
  const long = runs(radii(20), best(20), 65_000_000, Math.min(seeds, 3));
  const text = (all: readonly Run[]) =>
    `median gap ${percent(median(all.map((run) => run.gap)))} in ${ms(median(all.map((run) => run.ms)))}`;
  return [
    {
      work: `radii 1…10, ${seeds} seeds`,
      must: '≤ 1e-6 in 200 ms, median',
      reached: `median ${ms(tenMs)}`,
      isMet: tenMs <= 200,
    },
    {
      work: 'radii 1…20, about 1 s',
      must: 'median ≤ 0.9 %',
      reached: text(short),
      isMet: median(short.map((run) => run.gap)) <= 0.009,
    },
    {
      work: 'radii 1…20, about 10 s',
      must: 'median ≤ 0.4 %',
      reached: text(long),
      isMet: median(long.map((run) => run.gap)) <= 0.004,
    },
  ];
}

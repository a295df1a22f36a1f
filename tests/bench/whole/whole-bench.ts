import { execFileSync } from 'node:child_process';
import { mkdirSync, writeFileSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { repoRoot } from '../../set-up/outside.ts';

const SIZES = [250, 1000, 4000];

/** What one size took; times in milliseconds. */
export interface WholeRow {
  readonly crossings: number;
  readonly found: number;
  readonly seals: number;
  readonly modelMb: number;
  readonly openMs: number;
  readonly streamMs: number;
  readonly wholeMs: number;
  readonly stagesMs: Readonly<Record<string, number>>;
  readonly peakMb: number;
}

export interface WholeReport {
  readonly commit: string;
  readonly machine: string;
  readonly node: string;
  readonly rows: readonly WholeRow[];
  /** Each stage over open and stream, at each size. */
  readonly ratios: readonly Readonly<Record<string, number>>[];
  /** Time grows with the crossings to this power, from the smallest size to the largest. */
  readonly growth: Readonly<Record<string, number>>;
}

/** The whole job at three sizes, stage by stage, against a bare open and stream by web-ifc in the same run. */
export function benchWhole(): WholeReport {
  const rows = SIZES.map((size) => {
    const child = path.join(repoRoot, 'tests/bench/whole/whole-child.ts');
    const text = execFileSync(process.execPath, ['--import', 'tsx', child, String(size)], {
      encoding: 'utf8',
      cwd: repoRoot,
      maxBuffer: 1e8,
    });
    return JSON.parse(text) as WholeRow;
  });
  const timesOf = ({ openMs, streamMs, wholeMs, stagesMs }: WholeRow) => ({
    ...{ open: openMs, stream: streamMs, whole: wholeMs },
    ...stagesMs,
  });
  const ratios = rows.map((row) => {
    const base = row.openMs + row.streamMs;
    const times = Object.entries(timesOf(row)).map(([name, ms]) => [name, round(ms / base)]);
    return Object.fromEntries(times) as Record<string, number>;
  });
  const [first, last] = [rows[0], rows[rows.length - 1]];
  if (first === undefined || last === undefined) throw new Error('No size was measured.');
  const before: Readonly<Record<string, number>> = timesOf(first);
  const span = Math.log(last.crossings / first.crossings);
  const growth = Object.entries(timesOf(last)).map(([name, ms]) => {
    return [name, round(Math.log(ms / Math.max(1, before[name] ?? 1)) / span)];
  });
  return {
    commit: execFileSync('git', ['rev-parse', 'HEAD'], { encoding: 'utf8', cwd: repoRoot }).trim(),
    machine: `${os.cpus()[0]?.model ?? '?'}, ${os.cpus().length} cores, ${os.platform()}`,
    node: process.version,
    rows,
    ratios,
    growth: Object.fromEntries(growth) as Record<string, number>,
  };
}

function round(value: number): number {
  return Math.round(value * 100) / 100;
}

/** A table for people; `npm run bench -- whole --keep` also keeps the report under tests/bench/results. */
export function wholeTable(report: WholeReport, isKept: boolean): string {
  if (isKept) {
    const folder = path.join(repoRoot, 'tests/bench/results');
    mkdirSync(folder, { recursive: true });
    writeFileSync(path.join(folder, 'whole.json'), `${JSON.stringify(report, null, 2)}\n`);
  }
  const names = Object.keys(report.ratios[0] ?? {});
  const line = (cells: readonly (string | number)[]) =>
    cells.map((cell) => String(cell).padStart(10)).join('');
  return [
    `${report.machine}, Node ${report.node}, ${report.commit.slice(0, 7)}; times over open + stream`,
    line(['crossings', ...names, 'peak MB']),
    ...report.ratios.map((ratios, at) => {
      const row = report.rows[at];
      const values = names.map((name) => ratios[name] ?? 0);
      return line([row?.crossings ?? 0, ...values, Math.round(row?.peakMb ?? 0)]);
    }),
    line(['growth', ...names.map((name) => report.growth[name] ?? 0), '']),
  ].join('\n');
}

import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, rmSync, statSync, writeFileSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { manyCrossings } from '../../makers/ifc/many-crossings.ts';
import { repoRoot, sharedPath } from '../../set-up/outside.ts';
import { compiledChild } from '../compiled-child.ts';
import type { OpenTimes, WholeTimes } from './finding-child.ts';

/** One model: web-ifc alone, and our whole reading and finding, each in a process of its own. */
export interface FindingTimes {
  readonly model: string;
  readonly bytes: number;
  readonly open: OpenTimes;
  readonly whole: WholeTimes;
  /** The same in processes that do it for the first time; their memory is what one model takes. */
  readonly first: { readonly open: OpenTimes; readonly whole: WholeTimes };
}

/** Runs the finding bench on made models and on the public samples of some size. */
export async function benchFinding(): Promise<readonly FindingTimes[]> {
  const child = await compiledChild('tests/bench/finding/finding-child.ts');
  const folder = mkdtempSync(path.join(os.tmpdir(), 'sealbook-bench-'));
  try {
    const made = [2000, 10_000].map((count) => {
      const file = path.join(folder, `made, ${count} crossings`);
      writeFileSync(file, manyCrossings(count).toBytes());
      return file;
    });
    return [...made, ...largeSamples()].map((file) => timeModel(child, file));
  } finally {
    rmSync(folder, { recursive: true });
  }
}

function largeSamples(): readonly string[] {
  const folder = sharedPath('samples', 'ifc');
  if (!existsSync(folder)) return [];
  return readdirSync(folder)
    .filter((name) => name.endsWith('.ifc'))
    .map((name) => path.join(folder, name))
    .filter((file) => statSync(file).size > 300_000);
}

function timeModel(child: string, file: string): FindingTimes {
  return {
    model: path.basename(file),
    bytes: statSync(file).size,
    open: runChild(child, 'open', file) as OpenTimes,
    whole: runChild(child, 'whole', file) as WholeTimes,
    first: {
      open: runChild(child, 'open', file, 'first') as OpenTimes,
      whole: runChild(child, 'whole', file, 'first') as WholeTimes,
    },
  };
}

function runChild(
  child: string,
  mode: 'open' | 'whole',
  file: string,
  ...first: 'first'[]
): unknown {
  return JSON.parse(
    execFileSync(process.execPath, [child, mode, file, ...first], {
      encoding: 'utf8',
      cwd: repoRoot,
    }),
  );
}

/**
 * The figures as lines of text. `whole` and `own` are over open and stream: the whole of ours with
 * web-ifc in it, and what of it is not web-ifc; `first own x` in a process that compiles its code as it
 * goes. Memory: our peak over that of open and stream.
 */
export function findingTable(rows: readonly FindingTimes[]): string {
  const head =
    'model | MB | crossings | open ms | open+stream ms | whole ms | own ms | whole x | own x | peak MB | memory x | own ms a crossing | first own x';
  const lines = rows.map(({ model, bytes, open, whole, first }) =>
    [
      model,
      (bytes / 1e6).toFixed(1),
      whole.crossings,
      open.openMs.toFixed(0),
      open.openAndStreamMs.toFixed(0),
      whole.wholeMs.toFixed(0),
      whole.ownMs.toFixed(0),
      (whole.wholeMs / open.openAndStreamMs).toFixed(2),
      (whole.ownMs / open.openAndStreamMs).toFixed(2),
      first.whole.peakMb.toFixed(0),
      (first.whole.peakMb / first.open.peakMb).toFixed(2),
      whole.crossings === 0 ? '' : (whole.ownMs / whole.crossings).toFixed(3),
      (first.whole.ownMs / first.open.openAndStreamMs).toFixed(2),
    ].join(' | '),
  );
  return [head, ...lines].join('\n');
}

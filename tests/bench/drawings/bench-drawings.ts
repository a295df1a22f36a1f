import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { compiledChild } from '../compiled-child.ts';
import { makeLargeDrawing } from './make-large-drawing.ts';

/** One way of working through a drawing, measured in a process of its own. */
export interface DrawingTiming {
  readonly way: 'dxf-parser alone' | 'read' | 'read and find';
  readonly megabytes: number;
  /** Processor time. */
  readonly seconds: number;
  /** Largest memory of the process, less that of one that only loads the code. */
  readonly peakMb: number;
  readonly penetrations: number;
}

export interface DrawingBench {
  readonly timings: readonly DrawingTiming[];
  /** Reading and finding against dxf-parser alone on the same file. Wanted: at most 2 and 1.5. */
  readonly timeRatio: number;
  readonly memoryRatio: number;
  /** Time of twice the drawing over time of the drawing; 2 is linear. */
  readonly growth: number;
}

/** Measures a drawing of this size, and one of half of it, against dxf-parser alone in one run. */
export async function benchDrawings(megabytes = 50): Promise<DrawingBench> {
  const worker = await compiledChild('tests/bench/drawings/drawing-worker.ts');
  const folder = mkdtempSync(path.join(tmpdir(), 'sealbook-bench-'));
  try {
    const full = path.join(folder, 'full.dxf');
    const half = path.join(folder, 'half.dxf');
    writeFileSync(full, makeLargeDrawing(megabytes));
    writeFileSync(half, makeLargeDrawing(megabytes / 2));
    const alone = measure(worker, 'dxf-parser alone', full, megabytes);
    const read = measure(worker, 'read', full, megabytes);
    const found = measure(worker, 'read and find', full, megabytes);
    const foundHalf = measure(worker, 'read and find', half, megabytes / 2);
    return {
      timings: [alone, read, found, foundHalf],
      timeRatio: found.seconds / alone.seconds,
      memoryRatio: found.peakMb / alone.peakMb,
      growth: found.seconds / foundHalf.seconds,
    };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Other work on the machine makes single runs up to a third slower: the quickest of so many counts. */
const TIMES = 3;

function measure(
  worker: string,
  way: DrawingTiming['way'],
  file: string,
  megabytes: number,
): DrawingTiming {
  const runs = Array.from({ length: TIMES }, (): DrawingTiming => {
    const args = ['--max-old-space-size=8192', worker, way, file];
    const printed = execFileSync(process.execPath, args, { maxBuffer: 1 << 24 });
    return { way, megabytes, ...JSON.parse(printed.toString('utf8')) };
  });
  return runs.reduce((best, run) => (run.seconds < best.seconds ? run : best));
}

import { spawn } from 'node:child_process';
import {
  closeSync,
  mkdirSync,
  mkdtempSync,
  openSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
  writeSync,
} from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { manyCrossings } from '../../makers/ifc/many-crossings.ts';
import { repoRoot } from '../../set-up/outside.ts';
import { simulatePortfolio } from './simulate.ts';

const CROSSINGS = 500;
const SIZES_MB = [50, 200, 500];

interface Building {
  readonly inputMb: number;
  readonly runS: number;
  readonly peakMb: number;
  readonly outputMb: number;
}

/** Cost of one building by size of its model, measured here, and what a thousand of the largest would take. */
export async function benchPortfolio(): Promise<object[]> {
  const rows: object[] = [];
  let largest: Building | null = null;
  for (const sizeMb of SIZES_MB) {
    largest = await measureBuilding(sizeMb);
    rows.push({ ...largest });
  }
  if (largest === null) return rows;
  for (const workers of [1, 8, 32, 128]) {
    const model = {
      ...{ buildings: 1000, workers, runS: largest.runS, spread: 0.5 },
      ...{ inputMb: largest.inputMb, outputMb: largest.outputMb, storageMbPerS: 1000 },
      ...{ deathRatio: 0.02, holdS: 30, seed: 1 },
    };
    const { hours, usefulRatio, lostRuns, leastHours } = simulatePortfolio(model);
    const memoryGb = Math.round((workers * largest.peakMb) / 1024);
    rows.push({ workers, hours, leastHours, usefulRatio, lostRuns, memoryGb });
  }
  return rows;
}

/** A building of so many crossings among so much else as fills its model up to the size. */
async function measureBuilding(sizeMb: number): Promise<Building> {
  const folder = mkdtempSync(path.join(os.tmpdir(), 'sealbook-building-'));
  try {
    writeModel(path.join(folder, 'model.ifc'), sizeMb);
    writeFileSync(
      path.join(folder, 'project.yaml'),
      'project: {name: made}\nfiles: {m: {path: model.ifc, kind: ifc}}\nlimits: {fileMb: 4096}\n',
    );
    mkdirSync(path.join(folder, 'out'));
    const begin = performance.now();
    const peakMb = await runWatched(folder);
    const runS = (performance.now() - begin) / 1000;
    const outputs = path.join(folder, 'out');
    const outputBytes = readdirSync(outputs).reduce(
      (sum, name) => sum + statSync(path.join(outputs, name)).size,
      0,
    );
    return { inputMb: sizeMb, runS, peakMb, outputMb: Math.round(outputBytes / 1e6) };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** What fills real models up: points and placements of things that are nobody's concern here. */
function writeModel(file: string, sizeMb: number): void {
  const text = new TextDecoder('latin1').decode(manyCrossings(CROSSINGS).toBytes());
  const end = text.lastIndexOf('ENDSEC;');
  const target = openSync(file, 'w');
  writeSync(target, text.slice(0, end));
  let id = 50_000_000;
  for (let written = end; written < sizeMb * 1e6; ) {
    const lines: string[] = [];
    for (let count = 0; count < 20_000; count += 1) {
      // About as long as the records of real models are on average.
      const [x, y] = [id % 9973, id % 7919];
      lines.push(`#${id}=IFCCARTESIANPOINT((${x}.50000000001,${y}.25000000001,${count}.125));\n`);
      id += 1;
    }
    const part = lines.join('');
    writeSync(target, part);
    written += part.length;
  }
  writeSync(target, text.slice(end));
  closeSync(target);
}

/** Runs the built command and watches the memory it takes at most, MB. */
function runWatched(folder: string): Promise<number> {
  const main = path.join(repoRoot, 'dist/cli/main.js');
  const child = spawn(process.execPath, ['--max-old-space-size=8192', main, 'run', folder], {
    stdio: ['ignore', 'ignore', 'inherit'],
  });
  let peakMb = 0;
  const watch = setInterval(() => {
    try {
      const status = readFileSync(`/proc/${child.pid}/status`, 'utf8');
      const [, kilobytes] = /VmHWM:\s+(\d+)/.exec(status) ?? [];
      peakMb = Math.max(peakMb, Math.round(Number(kilobytes ?? 0) / 1024));
    } catch {
      // It has ended between two looks.
    }
  }, 50);
  return new Promise((resolve, reject) => {
    child.once('exit', (code) => {
      clearInterval(watch);
      if (code === 0) resolve(peakMb);
      else reject(new Error(`The run ended with ${code}.`));
    });
  });
}

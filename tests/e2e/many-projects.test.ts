import { type ChildProcess, execFileSync, spawn, spawnSync } from 'node:child_process';
import {
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import net from 'node:net';
import os from 'node:os';
import path from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import type { PortfolioProject } from '../../src/model/portfolio.ts';
import { PYTHON, repoRoot, testWith } from '../set-up/outside.ts';
import { sealbook } from './command-line.ts';

let folder: string;
let out: string;
const children: ChildProcess[] = [];
beforeEach(() => {
  folder = mkdtempSync(path.join(os.tmpdir(), 'sealbook-many-'));
  out = path.join(folder, 'all');
});
afterEach(async () => {
  for (const child of children.splice(0)) {
    if (child.exitCode !== null || child.signalCode !== null) continue;
    const ended = new Promise((resolve) => child.once('exit', resolve));
    child.kill('SIGKILL');
    await ended;
  }
  rmSync(folder, { recursive: true, force: true });
});

/** A project of the valve chamber under a name of its own, without the outputs that take time. */
function addProject(name: string): void {
  const to = path.join(folder, 'sites', name);
  cpSync(path.join(repoRoot, 'samples/valve-chamber'), to, {
    recursive: true,
    filter: (from) => !/register\.jsonl|[/\\]out$/.test(from),
  });
  const file = path.join(to, 'project.yaml');
  const text = readFileSync(file, 'utf8').replace(/^ {2}name: .*$/m, `  name: ${name}`);
  const off = 'workbook: false, sealPages: false, taggedModels: false, bcf: false';
  writeFileSync(file, `${text}\noutputs: {${off}}\n`);
}

interface Report {
  readonly totals: { done: number; dead: number; waiting: number };
  readonly isStopped: boolean;
  readonly projects: readonly PortfolioProject[];
}

const list = () => path.join(folder, 'sites');

function many(...more: string[]): { report: Report; exitCode: number; stderr: string } {
  const done = sealbook(['many', list(), '--out', out, '--json', ...more]);
  return { ...done, report: JSON.parse(done.stdout) as Report };
}

function start(args: readonly string[]): ChildProcess {
  const main = path.join(repoRoot, 'dist/cli/main.js');
  const child = spawn(process.execPath, [main, ...args], { stdio: ['ignore', 'pipe', 'pipe'] });
  children.push(child);
  return child;
}

const records = () =>
  readFileSync(path.join(out, 'many.jsonl'), 'utf8').split('\n').filter(Boolean);

test('each project is run once, what fails is named, and the workbook holds them all', () => {
  addProject('east');
  addProject('west');
  mkdirSync(path.join(list(), 'broken'));
  writeFileSync(path.join(list(), 'broken/project.yaml'), 'filez: {}\n');
  const { report, exitCode } = many('--workers', '2', '--retries', '0');
  expect(report.totals).toEqual({ done: 2, dead: 1, waiting: 0 });
  expect(exitCode).toBe(3);
  const [broken, east, west] = report.projects;
  expect(broken).toMatchObject({ state: 'dead', path: 'broken/project.yaml', attempts: 1 });
  expect(broken?.reason).toContain('filez');
  expect([east?.summary?.name, west?.summary?.name]).toEqual(['east', 'west']);
  // The totals are those of the projects' own results.
  const result = JSON.parse(readFileSync(path.join(out, 'east/result.json'), 'utf8'));
  expect(east?.summary?.penetrations).toBe(result.penetrations.length);
  const portfolio = JSON.parse(readFileSync(path.join(out, 'portfolio.json'), 'utf8'));
  const takeOff = result.takeOff.fillers as { filler: string; whole: number; split: number }[];
  for (const { kind, material, quantity } of portfolio.totals) {
    if (kind !== 'filler') continue;
    const one = takeOff
      .filter(({ filler }) => filler === material)
      .reduce((sum, { whole, split }) => sum + whole + split, 0);
    expect(quantity).toBe(2 * one);
  }
  expect(existsSync(path.join(out, 'many.lock'))).toBe(false);
});

testWith(['openpyxl'], 'the workbook of many projects is read by openpyxl, texts as texts', () => {
  addProject('=1+1');
  many();
  const script = `
import openpyxl, sys
book = openpyxl.load_workbook(sys.argv[1])
print(book.sheetnames)
sheet = book['Projects']
print([c.value for c in sheet[6]][:2], [c.data_type for c in sheet[6]][:2])
`;
  const read = execFileSync(PYTHON, ['-c', script, path.join(out, 'portfolio.xlsx')], {
    encoding: 'utf8',
  });
  expect(read).toContain("['Front', 'Projects', 'Totals', 'By area']");
  expect(read).toContain("['s', 's']");
});

test('what is done stays done; what changed, and only that, is done anew', () => {
  addProject('east');
  addProject('west');
  many();
  const written = (name: string) => statSync(path.join(out, name, 'result.json')).mtimeMs;
  const before = { east: written('east'), west: written('west') };
  expect(many().report.totals.done).toBe(2);
  expect({ east: written('east'), west: written('west') }).toEqual(before);
  const file = path.join(list(), 'west/project.yaml');
  writeFileSync(file, `${readFileSync(file, 'utf8')}# a remark\n`);
  many();
  expect(written('east')).toBe(before.east);
  expect(written('west')).toBeGreaterThan(before.west);
  expect(records().length).toBe(3);
});

test('stopped in the middle it goes on where it left off, also when it was killed', async () => {
  for (const name of ['a', 'b', 'c', 'd']) addProject(name);
  const run = (signal: NodeJS.Signals) =>
    new Promise<void>((resolve) => {
      const child = start(['many', list(), '--out', out, '--workers', '1']);
      child.stderr?.on('data', (part) => {
        if (/\] done/.test(String(part))) child.kill(signal);
      });
      child.once('exit', () => resolve());
    });
  await run('SIGINT');
  const afterStop = records().length;
  expect(afterStop).toBeGreaterThan(0);
  expect(afterStop).toBeLessThan(4);
  await run('SIGKILL');
  // The dead one's lock is taken over.
  const { report } = many();
  expect(report.totals).toEqual({ done: 4, dead: 0, waiting: 0 });
  const done = records().map((line) => JSON.parse(line).path as string);
  expect(done.sort()).toEqual(['a', 'b', 'c', 'd'].map((name) => `${name}/project.yaml`));
});

test('a second run in the same folder is refused while the first goes on', async () => {
  addProject('a');
  const first = start(['many', list(), '--out', out]);
  await new Promise((resolve) => first.stderr?.once('data', resolve));
  const second = sealbook(['many', list(), '--out', out]);
  expect(second.exitCode).toBe(3);
  expect(second.stderr).toContain('another run holds it');
  await new Promise((resolve) => first.once('exit', resolve));
  expect(records().length).toBe(1);
});

/** A Redis of the test's own that keeps its data through a restart. */
async function redis(port: number): Promise<ChildProcess> {
  const child = spawn(
    'redis-server',
    ['--port', String(port), '--dir', folder, '--appendonly', 'yes', '--save', ''],
    { stdio: 'ignore' },
  );
  children.push(child);
  for (let tries = 0; tries < 100; tries += 1) {
    if (
      spawnSync('redis-cli', ['-p', String(port), 'ping'], { encoding: 'utf8' }).stdout?.includes(
        'PONG',
      )
    ) {
      return child;
    }
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
  throw new Error('Redis did not start.');
}

function freePort(): Promise<number> {
  return new Promise((resolve) => {
    const server = net.createServer().listen(0, '127.0.0.1', () => {
      const address = server.address();
      server.close(() => resolve(typeof address === 'object' && address ? address.port : 0));
    });
  });
}

testWith(
  ['redis'],
  'across workers by Redis: workers killed, Redis restarted, nothing lost or doubled',
  async () => {
    const names = ['a', 'b', 'c', 'd', 'e', 'f'];
    for (const name of names) addProject(name);
    const port = await freePort();
    const server = await redis(port);
    const url = `redis://127.0.0.1:${port}`;
    const worker = () => start(['many', '--work', '--redis', url, '--workers', '1']);
    const doomed = worker();
    const handing = start(['many', list(), '--out', out, '--redis', url, '--json']);
    let text = '';
    handing.stdout?.on('data', (part) => {
      text += String(part);
    });
    const ended = new Promise((resolve) => handing.once('exit', resolve));
    // The first worker dies at its first job.
    await new Promise<void>((resolve) => {
      doomed.stderr?.on('data', (part) => {
        if (String(part).includes('begun')) resolve();
      });
    });
    doomed.kill('SIGKILL');
    worker();
    await new Promise((resolve) => setTimeout(resolve, 3000));
    const gone = new Promise((resolve) => server.once('exit', resolve));
    server.kill('SIGKILL');
    await gone;
    await new Promise((resolve) => setTimeout(resolve, 1500));
    await redis(port);
    await ended;
    const report = JSON.parse(text) as Report;
    expect(report.totals).toEqual({ done: names.length, dead: 0, waiting: 0 });
    const done = records().map((line) => JSON.parse(line).path as string);
    expect(done.sort()).toEqual(names.map((name) => `${name}/project.yaml`));
    // What came out is what a run alone gives.
    const alone = path.join(folder, 'alone');
    sealbook(['run', path.join(list(), 'a/project.yaml'), '--out', alone]);
    const bytes = (at: string) => readFileSync(path.join(at, 'result.json'), 'utf8');
    expect(bytes(path.join(out, 'a'))).toBe(bytes(alone));
  },
  180_000,
);

import { spawn, spawnSync } from 'node:child_process';
import { chmodSync, mkdirSync, readdirSync, utimesSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { readInput } from '../../src/files/read-input.ts';
import { FaultProject, type Left } from './fault-project.ts';
import { killRuns } from './kill-runs.ts';

let project: FaultProject;
beforeEach(() => {
  project = new FaultProject();
});
afterEach(() => project.remove());

/** A first run, then the inputs of another state. */
function anIssueAndAChange(): Left {
  expect(project.run().status).toBe(0);
  const before = project.left();
  project.setState('two');
  return before;
}

function expectGoesOn(): void {
  const next = project.run();
  expect([next.status, next.stderr]).toEqual([0, '']);
  expect(project.left().get('result.json')).toContain('state two');
  expect(readdirSync(project.out).filter((name) => name.endsWith('.part'))).toEqual([]);
}

test('killed at any moment: every file is old or new, and the next run goes on', async () => {
  const { kills, faults } = await killRuns(8, 7);
  expect(faults).toEqual([]);
  expect(kills).toBeGreaterThan(3);
});

test('no room on the disk: the old outputs stay as they were, and the next run goes on', () => {
  const before = anIssueAndAChange();
  // No file may grow beyond 16 blocks of 1024 bytes, as on a disk that is full.
  const command = `ulimit -f 16; exec "$@"`;
  const run = spawnSync('bash', ['-c', command, 'bash', process.execPath, ...project.args()], {
    encoding: 'utf8',
  });
  expect(run.status).toBe(3);
  expect(run.stderr).toMatch(/can't be written/);
  const left = project.left();
  for (const [name, content] of before) {
    // The register is small enough to be written, and comes first: its tags are kept either way.
    if (name !== 'register.jsonl') expect(left.get(name) === content).toBe(true);
  }
  expectGoesOn();
});

test('a folder that may not be written: said so, and nothing is changed', () => {
  const before = anIssueAndAChange();
  const isRoot = process.getuid?.() === 0;
  chmodSync(project.folder, 0o555);
  chmodSync(project.out, 0o555);
  // Root may write anywhere, so the run is nobody's.
  const run = spawnSync(process.execPath, project.args(), {
    encoding: 'utf8',
    ...(isRoot ? { uid: 65_534, gid: 65_534 } : {}),
  });
  chmodSync(project.folder, 0o755);
  chmodSync(project.out, 0o755);
  expect(run.status).toBe(3);
  expect(run.stderr).toMatch(/can't be written/);
  expect(project.left()).toEqual(before);
  expectGoesOn();
});

test('not enough memory: old outputs stay, and the next run goes on', () => {
  const before = anIssueAndAChange();
  const run = project.run(['--max-old-space-size=24']);
  expect(run.status === 0).toBe(false);
  const left = project.left();
  for (const [name, content] of before) expect(left.get(name) === content).toBe(true);
  expectGoesOn();
});

test('several runs at once: one or more end well, none spoils anything', async () => {
  anIssueAndAChange();
  const ends = await Promise.all(
    Array.from(
      { length: 4 },
      () => new Promise<number | null>((resolve) => project.start().once('exit', resolve)),
    ),
  );
  expect(ends.filter((code) => code === 0).length).toBeGreaterThan(0);
  expect(ends.every((code) => code === 0 || code === 3)).toBe(true);
  const together = project.left();
  expectGoesOn();
  const alone = project.left();
  for (const name of alone.keys()) expect(together.get(name) === alone.get(name)).toBe(true);
});

test('a clock that jumps changes no byte of any output', () => {
  expect(project.run().status).toBe(0);
  const before = project.left();
  const jumping = `data:text/javascript,${encodeURIComponent(`
    let calls = 0;
    const Plain = Date;
    const jump = () => Plain.UTC(1970 + (calls++ * 37) % 120, calls % 12, 1 + calls % 28);
    globalThis.Date = class extends Plain {
      constructor(...given) { super(...(given.length > 0 ? given : [jump()])); }
      static now() { return jump(); }
    };`)}`;
  const run = project.run(['--import', jumping]);
  expect([run.status, run.stderr]).toEqual([0, '']);
  expect(project.left()).toEqual(before);
});

test('a file that changes while it is read is refused, not half read', async () => {
  const file = path.join(project.folder, 'growing.ifc');
  writeFileSync(file, Buffer.alloc(64 * 1024 * 1024, 0x20));
  let second = 0;
  const touching = setInterval(() => {
    second += 1;
    utimesSync(file, second, second);
  }, 1);
  await expect(readInput(file, 1024)).rejects.toMatchObject({ code: 'input-unreadable' });
  clearInterval(touching);
  expect((await readInput(file, 1024)).length).toBe(64 * 1024 * 1024);
});

test('a project of many that needs more memory than there is takes nothing with it', () => {
  mkdirSync(path.join(project.folder, 'all'));
  const main = project.args()[0] ?? '';
  const run = spawnSync(
    process.execPath,
    [
      main,
      'many',
      project.folder,
      '--out',
      path.join(project.folder, 'all'),
      '--retries',
      '0',
      '--json',
    ],
    { encoding: 'utf8', env: { ...process.env, NODE_OPTIONS: '--max-old-space-size=24' } },
  );
  const report = JSON.parse(run.stdout) as { totals: object; projects: { reason: string }[] };
  expect(report.totals).toEqual({ done: 0, dead: 1, waiting: 0 });
  expect(report.projects[0]?.reason).toMatch(/memory|SIGABRT|ended/i);
});

test('a stop by the keyboard leaves everything as it was', async () => {
  const before = anIssueAndAChange();
  const child = spawn(process.execPath, project.args(), { stdio: 'ignore' });
  setTimeout(() => child.kill('SIGINT'), 400);
  await new Promise((resolve) => child.once('exit', resolve));
  expect(project.left()).toEqual(before);
  expectGoesOn();
});

import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { holdLock } from '../../../src/files/hold-lock.ts';

let folder: string;
let lock: string;
beforeEach(() => {
  folder = mkdtempSync(path.join(os.tmpdir(), 'sealbook-lock-'));
  lock = path.join(folder, 'a.lock');
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

/** The number of a process that has ended. */
const endedPid = () => spawnSync(process.execPath, ['-e', '']).pid;

test('is held while the work goes on, names its holder, and is gone afterwards', async () => {
  const seen = await holdLock(lock, 'It', async () => JSON.parse(readFileSync(lock, 'utf8')));
  expect(seen).toEqual({ pid: process.pid, host: os.hostname() });
  expect(existsSync(lock)).toBe(false);
});

test('of many at once one works at a time, and the others are told', async () => {
  let inside = 0;
  const work = async () => {
    inside += 1;
    expect(inside).toBe(1);
    await new Promise((resolve) => setTimeout(resolve, 20));
    inside -= 1;
  };
  const ends = await Promise.allSettled(
    Array.from({ length: 8 }, () => holdLock(lock, 'It', work)),
  );
  expect(ends.filter(({ status }) => status === 'fulfilled').length).toBe(1);
  expect(existsSync(lock)).toBe(false);
});

test('a lock of a run that was killed is taken over', async () => {
  writeFileSync(lock, JSON.stringify({ pid: endedPid(), host: os.hostname() }));
  expect(await holdLock(lock, 'It', async () => 'done')).toBe('done');
});

test('a lock of a living run, of another machine, or of nobody known is left alone', async () => {
  for (const text of [
    JSON.stringify({ pid: process.ppid, host: os.hostname() }),
    JSON.stringify({ pid: endedPid(), host: 'another-machine' }),
    '',
    '{"pid":"x"}',
  ]) {
    writeFileSync(lock, text);
    await expect(holdLock(lock, 'It', async () => 'done')).rejects.toMatchObject({
      code: 'output-unwritable',
    });
    expect(readFileSync(lock, 'utf8')).toBe(text);
  }
});

test('it is let go of where the work fails', async () => {
  const failed = holdLock(lock, 'It', async () => {
    throw new Error('no');
  });
  await expect(failed).rejects.toThrow('no');
  expect(existsSync(lock)).toBe(false);
});

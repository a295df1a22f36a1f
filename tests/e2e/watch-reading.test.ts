import { spawnSync } from 'node:child_process';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { describe, expect, test } from 'vitest';
import { repoRoot } from '../set-up/outside.ts';

const module = pathToFileURL(path.join(repoRoot, 'dist', 'cli', 'watch-reading.js')).href;

const runScript = (body: string) =>
  spawnSync(
    process.execPath,
    [
      '--input-type=module',
      '-e',
      `import { watchReading } from ${JSON.stringify(module)};\n${body}`,
    ],
    { encoding: 'utf8', timeout: 60_000 },
  );

describe('the watch over reading', () => {
  test('ends a process that hangs in one call, and says which file and what to do', () => {
    const { signal, stderr } = runScript("watchReading('hall.ifc', 0.05); for (;;) {}");
    expect(signal).toBe('SIGKILL');
    expect(stderr).toMatch(/hall\.ifc: Reading took more than 0\.05 seconds\./);
    expect(stderr).toMatch(/Raise limits\.fileSeconds/);
  });

  test('lets a process go on that is done in time, and does not keep it', () => {
    const { status, stdout, stderr } = runScript(`
      watchReading('hall.ifc', 0.05)();
      const end = performance.now() + 2500;
      while (performance.now() < end);
      console.log('done');`);
    expect({ status, stdout, stderr }).toEqual({ status: 0, stdout: 'done\n', stderr: '' });
  });

  test('may be given any time', () => {
    const { status, stderr } = runScript(`
      watchReading('hall.ifc', 1e9);
      await new Promise((resolve) => setTimeout(resolve, 300));`);
    expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
  });
});

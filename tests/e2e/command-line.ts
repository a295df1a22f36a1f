import { spawnSync } from 'node:child_process';
import path from 'node:path';
import { repoRoot } from '../set-up/outside.ts';

/** What a run of the built command line gave. */
export interface CommandResult {
  readonly exitCode: number;
  readonly stdout: string;
  readonly stderr: string;
}

/** Runs the built `sealbook` command; `npm test` builds it first. */
export function sealbook(args: readonly string[], cwd: string = repoRoot): CommandResult {
  const main = path.join(repoRoot, 'dist/cli/main.js');
  const done = spawnSync(process.execPath, [main, ...args], {
    cwd,
    encoding: 'utf8',
    env: { ...process.env, NO_COLOR: '1' },
    maxBuffer: 256 * 1024 * 1024,
  });
  return { exitCode: done.status ?? -1, stdout: done.stdout, stderr: done.stderr };
}

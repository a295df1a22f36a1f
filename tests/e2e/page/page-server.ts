import { type ChildProcess, spawn } from 'node:child_process';
import { cpSync, mkdtempSync, rmSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { repoRoot } from '../../set-up/outside.ts';

export interface RunningPage {
  /** With its token. */
  readonly url: string;
  /** A copy of the sample, with the register beside it. */
  readonly folder: string;
  readonly stop: () => Promise<void>;
}

/** `sealbook page` on a copy of a sample's folder, as a user would start it. */
export async function runPage(
  sampleFolder: string,
  folder = freshCopy(sampleFolder),
): Promise<RunningPage> {
  const main = path.join(repoRoot, 'dist/cli/main.js');
  const child = spawn(process.execPath, [main, 'page', folder], {
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  const url = await firstLine(child);
  return {
    url,
    folder,
    stop: () =>
      new Promise((resolve) => {
        child.once('exit', () => {
          rmSync(folder, { recursive: true, force: true });
          resolve();
        });
        child.kill('SIGINT');
      }),
  };
}

function freshCopy(sampleFolder: string): string {
  const folder = mkdtempSync(path.join(os.tmpdir(), 'sealbook-review-'));
  cpSync(sampleFolder, folder, {
    recursive: true,
    filter: (from) => !/register\.jsonl|[/\\]out$/.test(from),
  });
  return folder;
}

function firstLine(child: ChildProcess): Promise<string> {
  return new Promise((resolve, reject) => {
    let [out, complaint] = ['', ''];
    child.stderr?.on('data', (part) => {
      complaint += String(part);
    });
    child.stdout?.on('data', (part) => {
      out += String(part);
      const [line] = out.split('\n');
      if (out.includes('\n') && line !== undefined) resolve(line);
    });
    child.once('exit', (code) => reject(new Error(`The page ended with ${code}: ${complaint}`)));
  });
}

import { execFileSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { test } from 'vitest';

/** Root of the repository. */
export const repoRoot = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../..');

const sharedRoot = process.env['SEALBOOK_SHARED'] ?? path.resolve(repoRoot, '../shared');

/** A file or folder of the shared material: public samples, reference values, schemas. */
export function sharedPath(...parts: string[]): string {
  return path.join(sharedRoot, ...parts);
}

/** What some checks need from outside the repository. */
export type Outside =
  | 'shared'
  | 'ezdxf'
  | 'openpyxl'
  | 'libreoffice'
  | 'xmllint'
  | 'chromium'
  | 'redis'
  | 'zbarimg';

/** Debian's Python packages belong to this interpreter; a plain `python3` may be another. */
export const PYTHON = '/usr/bin/python3';

const found = new Map<Outside, boolean>();

/** Whether a tool or folder from outside the repository is there. */
export function hasOutside(tool: Outside): boolean {
  let here = found.get(tool);
  if (here === undefined) {
    here = lookFor(tool);
    found.set(tool, here);
  }
  return here;
}

/**
 * A test that needs things from outside the repository. Where one is missing the test is left out
 * by name and counted as skipped; with CI=true it fails instead, so that nothing looks green unseen.
 */
export function testWith(
  tools: readonly Outside[],
  name: string,
  run: () => void | Promise<void>,
  timeoutMs = 120_000,
): void {
  const missing = tools.filter((tool) => !hasOutside(tool));
  if (missing.length === 0) test(name, run, timeoutMs);
  else if (process.env['CI'] === 'true') {
    test(name, () => {
      throw new Error(
        `Left out for want of: ${missing.join(', ')}. With CI=true that is a failure.`,
      );
    });
  } else {
    // The one place where a test is left out: named, and counted as skipped.
    test.skip(`${name} [left out: no ${missing.join(', ')}]`, run);
  }
}

function lookFor(tool: Outside): boolean {
  switch (tool) {
    case 'shared':
      return existsSync(path.join(sharedRoot, 'reference'));
    case 'ezdxf':
    case 'openpyxl':
      return succeeds(PYTHON, ['-c', `import ${tool}`]);
    case 'libreoffice':
      return succeeds('soffice', ['--version']);
    case 'xmllint':
      return succeeds('xmllint', ['--version']);
    case 'chromium':
      return existsSync('/usr/bin/chromium');
    case 'redis':
      return succeeds('redis-server', ['--version']);
    case 'zbarimg':
      return succeeds('zbarimg', ['--version']);
  }
}

function succeeds(command: string, args: readonly string[]): boolean {
  try {
    execFileSync(command, args, { stdio: 'ignore' });
    return true;
  } catch {
    return false;
  }
}

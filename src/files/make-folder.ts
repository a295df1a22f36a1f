import { mkdir, stat } from 'node:fs/promises';
import path from 'node:path';
import { unwritable } from './write-whole.ts';

/**
 * Makes a folder and those above it. Step by step, since Node's own recursive way never ends on
 * file systems that refuse a folder as if its parent were missing. Throws `output-unwritable`.
 */
export async function makeFolder(folder: string): Promise<void> {
  const missing: string[] = [];
  let at = path.resolve(folder);
  while (!(await isThere(at))) {
    missing.push(at);
    at = path.dirname(at);
  }
  for (const each of missing.reverse()) {
    await mkdir(each).catch(async (cause: NodeJS.ErrnoException) => {
      // Another run may have made it meanwhile.
      if (cause.code !== 'EEXIST') unwritable(each)(cause);
    });
  }
  if (!(await stat(folder)).isDirectory()) {
    unwritable(folder)(new Error('a file of that name is in the way'));
  }
}

async function isThere(folder: string): Promise<boolean> {
  return stat(folder).then(
    () => true,
    () => false,
  );
}

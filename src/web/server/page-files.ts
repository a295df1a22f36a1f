import { readdir, readFile } from 'node:fs/promises';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { SealbookError } from '../../basics/errors.ts';

/** The page's own files under the path they are asked for; no other path reaches the disk. */
export type PageFiles = ReadonlyMap<string, { readonly type: string; readonly bytes: Uint8Array }>;

const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.wasm': 'application/wasm',
  '.svg': 'image/svg+xml',
};

/** Reads the page as it was built. Throws `input-missing` where it was not. */
export async function readPageFiles(): Promise<PageFiles> {
  const folder = path.join(path.dirname(fileURLToPath(import.meta.url)), '../../page');
  const names = await readdir(folder, { recursive: true }).catch((cause: unknown) => {
    throw new SealbookError('input-missing', 'The review page has not been built.', {
      where: { file: folder },
      todo: 'Run: npm run build:page',
      cause,
    });
  });
  const files = new Map<string, { type: string; bytes: Uint8Array }>();
  for (const name of names) {
    const type = TYPES[path.extname(name)];
    // The static page alone reads models in the tab.
    if (type === undefined || name.endsWith('.wasm')) continue;
    const bytes = await readFile(path.join(folder, name));
    const asked = name.split(path.sep).join('/');
    files.set(asked === 'index.html' ? '' : asked, { type, bytes });
  }
  return files;
}

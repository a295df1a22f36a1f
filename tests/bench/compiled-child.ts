import path from 'node:path';
import { build } from 'vite';
import { repoRoot } from '../set-up/outside.ts';

/**
 * A script of the benches compiled into one plain file, as the product is: the loader that runs
 * TypeScript directly wraps every function to keep its name, which slows small ones by a fifth.
 * Lies in `dist`, so that the file finds the installed libraries. Gives its path.
 */
export async function compiledChild(script: string): Promise<string> {
  const outDir = path.join(repoRoot, 'dist', 'bench');
  const file = `${path.basename(script, '.ts')}.mjs`;
  await build({
    configFile: false,
    root: repoRoot,
    logLevel: 'error',
    build: {
      ssr: path.join(repoRoot, script),
      outDir,
      emptyOutDir: false,
      minify: false,
      rollupOptions: { output: { entryFileNames: file } },
    },
  });
  return path.join(outDir, file);
}

import { copyFileSync, mkdirSync, readdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vite';

const root = path.dirname(fileURLToPath(import.meta.url));
const out = path.join(root, 'dist/page');

/** The review page as static files that work on any web host under any base path. */
export default defineConfig({
  root: path.join(root, 'src/web/page'),
  base: './',
  logLevel: 'warn',
  build: {
    outDir: out,
    emptyOutDir: true,
    target: 'es2023',
    // Files of their own, so that the content security policy needs no data: exception.
    assetsInlineLimit: 0,
    // The readers and writers, and the tables of the IFC schemas, are the worker's.
    chunkSizeWarningLimit: 8000,
    modulePreload: { polyfill: false },
    reportCompressedSize: false,
  },
  worker: { format: 'es' },
  resolve: {
    alias: {
      // Its other build needs Node's Buffer.
      'csv-parse/sync': 'csv-parse/browser/esm/sync',
    },
  },
  plugins: [{ name: 'sample-project', apply: 'build', closeBundle: copySample }],
});

/** Beside the page lies a sample project to look at. */
function copySample(): void {
  const from = path.join(root, 'samples/pumping-station');
  const to = path.join(out, 'sample');
  mkdirSync(to, { recursive: true });
  const names = readdirSync(from)
    .filter((name) => !/\.jsonl|^out$|drawings-only/.test(name))
    .sort();
  for (const name of names) copyFileSync(path.join(from, name), path.join(to, name));
  writeFileSync(path.join(to, 'files.json'), JSON.stringify(names));
}

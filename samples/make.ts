import { mkdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { sampleFiles } from './make/all-files.ts';

const here = path.dirname(fileURLToPath(import.meta.url));

for (const file of await sampleFiles()) {
  const target = path.join(here, file.path);
  mkdirSync(path.dirname(target), { recursive: true });
  writeFileSync(target, file.bytes);
}

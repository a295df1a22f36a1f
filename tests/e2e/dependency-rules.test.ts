import { execFileSync } from 'node:child_process';
import { cpSync, mkdtempSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { expect, test } from 'vitest';
import { repoRoot } from '../set-up/outside.ts';

// A copy of the sources with one forbidden import each: the rules must refuse it by name.
test.each([
  { rule: 'node-in-design', file: 'design/forbidden.ts', line: "import 'node:fs';" },
  { rule: 'layer-find', file: 'find/forbidden.ts', line: "import '../register/assign-tags.ts';" },
])('a forbidden import fails the rule $rule', ({ rule, file, line }) => {
  const folder = mkdtempSync(path.join(tmpdir(), 'sealbook-rules-'));
  cpSync(path.join(repoRoot, 'src'), path.join(folder, 'src'), { recursive: true });
  for (const name of ['package.json', 'tsconfig.json', '.dependency-cruiser.cjs']) {
    cpSync(path.join(repoRoot, name), path.join(folder, name));
  }
  symlinkSync(path.join(repoRoot, 'node_modules'), path.join(folder, 'node_modules'));
  writeFileSync(path.join(folder, 'src', file), `${line}\n`);
  expect(broken(folder)).toContain(rule);
});

function broken(folder: string): string {
  const depcruise = path.join(
    repoRoot,
    'node_modules/dependency-cruiser/bin/dependency-cruise.mjs',
  );
  try {
    return execFileSync(
      process.execPath,
      [depcruise, 'src', '--config', '.dependency-cruiser.cjs'],
      {
        cwd: folder,
        encoding: 'utf8',
        stdio: ['ignore', 'pipe', 'pipe'],
      },
    );
  } catch (error) {
    return String((error as { stdout?: unknown }).stdout);
  }
}

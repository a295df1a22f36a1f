import { spawnSync } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import ts from 'typescript';
import { expect, test } from 'vitest';
import { repoRoot } from '../set-up/outside.ts';

/** Every regular expression that stands in the sources, as it is written. */
function expressions(): { readonly file: string; readonly source: string }[] {
  const found: { file: string; source: string }[] = [];
  for (const name of readdirSync(path.join(repoRoot, 'src'), {
    recursive: true,
    encoding: 'utf8',
  })) {
    if (!name.endsWith('.ts')) continue;
    const file = path.join(repoRoot, 'src', name);
    const tree = ts.createSourceFile(file, readFileSync(file, 'utf8'), ts.ScriptTarget.ES2023);
    const visit = (node: ts.Node): void => {
      if (ts.isRegularExpressionLiteral(node)) {
        found.push({ file: name, source: node.text.slice(1, node.text.lastIndexOf('/')) });
      }
      ts.forEachChild(node, visit);
    };
    visit(tree);
  }
  return found;
}

/**
 * Whether something that repeats without end stands inside something that repeats without end, as in
 * `(a+)+`: such expressions may take time that doubles with each letter. Classes and escapes are one letter.
 */
function nestsRepeats(source: string): boolean {
  const plain = source
    .replace(/\\[pP]\{[^}]*\}|\\u\{[^}]*\}|\\u[0-9a-fA-F]{4}|\\x[0-9a-fA-F]{2}|\\./g, 'x')
    .replace(/\[(?:[^\]])*\]/g, 'x');
  const inside: boolean[] = [false];
  for (let at = 0; at < plain.length; at += 1) {
    const letter = plain[at] ?? '';
    if (letter === '(') inside.push(false);
    else if (letter === ')') {
      const repeats = inside.pop() ?? false;
      const after = plain.slice(at + 1);
      const isRepeated = /^(?:[*+]|\{\d+,\})/.test(after);
      if (repeats && isRepeated) return true;
      if (repeats || isRepeated) inside[inside.length - 1] = true;
    } else if (/^(?:[*+]|\{\d+,\})/.test(plain.slice(at)) && plain[at - 1] !== ')') {
      inside[inside.length - 1] = true;
    }
  }
  return false;
}

test('the check itself tells expressions that may explode from those that do not', () => {
  for (const bad of ['(a+)+', '(?:\\d*)*x', '((?:a|b)+c*)+', '(x{2,})*']) {
    expect([bad, nestsRepeats(bad)]).toEqual([bad, true]);
  }
  for (const good of ['a+b+', '(?:ab)+', '(a{1,3})+', '[+*]+', '\\(+\\)+', '(?:a+b)?']) {
    expect([good, nestsRepeats(good)]).toEqual([good, false]);
  }
});

/** Looked at one by one: between two rounds stands a letter that the inner repeat can't take. */
const PARTED: ReadonlySet<string> = new Set([
  // A hyphen, a dot or a bracket begins each round, and none of them is a letter or digit.
  String.raw`\p{L}[\p{L}\d]*(?:[-.][\p{L}\d]+|\([\p{L}\d]+\)[\p{L}\d]*)*`,
]);

test('no expression of ours repeats what repeats, but where a letter parts the rounds', () => {
  const all = expressions();
  expect(all.length).toBeGreaterThan(150);
  const nested = all.filter(({ source }) => nestsRepeats(source) && !PARTED.has(source));
  expect(nested.map(({ file, source }) => `${file}: ${source}`)).toEqual([]);
});

test('texts of a hundred thousand letters go through labels, layers, sizes and cells without hanging', () => {
  // A process of its own: what hangs is ended, and that is the failure.
  const done = spawnSync(
    process.execPath,
    ['--import', 'tsx', path.join(repoRoot, 'tests/security/long-texts.ts')],
    { encoding: 'utf8', timeout: 100_000, cwd: repoRoot },
  );
  expect([done.signal, done.status, done.stderr]).toEqual([null, 0, '']);
  expect(Number(done.stdout)).toBeGreaterThan(200);
});

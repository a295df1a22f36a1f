import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { expect, test } from 'vitest';
import { readInput, sha256 } from '../../../src/files/read-input.ts';

const folder = mkdtempSync(path.join(tmpdir(), 'sealbook-'));
const file = path.join(folder, 'a.txt');
writeFileSync(file, 'abc');

test('gives plain bytes, of which a slice is a copy', async () => {
  const bytes = await readInput(file, 1);
  bytes.slice(0, 2).fill(0);
  expect([...bytes]).toEqual([97, 98, 99]);
});

test('SHA-256 of "abc"', async () => {
  // FIPS 180-2, appendix B.1.
  expect(sha256(await readInput(file, 1))).toBe(
    'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad',
  );
});

test('a folder, a missing and a too large file are refused by code', async () => {
  await expect(readInput(folder, 1)).rejects.toMatchObject({ code: 'input-missing' });
  await expect(readInput(`${file}x`, 1)).rejects.toMatchObject({ code: 'input-missing' });
  await expect(readInput(file, 1e-6)).rejects.toMatchObject({
    code: 'input-too-large',
    todo: expect.stringContaining('limits.fileMb'),
  });
});

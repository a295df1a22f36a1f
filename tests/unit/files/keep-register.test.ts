import { mkdtemp, readdir, readFile, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { beforeEach, expect, test } from 'vitest';
import { keepRegister, readRegisterFile } from '../../../src/files/keep-register.ts';

const bytes = (text: string) => new TextEncoder().encode(text);
let file = '';
beforeEach(async () => {
  file = path.join(await mkdtemp(path.join(tmpdir(), 'sealbook-')), 'register.jsonl');
});

test('a first run makes it, the next keeps the one before', async () => {
  expect(await readRegisterFile(file)).toBeNull();
  await keepRegister(file, null, bytes('one'));
  await keepRegister(file, bytes('one'), bytes('two'));
  expect(await readFile(file, 'utf8')).toBe('two');
  expect(await readFile(`${file}.before`, 'utf8')).toBe('one');
  expect((await readdir(path.dirname(file))).sort()).toEqual([
    'register.jsonl',
    'register.jsonl.before',
  ]);
});

test('of two runs that read the same register only the first may write', async () => {
  await keepRegister(file, null, bytes('one'));
  await keepRegister(file, bytes('one'), bytes('mine'));
  await expect(keepRegister(file, bytes('one'), bytes('yours'))).rejects.toMatchObject({
    code: 'output-unwritable',
    message: expect.stringContaining('another run has written it meanwhile'),
  });
  expect(await readFile(file, 'utf8')).toBe('mine');
});

test('while another run holds the lock nothing is written', async () => {
  await writeFile(`${file}.lock`, '');
  await expect(keepRegister(file, null, bytes('x'))).rejects.toMatchObject({
    todo: expect.stringContaining('.lock'),
  });
  expect(await readRegisterFile(file)).toBeNull();
});

import { mkdtemp, readdir, readFile, symlink, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { beforeEach, expect, test } from 'vitest';
import { writeOutputs } from '../../../src/files/write-outputs.ts';

let folder = '';
beforeEach(async () => {
  folder = await mkdtemp(path.join(tmpdir(), 'sealbook-'));
});

const bytes = (text: string) => new TextEncoder().encode(text);

test('writes all files and leaves nothing beside them', async () => {
  await writeOutputs(path.join(folder, 'out'), [{ name: 'a.txt', bytes: bytes('a') }], []);
  expect(await readdir(path.join(folder, 'out'))).toEqual(['a.txt']);
});

test('never writes over an input, not even through a link', async () => {
  const input = path.join(folder, 'input.txt');
  await writeFile(input, 'mine');
  await symlink(input, path.join(folder, 'link.txt'));
  const output = [{ name: 'link.txt', bytes: bytes('theirs') }];
  await expect(writeOutputs(folder, output, [input])).rejects.toMatchObject({
    code: 'output-unwritable',
  });
  expect(await readFile(input, 'utf8')).toBe('mine');
});

test('when one file can not be written, none appears', async () => {
  // A folder of that name stands in the way of the rename.
  await writeOutputs(path.join(folder, 'b.txt'), [{ name: 'x', bytes: bytes('x') }], []);
  const files = [
    { name: 'a.txt', bytes: bytes('a') },
    { name: 'b.txt', bytes: bytes('b') },
  ];
  await expect(writeOutputs(folder, files, [])).rejects.toMatchObject({
    code: 'output-unwritable',
  });
  expect(await readdir(folder)).toEqual(['b.txt']);
});

test('a name with folders in it is refused', async () => {
  await expect(
    writeOutputs(folder, [{ name: '../evil', bytes: bytes('') }], []),
  ).rejects.toMatchObject({ code: 'internal' });
});

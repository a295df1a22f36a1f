import { zipSync } from 'fflate';
import { expect, test } from 'vitest';
import { readZip, writeZip } from '../../../../src/formats/shared/zip-archive.ts';

const text = (value: string) => new TextEncoder().encode(value);

test('what is written is read back, and the same entries give the same bytes', () => {
  const entries = [
    { name: 'folder/', bytes: new Uint8Array(0) },
    { name: 'folder/a.txt', bytes: text('hello') },
  ];
  const first = writeZip(entries, '2026-05-01');
  expect(Buffer.compare(writeZip(entries, '2026-05-01'), first)).toBe(0);
  const read = readZip(first);
  expect([...read.keys()]).toEqual(['folder/a.txt']);
  expect(new TextDecoder().decode(read.get('folder/a.txt'))).toBe('hello');
});

test('an archive beyond the limits is refused before it is unpacked', () => {
  const bomb = zipSync({ zeros: new Uint8Array(5_000_000) });
  expect(bomb.length).toBeLessThan(20_000);
  const limits = { entries: 5, entryBytes: 1_000_000, totalBytes: 2_000_000 };
  expect(() => readZip(bomb, limits)).toThrow(/too large/);
  const many = zipSync(
    Object.fromEntries(Array.from({ length: 9 }, (_, i) => [`${i}`, text('x')])),
  );
  expect(() => readZip(many, limits)).toThrow(/more than 5 entries/);
});

test('a size that lies yields no more than it declares', () => {
  const zip = zipSync({ a: new Uint8Array(1000).fill(65) });
  // The declared size stands in the central directory, 24 bytes after its signature.
  const directory = Buffer.from(zip).indexOf(Buffer.from([0x50, 0x4b, 1, 2]));
  new DataView(zip.buffer, zip.byteOffset).setUint32(directory + 24, 10, true);
  let length = 0;
  try {
    length = readZip(zip).get('a')?.length ?? 0;
  } catch {
    length = 0;
  }
  expect(length).toBeLessThanOrEqual(10);
});

test('what is no archive is said so', () => {
  expect(() => readZip(text('not a zip'))).toThrow(/not a zip archive/);
});

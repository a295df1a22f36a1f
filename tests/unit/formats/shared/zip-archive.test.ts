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
  const limits = { archiveEntries: 5, unpackedMb: 2, unpackedRatio: 250 };
  expect(() => readZip(bomb, limits)).toThrow(/more than 2 MB/);
  const many = zipSync(
    Object.fromEntries(Array.from({ length: 9 }, (_, i) => [`${i}`, text('x')])),
  );
  expect(() => readZip(many, limits)).toThrow(/more than 5 entries/);
});

test('a large archive may unpack to so many times its size and no more', () => {
  const zeros = new Uint8Array(65 * 2 ** 20);
  const bomb = zipSync({ zeros });
  const limits = { archiveEntries: 5, unpackedMb: 100, unpackedRatio: 250 };
  expect(() => readZip(bomb, limits)).toThrow(
    expect.objectContaining({
      code: 'input-too-large',
      todo: expect.stringContaining('limits.unpackedRatio'),
    }),
  );
  expect(readZip(bomb, { ...limits, unpackedRatio: 2000 }).get('zeros')?.length).toBe(zeros.length);
});

/** Where in an entry of the central directory a field stands (APPNOTE.TXT, 4.3.12). */
const FIELD = { flags: 8, method: 10, crc: 16, size: 24, place: 42 };

function withField(zip: Uint8Array, field: keyof typeof FIELD, value: number): Uint8Array {
  const at = Buffer.from(zip).indexOf(Buffer.from([0x50, 0x4b, 1, 2])) + FIELD[field];
  const view = new DataView(zip.buffer, zip.byteOffset);
  if (field === 'flags' || field === 'method') view.setUint16(at, value, true);
  else view.setUint32(at, value, true);
  return zip;
}

test.each([
  ['a size too small', 'size', 10, /not the size/],
  ['a size too large', 'size', 1001, /not the size/],
  ['a size no packing reaches', 'size', 900_000, /false size/],
  ['another content', 'crc', 1, /not what was packed/],
  ['another packing', 'method', 12, /method 12/],
  ['a password', 'flags', 1, /password/],
  ['a place outside', 'place', 1_000_000, /outside/],
] as const)('an archive that declares %s is refused', (_, field, value, message) => {
  const zip = zipSync({ a: new Uint8Array(1000).fill(65) });
  expect(() => readZip(withField(zip, field, value))).toThrow(message);
});

test('two entries of one name are refused, a directory that is cut short too', () => {
  const zip = Buffer.from(zipSync({ aa: text('1'), ab: text('2') }));
  for (let at = zip.indexOf('ab'); at >= 0; at = zip.indexOf('ab')) zip.write('aa', at);
  expect(() => readZip(Uint8Array.from(zip))).toThrow(/"aa" twice/);
  const short = Uint8Array.from(zipSync({ a: text('1') }));
  short[short.length - 22 + 10] = 2;
  expect(() => readZip(short)).toThrow(/cut short/);
});

test('what is no archive is said so', () => {
  expect(() => readZip(text('not a zip'))).toThrow(/not a zip archive/);
});

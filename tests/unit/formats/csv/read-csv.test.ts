import { describe, expect, test } from 'vitest';
import { readCsv } from '../../../../src/formats/csv/read-csv.ts';

const utf8 = (text: string) => new TextEncoder().encode(text);
const texts = (bytes: Uint8Array, options = {}) =>
  readCsv(bytes, options).table.rows.map(({ cells }) => cells.map((cell) => cell?.text ?? null));

describe('delimiters', () => {
  test.each([
    [';', 'Ref;OD;To\nA-1;23,4;Pump\nA-2;9,5;Fan'],
    [',', 'Ref,OD,To\nA-1,23.4,Pump\nA-2,9.5,Fan'],
    ['\t', 'Ref\tOD\tTo\nA-1\t23,4\tPump, left\nA-2\t9,5\tFan'],
    ['|', 'Ref|OD|To\nA-1|23,4|Pump\nA-2|9,5|Fan'],
  ])('%j is found', (delimiter, text) => {
    const { delimiter: found, table } = readCsv(utf8(text));
    expect(found).toBe(delimiter);
    expect(table.rows.map(({ cells }) => cells.length)).toEqual([3, 3, 3]);
  });

  test('a line that names it is believed and is no row', () => {
    expect(texts(utf8('sep=;\r\nA;B,C\r\n'))).toEqual([['A', 'B,C']]);
  });

  test('quoted delimiters and line ends stay in their cell', () => {
    const content = readCsv(utf8('Ref;To\r\nA-1;"Pump; the\nleft one"\r\nA-2;Fan\r\n'));
    expect(content.table.rows.map(({ row }) => row)).toEqual([1, 2, 3]);
    expect(content.table.rows[1]?.cells[1]?.text).toBe('Pump; the\nleft one');
    expect(content.doubtfulRows).toEqual([]);
  });

  test('an inch mark in a cell is no quotation', () => {
    expect(texts(utf8('Ref,Duct\nA-1,3/4" pipe\nA-2,1" pipe'))).toEqual([
      ['Ref', 'Duct'],
      ['A-1', '3/4" pipe'],
      ['A-2', '1" pipe'],
    ]);
  });

  test('a quotation left open is reported with its row', () => {
    const content = readCsv(utf8('Ref;A;B;C\nA-1;"x;y;z\nA-2;x;y;z\nA-3;"x;y;z\nA-4;x;y;z\n'));
    expect(content.doubtfulRows).toEqual([2]);
  });

  test('empty rows keep the count of rows', () => {
    const { table } = readCsv(utf8('Ref,To\n\n,\nA-1,x'));
    expect(table.rows.map(({ row }) => row)).toEqual([1, 4]);
  });
});

describe('letters', () => {
  const bytesOf = (text: string, codes: Readonly<Record<string, number>>) =>
    Uint8Array.from([...text].map((letter) => codes[letter] ?? letter.charCodeAt(0)));

  test('the western code page is taken where the bytes are no UTF-8, and reported as a guess', () => {
    const bytes = bytesOf('Außen Ø;Länge', { ß: 0xdf, Ø: 0xd8, ä: 0xe4 });
    const content = readCsv(bytes);
    expect(content.table.rows[0]?.cells[0]?.text).toBe('Außen Ø');
    expect([content.encoding, content.encodingReason]).toEqual(['windows-1252', 'guess']);
  });

  test('a code page can be set', () => {
    // č in windows-1250 is 0xE8.
    expect(texts(Uint8Array.of(0xe8, 0x3b, 0x41), { encoding: 'windows-1250' })).toEqual([
      ['č', 'A'],
    ]);
  });

  test('byte order marks are heeded and are no part of the first heading', () => {
    expect(texts(utf8('\ufeffRef;To'))).toEqual([['Ref', 'To']]);
    const wide = Uint8Array.from([
      0xff,
      0xfe,
      ...[...'Ref;Ø'].flatMap((c) => [c.charCodeAt(0), 0]),
    ]);
    expect(texts(wide)).toEqual([['Ref', 'Ø']]);
  });

  test('UTF-16 without a mark is noticed', () => {
    const wide = Uint8Array.from([...'Ref;To\nA-1;Pump'].flatMap((c) => [c.charCodeAt(0), 0]));
    expect(texts(wide)).toEqual([
      ['Ref', 'To'],
      ['A-1', 'Pump'],
    ]);
  });

  test('an encoding nobody knows is an error that names some', () => {
    expect(() => readCsv(utf8('a'), { encoding: 'nonsense' })).toThrow(/nonsense/);
  });
});

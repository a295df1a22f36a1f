import { expect, test } from 'vitest';
import { childText, readXml } from '../../../../src/formats/shared/read-xml.ts';

const bytes = (text: string) => new TextEncoder().encode(text);

test('elements, attributes and text without prefixes', () => {
  const root = readXml(bytes('<a:r xmlns:a="x" a:n="1"><b> t &amp; <![CDATA[<u>]]></b></a:r>'));
  expect(root.name).toBe('r');
  expect([...root.attributes]).toEqual([['n', '1']]);
  expect(childText(root, 'b')).toBe('t & <u>');
});

test('document types, and so entities of the file, are refused', () => {
  const bomb = '<!DOCTYPE r [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;">]><r>&b;</r>';
  expect(() => readXml(bytes(bomb))).toThrow(/document type/);
  expect(() => readXml(bytes('<r>&unknown;</r>'))).toThrow(/can't be read/);
});

test('limits on size, number and depth', () => {
  const limits = { fileMb: 0.001, xmlElements: 10, xmlDepth: 5 };
  expect(() => readXml(bytes('<a>'.repeat(8)), limits)).toThrow(/deeper/);
  expect(() => readXml(bytes(`<a>${'<b/>'.repeat(20)}</a>`), limits)).toThrow(/elements/);
  expect(() => readXml(bytes(' '.repeat(2000)), limits)).toThrow(/0.001 MB/);
});

test('a prototype name is an attribute like any other', () => {
  const root = readXml(bytes('<r __proto__="x" constructor="y"/>'));
  expect(root.attributes.get('__proto__')).toBe('x');
  expect(({} as Record<string, unknown>)['x']).toBeUndefined();
});

test('UTF-16 by its mark, and bad UTF-8 is refused', () => {
  const utf16 = Uint8Array.from([0xff, 0xfe, ...Buffer.from('<r>ä</r>', 'utf16le')]);
  expect(readXml(utf16).text).toBe('ä');
  expect(() => readXml(Uint8Array.from([60, 114, 62, 0xff]))).toThrow(/not utf-8/);
});

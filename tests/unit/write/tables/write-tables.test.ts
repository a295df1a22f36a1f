import { parse } from 'csv-parse/sync';
import { expect, test } from 'vitest';
import { writeTables } from '../../../../src/write/tables/write-tables.ts';
import { HOSTILE, makeIssue } from '../../../makers/issue/make-issue.ts';

const tables = () =>
  new Map(writeTables(makeIssue()).map(({ name, text }) => [name, parse(text) as string[][]]));

test('every table has its headings and a row for each record', () => {
  const all = tables();
  expect([...all.keys()]).toEqual([
    'register.csv',
    'cables.csv',
    'take-off.csv',
    'quantities.csv',
    'checks.csv',
    'queries.csv',
    'changes.csv',
    'basis.csv',
    'unread.csv',
  ]);
  expect(all.get('register.csv')).toHaveLength(1 + 5);
  // Three cables of one seal, one of another, nine placed nowhere: each keeps a row.
  expect(all.get('cables.csv')).toHaveLength(1 + 13);
  expect(all.get('queries.csv')).toHaveLength(1 + 3);
});

test('no field can be taken for a formula', () => {
  for (const [name, rows] of tables()) {
    for (const value of rows.flat()) {
      const isNumber = /^-?\d+(\.\d+)?$/.test(value);
      if (!isNumber) expect(value, name).not.toMatch(/^[=+\-@\t\r]/);
    }
  }
});

test('a hostile text is kept behind an apostrophe', () => {
  const cables = tables().get('cables.csv') ?? [];
  expect(cables.map(([ref]) => ref)).toContain(`'${HOSTILE[0]}`);
});

test('values are plain numbers in the unit of the heading', () => {
  const [head = [], first = []] = tables().get('register.csv') ?? [];
  const value = (heading: string) => first[head.indexOf(heading)];
  expect(value('Thickness mm')).toBe('200');
  expect(Number(value('Sealant net ml'))).toBeCloseTo(288.92, 2);
  // 3 × π/4 × 37² over π/4 × 150², in percent.
  expect(Number(value('Fill, largest %'))).toBeCloseTo((300 * 37 ** 2) / 150 ** 2, 9);
  expect(head.filter((heading, at) => head.indexOf(heading) !== at)).toEqual([]);
});

test('columns that people fill in are left out', () => {
  for (const [name, [head = []]] of tables()) {
    expect(head, name).not.toContain('Decision');
    expect(head, name).not.toContain('Answer');
  }
});

test('lines end in CR LF and quotes are doubled', () => {
  const register = writeTables(makeIssue()).find(({ name }) => name === 'register.csv');
  expect(register?.text.split('\r\n').length).toBeGreaterThan(5);
  expect(register?.text).toContain('""http://example.invalid""');
});

test('no control character is left', () => {
  for (const { text } of writeTables(makeIssue())) {
    // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for.
    expect(text).not.toMatch(/[\u0000-\u0008\u000b\u000c\u000e-\u001f]/);
  }
});

import { expect, test } from 'vitest';
import { refusalQuery } from '../../../../src/write/shared/refusal-query.ts';

const file = { key: 'arch', name: 'arch.ifc' };

test('nothing refused, nothing asked', () => {
  expect(refusalQuery(file, [])).toBeNull();
});

test('a refused file is named with its reason', () => {
  const query = refusalQuery(file, [{ tag: null, id: null, reason: 'its end is missing' }]);
  expect(query).toMatchObject({ id: 'tag-not-written:arch', code: 'tag-not-written' });
  expect(query?.text).toBe('arch.ifc was not tagged: its end is missing.');
});

test('many refusals are counted, the first named with tag and element', () => {
  const refused = Array.from({ length: 14 }, (_, at) => ({
    tag: `L01-${at}`,
    id: `G${at}`,
    reason: 'its GlobalId is not in the file',
  }));
  const query = refusalQuery(file, refused);
  expect(query?.text).toContain('L01-0 (G0) – its GlobalId is not in the file');
  expect(query?.text).toContain('and 4 more');
  expect(query?.evidence.length).toBe(10);
});

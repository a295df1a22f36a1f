import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { sha1, stableUuid, uuidV5 } from '../../../src/basics/stable-uuid.ts';

test('agrees with an independent library', () => {
  // Python 3, uuid.uuid5(uuid.NAMESPACE_DNS, 'www.example.com').
  expect(uuidV5('6ba7b810-9dad-11d1-80b4-00c04fd430c8', 'www.example.com')).toBe(
    '2ed6657d-e927-568b-95e1-2665a8aea6a2',
  );
});

test('SHA-1 agrees with OpenSSL for any input', () => {
  fc.assert(
    fc.property(fc.uint8Array({ maxLength: 300 }), (input) => {
      const expected = createHash('sha1').update(input).digest('hex');
      expect(Buffer.from(sha1(input)).toString('hex')).toBe(expected);
    }),
  );
});

test('the same name gives the same id, another name another', () => {
  expect(stableUuid('a')).toBe(stableUuid('a'));
  expect(stableUuid('a')).not.toBe(stableUuid('b'));
});

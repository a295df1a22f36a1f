import fc from 'fast-check';
import { expect, test } from 'vitest';
import { ifcGlobalId, readGlobalId } from '../../../../src/formats/ifc/step-global-id.ts';

const LETTERS = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz_$';
const uuids = fc.uint8Array({ minLength: 16, maxLength: 16 });

test('agrees with long division by 64, and is read back', () => {
  fc.assert(
    fc.property(uuids, (uuid) => {
      let number = BigInt(`0x${Buffer.from(uuid).toString('hex')}`);
      let expected = '';
      for (let i = 0; i < 22; i++) {
        expected = (LETTERS[Number(number % 64n)] ?? '') + expected;
        number /= 64n;
      }
      expect(ifcGlobalId(uuid)).toBe(expected);
      expect(ifcGlobalId(uuid)).toMatch(/^[0-3][0-9A-Za-z_$]{21}$/);
      const back = new Uint8Array(16);
      expect(readGlobalId(new TextEncoder().encode(`'${expected}'`), 1, back)).toBe(true);
      expect(back).toEqual(uuid);
    }),
  );
});

test('what is no GlobalId is not read', () => {
  const read = (text: string) =>
    readGlobalId(new TextEncoder().encode(text), 0, new Uint8Array(16));
  expect(read('1hqIFTRjfV6AWq_bMtnZwI')).toBe(true);
  expect(read('4hqIFTRjfV6AWq_bMtnZwI')).toBe(false);
  expect(read('1hqIFTRjfV6AWq-bMtnZwI')).toBe(false);
  expect(read('1hqIFTRjfV6AWq')).toBe(false);
});

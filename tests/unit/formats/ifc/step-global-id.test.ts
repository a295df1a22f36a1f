import fc from 'fast-check';
import { expect, test } from 'vitest';
import { ifcGlobalId } from '../../../../src/formats/ifc/step-global-id.ts';

const LETTERS = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz_$';

test('agrees with long division by 64', () => {
  fc.assert(
    fc.property(fc.uuid(), (uuid) => {
      let number = BigInt(`0x${uuid.replaceAll('-', '')}`);
      let expected = '';
      for (let i = 0; i < 22; i++) {
        expected = (LETTERS[Number(number % 64n)] ?? '') + expected;
        number /= 64n;
      }
      expect(ifcGlobalId(uuid)).toBe(expected);
      expect(ifcGlobalId(uuid)).toMatch(/^[0-3][0-9A-Za-z_$]{21}$/);
    }),
  );
});

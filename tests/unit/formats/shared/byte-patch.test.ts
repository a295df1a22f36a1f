import fc from 'fast-check';
import { expect, test } from 'vitest';
import { applyPatches, patchedParts } from '../../../../src/formats/shared/byte-patch.ts';

const bytes = (text: string) => new TextEncoder().encode(text);
const string = (value: Uint8Array) => new TextDecoder().decode(value);

test('insertions and removals in any order', () => {
  const patches = [
    { at: 6, remove: 5, insert: bytes('moon') },
    { at: 0, remove: 0, insert: bytes('> ') },
  ];
  expect(string(applyPatches(bytes('hello world'), patches))).toBe('> hello moon');
});

test('overlaps and places outside are refused', () => {
  const none = new Uint8Array(0);
  const overlapping = [
    { at: 0, remove: 3, insert: none },
    { at: 2, remove: 1, insert: none },
  ];
  expect(() => applyPatches(bytes('abcdef'), overlapping)).toThrow(RangeError);
  expect(() => applyPatches(bytes('abc'), [{ at: 2, remove: 2, insert: none }])).toThrow(
    RangeError,
  );
});

test('parts are views into the source, and removing an insertion gives it back', () => {
  fc.assert(
    fc.property(fc.uint8Array(), fc.uint8Array({ minLength: 1 }), fc.nat(), (source, insert, n) => {
      const at = source.length === 0 ? 0 : n % source.length;
      const parts = patchedParts(source, [{ at, remove: 0, insert }]);
      expect(parts.filter((part) => part !== insert).every((p) => p.buffer === source.buffer)).toBe(
        true,
      );
      const patched = applyPatches(source, [{ at, remove: 0, insert }]);
      const undo = [{ at, remove: insert.length, insert: new Uint8Array(0) }];
      expect(applyPatches(patched, undo)).toEqual(source);
    }),
  );
});

import { distance } from 'fastest-levenshtein';
import { lookAlikeKey, referenceKey } from '../basics/reference-key.ts';

/** Why a reference may be meant though it is written otherwise. */
export interface NearKey {
  readonly key: string;
  /** For people: "O and 0, or I and 1". */
  readonly difference: string;
}

/** References by what they share with misspelt ones. */
export interface NearKeyIndex {
  readonly find: (written: string) => readonly NearKey[];
}

const MOST_ALIKE = 60;

/**
 * Finds references that a typing error could have made of a given one: characters that look the
 * same, digits swapped, one letter wrong, or the same characters parted otherwise. One digit
 * instead of another is no sign of an error: P-101 and P-102 are neighbours, not misspellings.
 */
export function indexNearKeys(written: Iterable<string>): NearKeyIndex {
  const byLook = new Map<string, Set<string>>();
  const byDigits = new Map<string, Set<string>>();
  const byLetters = new Map<string, Set<string>>();
  const byCompact = new Map<string, Set<string>>();
  for (const text of written) {
    const key = referenceKey(text);
    if (key === '') continue;
    addTo(byLook, lookAlikeKey(text), key);
    addTo(byDigits, digitsOf(key), key);
    addTo(byLetters, lettersAndSortedDigits(key), key);
    addTo(byCompact, key.replaceAll(' ', ''), key);
  }
  return {
    find(text) {
      const own = referenceKey(text);
      const others = (keys: Iterable<string> | undefined) =>
        [...(keys ?? [])].filter((key) => key !== own).slice(0, MOST_ALIKE);
      const kinds: readonly (readonly [readonly string[], string])[] = [
        [others(byLook.get(lookAlikeKey(text))), 'O for 0 or I for 1'],
        [others(byCompact.get(own.replaceAll(' ', ''))), 'its parts are divided otherwise'],
        [others(byLetters.get(lettersAndSortedDigits(own))), 'digits are swapped'],
        [others(oneLetterOff(own, byDigits)), 'one letter differs'],
      ];
      // The likeliest kind of error that explains it; the others would only be noise.
      const [keys, difference] = kinds.find(([alike]) => alike.length > 0) ?? [[], ''];
      return keys.map((key) => ({ key, difference }));
    },
  };
}

function oneLetterOff(
  own: string,
  byDigits: ReadonlyMap<string, ReadonlySet<string>>,
): readonly string[] {
  const digits = digitsOf(own);
  if (digits === '') return [];
  return [...(byDigits.get(digits) ?? [])].filter((key) => isOneLetterOff(own, key));
}

function isOneLetterOff(a: string, b: string): boolean {
  const lettersA = a.replace(/[^\p{L}]/gu, '');
  const lettersB = b.replace(/[^\p{L}]/gu, '');
  // Of a single letter another is another reference: R-01 and D-01.
  return Math.max(lettersA.length, lettersB.length) >= 2 && distance(lettersA, lettersB) === 1;
}

function digitsOf(key: string): string {
  return key
    .replace(/[^\d ]/gu, '')
    .replace(/ +/gu, ' ')
    .trim();
}

function lettersAndSortedDigits(key: string): string {
  return key.replace(/\d+/gu, (digits) => [...digits].sort().join(''));
}

function addTo(sets: Map<string, Set<string>>, key: string, value: string): void {
  const set = sets.get(key);
  if (set === undefined) sets.set(key, new Set([value]));
  else set.add(value);
}

import { compareText } from '../basics/order.ts';
import type { Penetration } from '../model/penetration.ts';
import type { Register } from '../model/register.ts';

/** Levels without a name share this code. */
const NO_LEVEL = 'XX';
const LONGEST_CODE = 6;

/** Highest number given out so far, by level code. */
export type GivenNumbers = Readonly<Record<string, number>>;

export function givenNumbers(register: Register | null): GivenNumbers {
  return register?.numbers ?? {};
}

/**
 * A tag for each penetration: the one it had, else a new one by the project's pattern: `{level}`
 * becomes the level's short code, `{number}` counts on within that code, `{number:4}` pads with
 * zeros. New numbers run level by level from below, then by place (x, y, z), so that neighbours on
 * site are neighbours in the schedule; a tag in `taken` is never given again.
 * Gives penetration id to tag in that order of place, and the numbers given out.
 */
export function nextTag(
  penetrations: readonly Penetration[],
  pattern: string,
  kept: ReadonlyMap<string, string>,
  taken: ReadonlySet<string>,
  given: GivenNumbers,
): { readonly tags: ReadonlyMap<string, string>; readonly numbers: GivenNumbers } {
  const tags = new Map<string, string>();
  const numbers = new Map(Object.entries(given));
  const used = new Set([...taken, ...kept.values()]);
  for (const penetration of [...penetrations].sort(byLevelThenPlace)) {
    const old = kept.get(penetration.id);
    if (old !== undefined) {
      tags.set(penetration.id, old);
      continue;
    }
    const code = levelCode(penetration.where.level);
    // Without the level in the pattern, numbers must not start again on each level.
    const counter = pattern.includes('{level}') ? code : '';
    let number = numbers.get(counter) ?? 0;
    let tag = '';
    do {
      number += 1;
      tag = fill(pattern, code, number);
    } while (used.has(tag));
    numbers.set(counter, number);
    used.add(tag);
    tags.set(penetration.id, tag);
  }
  const sorted = [...numbers].sort(([a], [b]) => compareText(a, b));
  return { tags, numbers: Object.fromEntries(sorted) };
}

function byLevelThenPlace(a: Penetration, b: Penetration): number {
  const byElevation = elevation(a) - elevation(b);
  if (byElevation !== 0 && !Number.isNaN(byElevation)) return byElevation;
  const byName = compareText(a.where.level ?? '', b.where.level ?? '');
  if (byName !== 0) return byName;
  for (const axis of [0, 1, 2] as const) {
    // Whole millimetres: a re-exported model differs in the last digits and must not shuffle tags.
    const difference = Math.round(a.frame.originMm[axis]) - Math.round(b.frame.originMm[axis]);
    if (difference !== 0) return difference;
  }
  return compareText(a.id, b.id);
}

/** What has no level comes last. */
function elevation({ where }: Penetration): number {
  return where.levelElevationMm ?? Number.POSITIVE_INFINITY;
}

/**
 * Short code of a level: one short word as it is, else the first letters of its words with numbers
 * kept whole: "Level 01" gives L01, "Ground floor" GF, "Pit" PIT.
 */
export function levelCode(level: string | null): string {
  const words = (level ?? '').match(/\p{L}+|\p{N}+/gu) ?? [];
  const [first] = words;
  if (first === undefined) return NO_LEVEL;
  if (words.length === 1) return first.slice(0, LONGEST_CODE).toUpperCase();
  return words
    .map((word) => (/\p{N}/u.test(word) ? word : word.slice(0, 1)))
    .join('')
    .slice(0, LONGEST_CODE)
    .toUpperCase();
}

function fill(pattern: string, level: string, number: number): string {
  return pattern
    .replaceAll('{level}', () => level)
    .replace(/\{number(?::(\d{1,2}))?\}/g, (_, width: string | undefined) =>
      String(number).padStart(Number(width ?? 0), '0'),
    );
}

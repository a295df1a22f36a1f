import { compareText } from '../basics/order.ts';
import type { Penetration } from '../model/penetration.ts';

/** Levels without a name share this code. */
const NO_LEVEL = 'XX';
const LONGEST_WORD = 6;

/**
 * A tag for each penetration, by the project's pattern: `{level}` becomes the level's short code,
 * `{number}` counts within that code, `{number:4}` pads with zeros. Numbers run level by level from
 * below, then by place (x, y, z), so that neighbours on site are neighbours in the schedule.
 * Gives penetration id to tag, in that order.
 */
export function assignTags(
  penetrations: readonly Penetration[],
  pattern: string,
): ReadonlyMap<string, string> {
  const tags = new Map<string, string>();
  const counts = new Map<string, number>();
  for (const penetration of [...penetrations].sort(byLevelThenPlace)) {
    const code = levelCode(penetration.where.level);
    // Without the level in the pattern, numbers must not start again on each level.
    const counter = pattern.includes('{level}') ? code : '';
    const number = (counts.get(counter) ?? 0) + 1;
    counts.set(counter, number);
    tags.set(penetration.id, fill(pattern, code, number));
  }
  return tags;
}

function byLevelThenPlace(a: Penetration, b: Penetration): number {
  const byLevel =
    (a.where.levelElevationMm ?? Number.POSITIVE_INFINITY) -
    (b.where.levelElevationMm ?? Number.POSITIVE_INFINITY);
  if (byLevel !== 0 && !Number.isNaN(byLevel)) return byLevel;
  const byName = compareText(a.where.level ?? '', b.where.level ?? '');
  if (byName !== 0) return byName;
  for (const axis of [0, 1, 2] as const) {
    // Whole millimetres: a re-exported model differs in the last digits and must not shuffle tags.
    const difference = Math.round(a.frame.originMm[axis]) - Math.round(b.frame.originMm[axis]);
    if (difference !== 0) return difference;
  }
  return compareText(a.id, b.id);
}

/**
 * Short code of a level: one short word as it is, else the first letters of its words with numbers
 * kept whole: "Level 01" gives L01, "Ground floor" GF, "Pit" PIT.
 */
export function levelCode(level: string | null): string {
  const words = (level ?? '').match(/\p{L}+|\p{N}+/gu) ?? [];
  const [first] = words;
  if (first === undefined) return NO_LEVEL;
  if (words.length === 1) return first.slice(0, LONGEST_WORD).toUpperCase();
  return words
    .map((word) => (/\p{N}/u.test(word) ? word : word.slice(0, 1)))
    .join('')
    .slice(0, LONGEST_WORD)
    .toUpperCase();
}

function fill(pattern: string, level: string, number: number): string {
  return pattern
    .replaceAll('{level}', level)
    .replace(/\{number(?::(\d{1,2}))?\}/g, (_, width: string | undefined) =>
      String(number).padStart(Number(width ?? 0), '0'),
    );
}

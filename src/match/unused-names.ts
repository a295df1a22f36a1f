import { mentionsIn, referenceKey, writtenForm } from '../basics/reference-key.ts';
import type { Cable } from '../model/cable.ts';
import type { ReferenceIndex } from './reference-index.ts';

/** Names of openings and carriers that no cable uses, to be set against routes that nearly name them. */
export interface UnusedNames {
  /** The unused name an entry may be a misspelling of; null for none. */
  readonly nearlyNamed: (entry: string) => string | null;
  /**
   * The unused name an entry may be with a digit left out: C-1 for C-11, in files that write C-01
   * for what C-1 is taken for; null for none.
   */
  readonly cutShort: (entry: string) => string | null;
}

const LONGEST_NAME = 16;

/** A name that more cables than this share is no slip of one of them. Our choice. */
const MOST_SLIPS = 2;

/**
 * A route with two digits swapped may name another carrier, and nothing in the row tells. But the
 * carrier that was meant is then often left without any cable, and the one that is named has few.
 */
export function indexUnusedNames(index: ReferenceIndex, cables: readonly Cable[]): UnusedNames {
  const uses = usesByKey(cables);
  const bySwap = new Map<string, string[]>();
  const byCut = new Map<string, string[]>();
  for (const [key, namings] of index.byKey) {
    if (uses.has(key) || !/\d/u.test(key)) continue;
    const naming = namings.find(({ target }) => target.type !== 'service');
    const written = writtenForm(naming?.mention.written ?? '');
    if (written === '' || written.length > LONGEST_NAME || !/^\S+(?: \S+)?$/u.test(written))
      continue;
    push(bySwap, swapKey(written), written);
    for (const cut of withoutOneDigit(written)) push(byCut, cut, written);
  }
  const padding = paddingOf(index, cables);
  return {
    nearlyNamed(entry) {
      if ((uses.get(referenceKey(entry)) ?? 0) > MOST_SLIPS) return null;
      const written = writtenForm(entry);
      return bySwap.get(swapKey(written))?.find((name) => isOneSwap(name, written)) ?? null;
    },
    cutShort(entry) {
      const isOdd = padding.isKept && padding.unpadded.has(referenceKey(entry));
      if (!isOdd || padding.unpadded.size > 1) return null;
      const written = writtenForm(entry);
      const isHabit = (padding.uses.get(written) ?? 0) > MOST_SLIPS;
      return isHabit ? null : (byCut.get(written)?.[0] ?? null);
    },
  };
}

function usesByKey(cables: readonly Cable[]): Map<string, number> {
  const uses = new Map<string, number>();
  for (const { ref, route } of cables) {
    for (const key of new Set([ref, ...route].flatMap(keysIn))) {
      uses.set(key, (uses.get(key) ?? 0) + 1);
    }
  }
  return uses;
}

interface Padding {
  /** The schedule writes leading zeros somewhere, as the model does. */
  readonly isKept: boolean;
  /** Keys it writes without the zeros that the model has; several are a habit, one may be a slip. */
  readonly unpadded: ReadonlySet<string>;
  /** Uses by written form. */
  readonly uses: ReadonlyMap<string, number>;
}

function paddingOf(index: ReferenceIndex, cables: readonly Cable[]): Padding {
  const uses = new Map<string, number>();
  for (const { ref, route } of cables) {
    for (const form of new Set([ref, ...route].map(writtenForm))) {
      uses.set(form, (uses.get(form) ?? 0) + 1);
    }
  }
  const unpadded = new Set<string>();
  let isKept = false;
  for (const form of uses.keys()) {
    const key = referenceKey(form);
    const names = index.byKey.get(key)?.map(({ mention }) => writtenForm(mention.written)) ?? [];
    if (names.length === 0) continue;
    if (!names.includes(form)) {
      if (names.some((name) => withoutZeros(name) === form)) unpadded.add(key);
    } else if (withoutZeros(form) !== form) isKept = true;
  }
  return { isKept, unpadded, uses };
}

/** Leading zeros of each run of digits taken away. */
function withoutZeros(written: string): string {
  return written.replace(/(?<!\d)0+(?=\d)/gu, '');
}

/** What is left of a name when any one of its digits is left out. */
function withoutOneDigit(written: string): Set<string> {
  const cuts = [...written].flatMap((letter, at) =>
    /\d/u.test(letter) ? [written.slice(0, at) + written.slice(at + 1)] : [],
  );
  return new Set(cuts);
}

function push(lists: Map<string, string[]>, key: string, value: string): void {
  const list = lists.get(key);
  if (list === undefined) lists.set(key, [value]);
  else list.push(value);
}

function keysIn(text: string): string[] {
  return mentionsIn(text).map(({ key }) => key);
}

function swapKey(written: string): string {
  return [...written].sort().join('');
}

/** Two neighbours, both digits, changed places. */
function isOneSwap(a: string, b: string): boolean {
  if (a.length !== b.length || a === b) return false;
  const at = [...a].findIndex((letter, place) => letter !== b.charAt(place));
  const isSwap = a.charAt(at) === b.charAt(at + 1) && a.charAt(at + 1) === b.charAt(at);
  const isDigits = /^\d\d$/u.test(a.slice(at, at + 2));
  return isSwap && isDigits && a.slice(at + 2) === b.slice(at + 2);
}

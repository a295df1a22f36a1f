import { mentionsIn, referenceKey, writtenForm } from '../basics/reference-key.ts';
import type { Cable } from '../model/cable.ts';
import type { ReferenceIndex } from './reference-index.ts';

/** Names of openings and carriers that no cable uses, to be set against routes that nearly name them. */
export interface UnusedNames {
  /** The unused name an entry may be a misspelling of; null for none. */
  readonly nearlyNamed: (entry: string) => string | null;
  /**
   * The unused name a reference may be with a digit left out: C-1 for C-11, in a schedule that writes
   * C-01 and C-02 in full; null for none. Zeros alone never tell two references apart.
   */
  readonly cutShort: (written: string) => string | null;
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
  const byCut = new Map<string, string>();
  for (const [key, namings] of index.byKey) {
    if (uses.has(key) || !/\d/u.test(key)) continue;
    const crossing = namings.find(({ target }) => target.type !== 'service');
    const name = (crossing ?? namings[0])?.mention.written ?? '';
    const written = writtenForm(name);
    if (!isPlainName(written)) continue;
    for (const cut of withoutOneDigit(name)) if (!byCut.has(cut)) byCut.set(cut, name);
    if (crossing === undefined) continue;
    const same = bySwap.get(swapKey(written));
    if (same === undefined) bySwap.set(swapKey(written), [written]);
    else same.push(written);
  }
  const inFull = familiesInFull(cables);
  return {
    nearlyNamed(entry) {
      if ((uses.get(referenceKey(entry)) ?? 0) > MOST_SLIPS) return null;
      const written = writtenForm(entry);
      return bySwap.get(swapKey(written))?.find((name) => isOneSwap(name, written)) ?? null;
    },
    cutShort(entry) {
      const key = referenceKey(entry);
      if (!inFull.has(familyOf(key))) return null;
      const digits = digitsOf(entry);
      const names = (index.byKey.get(key) ?? []).map(({ mention }) => digitsOf(mention.written));
      if (names.length === 0 || names.includes(digits)) return null;
      // Letter by letter: r-1 for R-11 would be two slips, and is a short way to write R-01.
      return byCut.get(entry.trim()) ?? null;
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

/** Families of references, C-… or 1-C-…, of which the schedule writes some with leading zeros. */
function familiesInFull(cables: readonly Cable[]): ReadonlySet<string> {
  const families = new Set<string>();
  for (const { ref, route } of cables) {
    for (const text of [ref, ...route]) {
      if (/(?<!\d)0\d/u.test(text)) families.add(familyOf(referenceKey(text)));
    }
  }
  return families;
}

/** A key without its numbers. */
function familyOf(key: string): string {
  return key.replace(/\d+/gu, '#');
}

/** The digits of a reference with their zeros: what writings of one key may differ in. */
function digitsOf(written: string): string {
  return (written.match(/\d+/gu) ?? []).join(' ');
}

function isPlainName(written: string): boolean {
  return written !== '' && written.length <= LONGEST_NAME && /^\S+(?: \S+)?$/u.test(written);
}

/** What is left of a name when any one of its digits is left out. */
function withoutOneDigit(written: string): Set<string> {
  const cuts = [...written].flatMap((letter, at) =>
    /\d/u.test(letter) ? [written.slice(0, at) + written.slice(at + 1)] : [],
  );
  return new Set(cuts);
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

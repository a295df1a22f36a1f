import { mentionsIn, referenceKey, writtenForm } from '../basics/reference-key.ts';
import type { Cable } from '../model/cable.ts';
import type { ReferenceIndex } from './reference-index.ts';

/** Names of openings and carriers that no cable uses, to be set against routes that nearly name them. */
export interface UnusedNames {
  /** The unused name an entry may be a misspelling of; null for none. */
  readonly nearlyNamed: (entry: string) => string | null;
}

const LONGEST_NAME = 16;

/** A name that more cables than this share is no slip of one of them. Our choice. */
const MOST_SLIPS = 2;

/**
 * A route with two digits swapped may name another carrier, and nothing in the row tells. But the
 * carrier that was meant is then often left without any cable, and the one that is named has few.
 */
export function indexUnusedNames(index: ReferenceIndex, cables: readonly Cable[]): UnusedNames {
  const uses = new Map<string, number>();
  for (const { ref, route } of cables) {
    for (const key of new Set([ref, ...route].flatMap(keysIn))) {
      uses.set(key, (uses.get(key) ?? 0) + 1);
    }
  }
  const bySwap = new Map<string, string[]>();
  for (const [key, namings] of index.byKey) {
    if (uses.has(key) || !/\d/u.test(key)) continue;
    const naming = namings.find(({ target }) => target.type !== 'service');
    const written = writtenForm(naming?.mention.written ?? '');
    if (written === '' || written.length > LONGEST_NAME || !/^\S+(?: \S+)?$/u.test(written))
      continue;
    const same = bySwap.get(swapKey(written));
    if (same === undefined) bySwap.set(swapKey(written), [written]);
    else same.push(written);
  }
  return {
    nearlyNamed(entry) {
      if ((uses.get(referenceKey(entry)) ?? 0) > MOST_SLIPS) return null;
      const written = writtenForm(entry);
      return bySwap.get(swapKey(written))?.find((name) => isOneSwap(name, written)) ?? null;
    },
  };
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

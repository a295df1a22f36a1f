import { compareText } from '../basics/order.ts';
import type { Cable, CableCandidate } from '../model/cable.ts';
import { indexNearKeys, type NearKeyIndex } from './near-keys.ts';
import type { ReferenceIndex } from './reference-index.ts';

const LONGEST_REFERENCE = 40;
const CONFIDENCE = 0.4;

/** Suggestions from names that are nearly those of a cable or its route; never matched. */
export interface Suggester {
  readonly suggest: (cable: Cable, unknownRoute: readonly string[]) => CableCandidate[];
}

/**
 * Prepares suggestions. Names that another cable has as its reference are not offered: they are
 * that cable's.
 */
export function prepareSuggestions(
  index: ReferenceIndex,
  cableKeys: ReadonlyMap<string, unknown>,
): Suggester {
  let near: NearKeyIndex | null = null;
  return {
    suggest(cable, unknownRoute) {
      near ??= indexNearKeys(namesOf(index));
      const found = new Map<string, CableCandidate>();
      for (const written of [cable.ref, ...unknownRoute]) {
        for (const { key, difference } of near.find(written)) {
          if (written === cable.ref && cableKeys.has(key)) continue;
          for (const { target, text } of index.byKey.get(key) ?? []) {
            if (target.type === 'service' || found.has(target.penetrationId)) continue;
            const reason = `“${text}” there is nearly ${written} (${difference}).`;
            found.set(target.penetrationId, {
              penetrationId: target.penetrationId,
              confidence: CONFIDENCE,
              reasons: [reason],
            });
          }
        }
      }
      return [...found.values()].sort((a, b) => compareText(a.penetrationId, b.penetrationId));
    },
  };
}

function* namesOf(index: ReferenceIndex): Iterable<string> {
  for (const namings of index.byKey.values()) {
    const written = namings[0]?.mention.written ?? '';
    if (written.length <= LONGEST_REFERENCE && /\d/u.test(written)) yield written;
  }
}

import { compareText } from '../basics/order.ts';
import type { Cable, CableCandidate } from '../model/cable.ts';
import type { ReferenceIndex } from './reference-index.ts';
import { lookAlikeKey, referenceKey } from './reference-key.ts';

/** Penetrations whose names look like the cable's; offered to people, never matched. */
export function suggestPenetrations(cable: Cable, index: ReferenceIndex): CableCandidate[] {
  const own = referenceKey(cable.ref);
  const keys = index.keysByLook.get(lookAlikeKey(cable.ref)) ?? new Set<string>();
  const found = new Map<string, CableCandidate>();
  for (const key of keys) {
    if (key === own) continue;
    for (const { target, text } of index.byKey.get(key) ?? []) {
      if (target.type === 'service' || found.has(target.penetrationId)) continue;
      found.set(target.penetrationId, {
        penetrationId: target.penetrationId,
        confidence: 0.5,
        reasons: [`“${text}” there looks like ${cable.ref} (O and 0, I and 1).`],
      });
    }
  }
  return [...found.values()].sort((a, b) => compareText(a.penetrationId, b.penetrationId));
}

import { makeQuery, type Query } from '../basics/query.ts';
import type { Penetration } from '../model/penetration.ts';
import type { Seal } from '../model/seal.ts';

/**
 * A ventilation duct through a host with a fire duty asks about its damper, which no seal
 * replaces. A duct that cables pass is no ventilation duct.
 * @source Engineering rules §6; EN 1366-3 leaves ventilation ducts out of its scope.
 */
export function damperQueries(penetration: Penetration, seals: readonly Seal[]): Query[] {
  const isRated = seals.some(({ duties }) => duties.some(({ kind }) => kind === 'fire'));
  if (!isRated) return [];
  const withCables = new Set(seals.flatMap(({ of }) => (of === null ? [] : [of])));
  const ducts = penetration.crossings.filter(
    ({ kind, id }) => kind === 'duct' && !withCables.has(id),
  );
  if (ducts.length === 0) return [];
  const count = ducts.length === 1 ? 'A duct passes' : `${ducts.length} ducts pass`;
  return [
    makeQuery('damper-question', {
      about: penetration.id,
      text: `${count} a host that must resist fire; no damper is known.`,
      why: 'Fire and smoke go through the duct, whatever closes the gap round it.',
      settles: 'Whether a fire or smoke damper is there, and how its frame is built in.',
      penetrationId: penetration.id,
    }),
  ];
}

import type { Check } from '../../model/seal.ts';
import { type CheckInput, notAssessed } from './check-parts.ts';

/** Holes that must still be made: the structural engineer decides, so there is no verdict here. */
export function structureChecks({ subject }: CheckInput): Check[] {
  const { penetration, path } = subject;
  if (path !== 'annulus' || penetration === null) return [];
  if (penetration.kind !== 'unopened' && penetration.kind !== 'provision') return [];
  const isBearing = penetration.hosts.some(({ isLoadBearing }) => isLoadBearing === true);
  return [
    notAssessed('hole still to be made', 'structure', {
      missing: ['the structural engineer’s word: reinforcement, edges, other openings'],
      note: isBearing ? 'a host is load bearing' : null,
      source: 'engineering rules §6, structure: no verdict',
    }),
  ];
}

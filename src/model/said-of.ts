import type { Cable } from './cable.ts';
import type { IssuedFacts } from './register.ts';

/**
 * What the tool says of a penetration that a decision is about, in the words it is later compared
 * with. Who accepts, accepts the design; any other review shapes the design itself, so that only
 * what the inputs say counts then.
 */
export function saidOf(field: string, value: string, facts: IssuedFacts): string | null {
  switch (field) {
    case 'review':
      return [
        facts.shape ?? 'nothing provided',
        ...facts.services,
        ...facts.cables,
        ...(value === 'accept' ? [...facts.duties, ...facts.design] : []),
      ].join('; ');
    case 'opening':
      return facts.shape ?? 'nothing provided';
    default:
      return null;
  }
}

/** The same for a cable: its diameter, or the way it takes. */
export function saidOfCable(
  field: string,
  { diameterMm, from, route, to }: Pick<Cable, 'diameterMm' | 'from' | 'route' | 'to'>,
): string {
  if (field === 'diameterMm') return diameterMm === null ? 'not given' : String(diameterMm);
  return [from ?? '?', ...route, to ?? '?'].join(' > ');
}

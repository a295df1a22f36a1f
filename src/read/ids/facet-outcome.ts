import type { Cardinality } from '../../formats/ids/ids-file.ts';

/**
 * What became of a facet on one element. `absent`: the element has nothing of what the facet speaks
 * of, so an optional requirement lets it pass.
 */
export interface FacetOutcome {
  readonly state: 'met' | 'not met' | 'absent';
  /** What was found, for people. */
  readonly found: string;
}

/** Whether an outcome is accepted under a requirement's cardinality. */
export function isAccepted(outcome: FacetOutcome, cardinality: Cardinality): boolean {
  if (cardinality === 'prohibited') return outcome.state !== 'met';
  return outcome.state === 'met' || (cardinality === 'optional' && outcome.state === 'absent');
}

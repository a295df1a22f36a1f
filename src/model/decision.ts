import type { Evidence } from '../basics/evidence.ts';

/**
 * A person's answer to where a cable runs. It wins over all found evidence and stays through
 * revisions until it is taken back.
 * `passes`: the cable goes through this penetration (others are not excluded by it) ·
 * `passesNot`: it does not · `passesNothing`: it goes through none at all.
 */
export interface MatchDecision {
  readonly id: string;
  readonly cableId: string;
  readonly answer: 'passes' | 'passesNot' | 'passesNothing';
  /** Null only for `passesNothing`. */
  readonly penetrationId: string | null;
  /** The crossing whose bore or carrier it lies in, where the person said so. */
  readonly crossingId?: string;
  /** Where the answer was given: workbook cell, review page. */
  readonly evidence: readonly Evidence[];
}

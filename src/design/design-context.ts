import type { Arrangement, ArrangementProblem, Effort } from '../model/arrangement.ts';
import type { Cable } from '../model/cable.ts';
import type { Range } from '../model/range.ts';
import type { Settings } from '../model/settings.ts';

/** What seals are designed with, whatever they close. */
export interface DesignContext {
  readonly range: Range;
  readonly design: Omit<Settings['design'], 'effort'> & { readonly effort: Effort };
  readonly arrange: (problem: ArrangementProblem) => Arrangement;
  /** All cables of each circuit of the schedule; empty where there is no schedule. */
  readonly circuits: ReadonlyMap<string, readonly Cable[]>;
  /** Clear distance from a penetration to the next in its host, mm; null where none is near. */
  readonly spacingMm?: (penetrationId: string) => number | null;
}

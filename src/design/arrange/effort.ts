import type { Effort } from '../../model/arrangement.ts';

/** Counted, never timed: the same on every machine. */
export interface EffortLimits {
  /** Settlings of a layout in the search for the largest gap. */
  readonly gapSettlings: number;
  /** Settlings in the search for the distances asked for. */
  readonly askedSettlings: number;
  /** Settlings in the search for the largest extra cable with cables moving. */
  readonly extraSettlings: number;
}

export const EFFORT: Record<Effort, EffortLimits> = {
  quick: { gapSettlings: 24, askedSettlings: 120, extraSettlings: 24 },
  normal: { gapSettlings: 300, askedSettlings: 1500, extraSettlings: 200 },
  thorough: { gapSettlings: 4000, askedSettlings: 20000, extraSettlings: 2000 },
};

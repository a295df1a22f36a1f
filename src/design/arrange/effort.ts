import type { Effort } from '../../model/arrangement.ts';

/**
 * Limits of the searches, counted in evaluations of a layout times its parts: never by the clock, so
 * that the same input gives the same answer on every machine. A million is about a tenth of a second.
 */
export interface EffortLimits {
  /** For the largest common gap. */
  readonly gap: number;
  /** For the distances asked for, when the largest gap does not give them. */
  readonly asked: number;
  /** For the largest extra cable while cables move. */
  readonly extra: number;
  /** For growing tubes of the largest size together, for each count tried. */
  readonly alike: number;
  /** The same in an empty opening: met often, and solved once. */
  readonly alikeEmpty: number;
  /** For moving cables and tubes together to get more tubes in. */
  readonly fill: number;
}

export const EFFORT: Record<Effort, EffortLimits> = {
  quick: {
    gap: 12_000,
    asked: 250_000,
    extra: 8_000,
    alike: 15_000,
    alikeEmpty: 2_500_000,
    fill: 40_000,
  },
  normal: {
    gap: 200_000,
    asked: 3_000_000,
    extra: 150_000,
    alike: 400_000,
    alikeEmpty: 5_000_000,
    fill: 700_000,
  },
  thorough: {
    gap: 3_000_000,
    asked: 40_000_000,
    extra: 3_000_000,
    alike: 4_000_000,
    alikeEmpty: 40_000_000,
    fill: 9_000_000,
  },
};

import type { Effort } from '../../model/arrangement.ts';

/**
 * Limits of the searches, counted in evaluations of a layout times its parts (more for a polygon of
 * many sides): never by the clock, so that the same input gives the same answer on every machine. A
 * million is about a tenth of a second.
 */
export interface EffortLimits {
  /** For the largest common gap. */
  readonly gap: number;
  /** For the distances asked for, when the largest gap does not give them. */
  readonly asked: number;
  /** Sets of boxes in a proof by subdivision, for each number of bodies. */
  readonly boxes: number;
  /** For the largest extra cable while cables move. */
  readonly extra: number;
  /** For growing tubes of the largest size together, for each count tried; 0 for not at all. */
  readonly alike: number;
  /** The same in an empty opening: met often, and solved once. */
  readonly alikeEmpty: number;
  /** For moving cables and tubes together to get more tubes in: for each piece, and at most. */
  readonly fillEach: number;
  readonly fill: number;
}

export const EFFORT: Record<Effort, EffortLimits> = {
  quick: {
    gap: 10_000,
    asked: 250_000,
    boxes: 20_000,
    extra: 6_000,
    alike: 0,
    alikeEmpty: 2_500_000,
    fillEach: 1_000,
    fill: 60_000,
  },
  normal: {
    gap: 80_000,
    asked: 3_000_000,
    boxes: 300_000,
    extra: 50_000,
    alike: 0,
    alikeEmpty: 5_000_000,
    fillEach: 23_000,
    fill: 4_000_000,
  },
  thorough: {
    gap: 1_000_000,
    asked: 40_000_000,
    boxes: 5_000_000,
    extra: 1_000_000,
    alike: 600_000,
    alikeEmpty: 40_000_000,
    fillEach: 200_000,
    fill: 10_000_000,
  },
};

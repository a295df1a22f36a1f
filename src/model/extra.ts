import type { PlacedBody, Spare } from './arrangement.ts';
import type { Check, ContainerCount, Seal } from './seal.ts';

/** A tube by name and centre. */
export interface TubePlaceMm {
  readonly name: string;
  readonly outsideMm: number;
  readonly boreMm: number;
  readonly xMm: number;
  readonly yMm: number;
}

/** What is cut away and filled again on each sealed face. */
export interface Refill {
  /** Area cut out of the layer, mm². */
  readonly cutAreaMm2: number;
  /** Across the cut where it is one round hole; null where tubes come out side by side. */
  readonly cutDiameterMm: number | null;
  readonly faces: number;
  readonly netMl: number;
  readonly withAllowancesMl: number;
  readonly containers: readonly ContainerCount[];
}

/** Whether one more cable fits a seal, and what it takes. */
export interface ExtraCable {
  /**
   * `spare tube`: through an empty tube · `tubes out`: nothing else moves, tubes come out ·
   * `rearranged`: the seal is opened and its cables move · `no`: it does not fit · `refused`: the
   * state of the seal does not allow an answer.
   */
  readonly way: 'spare tube' | 'tubes out' | 'rearranged' | 'no' | 'refused';
  /** Why, in sentences: the proof of a no, the reason of a refusal. */
  readonly reasons: readonly string[];
  /** What the answer leans on and nobody has recorded. */
  readonly unverified: readonly string[];
  readonly tube: TubePlaceMm | null;
  readonly tubesOut: readonly TubePlaceMm[];
  readonly place: PlacedBody | null;
  /** Whether the new cable gets a split tube of its own, and which. */
  readonly newTube: string | null;
  readonly refill: Refill | null;
  readonly spareBefore: Spare | null;
  readonly spareAfter: Spare | null;
  readonly checksBefore: readonly Check[];
  readonly checksAfter: readonly Check[];
  /** The seal with the cable in it; null where it does not fit. */
  readonly after: Seal | null;
}

import type { ContainerCount } from './seal.ts';

/** Sealant of one area: what the seals take, and containers by opening and pooled. */
export interface SealantTakeOff {
  readonly area: string;
  readonly sealant: string;
  readonly seals: number;
  readonly netMl: number;
  readonly allowancesMl: number;
  /** Rounded up for each opening alone, then added. */
  readonly perOpening: readonly ContainerCount[];
  /** Rounded up once for the area. */
  readonly pooled: readonly ContainerCount[];
}

export interface FillerTakeOff {
  readonly area: string;
  readonly filler: string;
  readonly lengthMm: number;
  readonly whole: number;
  readonly split: number;
  readonly packs: number;
}

export interface ConsumableTakeOff {
  readonly area: string;
  readonly name: string;
  readonly unit: string;
  readonly quantity: number;
}

/** Materials to order, by area (level), sorted by area then material. */
export interface TakeOff {
  readonly sealants: readonly SealantTakeOff[];
  readonly fillers: readonly FillerTakeOff[];
  readonly consumables: readonly ConsumableTakeOff[];
}

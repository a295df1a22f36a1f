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
  /** Rounded up once for the area, or for each batch of seals made within the open time. */
  readonly pooled: readonly ContainerCount[];
  /** Batches that were pooled; 1 where no open time or no hours are given. Absent: 1. */
  readonly batches?: number;
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

/** A tool to take along. */
export interface ToolTakeOff {
  readonly area: string;
  readonly name: string;
  readonly quantity: number;
}

/** Hours by the rates of the range. */
export interface LabourTakeOff {
  readonly area: string;
  readonly name: string;
  readonly hours: number;
}

/** What one line of the take-off costs at the prices of the range, which are the user's. */
export interface CostTakeOff {
  readonly area: string;
  /** Sealant, filler, consumable or labour, as the take-off names it. */
  readonly item: string;
  readonly kind: 'sealant' | 'filler' | 'consumable' | 'labour';
  readonly quantity: number;
  readonly unit: string;
  readonly price: number;
  readonly amount: number;
  /** Null where the range names none. */
  readonly currency: string | null;
}

/** Materials to order, by area (level), sorted by area then material. */
export interface TakeOff {
  readonly sealants: readonly SealantTakeOff[];
  readonly fillers: readonly FillerTakeOff[];
  readonly consumables: readonly ConsumableTakeOff[];
  /** Empty or absent without norms for tools. */
  readonly tools?: readonly ToolTakeOff[];
  /** Empty or absent without rates. */
  readonly labour?: readonly LabourTakeOff[];
  /** Lines that have a price; empty or absent without prices. */
  readonly costs?: readonly CostTakeOff[];
  /** Seals left out because they are not designed. */
  readonly notCounted?: number;
}

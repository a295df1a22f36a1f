import type { Shape } from '../geometry/shape.ts';
import type { Arrangement, Body, PlacedFiller, Spare } from './arrangement.ts';
import type { HostKind } from './building.ts';

export type CheckVerdict = 'met' | 'not met' | 'not assessed';

/** One check of a seal. Numbers are null where the check could not be made. */
export interface Check {
  /** Stable name: "fill", "water thrust on bond", "fire evidence". */
  readonly name: string;
  readonly subject:
    | 'fill'
    | 'water'
    | 'fire'
    | 'gas'
    | 'air'
    | 'electrical'
    | 'build'
    | 'structure'
    | 'spare';
  readonly value: number | null;
  readonly unit: string;
  readonly limit: number | null;
  /** value / limit where both are known (or limit / value where more is better), 0 and up. */
  readonly ratio: number | null;
  readonly verdict: CheckVerdict;
  /** What it takes to assess it. */
  readonly missing: readonly string[];
  readonly note: string | null;
  /** Standard and clause, or "common practice, no source", or "from memory". */
  readonly source: string;
}

/** What a seal must resist, and why it is asked. */
export interface Duty {
  readonly kind: 'water' | 'gas' | 'smoke' | 'fire' | 'dust' | 'pests' | 'hazardous area' | 'air';
  /** Head at the opening's lowest point, where known. */
  readonly headM: number | null;
  /**
   * Head taken as uniform over the opening (given as a figure) or falling with height (worked out
   * from a water level). Absent: uniform.
   */
  readonly headIs?: 'uniform' | 'from level';
  /** Level of that water above the project's zero, where the head comes from one. */
  readonly waterLevelMm?: number;
  readonly side: 'near' | 'far' | null;
  /** Rating as asked, e.g. "EI 120". */
  readonly rating: string | null;
  /** The condition or property that gave the duty. */
  readonly reason: string;
}

export interface ContainerCount {
  readonly sizeMl: number;
  readonly count: number;
}

export interface SealantQuantity {
  readonly name: string;
  /** Net, one face. */
  readonly perFaceMl: number;
  readonly faces: number;
  readonly netMl: number;
  readonly withAllowancesMl: number;
  /** Rounded up for this seal alone. */
  readonly containers: readonly ContainerCount[];
}

export interface FillerQuantity {
  readonly name: string;
  /** Of one set. */
  readonly whole: number;
  /** Of one set. */
  readonly split: number;
  /** As cut for this host; the range's own length where it needs no cutting. */
  readonly lengthMm: number;
  /** Sets: faces that need tubes of their own; pieces are sets × (whole + split). */
  readonly sets: number;
}

/**
 * A change that was tried and works: the smallest of its kind. Offered, never applied silently.
 */
export interface Remedy {
  /** The check or arrangement that it settles. */
  readonly settles: string;
  readonly kind:
    | 'larger opening'
    | 'next conduit size'
    | 'deeper layer'
    | 'fewer bodies'
    | 'split over two'
    | 'smaller separation'
    | 'larger separation'
    | 'wet side'
    | 'one face'
    | 'two faces'
    | 'spread at the seal'
    | 'data apart';
  /** What to do, with its figures, as a sentence. */
  readonly text: string;
  /** The same as figures, where it is a change of the seal itself. */
  readonly change?: RemedyChange;
}

/** What a remedy changes; the rest stays. */
export interface RemedyChange {
  readonly opening?: Shape;
  readonly setBackMm?: number;
  readonly faces?: 1 | 2;
  readonly separationMm?: number;
  readonly edgeMm?: number;
  /** Refs of what passes elsewhere. */
  readonly without?: readonly string[];
  /** Refs by opening, where one becomes two of the same size. */
  readonly split?: readonly (readonly string[])[];
}

/** What the hole is, for limits that hold in some raceways only. */
export type Raceway = 'opening' | 'sleeve' | 'conduit' | 'duct' | 'trunking';

/** What the checks know of a hole beyond its outline: kept, so that a later cable is judged alike. */
export interface SealHole {
  readonly raceway: Raceway;
  /** What the sealant bonds to, as written. */
  readonly substrate: string | null;
  /** Depth of the host; null where it is not known. */
  readonly thicknessMm: number | null;
  readonly hostKinds: readonly HostKind[];
}

/**
 * The seal as it is built at one stage: cables of later stages keep their places, which tubes close
 * until they come.
 */
export interface SealStage {
  /** "now", then the stages as the schedule names them; "later" where it names none. */
  readonly name: string;
  /** What passes from this stage on, refs in the order of the bodies. */
  readonly refs: readonly string[];
  /** What comes at this stage. */
  readonly comes: readonly string[];
  readonly fillers: readonly PlacedFiller[];
  readonly fillerQuantities: readonly FillerQuantity[];
  readonly spare: Spare | null;
  readonly freeAreaMm2: number;
  readonly fillRatio: number;
  /** Sealant of the whole layer at this stage. */
  readonly sealant: SealantQuantity;
  readonly checks: readonly Check[];
}

/** The design for one leak path of one penetration. */
export interface Seal {
  /** `penetrationId/annulus` or `penetrationId/bore/crossingId`. */
  readonly id: string;
  readonly penetrationId: string;
  readonly path: 'annulus' | 'bore';
  /** Crossing whose bore this closes; null for the annulus. */
  readonly of: string | null;
  readonly state: 'designed' | 'query' | 'none';
  /** Why it is not designed. */
  readonly reason: string | null;
  /** What is closed; null when nothing is known of it. */
  readonly opening: Shape | null;
  /** Where the opening comes from: "as found", "needed" (nothing provided), "decided" or "bore". */
  readonly openingBasis: 'as found' | 'needed' | 'decided' | 'bore' | 'unknown';
  readonly bodies: readonly Body[];
  readonly arrangement: Arrangement | null;
  readonly fillers: readonly PlacedFiller[];
  readonly fillerQuantities: readonly FillerQuantity[];
  readonly spare: Spare | null;
  /** Opening less what passes. */
  readonly freeAreaMm2: number | null;
  /** Area of what passes over area of the opening, 0–1. */
  readonly fillRatio: number | null;
  readonly setBackMm: number;
  readonly faces: number;
  readonly sealant: SealantQuantity | null;
  readonly duties: readonly Duty[];
  readonly checks: readonly Check[];
  /**
   * Where cables of later stages pass: the seal of each stage, the present one first and the last
   * one as arranged. The seal itself is arranged for the last stage; its sealant and
   * `fillerQuantities` are what is built now. Absent where all is laid at once.
   */
  readonly stages?: readonly SealStage[];
  /** Absent in registers of before it was kept. */
  readonly hole?: SealHole;
  /** What would make it work, where something does not; absent or empty where all is well. */
  readonly remedies?: readonly Remedy[];
  /** Seals with the same key are built the same and share one drawing. */
  readonly typeKey: string;
}

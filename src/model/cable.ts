import type { Evidence } from '../basics/evidence.ts';

export type CableStatus = 'existing' | 'now' | 'future' | 'to be removed';
export type CircuitKind = 'LV' | 'HV' | 'control' | 'data' | 'fire alarm' | 'earth' | 'fibre';

/** Where a row was read; rows are counted from 1 as the sheet shows them. */
export interface RowPlace {
  readonly fileKey: string;
  readonly sheet: string;
  readonly row: number;
}

/** A row of the cable schedule. One row may stand for several bodies (`3x1c` is three). */
export interface Cable {
  /** `fileKey:sheet:ref`, with the row where a reference repeats. */
  readonly id: string;
  /** As written. */
  readonly ref: string;
  readonly place: RowPlace;
  readonly status: CableStatus;
  readonly stage: string | null;
  /** Type or designation as written. */
  readonly type: string | null;
  readonly construction: string | null;
  readonly cores: number | null;
  readonly sizeMm2: number | null;
  /** How many separate round bodies this row lays. */
  readonly bodies: number;
  /** How the bodies lie where they belong together. */
  readonly bundle: 'trefoil' | 'flat' | null;
  /** Outside diameter of one body; null when neither given nor found in a table. */
  readonly diameterMm: number | null;
  readonly smallestDiameterMm: number | null;
  readonly largestDiameterMm: number | null;
  readonly massKgPerM: number | null;
  readonly from: string | null;
  readonly to: string | null;
  /** Rooms of the two ends, where the schedule has columns for them. */
  readonly fromRoom?: string | null;
  readonly toRoom?: string | null;
  /** Ordered carriers or opening references the cable follows, as written. */
  readonly route: readonly string[];
  /** Set where its sheet has no column for the route: the columns of it that were not understood. */
  readonly noRouteColumn?: { readonly unused: readonly string[] };
  readonly circuit: CircuitKind | null;
  readonly current: 'AC' | 'DC' | null;
  /** Circuit or phase texts as written. */
  readonly circuitRef: string | null;
  readonly phase: string | null;
  readonly remarks: string | null;
  readonly evidence: readonly Evidence[];
}

/** What became of one row of a schedule. */
export interface ScheduleRow {
  readonly place: RowPlace;
  readonly outcome: 'cable' | 'heading' | 'query' | 'empty';
  readonly cableId: string | null;
  readonly queryId: string | null;
  /** The row's cells joined, for people. */
  readonly text: string;
}

export interface Schedule {
  readonly cables: readonly Cable[];
  readonly rows: readonly ScheduleRow[];
}

/** One cable placed in one penetration, and why. */
export interface CableMatch {
  readonly cableId: string;
  readonly penetrationId: string;
  /** The crossing whose bore or carrier it lies in; null when it lies in the opening itself or unknown. */
  readonly crossingId: string | null;
  /** 0–1. */
  readonly confidence: number;
  readonly reasons: readonly string[];
}

export interface CableCandidate {
  readonly penetrationId: string;
  readonly confidence: number;
  readonly reasons: readonly string[];
}

/** What became of one cable: placed, asked about with ranked candidates, or passing nothing. */
export interface CableOutcome {
  readonly cableId: string;
  readonly outcome: 'matched' | 'queried' | 'noPenetration';
  readonly reason: string | null;
  readonly candidates: readonly CableCandidate[];
}

export interface Matches {
  /** Sorted by penetration, then cable. */
  readonly matches: readonly CableMatch[];
  /** One a cable, sorted by cable id. */
  readonly outcomes: readonly CableOutcome[];
}

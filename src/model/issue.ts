import type { Query } from '../basics/query.ts';
import type { SourceFile } from './building.ts';
import type { Matches, Schedule } from './cable.ts';
import type { Decision } from './decision.ts';
import type { ModelRequirements } from './ids-report.ts';
import type { FindLedger, Penetration } from './penetration.ts';
import type { Range } from './range.ts';
import type { Change, RegisterRecord } from './register.ts';
import type { Seal } from './seal.ts';
import type { Assumption, Settings } from './settings.ts';
import type { TakeOff } from './take-off.ts';

/** A value that the design rests on, for the Basis sheet. */
export interface BasisValue {
  readonly setting: string;
  readonly value: string;
  readonly unit: string;
  /** A source, "project file", or "assumed: …". */
  readonly source: string;
  readonly usedFor: string;
}

/** What was not read or not used of a drawing or model, counted. */
export interface UnreadContent {
  readonly fileKey: string;
  /** Entity type or class. */
  readonly type: string;
  readonly layer: string | null;
  readonly count: number;
  readonly reason: string;
}

/** All that is issued, ready for the writers. Everything is sorted. */
export interface Issue {
  readonly settings: Settings;
  readonly assumptions: readonly Assumption[];
  readonly sources: readonly SourceFile[];
  /** In order of tag. */
  readonly penetrations: readonly Penetration[];
  /** Penetration id to tag; one for each penetration. */
  readonly tags: ReadonlyMap<string, string>;
  readonly schedule: Schedule;
  readonly matches: Matches;
  /** In order of tag, then annulus before bores. */
  readonly seals: readonly Seal[];
  readonly takeOff: TakeOff;
  readonly ledger: FindLedger;
  readonly queries: readonly Query[];
  readonly basis: readonly BasisValue[];
  readonly unread: readonly UnreadContent[];
  readonly range: Range;
  /** What changed since the issue before; empty for a first issue. */
  readonly changes?: readonly Change[];
  /** The lasting record of each tag, by tag; retired ones among them. */
  readonly records?: ReadonlyMap<string, RegisterRecord>;
  /** Each model against each file of requirements; absent where none was asked for. */
  readonly requirements?: readonly ModelRequirements[];
  /** Every decision of people that is in force; absent: none. */
  readonly decisions?: readonly Decision[];
}

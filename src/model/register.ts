import { z } from 'zod';
import { AsBuilt } from './as-built.ts';
import { Decision } from './decision.ts';
import { Range } from './range.ts';
import type { Seal } from './seal.ts';
import { Settings } from './settings.ts';

const vec3 = z.tuple([z.number(), z.number(), z.number()]);

/** What a penetration was when it was issued: enough to tell what changed. */
export const IssuedFacts = z.strictObject({
  kind: z.enum(['opening', 'provision', 'hole', 'unopened']),
  level: z.string().nullable(),
  centreMm: vec3,
  thicknessMm: z.number(),
  /** Shape in words and millimetres; null when nothing was provided. */
  shape: z.string().nullable(),
  /** Services by kind and size, sorted. */
  services: z.array(z.string()),
  /** Cable references, sorted. */
  cables: z.array(z.string()),
  /** Duties in words, sorted. */
  duties: z.array(z.string()),
  /** Seals in words, sorted: what is built. */
  design: z.array(z.string()),
  sealantMl: z.number(),
  fillers: z.record(z.string(), z.number()),
});

const HistoryEntry = z.strictObject({
  revision: z.string(),
  text: z.string(),
});

/**
 * A seal as designed, whole, so that years later one more cable can be judged without the inputs.
 * The register's end line vouches for its bytes; here only its head is looked at.
 */
const SealRecord = z.custom<Seal>(
  (value) =>
    typeof value === 'object' &&
    value !== null &&
    'id' in value &&
    'penetrationId' in value &&
    'arrangement' in value &&
    'fillers' in value &&
    Array.isArray(value.fillers),
  'not a seal',
);

/** The lasting record of one penetration. One line of the register file. */
export const RegisterRecord = z.strictObject({
  tag: z.string().min(1),
  /** `live`: found in the last run · `not seen`: its files were not read · `retired`: gone. */
  state: z.enum(['live', 'not seen', 'retired']),
  /** Id it was last found under. */
  id: z.string(),
  hostIds: z.array(z.string()),
  openingIds: z.array(z.string()),
  serviceIds: z.array(z.string()),
  firstIn: z.string(),
  retiredIn: z.string().nullable(),
  /** As issued with the revision named. */
  issued: z.strictObject({
    revision: z.string(),
    facts: IssuedFacts,
    /** How it was recognised in that revision, or why it was new; absent in registers of before it was kept. */
    because: z.string().optional(),
  }),
  /** As issued with the revision before that one; null for a penetration that is new in it. */
  before: z.strictObject({ revision: z.string(), facts: IssuedFacts }).nullable(),
  /** Seals of the last issue, later cables that were recorded among them. */
  seals: z.array(SealRecord),
  /** What was found and done on site, by seal; what nobody recorded counts as unverified. */
  asBuilt: AsBuilt,
  history: z.array(HistoryEntry),
});

/** Revision of the register, and all records ever made, sorted by tag. */
export const Register = z.strictObject({
  /** Revision of the last run that wrote it. */
  revision: z.string(),
  /** What the seals were designed with. */
  basis: z.strictObject({ range: Range, design: Settings.shape.design }),
  /** Highest number ever given out, by level code; numbers are never given twice. */
  numbers: z.record(z.string(), z.number().int().nonnegative()),
  /** SHA-256 of the files whose edits were taken in, sorted. */
  taken: z.array(z.string()),
  /** Every decision in force, sorted by what it is about. */
  decisions: z.array(Decision),
  records: z.array(RegisterRecord),
});

export type IssuedFacts = z.infer<typeof IssuedFacts>;
export type RegisterRecord = z.infer<typeof RegisterRecord>;
export type Register = z.infer<typeof Register>;

export type ChangeKind =
  | 'added'
  | 'removed'
  | 'moved'
  | 'resized'
  | 'contents'
  | 'duty'
  | 'design'
  | 'not seen';

/** One difference between two issues. */
export interface Change {
  readonly tag: string;
  readonly kind: ChangeKind;
  readonly before: string;
  readonly after: string;
  /** How the old and the new were recognised as the same hole, or why one is new. */
  readonly because: string;
  /** Of the whole penetration, new less old; on its first change row only, so that sums are right. */
  readonly sealantDifferenceMl: number;
  /** By filler name, new less old. */
  readonly fillerDifference: Readonly<Record<string, number>>;
}

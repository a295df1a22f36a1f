import { z } from 'zod';
import type { Evidence } from '../basics/evidence.ts';

/**
 * What can be decided of a penetration, a query and a cable, and what its value may be. The value
 * is text, so that a cell of the workbook, a line of the register and a field of the page hold the
 * same. An empty value takes the decision back.
 */
export const DECISION_FIELDS = {
  penetration: {
    /** `accept`, `change`, `exclude` (no seal, by decision) or `hold`. */
    review: 'accept, change, exclude or hold',
    /** `tender`, `construction` or `hold`. */
    status: 'tender, construction or hold',
    remarks: 'any text',
    /** Opening to seal instead of the one found: "150" by diameter, "300x200" by width and height; mm. */
    opening: 'a diameter such as 150, or width and height such as 300x200, in mm',
    separationMm: 'millimetres, 0 or more',
    edgeMm: 'millimetres, 0 or more',
    setBackMm: 'millimetres above 0',
    faces: '1 or 2',
    /** Name of a sealant of the range. */
    sealant: 'the name of a sealant of the range',
  },
  query: {
    answer: 'any text',
    /** `open`, `answered` or `closed`. */
    state: 'open, answered or closed',
  },
  cable: {
    /** With a tag: `yes` or `no`, whether it passes that penetration. */
    passes: 'yes or no',
    /** `yes`: it passes no penetration at all. */
    passesNothing: 'yes',
    /** Outside diameter of one body. */
    diameterMm: 'millimetres above 0',
  },
} as const;

/** One answer or override of a person, kept through revisions. One line of the register file. */
export const Decision = z.strictObject({
  about: z.enum(['penetration', 'query', 'cable']),
  /** Tag, query id or cable reference as written in the schedule. */
  subject: z.string().min(1),
  /** A field of `DECISION_FIELDS` for what it is about; others are kept and asked about. */
  field: z.string().min(1),
  /** Tag of the penetration, for whether a cable passes it; else null. */
  tag: z.string().nullable(),
  value: z.string(),
  /** What the tool said of it when it was decided, so that a contradiction shows later; null: nothing. */
  against: z.string().nullable(),
  /** Revision it came in with. */
  revision: z.string(),
  /** Where it was given: "workbook sealbook.xlsx, Register row 12", "review page". */
  from: z.string(),
});

export type Decision = z.infer<typeof Decision>;

/** Which question a decision answers; a later one with the same key takes its place. */
export function decisionKey({
  about,
  subject,
  field,
  tag,
}: Pick<Decision, 'about' | 'subject' | 'field' | 'tag'>): string {
  return JSON.stringify([about, subject, field, tag]);
}

/**
 * A person's answer to where a cable runs. It wins over all found evidence and stays through
 * revisions until it is taken back.
 * `passes`: the cable goes through this penetration (others are not excluded by it) ·
 * `passesNot`: it does not · `passesNothing`: it goes through none at all.
 */
export interface MatchDecision {
  readonly id: string;
  readonly cableId: string;
  readonly answer: 'passes' | 'passesNot' | 'passesNothing';
  /** Null only for `passesNothing`. */
  readonly penetrationId: string | null;
  /** The crossing whose bore or carrier it lies in, where the person said so. */
  readonly crossingId?: string;
  /** Where the answer was given: workbook cell, review page. */
  readonly evidence: readonly Evidence[];
}

import type { Cable } from '../../model/cable.ts';
import type { Range } from '../../model/range.ts';
import type { Check, Seal } from '../../model/seal.ts';
import type { Settings } from '../../model/settings.ts';
import type { SealSubject } from '../seal-subject.ts';

/** A seal before its checks. */
export type SealDraft = Omit<Seal, 'checks' | 'typeKey'>;

/** All that a check may look at. */
export interface CheckInput {
  readonly subject: SealSubject;
  readonly seal: SealDraft;
  readonly range: Range;
  readonly design: Settings['design'];
  /** That the face the water comes from is the one to seal; not fixed when absent. */
  readonly isWetFaceSealed?: boolean;
  /** All cables of each circuit of the schedule, wherever they pass. */
  readonly circuits: ReadonlyMap<string, readonly Cable[]>;
  /** Clear distance to the next opening of the same host, mm; null or absent where not known. */
  readonly spacingMm?: number | null;
}

interface Assessment {
  readonly value: number;
  readonly unit: string;
  readonly limit: number;
  /** Whether the limit is the most or the least allowed. */
  readonly limitIs: 'most' | 'least';
  readonly note?: string | null;
  readonly source: string;
}

/** Slack for values that equal their limit but for the last bits of a float. */
const SLACK = 1e-9;

/** A check that could be made. The ratio is above 1 exactly where it is not met. */
export function assessed(
  name: string,
  subject: Check['subject'],
  { value, unit, limit, limitIs, note = null, source }: Assessment,
): Check {
  const isMet = limitIs === 'most' ? value <= limit * (1 + SLACK) : value >= limit * (1 - SLACK);
  return {
    name,
    subject,
    value,
    unit,
    limit,
    ratio: ratioOf(value, limit, limitIs),
    verdict: isMet ? 'met' : 'not met',
    missing: [],
    note,
    source,
  };
}

/** A check that could not be made, and what it takes; a figure that is known goes into the note. */
export function notAssessed(
  name: string,
  subject: Check['subject'],
  parts: {
    readonly unit?: string;
    readonly missing: readonly string[];
    readonly note?: string | null;
    readonly source: string;
  },
): Check {
  return {
    name,
    subject,
    value: null,
    unit: parts.unit ?? '',
    limit: null,
    ratio: null,
    verdict: 'not assessed',
    missing: parts.missing,
    note: parts.note ?? null,
    source: parts.source,
  };
}

/** A check that is answered by yes or no rather than by a figure. */
export function judged(
  name: string,
  subject: Check['subject'],
  isMet: boolean,
  note: string,
  source: string,
): Check {
  return {
    name,
    subject,
    value: null,
    unit: '',
    limit: null,
    ratio: null,
    verdict: isMet ? 'met' : 'not met',
    missing: [],
    note,
    source,
  };
}

function ratioOf(value: number, limit: number, limitIs: 'most' | 'least'): number | null {
  const [over, under] = limitIs === 'most' ? [value, limit] : [limit, value];
  return under === 0 ? null : over / under;
}

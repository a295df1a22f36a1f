import type { Evidence } from './evidence.ts';
import { QUERY_CODES, type QueryCode, type QuerySeverity } from './query-codes.ts';

/** Something a person must look at or answer; the run goes on. */
export interface Query {
  /** Made from the code and what the query is about, so that an answer finds it again. */
  readonly id: string;
  readonly code: QueryCode;
  readonly severity: QuerySeverity;
  /** Id of the penetration it belongs to; the register turns it into the tag. */
  readonly penetrationId: string | null;
  /** The role it is put to. */
  readonly to: string;
  /** What was found. */
  readonly text: string;
  /** Why it matters. */
  readonly why: string;
  /** What would settle it. */
  readonly settles: string;
  readonly evidence: readonly Evidence[];
  /** Penetrations to choose from, the likeliest first; absent where there is nothing to choose. */
  readonly candidates?: readonly QueryCandidate[];
  /** What people have answered so far, as sentences with who and when; absent where nobody has. */
  readonly answer?: { readonly state: 'answered' | 'closed'; readonly text: string };
}

export interface QueryCandidate {
  readonly penetrationId: string;
  /** 0–1. */
  readonly confidence: number;
}

export interface QueryParts {
  /** Id of the element, row, cable or penetration the query is about. */
  readonly about: string;
  readonly text: string;
  readonly why: string;
  readonly settles: string;
  readonly penetrationId?: string | null;
  readonly evidence?: readonly Evidence[];
  readonly candidates?: readonly QueryCandidate[];
  /** Where this case matters more or less than its code usually does. */
  readonly severity?: QuerySeverity;
  readonly to?: string;
}

/** The id of a query of this code about this thing. */
export function queryId(code: QueryCode, about: string): string {
  return `${code}:${about}`;
}

/** A query with its id, severity and role filled in from its code. */
export function makeQuery(code: QueryCode, parts: QueryParts): Query {
  const usual = QUERY_CODES[code];
  return {
    id: queryId(code, parts.about),
    code,
    severity: parts.severity ?? usual.severity,
    penetrationId: parts.penetrationId ?? null,
    to: parts.to ?? usual.to,
    text: parts.text,
    why: parts.why,
    settles: parts.settles,
    evidence: parts.evidence ?? [],
    ...(parts.candidates === undefined || parts.candidates.length === 0
      ? {}
      : { candidates: parts.candidates }),
  };
}

/** What a step gives back: its result, and what it noticed on the way. */
export interface WithQueries<T> {
  readonly result: T;
  readonly queries: readonly Query[];
}

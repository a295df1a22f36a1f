import type { Decision } from '../../model/decision.ts';
import type { ReviewChange, ReviewRow, ReviewState } from '../../model/review.ts';

export type Filter = 'all' | 'not met' | 'not assessed' | 'asked' | 'undecided';
export type Sort = 'tag' | 'level' | 'verdict' | 'queries';

export interface Wish {
  readonly search: string;
  readonly filter: Filter;
  readonly sort: Sort;
}

/** What is decided of a thing, by field. */
export function decidedOf(
  { decisions }: ReviewState,
  about: Decision['about'],
  subject: string,
): ReadonlyMap<string, string> {
  return new Map(
    decisions
      .filter((each) => each.about === about && each.subject === subject && each.tag === null)
      .map(({ field, value }): [string, string] => [field, value]),
  );
}

/** Of every penetration, by tag, what was reviewed: accept, hold, exclude, change. */
export function reviewsOf({ decisions }: ReviewState): ReadonlyMap<string, string> {
  return new Map(
    decisions
      .filter(({ about, field }) => about === 'penetration' && field === 'review')
      .map(({ subject, value }): [string, string] => [subject, value]),
  );
}

/** Whether a person said that a cable passes this penetration: yes, no, or nothing. */
export function passesDecision(state: ReviewState, ref: string, tag: string): string | null {
  const found = state.decisions.find(
    (each) => each.field === 'passes' && each.subject === ref && each.tag === tag,
  );
  return found?.value ?? null;
}

/** The rows that are wished for, in the wished order. */
export function shownRows(state: ReviewState, { search, filter, sort }: Wish): ReviewRow[] {
  const reviews = reviewsOf(state);
  const words = search.toLowerCase().split(/\s+/);
  const rows = state.rows.filter((row) => {
    if (!passesFilter(row, filter, reviews)) return false;
    const content = searchText(row);
    return words.every((word) => content.includes(word));
  });
  const compare = COMPARE[sort];
  return compare === null ? rows : rows.sort(compare);
}

const VERDICT_ORDER = ['not met', 'not assessed', 'met', 'none'];

/** Rows come in order of tag, and equal ones stay so. */
const COMPARE: Readonly<Record<Sort, ((a: ReviewRow, b: ReviewRow) => number) | null>> = {
  tag: null,
  level: (a, b) => (a.level ?? '').localeCompare(b.level ?? '', undefined, { numeric: true }),
  verdict: (a, b) => VERDICT_ORDER.indexOf(a.verdict) - VERDICT_ORDER.indexOf(b.verdict),
  queries: (a, b) => urgency(b) - urgency(a),
};

function urgency({ queries }: ReviewRow): number {
  return queries.stop * 1e6 + queries.ask * 1e3 + queries.note;
}

function passesFilter(
  row: ReviewRow,
  filter: Filter,
  reviews: ReadonlyMap<string, string>,
): boolean {
  switch (filter) {
    case 'all':
      return true;
    case 'not met':
    case 'not assessed':
      return row.verdict === filter;
    case 'asked':
      return row.queries.stop + row.queries.ask > 0;
    case 'undecided':
      return !reviews.has(row.tag);
  }
}

const searchTexts = new WeakMap<ReviewRow, string>();

function searchText(row: ReviewRow): string {
  let content = searchTexts.get(row);
  if (content === undefined) {
    const { tag, level, where, host, size, cables, kind } = row;
    content = [tag, level ?? '', where, host, size ?? '', kind, ...cables].join(' ').toLowerCase();
    searchTexts.set(row, content);
  }
  return content;
}

/** The state after a change. */
export function applied(state: ReviewState, change: ReviewChange): ReviewState {
  const rows = new Map(state.rows.map((row) => [row.tag, row]));
  for (const row of change.rows) rows.set(row.tag, row);
  return {
    ...state,
    version: change.version,
    decisions: change.decisions,
    rows: change.order.flatMap((tag) => rows.get(tag) ?? []),
    queries: change.queries ?? state.queries,
  };
}

/** A number for people: four figures are more than anyone builds to. */
export function figure(value: number): string {
  return String(Number(value.toPrecision(4)));
}

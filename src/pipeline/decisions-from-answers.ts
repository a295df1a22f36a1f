import { makeQuery, type Query, queryId, type WithQueries } from '../basics/query.ts';
import type { QueryCode } from '../basics/query-codes.ts';
import type { BcfAnswer } from '../model/bcf-answers.ts';
import type { Cable, Schedule } from '../model/cable.ts';
import { type Decision, decisionKey } from '../model/decision.ts';
import { readCableAnswer } from '../read/workbook/read-cable-answer.ts';

/** Queries that ask where a cable runs; they are about the cable's id. */
const PLACE_CODES: readonly QueryCode[] = [
  'cable-match-doubtful',
  'cable-no-penetration',
  'reference-ambiguous',
  'reference-look-alike',
];

interface Asked {
  readonly cable: Cable;
  readonly asks: 'place' | 'diameter';
}

/** What someone wrote to a query, wherever they wrote it. */
interface Written {
  readonly asked: Asked;
  readonly id: string;
  readonly text: string;
  readonly revision: string;
  readonly from: string;
  /** Talk about a topic is no answer that has to make sense. */
  readonly isTalk: boolean;
}

/**
 * The decisions with those that lie in answers to queries about a cable: where it runs ("passes
 * TAG", "not TAG", "nothing") and what its diameter is ("23.5"). Decisions on the cable itself win
 * over them. An answer of the workbook or the page that says neither is asked about; comments of a
 * BCF archive are used where they do.
 */
export function withAnswersOnCables(
  decisions: readonly Decision[],
  bcf: readonly BcfAnswer[],
  { cables }: Schedule,
  tags: ReadonlyMap<string, string>,
  revision: string,
): WithQueries<readonly Decision[]> {
  const asked = askedOf(cables);
  const written = [
    ...bcf.flatMap((answer) => commentsOn(answer, askedBy(answer.queryId, asked), revision)),
    ...decisions.flatMap((decision) => answerIn(decision, asked)),
  ];
  if (written.length === 0) return { result: decisions, queries: [] };
  const known = new Map([...tags.values()].map((tag) => [tag.toLowerCase(), tag]));
  const tagIn = (text: string) => known.get(text.toLowerCase()) ?? null;
  const derived = new Map<string, Decision>();
  const queries: Query[] = [];
  for (const each of written) {
    const read = decisionsOf(each, tagIn);
    if (read === null && !each.isTalk) queries.push(notUsable(each));
    for (const decision of read ?? []) derived.set(decisionKey(decision), decision);
  }
  const own = new Set(decisions.map(decisionKey));
  return {
    result: [...[...derived].flatMap(([key, each]) => (own.has(key) ? [] : [each])), ...decisions],
    queries,
  };
}

/** A seal that waits for a diameter asks about it under its own id, with the cable's at the end. */
const AT_SEAL = '/cable diameter/';

function askedBy(queryOf: string, all: ReadonlyMap<string, Asked>): Asked | undefined {
  const at = queryOf.lastIndexOf(AT_SEAL);
  if (at < 0) return all.get(queryOf);
  return all.get(queryId('cable-diameter-unknown', queryOf.slice(at + AT_SEAL.length)));
}

function askedOf(cables: readonly Cable[]): ReadonlyMap<string, Asked> {
  const asked = new Map<string, Asked>();
  for (const cable of cables) {
    for (const code of PLACE_CODES) asked.set(queryId(code, cable.id), { cable, asks: 'place' });
    asked.set(queryId('cable-diameter-unknown', cable.id), { cable, asks: 'diameter' });
  }
  return asked;
}

function answerIn(
  { about, subject, field, value, revision, from }: Decision,
  all: ReadonlyMap<string, Asked>,
): Written[] {
  const asked = about === 'query' && field === 'answer' ? askedBy(subject, all) : undefined;
  if (asked === undefined || value.trim() === '') return [];
  return [{ asked, id: subject, text: value, revision, from, isTalk: false }];
}

function commentsOn(answer: BcfAnswer, asked: Asked | undefined, revision: string): Written[] {
  if (asked === undefined) return [];
  return answer.comments.map(({ author, date, text }) => ({
    ...{ asked, id: answer.queryId, text, revision, isTalk: true },
    from: `BCF, ${[author, date].filter(Boolean).join(', ')}`,
  }));
}

function decisionsOf(
  { asked, text, revision, from }: Written,
  tagIn: (text: string) => string | null,
): readonly Decision[] | null {
  const base = { about: 'cable', subject: asked.cable.ref, against: null, revision, from } as const;
  if (asked.asks === 'diameter') {
    const value = diameterIn(text);
    return value === null ? null : [{ ...base, field: 'diameterMm', tag: null, value }];
  }
  const read = readCableAnswer(text, null, tagIn);
  if (read === null || read.some(({ tag }) => tag !== null && tagIn(tag) === null)) return null;
  return read.map((each) => ({ ...base, ...each }));
}

/** "23.5", "23,5 mm", "dia 23.5 mm". */
function diameterIn(text: string): string | null {
  const digits = /^(?:dia(?:meter)?\.?\s*|ø\s*)?(\d{1,3}(?:[.,]\d{1,3})?)\s*(?:mm)?\.?$/i.exec(
    text.trim(),
  )?.[1];
  const value = digits?.replace(',', '.');
  return value !== undefined && Number(value) > 0 ? value : null;
}

function notUsable({ asked, id, text, from }: Written): Query {
  const { ref } = asked.cable;
  const isPlace = asked.asks === 'place';
  return makeQuery('decision-unusable', {
    about: `answer/${id}`,
    text: `The answer "${text}" (${from}) does not say ${isPlace ? `where cable ${ref} runs` : `the diameter of cable ${ref}`} in words that can be used.`,
    why: 'An answer given by a person must not get lost.',
    settles: isPlace
      ? '"passes TAG", "not TAG" or "nothing", several parted by semicolons.'
      : 'The outside diameter in millimetres, as a number.',
  });
}

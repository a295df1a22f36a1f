import { SealbookError } from '../basics/errors.ts';
import { groupBy } from '../basics/order.ts';
import { makeQuery, type Query, queryId, type WithQueries } from '../basics/query.ts';
import type { Shape } from '../geometry/shape.ts';
import type { Cable, Schedule } from '../model/cable.ts';
import {
  DECISION_FIELDS,
  type Decision,
  decisionKey,
  type MatchDecision,
} from '../model/decision.ts';
import type { Range } from '../model/range.ts';
import type { SealChoice } from '../model/seal-choice.ts';
import { parseLength, parseOpening } from './size-words.ts';

/** The words a decision must be one of. */
const WORDS: Readonly<Record<string, readonly string[]>> = {
  review: ['accept', 'change', 'exclude', 'hold'],
  status: ['tender', 'construction', 'hold'],
  state: ['open', 'answered', 'closed'],
  passes: ['yes', 'no'],
  passesNothing: ['yes'],
  faces: ['1', '2'],
};

/**
 * Sets apart the decisions whose field is unknown or whose value makes no sense; each becomes a
 * query that quotes it, and stays in the register.
 */
export function usableDecisions(
  decisions: readonly Decision[],
  range: Range,
): WithQueries<readonly Decision[]> {
  const queries: Query[] = [];
  const result = decisions.filter((decision) => {
    const fault = faultOf(decision, range);
    if (fault !== null) queries.push(unusable(decision, fault));
    return fault === null;
  });
  return { result, queries };
}

function faultOf({ about, field, value }: Decision, range: Range): string | null {
  const fields: Readonly<Record<string, string>> = DECISION_FIELDS[about];
  const allowed = fields[field];
  if (allowed === undefined) return `"${field}" can't be decided of a ${about}`;
  return isAllowed(field, value, range) ? null : `"${value}" is not ${allowed}`;
}

function isAllowed(field: string, value: string, range: Range): boolean {
  const words = WORDS[field];
  if (words !== undefined) return words.includes(value);
  if (field === 'sealant') return range.sealants.some(({ name }) => name === value);
  if (field === 'opening') return understood(() => parseOpening(value));
  if (field === 'setBackMm' || field === 'diameterMm')
    return Number(value) > 0 && Number(value) < 1e5;
  if (field.endsWith('Mm')) return understood(() => parseLength(field, value));
  return true;
}

function understood(parse: () => unknown): boolean {
  try {
    parse();
    return true;
  } catch (error) {
    if (error instanceof SealbookError && error.code === 'usage') return false;
    throw error;
  }
}

/**
 * The schedule with the diameters that people gave; they win over what it says or a table holds.
 * `settled`: ids of the queries that these answer.
 */
export function withDiameters(
  schedule: Schedule,
  decisions: readonly Decision[],
): WithQueries<Schedule> & { readonly settled: ReadonlySet<string> } {
  const decided = new Map(
    decisions.filter(({ field }) => field === 'diameterMm').map((each) => [each.subject, each]),
  );
  const refs = new Set(schedule.cables.map(({ ref }) => ref));
  return {
    result: {
      ...schedule,
      cables: schedule.cables.map((cable) => withDiameter(cable, decided.get(cable.ref))),
    },
    settled: new Set(
      schedule.cables
        .filter(({ ref }) => decided.has(ref))
        .map(({ id }) => queryId('cable-diameter-unknown', id)),
    ),
    queries: [...decided.values()]
      .filter(({ subject }) => !refs.has(subject))
      .map((decision) => unusable(decision, 'no schedule has this cable now')),
  };
}

function withDiameter(cable: Cable, decision: Decision | undefined): Cable {
  if (decision === undefined) return cable;
  const diameterMm = Number(decision.value);
  const text = `diameter ${decision.value} mm decided, revision ${decision.revision} (${decision.from})`;
  return {
    ...cable,
    diameterMm,
    smallestDiameterMm: diameterMm,
    largestDiameterMm: diameterMm,
    evidence: [...cable.evidence, { fact: 'diameter', text, place: cable.place }],
  };
}

/**
 * Where cables run, as people answered. What speaks of a cable or tag that is not there now keeps
 * its name as id, so that matching asks about it.
 */
export function matchDecisions(
  decisions: readonly Decision[],
  schedule: Schedule,
  tags: ReadonlyMap<string, string>,
): MatchDecision[] {
  const cableIds = groupBy(schedule.cables, ({ ref }) => ref);
  const penetrationIds = new Map([...tags].map(([id, tag]) => [tag, id]));
  return decisions
    .filter(({ field }) => field === 'passes' || field === 'passesNothing')
    .flatMap((decision) => {
      const { subject, field, tag, value, from, revision } = decision;
      const answer =
        field === 'passesNothing' ? 'passesNothing' : value === 'yes' ? 'passes' : 'passesNot';
      const text = `decided in revision ${revision} (${from})`;
      const ids = cableIds.get(subject)?.map(({ id }) => id) ?? [subject];
      return ids.map(
        (cableId): MatchDecision => ({
          id: decisionKey(decision),
          cableId,
          answer,
          penetrationId:
            field === 'passesNothing' ? null : (penetrationIds.get(tag ?? '') ?? tag ?? ''),
          evidence: [{ fact: 'decision', text, place: { fileKey: 'register', id: subject } }],
        }),
      );
    });
}

/** What people chose for the seals, by penetration id. A tag that is not live now has no seal to choose for. */
export function sealChoices(
  decisions: readonly Decision[],
  tags: ReadonlyMap<string, string>,
): ReadonlyMap<string, SealChoice> {
  const ofTag = groupBy(
    decisions.filter(({ about }) => about === 'penetration'),
    ({ subject }) => subject,
  );
  return new Map(
    [...tags].flatMap(([id, tag]) => {
      const here = ofTag.get(tag);
      return here === undefined ? [] : [[id, sealChoice(here)] as const];
    }),
  );
}

function sealChoice(decisions: readonly Decision[]): SealChoice {
  const values = new Map(decisions.map(({ field, value }) => [field, value]));
  const number = (field: 'separationMm' | 'edgeMm' | 'setBackMm') => {
    const value = values.get(field);
    return value === undefined ? {} : { [field]: Number(value) };
  };
  const faces = values.get('faces');
  const sealant = values.get('sealant');
  const opening = values.get('opening');
  return {
    excluded: values.get('review') === 'exclude' ? exclusion(decisions, values) : null,
    opening: opening === undefined ? null : (parseOpening(opening) satisfies Shape),
    design: {
      ...number('separationMm'),
      ...number('edgeMm'),
      ...number('setBackMm'),
      ...(faces === undefined ? {} : { faces: faces === '1' ? 1 : 2 }),
      ...(sealant === undefined ? {} : { sealant }),
    },
  };
}

function exclusion(decisions: readonly Decision[], values: ReadonlyMap<string, string>): string {
  const revision = decisions.find(({ field }) => field === 'review')?.revision ?? '';
  const remarks = values.get('remarks');
  return `excluded by decision, revision ${revision}${remarks === undefined ? '' : `: ${remarks}`}`;
}

/**
 * Asks what is meant where "change" was decided and nothing says what is to change, and for
 * decisions on tags that were never given. `known`: every tag of the register.
 */
export function reviewQueries(
  decisions: readonly Decision[],
  tags: ReadonlyMap<string, string>,
  known: ReadonlySet<string>,
): Query[] {
  const penetrationIds = new Map([...tags].map(([id, tag]) => [tag, id]));
  const changed = new Set(decisions.filter(isChange).map(({ subject }) => subject));
  const remarks = new Map(
    decisions.filter(({ field }) => field === 'remarks').map((each) => [each.subject, each.value]),
  );
  return decisions.flatMap((decision) => {
    const { about, subject, field, value } = decision;
    if (about !== 'penetration') return [];
    if (!known.has(subject)) return [unusable(decision, 'there is no such tag')];
    if (field !== 'review' || value !== 'change' || changed.has(subject)) return [];
    return [
      makeQuery('change-unclear', {
        about: subject,
        penetrationId: penetrationIds.get(subject) ?? null,
        text: `"change" was decided for ${subject} (revision ${decision.revision}, ${decision.from}), with the remark: ${remarks.get(subject) ?? 'none'}.`,
        why: 'What is to change is not among the things that can be changed by a decision, so nothing was.',
        settles:
          'The change made in the inputs or the settings, or a decision on the opening, separation, set-back, faces or sealant.',
      }),
    ];
  });
}

function isChange({ about, field }: Decision): boolean {
  return about === 'penetration' && !['review', 'status', 'remarks'].includes(field);
}

/** The query with what people decided about it. */
export function withAnswer(query: Query, decisions: ReadonlyMap<string, Decision>): Query {
  const get = (field: string) =>
    decisions.get(decisionKey({ about: 'query', subject: query.id, field, tag: null }));
  const answer = get('answer');
  const state = get('state');
  const said = state?.value ?? (answer === undefined ? 'open' : 'answered');
  if (said === 'open' && answer === undefined) return query;
  const source = answer ?? state;
  const text = `${answer?.value ?? 'no text'} (revision ${source?.revision ?? ''}, ${source?.from ?? ''})`;
  const others = query.answer === undefined ? [] : [query.answer.text];
  const isClosed = said === 'closed' || query.answer?.state === 'closed';
  return {
    ...query,
    answer: { state: isClosed ? 'closed' : 'answered', text: [...others, text].join('\n') },
  };
}

function unusable(decision: Decision, why: string): Query {
  const { about, subject, field, tag, value, from } = decision;
  return makeQuery('decision-unusable', {
    about: decisionKey(decision),
    text: `The decision ${field} = "${value}" on ${about} ${subject}${tag === null ? '' : ` at ${tag}`} (${from}) can't be used: ${why}.`,
    why: 'An answer given by a person must not get lost.',
    settles: 'The decision given anew, or taken back.',
  });
}

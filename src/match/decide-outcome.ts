import { compareText } from '../basics/order.ts';
import { makeQuery, type Query, type QueryCandidate } from '../basics/query.ts';
import type { QueryCode } from '../basics/query-codes.ts';
import type { Cable, CableCandidate, CableMatch, CableOutcome } from '../model/cable.ts';
import type { MatchDecision } from '../model/decision.ts';
import type { Penetration } from '../model/penetration.ts';
import type { Settings } from '../model/settings.ts';
import type { ClueBook } from './clue-book.ts';
import type { PathOutcome } from './path-clues.ts';
import { penetrationText } from './penetration-text.ts';
import type { RouteFinding } from './route-clues.ts';
import { type DoubtKind, scoreClues } from './score.ts';
import type { Suggester } from './suggest-penetrations.ts';

export interface OutcomeInput {
  readonly cable: Cable;
  readonly book: ClueBook;
  readonly route: RouteFinding;
  readonly path: PathOutcome;
  readonly penetrations: ReadonlyMap<string, Penetration>;
  readonly decisions: readonly MatchDecision[];
  readonly suggester: Suggester;
  /** Penetrations of the rooms it begins and ends in, to choose from where nothing else is known. */
  readonly besideItsRooms: readonly CableCandidate[];
  readonly match: Settings['match'];
}

export interface OutcomeResult {
  readonly outcome: CableOutcome;
  readonly matches: readonly CableMatch[];
  readonly queries: readonly Query[];
}

interface Candidate extends CableCandidate {
  readonly crossingIds: readonly string[];
  readonly isClean: boolean;
  readonly doubts: readonly DoubtKind[];
}

const MOST_CANDIDATES = 10;
const MOST_HEADINGS = 8;
/** The words that an answer is read back in. */
const HOW_TO_ANSWER = 'answer "passes TAG", "not TAG" or "nothing".';

/** Turns the clues and decisions of one cable into matches, an outcome and queries. */
export function decideOutcome(input: OutcomeInput): OutcomeResult {
  const { cable, decisions, match } = input;
  if (decisions.some(({ answer }) => answer === 'passesNothing')) {
    return settled(cable, 'A person decided that it passes no penetration.', []);
  }
  const excluded = new Set(
    decisions.flatMap(({ answer, penetrationId }) =>
      answer === 'passesNot' && penetrationId !== null ? [penetrationId] : [],
    ),
  );
  const decided = decisions.filter(({ answer }) => answer === 'passes');
  const decidedIds = new Set(decided.flatMap(({ penetrationId }) => penetrationId ?? []));
  const candidates = candidatesOf(input).filter(
    ({ penetrationId }) => !excluded.has(penetrationId) && !decidedIds.has(penetrationId),
  );
  const accepted = candidates.filter(
    ({ confidence, isClean }) => isClean && confidence >= match.threshold,
  );
  const open = candidates.filter((candidate) => !accepted.includes(candidate));
  const matches = [
    ...decided.flatMap((decision) => decidedMatch(input, decision)),
    ...accepted.map((candidate) => acceptedMatch(input, candidate)),
  ];
  if (matches.length > 0) {
    // A person who said where it runs has answered what was open before.
    const rest = decided.length > 0 ? [] : open;
    return {
      outcome: { cableId: cable.id, outcome: 'matched', reason: null, candidates: shown(rest) },
      matches,
      queries: rest.length > 0 ? [doubtQuery(input, rest, true)] : [],
    };
  }
  if (open.length > 0) return asked(cable, open, doubtQuery(input, open, false));
  return withoutCandidates(input, excluded);
}

function candidatesOf(input: OutcomeInput): Candidate[] {
  const { book } = input;
  const found = book.penetrationIds.map((penetrationId): Candidate => {
    const { clues, crossingIds } = book.clues(penetrationId);
    const { confidence, isClean } = scoreClues(clues);
    const telling = isClean ? clues.filter(({ doubt }) => doubt === null) : clues;
    return {
      penetrationId,
      confidence,
      isClean,
      crossingIds,
      reasons: telling.map(({ reason }) => reason),
      doubts: isClean ? [] : clues.flatMap(({ doubt }) => doubt ?? []),
    };
  });
  return found.sort(
    (a, b) => b.confidence - a.confidence || compareText(a.penetrationId, b.penetrationId),
  );
}

function acceptedMatch(input: OutcomeInput, candidate: Candidate): CableMatch {
  return {
    cableId: input.cable.id,
    penetrationId: candidate.penetrationId,
    crossingId: carryingCrossing(input, candidate.penetrationId, candidate.crossingIds),
    confidence: candidate.confidence,
    reasons: candidate.reasons,
  };
}

function decidedMatch(input: OutcomeInput, decision: MatchDecision): CableMatch[] {
  const { penetrationId } = decision;
  if (penetrationId === null) return [];
  const named = decision.crossingId === undefined ? [] : [decision.crossingId];
  const found = input.book.clues(penetrationId).crossingIds;
  return [
    {
      cableId: input.cable.id,
      penetrationId,
      crossingId: carryingCrossing(input, penetrationId, named.length > 0 ? named : found),
      confidence: 1,
      reasons: ['A person decided so.'],
    },
  ];
}

/**
 * The crossing whose bore or carrier the cable lies in: the carrier of its own element, the carrier
 * its route names, or the only hollow body there is. Null when it lies in the opening itself.
 */
function carryingCrossing(
  input: OutcomeInput,
  penetrationId: string,
  crossingIds: readonly string[],
): string | null {
  const crossings = input.penetrations.get(penetrationId)?.crossings ?? [];
  const found = crossings.filter(({ id }) => crossingIds.includes(id));
  for (const crossing of found) {
    if (crossing.kind === 'cable') return crossing.carriedBy;
  }
  const carriers = found.filter(({ kind }) => kind !== 'cable' && kind !== 'pipe');
  const [only] = carriers;
  if (carriers.length === 1 && only !== undefined) return only.id;
  const hollow = crossings.filter(
    ({ kind, carriedBy }) => kind !== 'cable' && kind !== 'pipe' && carriedBy === null,
  );
  const [single] = hollow;
  const isOnly = crossings.every(
    ({ id, carriedBy }) => id === single?.id || carriedBy === single?.id,
  );
  return found.length === 0 && hollow.length === 1 && isOnly ? (single?.id ?? null) : null;
}

function withoutCandidates(input: OutcomeInput, excluded: ReadonlySet<string>): OutcomeResult {
  const { cable, route, path } = input;
  if (excluded.size > 0) {
    return settled(cable, 'A person ruled out the penetrations it was found at.', []);
  }
  if (route.isFound && route.unknown.length === 0) {
    const reason = `The carriers of its route (${cable.route.join(', ')}) cross nothing.`;
    return settled(cable, reason, [noPenetration(cable, reason, 'note')]);
  }
  if (path === 'sameRoom' || (path === 'found' && cable.route.length === 0)) {
    const reason =
      path === 'sameRoom'
        ? `Both its ends are in ${cable.from ?? cable.fromRoom}.`
        : `The carriers from ${cable.from} to ${cable.to} cross nothing.`;
    return settled(cable, reason, [noPenetration(cable, reason, 'note')]);
  }
  const suggestions = input.suggester.suggest(cable, route.unknown);
  if (suggestions.length > 0) {
    const listed = suggestions.slice(0, MOST_CANDIDATES);
    return asked(cable, listed, lookAlikeQuery(input, listed));
  }
  const reason = nothingFound(cable, route);
  const beside = input.besideItsRooms;
  const severity = cable.status === 'to be removed' ? 'note' : 'ask';
  const choice =
    beside.length === 0
      ? ''
      : ` Penetrations of its rooms: ${beside.map(({ penetrationId }) => placeText(input, penetrationId)).join('; ')}.`;
  const query = noPenetration(cable, `${reason}${choice}`, severity, beside);
  return {
    outcome: { cableId: cable.id, outcome: 'queried', reason, candidates: shown(beside) },
    matches: [],
    queries: [query],
  };
}

function nothingFound(cable: Cable, route: RouteFinding): string {
  const tried = [`no opening, service or label of the models and drawings names ${cable.ref}`];
  if (route.unknown.length > 0) tried.push(`nothing is named ${route.unknown.join(', ')}`);
  else if (cable.route.length === 0) tried.push(routeMissing(cable));
  return `Nothing says where it runs: ${tried.join('; ')}.`;
}

/** A route may stand in a column that was not understood; only a known one left empty is none. */
function routeMissing({ noRouteColumn, place }: Cable): string {
  if (noRouteColumn === undefined) return 'it has no route';
  const { unused } = noRouteColumn;
  const none = `no column of sheet ${place.sheet} was recognised as the route`;
  if (unused.length === 0) return none;
  const more = unused.length > MOST_HEADINGS ? ' …' : '';
  return `${none}, which may be in one that is not used: ${unused.slice(0, MOST_HEADINGS).join(', ')}${more}`;
}

function settled(cable: Cable, reason: string, queries: readonly Query[]): OutcomeResult {
  return {
    outcome: { cableId: cable.id, outcome: 'noPenetration', reason, candidates: [] },
    matches: [],
    queries,
  };
}

function asked(cable: Cable, candidates: readonly CableCandidate[], query: Query): OutcomeResult {
  return {
    outcome: {
      cableId: cable.id,
      outcome: 'queried',
      reason: query.text,
      candidates: shown(candidates),
    },
    matches: [],
    queries: [query],
  };
}

function shown(candidates: readonly CableCandidate[]): CableCandidate[] {
  return candidates
    .slice(0, MOST_CANDIDATES)
    .map(({ penetrationId, confidence, reasons }) => ({ penetrationId, confidence, reasons }));
}

function placeText({ penetrations }: OutcomeInput, penetrationId: string): string {
  const penetration = penetrations.get(penetrationId);
  return penetration === undefined ? penetrationId : penetrationText(penetration);
}

const CODE_OF_DOUBT: Readonly<Partial<Record<DoubtKind, QueryCode>>> = {
  'several writings': 'reference-ambiguous',
  'look-alike': 'reference-look-alike',
  spelling: 'reference-look-alike',
};

function doubtQuery(input: OutcomeInput, open: readonly Candidate[], isPlaced: boolean): Query {
  const { cable } = input;
  const [best] = open;
  const doubt = best?.doubts[0];
  const code = (doubt === undefined ? undefined : CODE_OF_DOUBT[doubt]) ?? 'cable-match-doubtful';
  const ranked = open
    .slice(0, MOST_CANDIDATES)
    .map(({ penetrationId, confidence, reasons }, at) => {
      const place = placeText(input, penetrationId);
      return `${at + 1}. ${place} (confidence ${confidence.toFixed(2)}): ${reasons.join(' ')}`;
    });
  const begin = isPlaced
    ? `Cable ${cable.ref} is placed, but may pass these too.`
    : `Cable ${cable.ref} may pass here, which is not certain enough to place it.`;
  return makeQuery(code, {
    about: cable.id,
    text: `${begin} ${ranked.join(' ')}`,
    why: 'A cable in the wrong seal leaves one seal short of a hole for it and another with one too many.',
    settles: `Which of these the cable passes, or none: ${HOW_TO_ANSWER}`,
    evidence: cable.evidence,
    candidates: choices(open),
    ...(open.length === 1 && best !== undefined ? { penetrationId: best.penetrationId } : {}),
  });
}

function lookAlikeQuery(input: OutcomeInput, candidates: readonly CableCandidate[]): Query {
  const { cable } = input;
  const ranked = candidates.map(
    ({ penetrationId, reasons }, at) =>
      `${at + 1}. ${placeText(input, penetrationId)}: ${reasons.join(' ')}`,
  );
  return makeQuery('reference-look-alike', {
    about: cable.id,
    text: `Nothing says where cable ${cable.ref} runs${cable.route.length > 0 ? ` (route ${cable.route.join(', ')})` : ''}, but something is named much like it. ${ranked.join(' ')}`,
    why: 'A typing error on either side parts a cable from its penetration.',
    settles: `The reference corrected where it is wrong, or the penetration named: ${HOW_TO_ANSWER}`,
    evidence: cable.evidence,
    candidates: choices(candidates),
  });
}

function choices(candidates: readonly CableCandidate[]): QueryCandidate[] {
  return candidates
    .slice(0, MOST_CANDIDATES)
    .map(({ penetrationId, confidence }) => ({ penetrationId, confidence }));
}

function noPenetration(
  cable: Cable,
  reason: string,
  severity: 'note' | 'ask',
  beside: readonly CableCandidate[] = [],
): Query {
  return makeQuery('cable-no-penetration', {
    about: cable.id,
    severity,
    text: `Cable ${cable.ref} is in no penetration. ${reason}`,
    why: 'A cable that is in no seal has no hole made for it.',
    settles: `${routeColumnToName(cable)}The penetrations it passes, or that it passes none: ${HOW_TO_ANSWER}`,
    evidence: cable.evidence,
    candidates: choices(beside),
  });
}

function routeColumnToName({ noRouteColumn, place }: Cable): string {
  const isWorthIt = noRouteColumn !== undefined && noRouteColumn.unused.length > 0;
  return isWorthIt
    ? `The heading of the route for ${place.fileKey}, under columns in the project file, if it has one. `
    : '';
}

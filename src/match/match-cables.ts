import { compareText, sortedBy } from '../basics/order.ts';
import type { Query, WithQueries } from '../basics/query.ts';
import type { Building } from '../model/building.ts';
import type { Cable, CableMatch, CableOutcome, Matches, Schedule } from '../model/cable.ts';
import type { MatchDecision } from '../model/decision.ts';
import type { Penetration } from '../model/penetration.ts';
import type { Settings } from '../model/settings.ts';
import { indexCables } from './cable-references.ts';
import { ClueBook } from './clue-book.ts';
import { crossCheck } from './cross-check.ts';
import { decideOutcome, type OutcomeResult } from './decide-outcome.ts';
import { indexDecisions } from './decisions.ts';
import { mixedCircuits } from './mixed-circuits.ts';
import { addPathClues, preparePaths } from './path-clues.ts';
import { addReferenceClues } from './reference-clues.ts';
import { indexReferences } from './reference-index.ts';
import { addRoomClues, besideItsRooms, buildRoomGraph } from './room-clues.ts';
import { indexRooms, type Rooms } from './rooms.ts';
import { type RouteFinding, RouteReader } from './route-clues.ts';
import { gapBetweenRooms, leadsThrough, unknownEntries } from './route-gaps.ts';
import { ALL_CLUES } from './score.ts';
import { prepareSuggestions } from './suggest-penetrations.ts';
import { indexUnusedNames } from './unused-names.ts';
import { checkWhole, repeatedReferences } from './whole-checks.ts';

/**
 * Places each cable in every penetration on its way, with reasons. What is not certain becomes a
 * query with ranked candidates; decisions made by people win. Gives one outcome a cable.
 */
export function matchCables(
  penetrations: readonly Penetration[],
  building: Building | null,
  schedule: Schedule,
  decisions: readonly MatchDecision[],
  settings: Settings,
): WithQueries<Matches> {
  const cables = indexCables(schedule.cables);
  const index = indexReferences(penetrations, building);
  const known = new Map(penetrations.map((penetration) => [penetration.id, penetration]));
  const decided = indexDecisions(decisions, schedule.cables, known);
  const matches: CableMatch[] = [];
  const outcomes: CableOutcome[] = [];
  const queries: Query[] = [...decided.queries];
  const rooms = indexRooms(building, penetrations);
  const roomGraph = buildRoomGraph(rooms, penetrations);
  const paths =
    building === null
      ? null
      : preparePaths(building, penetrations, schedule.cables, index, rooms, settings.match);
  const routes = new RouteReader(index);
  const checks = {
    penetrations: known,
    rooms,
    unused: indexUnusedNames(index, schedule.cables),
  };
  const suggester = prepareSuggestions(index, cables.cables);
  for (const cable of schedule.cables) {
    const book = new ClueBook();
    addReferenceClues(cable, cables, index, book);
    const route = routes.addClues(cable, book);
    const path = paths === null ? 'noEnds' : addPathClues(cable, paths, route, book);
    if (book.cleanlyAt(ALL_CLUES).length === 0) addRoomClues(cable, roomGraph, book);
    crossCheck(cable, book, checks);
    const outcome = decideOutcome({
      cable,
      book,
      route,
      path,
      penetrations: known,
      decisions: decided.byCable.get(cable.id) ?? [],
      suggester,
      besideItsRooms: book.penetrationIds.length > 0 ? [] : besideItsRooms(cable, roomGraph),
      match: settings.match,
    });
    matches.push(...outcome.matches);
    outcomes.push(outcome.outcome);
    queries.push(...outcome.queries, ...gapsOf(cable, outcome, route, known, rooms));
  }
  queries.push(
    ...checkWhole(penetrations, schedule, matches),
    ...mixedCircuits(
      penetrations,
      matches,
      new Map(schedule.cables.map((cable) => [cable.id, cable])),
    ),
    ...repeatedReferences(schedule.cables, cables.repeated),
  );
  matches.sort(
    (a, b) => compareText(a.penetrationId, b.penetrationId) || compareText(a.cableId, b.cableId),
  );
  return {
    result: { matches, outcomes: sortedBy(outcomes, ({ cableId }) => cableId) },
    queries: sortedBy(queries, ({ id }) => id),
  };
}

function gapsOf(
  cable: Cable,
  { matches }: OutcomeResult,
  route: RouteFinding,
  known: ReadonlyMap<string, Penetration>,
  rooms: Rooms,
): Query[] {
  if (matches.length === 0) return [];
  const passed = matches.flatMap(({ penetrationId }) => known.get(penetrationId) ?? []);
  const gaps = leadsThrough(cable, passed, rooms) === false ? [gapBetweenRooms(cable)] : [];
  return route.unknown.length > 0 ? [...gaps, unknownEntries(cable, route.unknown)] : gaps;
}

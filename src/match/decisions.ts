import { makeQuery, type Query } from '../basics/query.ts';
import type { Cable } from '../model/cable.ts';
import type { MatchDecision } from '../model/decision.ts';
import type { Penetration } from '../model/penetration.ts';

export interface DecisionIndex {
  readonly byCable: ReadonlyMap<string, readonly MatchDecision[]>;
  /** Decisions that speak of something that is no longer there. */
  readonly queries: readonly Query[];
}

/** Decisions by cable; those on unknown cables or penetrations become queries, never silence. */
export function indexDecisions(
  decisions: readonly MatchDecision[],
  cables: readonly Cable[],
  penetrations: ReadonlyMap<string, Penetration>,
): DecisionIndex {
  const cableIds = new Set(cables.map(({ id }) => id));
  const byCable = new Map<string, MatchDecision[]>();
  const queries: Query[] = [];
  for (const decision of decisions) {
    const { cableId, penetrationId } = decision;
    const isCable = cableIds.has(cableId);
    const isPlace =
      penetrationId === null
        ? decision.answer === 'passesNothing'
        : penetrations.has(penetrationId);
    if (!isCable || !isPlace) {
      queries.push(unusable(decision, isCable ? 'penetration' : 'cable'));
      continue;
    }
    const list = byCable.get(cableId);
    if (list === undefined) byCable.set(cableId, [decision]);
    else list.push(decision);
  }
  return { byCable, queries };
}

function unusable(decision: MatchDecision, missing: 'cable' | 'penetration'): Query {
  const id = missing === 'cable' ? decision.cableId : (decision.penetrationId ?? 'none');
  return makeQuery('decision-unusable', {
    about: decision.id,
    text: `A decision on cable ${decision.cableId} speaks of a ${missing} that this run does not find (${id}).`,
    why: 'An answer given by a person must not get lost when files change.',
    settles: 'The decision given anew for what is there now, or withdrawn.',
    evidence: decision.evidence,
  });
}

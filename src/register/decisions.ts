import { compareText } from '../basics/order.ts';
import { makeQuery, type Query } from '../basics/query.ts';
import type { Cable } from '../model/cable.ts';
import { type Decision, decisionKey } from '../model/decision.ts';
import type { IssuedFacts } from '../model/register.ts';
import { saidOf, saidOfCable } from '../model/said-of.ts';

/**
 * The decisions after new ones came in, sorted by what they are about. The latest on a question
 * holds; one with an empty value takes it back; the same answer given again changes nothing. Those
 * of files that were taken in before (`isTaken` by where they were given) only fill gaps: a workbook
 * that still lies there must not undo what was decided since.
 */
export function mergeDecisions(
  before: readonly Decision[],
  incoming: readonly Decision[],
  isTaken: (from: string) => boolean = () => false,
): Decision[] {
  const merged = new Map(before.map((decision) => [decisionKey(decision), decision]));
  for (const decision of incoming) {
    const key = decisionKey(decision);
    const known = merged.get(key);
    if (isTaken(decision.from) || known?.value === decision.value) continue;
    if (decision.value === '') merged.delete(key);
    else merged.set(key, decision);
  }
  return [...merged].sort(([a], [b]) => compareText(a, b)).map(([, decision]) => decision);
}

/**
 * Queries for decisions on cables that were taken on another diameter or way than the schedule now
 * gives. `cables`: as the schedule has them, before decisions are applied.
 */
export function cableContradictions(
  decisions: readonly Decision[],
  cables: readonly Cable[],
): Query[] {
  const byRef = new Map(cables.map((cable) => [cable.ref, cable]));
  return decisions.flatMap((decision) => {
    const cable = decision.about === 'cable' ? byRef.get(decision.subject) : undefined;
    if (cable === undefined || decision.against === null) return [];
    const said = saidOfCable(decision.field, cable);
    return said === decision.against ? [] : [contradicted(decision, said)];
  });
}

/**
 * Queries for decisions on penetrations that were taken on other facts than those of this run. The
 * decision stays in force; both values are shown. `facts` by tag.
 */
export function contradictionQueries(
  decisions: readonly Decision[],
  facts: ReadonlyMap<string, IssuedFacts>,
): Query[] {
  return decisions.flatMap((decision) => {
    const now = decision.about === 'penetration' ? facts.get(decision.subject) : undefined;
    const said = now === undefined ? null : saidOf(decision.field, decision.value, now);
    if (said === null || decision.against === null || said === decision.against) return [];
    return [contradicted(decision, said)];
  });
}

/** The question that follows when a decision and what the inputs now say differ. */
function contradicted(decision: Decision, said: string): Query {
  const { about, subject, field, value, against } = decision;
  return makeQuery('decision-contradicted', {
    about: decisionKey(decision),
    text: `"${value}" was decided for ${field} of ${about} ${subject} (revision ${decision.revision}, ${decision.from}) when it was: ${against ?? 'not known'}. Now it is: ${said}.`,
    why: 'The decision still holds here, but it was taken on other facts.',
    settles: 'The decision given again for what is there now, or taken back.',
  });
}

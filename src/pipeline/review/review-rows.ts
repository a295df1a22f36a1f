import { groupBy } from '../../basics/order.ts';
import type { QuerySeverity } from '../../basics/query-codes.ts';
import { shapeText, sizeText } from '../../geometry/shape.ts';
import type { Issue } from '../../model/issue.ts';
import type { Penetration } from '../../model/penetration.ts';
import type { SealbookResult } from '../../model/result.ts';
import type { ReviewRow } from '../../model/review.ts';
import type { Check, CheckVerdict } from '../../model/seal.ts';
import { worstCheck } from '../../write/shared/phrases.ts';

/** The list of an issue, in order of tag. */
export function reviewRows(issue: Issue, result: SealbookResult): ReviewRow[] {
  const sealsOf = groupBy(issue.seals, (seal) => seal.penetrationId);
  const queriesOf = groupBy(result.queries, (query) => query.tag ?? '');
  return issue.penetrations.map((penetration, at): ReviewRow => {
    const tag = issue.tags.get(penetration.id) ?? penetration.id;
    const seals = sealsOf.get(penetration.id) ?? [];
    const checks = seals.flatMap((seal) => seal.checks);
    const shape = penetration.shape ?? seals.find((seal) => seal.opening !== null)?.opening ?? null;
    return {
      tag,
      kind: penetration.kind,
      level: penetration.where.level,
      where: whereText(penetration),
      host: hostText(penetration),
      size: shape === null ? null : shapeText(shape),
      services: penetration.crossings.length,
      cables: result.penetrations[at]?.cables.map(({ ref }) => ref) ?? [],
      verdict: verdictOf(checks),
      worst: worstText(checks),
      queries: severities(queriesOf.get(tag) ?? []),
    };
  });
}

function whereText({ where }: Penetration): string {
  const rooms = [where.spaces.near, where.spaces.far].filter((room) => room !== null).join(' / ');
  return [where.grid ?? '', rooms].filter((part) => part !== '').join(', ');
}

function hostText({ hosts }: Penetration): string {
  return hosts
    .map(({ kind, name, thicknessMm }) => `${kind} ${name} ${sizeText(thicknessMm)} mm`)
    .join(' + ');
}

function verdictOf(checks: readonly Check[]): CheckVerdict | 'none' {
  const verdicts = new Set(checks.map(({ verdict }) => verdict));
  const inOrder = ['not met', 'not assessed', 'met'] as const;
  return inOrder.find((verdict) => verdicts.has(verdict)) ?? 'none';
}

function worstText(checks: readonly Check[]): string | null {
  const worst = worstCheck(checks);
  if (worst === null) return null;
  return worst.ratio === null ? worst.name : `${worst.name} ${worst.ratio.toFixed(2)}`;
}

function severities(
  queries: readonly { readonly severity: QuerySeverity }[],
): Record<QuerySeverity, number> {
  const counts = { stop: 0, ask: 0, note: 0 };
  for (const { severity } of queries) counts[severity] += 1;
  return counts;
}

import type { Query } from '../basics/query.ts';
import type { QueryCode } from '../basics/query-codes.ts';
import type { Penetration } from '../model/penetration.ts';
import type { MergedFindings } from './merge-findings.ts';

/** What one view does not show and another may: asked no more where the whole hole has it. */
const SETTLED: Readonly<Partial<Record<QueryCode, (penetration: Penetration) => boolean>>> = {
  'service-without-opening': ({ shape }) => shape !== null,
  'size-unknown': ({ shape, crossings }) =>
    shape !== null && crossings.every(({ section }) => section !== null),
  'host-thickness-unknown': ({ thicknessMm }) => thicknessMm > 0,
  'opening-without-service': ({ crossings }) => crossings.length > 0,
  'size-nominal': ({ crossings }) => crossings.every(({ sizeBasis }) => sizeBasis !== 'nominal'),
};

/**
 * Queries as they stand once each hole is listed once: those about a find that is part of another
 * now are about that one, and those that the other view answers are settled. One asked by both views
 * is asked once.
 */
export function queriesOfMerged(
  queries: readonly Query[],
  { result, keptIds }: MergedFindings,
): Query[] {
  const penetrations = new Map(result.penetrations.map((each) => [each.id, each]));
  const touched = new Set(keptIds.values());
  const asked = new Set(queries.map(({ code, penetrationId }) => `${code} ${penetrationId}`));
  return queries.flatMap((query) => {
    const keptId = keptIds.get(query.penetrationId ?? '') ?? query.penetrationId;
    const penetration = penetrations.get(keptId ?? '');
    if (penetration === undefined || !touched.has(penetration.id)) return [query];
    if (SETTLED[query.code]?.(penetration) === true) return [];
    if (keptId === query.penetrationId) return [query];
    const isAskedThere = SETTLED[query.code] !== undefined && asked.has(`${query.code} ${keptId}`);
    return isAskedThere ? [] : [{ ...query, penetrationId: keptId }];
  });
}

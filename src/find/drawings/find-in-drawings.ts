import { sortedBy } from '../../basics/order.ts';
import type { WithQueries } from '../../basics/query.ts';
import type { Drawing } from '../../model/drawing.ts';
import type { Findings, LedgerEntry } from '../../model/penetration.ts';
import type { Settings } from '../../model/settings.ts';
import { mergeViews } from '../merge-findings.ts';
import { findInView } from './find-in-view.ts';

/**
 * Penetrations in plans, sections and elevations, and the account of every entity on a service or
 * opening layer. Sorted by id.
 */
export function findInDrawings(
  drawings: readonly Drawing[],
  settings: Settings,
): WithQueries<Findings> {
  const parts = sortedBy(drawings, ({ fileKey }) => fileKey).flatMap((drawing) =>
    drawing.views.map((view) => findInView(drawing, view, settings)),
  );
  const merged = mergeViews(
    {
      penetrations: sortedBy(
        parts.flatMap(({ result }) => result.penetrations),
        ({ id }) => id,
      ),
      ledger: {
        services: joinEntries(parts.flatMap(({ result }) => result.ledger.services)),
        openings: joinEntries(parts.flatMap(({ result }) => result.ledger.openings)),
      },
    },
    settings,
  );
  const kept = new Set(merged.result.penetrations.map(({ id }) => id));
  // What was asked of a hole that is now part of another is asked there.
  const queries = parts
    .flatMap((part) => part.queries)
    .filter(({ penetrationId }) => penetrationId === null || kept.has(penetrationId));
  return {
    result: merged.result,
    queries: sortedBy([...queries, ...merged.queries], ({ id }) => id),
  };
}

/** One entry an element, also where two views show it; being in a penetration outweighs the rest. */
function joinEntries<Outcome extends string>(
  entries: readonly LedgerEntry<Outcome>[],
): LedgerEntry<Outcome>[] {
  const byId = new Map<string, LedgerEntry<Outcome>>();
  for (const entry of entries) {
    const known = byId.get(entry.id);
    if (known === undefined) byId.set(entry.id, entry);
    else if (entry.penetrationIds.length > 0) {
      byId.set(entry.id, {
        ...entry,
        penetrationIds: [...new Set([...known.penetrationIds, ...entry.penetrationIds])],
      });
    }
  }
  return sortedBy([...byId.values()], ({ id }) => id);
}

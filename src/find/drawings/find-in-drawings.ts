import { sortedBy } from '../../basics/order.ts';
import type { WithQueries } from '../../basics/query.ts';
import type { Drawing } from '../../model/drawing.ts';
import type { Findings, LedgerEntry } from '../../model/penetration.ts';
import type { Settings } from '../../model/settings.ts';
import { mergeViews } from '../merge-findings.ts';
import { queriesOfMerged } from '../merged-queries.ts';
import { crossingLayerQueries } from './crossing-layers.ts';
import { findInView } from './find-in-view.ts';

/**
 * Penetrations in plans, sections and elevations, and the account of every entity on a service or
 * opening layer. Sorted by id.
 */
export function findInDrawings(
  drawings: readonly Drawing[],
  settings: Settings,
): WithQueries<Findings> {
  const views = sortedBy(drawings, ({ fileKey }) => fileKey).map((drawing) => ({
    drawing,
    parts: drawing.views.map((view) => findInView(drawing, view, settings)),
  }));
  const parts = views.flatMap((each) => each.parts);
  const layerQueries = views.flatMap((each) =>
    crossingLayerQueries(
      each.drawing,
      each.parts.flatMap(({ crossingLayers }) => crossingLayers),
    ),
  );
  const merged = mergeViews(
    {
      penetrations: sortedBy(
        parts.flatMap(({ result }) => result.penetrations),
        ({ id }) => id,
      ),
      ledger: joinLedgers(parts.map(({ result }) => result.ledger)),
    },
    settings,
  );
  const queries = queriesOfMerged(
    parts.flatMap((part) => part.queries),
    merged,
  );
  return {
    result: merged.result,
    queries: sortedBy([...queries, ...layerQueries, ...merged.queries], ({ id }) => id),
  };
}

/** What is drawn as a service and serves as an opening is no service, unless it passes a host too: cast in. */
function joinLedgers(ledgers: readonly Findings['ledger'][]): Findings['ledger'] {
  const openings = joinEntries(ledgers.flatMap((ledger) => ledger.openings));
  const opened = new Set(
    openings.flatMap(({ id, penetrationIds }) => (penetrationIds.length > 0 ? [id] : [])),
  );
  const services = joinEntries(ledgers.flatMap((ledger) => ledger.services));
  return {
    services: services.filter(
      ({ id, penetrationIds }) => penetrationIds.length > 0 || !opened.has(id),
    ),
    openings,
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

import { compareText } from '../../basics/order.ts';
import type { Issue } from '../../model/issue.ts';
import { areaOf } from './issue-index.ts';

/** Areas of an issue that have a penetration, sorted. */
export function areasOf(issue: Issue): readonly string[] {
  return [...new Set(issue.penetrations.map(areaOf))].sort(compareText);
}

/**
 * The part of an issue that lies in some areas: its penetrations and what belongs to them. The
 * account of the inputs is left empty, since it adds up for the whole issue only.
 */
export function issueOfAreas(issue: Issue, areas: ReadonlySet<string>): Issue {
  const penetrations = issue.penetrations.filter((penetration) => areas.has(areaOf(penetration)));
  const ids = new Set(penetrations.map(({ id }) => id));
  const tags = new Map([...issue.tags].filter(([id]) => ids.has(id)));
  const ownTags = new Set(tags.values());
  const matches = issue.matches.matches.filter(({ penetrationId }) => ids.has(penetrationId));
  const cableIds = new Set(matches.map(({ cableId }) => cableId));
  const inArea = <T extends { readonly area: string }>(items: readonly T[]) =>
    items.filter((item) => areas.has(item.area));
  const { takeOff } = issue;
  return {
    ...issue,
    penetrations,
    tags,
    schedule: { cables: issue.schedule.cables.filter(({ id }) => cableIds.has(id)), rows: [] },
    matches: {
      matches,
      outcomes: issue.matches.outcomes.filter(({ cableId }) => cableIds.has(cableId)),
    },
    seals: issue.seals.filter(({ penetrationId }) => ids.has(penetrationId)),
    takeOff: {
      sealants: inArea(takeOff.sealants),
      fillers: inArea(takeOff.fillers),
      consumables: inArea(takeOff.consumables),
      labour: inArea(takeOff.labour ?? []),
      costs: inArea(takeOff.costs ?? []),
      notCounted: issue.seals.filter(
        ({ penetrationId, state }) => state === 'query' && ids.has(penetrationId),
      ).length,
    },
    ledger: { services: [], openings: [] },
    queries: issue.queries.filter(
      ({ penetrationId }) => penetrationId !== null && ids.has(penetrationId),
    ),
    unread: [],
    changes: (issue.changes ?? []).filter(({ tag }) => ownTags.has(tag)),
  };
}

import { groupBy } from '../../basics/order.ts';
import type { Query } from '../../basics/query.ts';
import type { Issue } from '../../model/issue.ts';
import type { Penetration } from '../../model/penetration.ts';

/** Queries that a person would ask as one: the same question about one wall, slab or file. */
export interface QueryGroup {
  /** Stays the same from run to run while the cause does, whatever the number of queries. */
  readonly key: string;
  readonly queries: readonly Query[];
  /** In order of tag, each once. */
  readonly places: readonly Penetration[];
  /** What the question is about, for people: host and level, or a file. */
  readonly about: string;
}

/** Groups in order of their first query. Notes are left out unless asked for. */
export function groupQueries(issue: Issue, withNotes: boolean): QueryGroup[] {
  const penetrations = new Map(issue.penetrations.map((each) => [each.id, each]));
  const order = new Map(issue.penetrations.map(({ id }, at) => [id, at]));
  const asked = issue.queries.filter(({ severity }) => withNotes || severity !== 'note');
  const placeOf = (query: Query) =>
    query.penetrationId === null ? undefined : penetrations.get(query.penetrationId);
  const groups = groupBy(asked, (query) => keyOf(query, placeOf(query)));
  return [...groups].map(([key, queries]) => {
    const places = new Map(
      queries.flatMap((query) => {
        const place = placeOf(query);
        return place === undefined ? [] : [[place.id, place] as const];
      }),
    );
    const sorted = [...places.values()].sort(
      (a, b) => (order.get(a.id) ?? 0) - (order.get(b.id) ?? 0),
    );
    return { key, queries, places: sorted, about: aboutOf(queries, sorted) };
  });
}

function keyOf(query: Query, place: Penetration | undefined): string {
  const cause =
    place === undefined
      ? `file:${query.evidence[0]?.place.fileKey ?? ''}`
      : `host:${place.hosts[0]?.id ?? place.id}`;
  return `${query.code}|${query.to}|${cause}`;
}

function aboutOf(queries: readonly Query[], places: readonly Penetration[]): string {
  const [place] = places;
  if (place === undefined) return queries[0]?.evidence[0]?.place.fileKey ?? 'the project';
  const [host] = place.hosts;
  const name = host === undefined ? 'no host' : hostName(host);
  const levels = new Set(places.map(({ where }) => where.level));
  const [level] = levels;
  return levels.size === 1 && level != null ? `${name}, ${level}` : name;
}

/** The name where it says what the host is, else with the kind before it. */
function hostName({ kind, name }: Penetration['hosts'][number]): string {
  return name.toLowerCase().includes(kind) ? name : `${kind} ${name}`.trim();
}

import { greatestOf, leastOf } from '../basics/extremes.ts';
import { compareText, groupBy } from '../basics/order.ts';
import { makeQuery, type Query } from '../basics/query.ts';
import { type Box, grownBox } from '../geometry/box.ts';
import { indexBoxes } from '../geometry/box-index.ts';
import { shapeExtentMm } from '../geometry/shape.ts';
import type { Penetration } from '../model/penetration.ts';
import type { Seal } from '../model/seal.ts';
import { boxInPlane, boxSizeMm, clearBetweenMm, type Extent, nearestEdge } from './spacing.ts';

/** Names listed in one query; the rest are counted. */
const NAMED = 10;
/** Pairs counted in one host; own choice, well beyond what anyone reads. */
const MOST_PAIRS = 500;

/**
 * Questions to the structural engineer, one a host, without a verdict: holes that must still be
 * made, and openings that stand closer to each other, or to an edge of the host, than the larger
 * is wide.
 * @source Engineering rules §6, structure. The distance is our own choice of what is worth asking.
 */
export function structureQueries(
  penetrations: readonly Penetration[],
  seals: readonly Seal[],
): Query[] {
  const openings = new Map(
    seals
      .filter(({ path }) => path === 'annulus')
      .map(({ penetrationId, opening }) => [penetrationId, opening]),
  );
  const inHosts = penetrations.flatMap((penetration) => {
    const opening = openings.get(penetration.id) ?? null;
    const extent = opening === null ? null : shapeExtentMm(opening);
    return penetration.hosts.map((host) => ({ host, penetration, extent }));
  });
  const hosts = [...groupBy(inHosts, ({ host }) => host.id)].sort(([a], [b]) => compareText(a, b));
  return hosts.flatMap(([hostId, group]) => [
    ...coringQueries(hostId, group),
    ...nearnessQueries(hostId, group),
  ]);
}

interface InHost {
  readonly host: Penetration['hosts'][number];
  readonly penetration: Penetration;
  readonly extent: Extent | null;
}

function coringQueries(hostId: string, group: readonly InHost[]): Query[] {
  const toMake = group.filter(({ penetration }) => penetration.kind === 'unopened');
  const [first] = toMake;
  if (first === undefined) return [];
  const bearing = first.host.isLoadBearing === true ? ', load bearing,' : '';
  return [
    makeQuery('coring-question', {
      about: `make:${hostId}`,
      text: `${hostText(first)}${bearing} is crossed ${toMake.length === 1 ? 'once' : `${toMake.length} times`} where nothing is provided; the holes would be ${sizesText(toMake)}.`,
      why: 'Coring or cutting endangers reinforcement, prestress and cables in the host.',
      settles: 'Where holes may be made, how large, how far from edges and from each other.',
      penetrationId: toMake.length === 1 ? first.penetration.id : null,
    }),
  ];
}

function nearnessQueries(hostId: string, group: readonly InHost[]): Query[] {
  const pairs = closePairs(group);
  const edges = closeToEdges(group);
  const [any] = group;
  if (pairs.length + edges.length === 0 || any === undefined) return [];
  const about = [
    ...(pairs.length === 0 ? [] : [pairsText(pairs)]),
    ...(edges.length === 0 ? [] : [edgesText(edges)]),
  ];
  const holes = new Set([
    ...pairs.map(({ a }) => a.penetration.id),
    ...edges.map(({ item }) => item.penetration.id),
  ]);
  const [first] = holes;
  return [
    makeQuery('coring-question', {
      about: `near:${hostId}`,
      text: `${hostText(any)} has ${about.join('; and ')}.`,
      why: 'What is left between two openings, or beside an edge, carries less than it seems.',
      settles: 'That the openings may stand as close, or where they go instead.',
      penetrationId: pairs.length <= 1 && holes.size === 1 ? (first ?? null) : null,
    }),
  ];
}

function pairsText(pairs: readonly ClosePair[]): string {
  const named = pairs
    .slice(0, NAMED)
    .map(
      ({ a, b, clearMm }) =>
        `${a.penetration.id} and ${b.penetration.id}: ${Math.round(clearMm)} mm`,
    );
  const atLeast = pairs.length === MOST_PAIRS ? 'at least ' : '';
  const more = pairs.length > NAMED ? `; and ${atLeast}${pairs.length - NAMED} more pairs` : '';
  return `openings closer to each other than the larger is wide: ${named.join('; ')}${more}`;
}

interface NearEdge {
  readonly item: InHost;
  readonly clearMm: number;
  readonly edge: string;
}

/** Openings closer to an edge of their host than they are wide, closest first. */
function closeToEdges(group: readonly InHost[]): NearEdge[] {
  return group
    .flatMap((item): NearEdge[] => {
      if (item.extent === null) return [];
      const near = nearestEdge(item.host, item.extent);
      const size = Math.max(item.extent.widthMm, item.extent.heightMm);
      return near === null || near.clearMm >= size ? [] : [{ item, ...near }];
    })
    .sort((a, b) => a.clearMm - b.clearMm);
}

function edgesText(edges: readonly NearEdge[]): string {
  const named = edges
    .slice(0, NAMED)
    .map(({ item, clearMm, edge }) => `${item.penetration.id}: ${Math.round(clearMm)} mm ${edge}`);
  const more = edges.length > NAMED ? `; and ${edges.length - NAMED} more` : '';
  return `openings closer to an edge of it than they are wide: ${named.join('; ')}${more}`;
}

/** An opening in the plane of its host. */
interface Placed {
  readonly item: InHost;
  readonly box: Box;
}

interface ClosePair {
  readonly a: InHost;
  readonly b: InHost;
  readonly clearMm: number;
}

/**
 * Pairs that stand closer than the larger is wide, in the order of the penetrations; no more than
 * are counted, because openings drawn over each other are close to all others.
 */
function closePairs(group: readonly InHost[]): ClosePair[] {
  const placed = group.flatMap((item) => placedIn(item, group));
  const index = indexBoxes(placed.map(({ box }) => box));
  const pairs: ClosePair[] = [];
  for (const [at, { item, box }] of placed.entries()) {
    const reach = boxSizeMm(box);
    for (const otherAt of index.meeting(grownBox(box, reach))) {
      const other = placed[otherAt];
      if (other === undefined || otherAt === at) continue;
      // The larger one looks, so that a pair is seen once; of equals the earlier.
      const size = boxSizeMm(other.box);
      const looks = size < reach || (size === reach && at < otherAt);
      const clearMm = clearBetweenMm(box, other.box);
      if (looks && clearMm < reach) pairs.push({ a: item, b: other.item, clearMm });
      if (pairs.length === MOST_PAIRS) return pairs;
    }
  }
  return pairs;
}

/** In the plane of the host's first penetration; one that faces another way is left out. */
function placedIn(item: InHost, group: readonly InHost[]): Placed[] {
  const plane = group[0]?.penetration.frame;
  if (item.extent === null || plane === undefined) return [];
  const box = boxInPlane(item.penetration.frame, item.extent, plane);
  return box === null ? [] : [{ item, box }];
}

function hostText({ host }: InHost): string {
  return host.name.trim() === '' ? `The ${host.kind}` : `The ${host.kind} "${host.name.trim()}"`;
}

function sizesText(group: readonly InHost[]): string {
  const sizes = group.flatMap(({ extent }) =>
    extent === null ? [] : [Math.max(extent.widthMm, extent.heightMm)],
  );
  if (sizes.length === 0) return 'of unknown size';
  const [least, most] = [leastOf(sizes), greatestOf(sizes)];
  return least === most
    ? `${Math.round(most)} mm`
    : `${Math.round(least)} to ${Math.round(most)} mm`;
}

import { greatestOf, leastOf } from '../basics/extremes.ts';
import { compareText, groupBy } from '../basics/order.ts';
import { makeQuery, type Query } from '../basics/query.ts';
import { type Box, grownBox } from '../geometry/box.ts';
import { indexBoxes } from '../geometry/box-index.ts';
import { shapeExtentMm } from '../geometry/shape.ts';
import { dot3 } from '../geometry/vec.ts';
import type { Penetration } from '../model/penetration.ts';
import type { Seal } from '../model/seal.ts';

/** Names listed in one query; the rest are counted. */
const NAMED = 10;
/** Pairs counted in one host; own choice, well beyond what anyone reads. */
const MOST_PAIRS = 500;

/**
 * Questions to the structural engineer, one a host, without a verdict: holes that must still be
 * made, and openings that stand closer to each other than the larger of the two is wide.
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
  readonly extent: { readonly widthMm: number; readonly heightMm: number } | null;
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
  const [first] = pairs;
  const [any] = group;
  if (first === undefined || any === undefined) return [];
  const named = pairs
    .slice(0, NAMED)
    .map(
      ({ a, b, clearMm }) =>
        `${a.penetration.id} and ${b.penetration.id}: ${Math.round(clearMm)} mm`,
    );
  const atLeast = pairs.length === MOST_PAIRS ? 'at least ' : '';
  const more = pairs.length > NAMED ? `; and ${atLeast}${pairs.length - NAMED} more pairs` : '';
  return [
    makeQuery('coring-question', {
      about: `near:${hostId}`,
      text: `${hostText(any)} has openings closer to each other than the larger is wide: ${named.join('; ')}${more}.`,
      why: 'What is left between two openings carries less than it seems.',
      settles: 'That the openings may stand as close, or where they go instead.',
      penetrationId: pairs.length === 1 ? first.a.penetration.id : null,
    }),
  ];
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
    const reach = sizeOf(box);
    for (const otherAt of index.meeting(grownBox(box, reach))) {
      const other = placed[otherAt];
      if (other === undefined || otherAt === at) continue;
      // The larger one looks, so that a pair is seen once; of equals the earlier.
      const size = sizeOf(other.box);
      const looks = size < reach || (size === reach && at < otherAt);
      const clearMm = clearBetween(box, other.box);
      if (looks && clearMm < reach) pairs.push({ a: item, b: other.item, clearMm });
      if (pairs.length === MOST_PAIRS) return pairs;
    }
  }
  return pairs;
}

/** In the plane of the host's first penetration; one that faces another way is left out. */
function placedIn(item: InHost, group: readonly InHost[]): Placed[] {
  const plane = group[0]?.penetration.frame;
  const { frame } = item.penetration;
  if (item.extent === null || plane === undefined) return [];
  if (Math.abs(dot3(plane.axis, frame.axis)) < 0.99) return [];
  const x = dot3(frame.originMm, plane.right);
  const y = dot3(frame.originMm, plane.up);
  const { widthMm, heightMm } = item.extent;
  const box: Box = {
    low: [x - widthMm / 2, y - heightMm / 2, 0],
    high: [x + widthMm / 2, y + heightMm / 2, 0],
  };
  return [{ item, box }];
}

function sizeOf({ low, high }: Box): number {
  return Math.max(high[0] - low[0], high[1] - low[1]);
}

function clearBetween(a: Box, b: Box): number {
  const x = Math.max(0, a.low[0] - b.high[0], b.low[0] - a.high[0]);
  const y = Math.max(0, a.low[1] - b.high[1], b.low[1] - a.high[1]);
  return Math.hypot(x, y);
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

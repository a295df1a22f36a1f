import { compareText } from '../../basics/order.ts';
import { type PlanePath, planePath } from '../../geometry/plane-cross.ts';
import { pathPoints } from '../../geometry/plane-curve.ts';
import { PointGrid } from '../../geometry/plane-grid.ts';
import { distance2, dot2, length2, scale2, sub2, type Vec2 } from '../../geometry/vec.ts';
import type { ServiceItem } from './sheet.ts';

/** One line that a service is drawn by. */
export interface ServicePath {
  readonly item: ServiceItem;
  readonly points: readonly Vec2[];
  /** Distance of the two edges where the service is drawn by both; null for a single line. */
  readonly widthMm: number | null;
  /** Items beyond `item` that draw it too: the second edge, the centre line. */
  readonly others: readonly ServiceItem[];
}

/** Paths joined end to end, breaks included: one run as drawn. */
export interface ServiceChain {
  readonly path: PlanePath;
  /** The paths it is made of, each with the stretch of the chain that it covers. */
  readonly members: readonly {
    readonly path: ServicePath;
    readonly s0: number;
    readonly s1: number;
  }[];
}

/** The open lines of a service item as paths. */
export function pathsOfItem(item: ServiceItem): ServicePath[] {
  return item.entities.flatMap((entity) =>
    entity.form === 'fill'
      ? []
      : entity.loops
          .filter(({ isClosed }) => !isClosed)
          .map(({ pieces }) => pathPoints(pieces))
          .filter((points) => points.length > 1)
          .map((points) => ({ item, points, widthMm: null, others: [] })),
  );
}

/** Ends this close are joined: above drafting noise, below any gap that is meant. */
const JOIN_MM = 5;
/** Two ends face each other across a break when they are this much in line. */
const IN_LINE_MM = 3;
const IN_LINE_COSINE = Math.cos((1.5 * Math.PI) / 180);
/** Where more than two ends meet, the straightest two go on, if they bend less than this. */
const STRAIGHT_ON_COSINE = Math.cos((35 * Math.PI) / 180);

interface End {
  readonly path: number;
  readonly isStart: boolean;
  readonly point: Vec2;
  /** Unit vector out of the path. */
  readonly away: Vec2;
}

/** Joins paths of one kind at common ends, and across breaks up to `longestBreakMm`. */
export function chainsOf(paths: readonly ServicePath[], longestBreakMm: number): ServiceChain[] {
  const ends = paths.flatMap((path, i) => endsOf(path, i));
  const links = new Map<End, End>();
  linkMeeting(paths, ends, links);
  linkAcrossBreaks(paths, ends, links, longestBreakMm);
  return walk(paths, ends, links);
}

function endsOf(path: ServicePath, index: number): End[] {
  const { points } = path;
  const first = points[0];
  const second = points[1];
  const last = points[points.length - 1];
  const beforeLast = points[points.length - 2];
  if (!first || !second || !last || !beforeLast) return [];
  return [
    { path: index, isStart: true, point: first, away: unitFrom(second, first) },
    { path: index, isStart: false, point: last, away: unitFrom(beforeLast, last) },
  ];
}

function unitFrom(a: Vec2, b: Vec2): Vec2 {
  const along = sub2(b, a);
  const length = length2(along);
  return length > 0 ? scale2(along, 1 / length) : [1, 0];
}

const mayJoin = (paths: readonly ServicePath[], a: End, b: End): boolean => {
  const first = paths[a.path];
  const second = paths[b.path];
  return (
    a.path !== b.path &&
    first !== undefined &&
    second !== undefined &&
    first.item.kind === second.item.kind
  );
};

function linkMeeting(
  paths: readonly ServicePath[],
  ends: readonly End[],
  links: Map<End, End>,
): void {
  const grid = new PointGrid<End>(JOIN_MM);
  for (const end of ends) grid.add(end.point, end);
  const pairs: {
    readonly a: End;
    readonly b: End;
    readonly cosine: number;
    readonly order: number;
  }[] = [];
  ends.forEach((end, order) => {
    const near = grid
      .near(end.point)
      .filter((other) => other !== end && mayJoin(paths, end, other));
    for (const other of near) {
      const cosine = -dot2(end.away, other.away);
      // Two ends alone go on round any corner; at a branch only what goes straight on.
      if (near.length === 1 || cosine > STRAIGHT_ON_COSINE)
        pairs.push({ a: end, b: other, cosine, order });
    }
  });
  pairs.sort((x, y) => y.cosine - x.cosine || x.order - y.order);
  for (const { a, b } of pairs) {
    if (links.has(a) || links.has(b)) continue;
    links.set(a, b);
    links.set(b, a);
  }
}

function linkAcrossBreaks(
  paths: readonly ServicePath[],
  ends: readonly End[],
  links: Map<End, End>,
  longestBreakMm: number,
): void {
  const free = ends.filter((end) => !links.has(end));
  const grid = new PointGrid<End>(longestBreakMm);
  for (const end of free) grid.add(end.point, end);
  const pairs: {
    readonly a: End;
    readonly b: End;
    readonly gap: number;
    readonly order: number;
  }[] = [];
  free.forEach((end, order) => {
    for (const other of grid.near(end.point)) {
      if (!mayJoin(paths, end, other) || !facesAcross(end, other)) continue;
      if (paths[end.path]?.item.layer !== paths[other.path]?.item.layer) continue;
      pairs.push({ a: end, b: other, gap: distance2(end.point, other.point), order });
    }
  });
  pairs.sort((x, y) => x.gap - y.gap || x.order - y.order);
  for (const { a, b } of pairs) {
    if (links.has(a) || links.has(b)) continue;
    links.set(a, b);
    links.set(b, a);
  }
}

function facesAcross(a: End, b: End): boolean {
  if (dot2(a.away, b.away) > -IN_LINE_COSINE) return false;
  const between = sub2(b.point, a.point);
  const along = dot2(between, a.away);
  const across = Math.abs(between[0] * a.away[1] - between[1] * a.away[0]);
  return along > 0 && across <= IN_LINE_MM;
}

function walk(
  paths: readonly ServicePath[],
  ends: readonly End[],
  links: ReadonlyMap<End, End>,
): ServiceChain[] {
  const endsByPath = new Map<number, { start?: End; end?: End }>();
  for (const end of ends) {
    const pair = endsByPath.get(end.path) ?? {};
    if (end.isStart) pair.start = end;
    else pair.end = end;
    endsByPath.set(end.path, pair);
  }
  const used = new Set<number>();
  const chains: ServiceChain[] = [];
  const from = (index: number, entersAtStart: boolean) => {
    const members: { readonly path: ServicePath; readonly points: readonly Vec2[] }[] = [];
    let at: number | undefined = index;
    let isForward = entersAtStart;
    while (at !== undefined && !used.has(at)) {
      used.add(at);
      const path: ServicePath | undefined = paths[at];
      if (path === undefined) break;
      members.push({ path, points: isForward ? path.points : [...path.points].reverse() });
      const pair: { start?: End; end?: End } = endsByPath.get(at) ?? {};
      const out: End | undefined = isForward ? pair.end : pair.start;
      const next: End | undefined = out === undefined ? undefined : links.get(out);
      at = next?.path;
      isForward = next?.isStart ?? true;
    }
    chains.push(chainOf(members));
  };
  // Chains begin at an end that nothing is joined to; what is left then is rings.
  paths.forEach((_, i) => {
    const pair = endsByPath.get(i);
    if (used.has(i) || pair === undefined) return;
    if (pair.start !== undefined && !links.has(pair.start)) from(i, true);
    else if (pair.end !== undefined && !links.has(pair.end)) from(i, false);
  });
  paths.forEach((_, i) => {
    if (!used.has(i) && endsByPath.has(i)) from(i, true);
  });
  return chains;
}

function chainOf(
  members: readonly { readonly path: ServicePath; readonly points: readonly Vec2[] }[],
): ServiceChain {
  const points: Vec2[] = [];
  const spans: { path: ServicePath; first: number; last: number }[] = [];
  for (const { path, points: own } of members) {
    const last = points[points.length - 1];
    const [head] = own;
    const joins = last !== undefined && head !== undefined && distance2(last, head) <= JOIN_MM;
    const first = joins ? points.length - 1 : points.length;
    points.push(...(joins ? own.slice(1) : own));
    spans.push({ path, first, last: points.length - 1 });
  }
  const path = planePath(points);
  return {
    path,
    members: spans.map(({ path: member, first, last }) => ({
      path: member,
      s0: path.distances[first] ?? 0,
      s1: path.distances[last] ?? 0,
    })),
  };
}

/**
 * Items that draw a chain between two places, lowest id first; where both lie in a break, the items
 * on either side of it.
 */
export function itemsBetween(chain: ServiceChain, s0: number, s1: number): ServiceItem[] {
  const touching = chain.members.filter((member) => member.s1 > s0 && member.s0 < s1);
  const around =
    touching.length > 0
      ? touching
      : chain.members.filter(
          (member, i) =>
            (member.s1 <= s0 && (chain.members[i + 1]?.s0 ?? Number.POSITIVE_INFINITY) >= s1) ||
            (member.s0 >= s1 && (chain.members[i - 1]?.s1 ?? Number.NEGATIVE_INFINITY) <= s0),
        );
  const items = around.flatMap(({ path }) => [path.item, ...path.others]);
  return [...new Set(items)].sort((a, b) => compareText(a.id, b.id));
}

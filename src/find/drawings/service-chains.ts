import Flatbush from 'flatbush';
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

/**
 * The lines of a service item as paths. A closed outline is taken as the two edges between its short
 * ends; one without ends (a circle, a square) draws no line.
 */
export function pathsOfItem(item: ServiceItem): ServicePath[] {
  return item.entities.flatMap((entity) =>
    entity.form === 'fill'
      ? []
      : entity.loops
          .flatMap(({ pieces, isClosed }) =>
            isClosed ? edgesOfOutline(pathPoints(pieces)) : [pathPoints(pieces)],
          )
          .filter((points) => points.length > 1)
          .map((points) => ({ item, points, widthMm: null })),
  );
}

/** A side is an end of an outline when both its neighbours are this much longer. */
const LONGER_THAN_END = 1.5;

/** The two edges of an elongated outline: what is left when its two short ends are taken out. */
function edgesOfOutline(outline: readonly Vec2[]): Vec2[][] {
  const first = outline[0];
  const last = outline[outline.length - 1];
  const repeats = first !== undefined && last !== undefined && distance2(first, last) < 1e-6;
  const corners = repeats ? outline.slice(0, -1) : [...outline];
  const count = corners.length;
  if (count < 4 || count > 64) return [];
  const at = (i: number): Vec2 => corners[((i % count) + count) % count] ?? [0, 0];
  const side = (i: number): Vec2 => sub2(at(i + 1), at(i));
  const ends: number[] = [];
  for (let i = 0; i < count; i++) {
    const before = side(i - 1);
    const after = side(i + 1);
    const length = length2(side(i));
    const areOpposite = dot2(before, after) < -0.95 * length2(before) * length2(after);
    const isShort =
      length * LONGER_THAN_END <= length2(before) && length * LONGER_THAN_END <= length2(after);
    if (areOpposite && isShort) ends.push(i);
  }
  const [a, b] = ends;
  if (ends.length !== 2 || a === undefined || b === undefined) return [];
  const stretch = (from: number, to: number): Vec2[] => {
    const points: Vec2[] = [];
    for (let i = from; i <= to; i++) points.push(at(i));
    return points;
  };
  return [stretch(a + 1, b), stretch(b + 1, a + count)];
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
  const all = paths.flatMap((path, i) => endsOf(path, i));
  const caps = capsOf(paths, all);
  const ends = all.filter(({ path }) => !caps.has(path));
  const links = new Map<End, End>();
  linkMeeting(paths, ends, links);
  linkAcrossBreaks(paths, ends, links, longestBreakMm);
  return walk(paths, all, links);
}

const LONGEST_CAP_MM = 2000;

/**
 * Short lines that close the end of a tray or duct drawn by its edges: both their ends meet lines
 * that run off square to them, on the same side. They join the two edges to nothing.
 */
function capsOf(paths: readonly ServicePath[], ends: readonly End[]): ReadonlySet<number> {
  const grid = new PointGrid<End>(JOIN_MM);
  for (const end of ends) grid.add(end.point, end);
  const caps = new Set<number>();
  paths.forEach((path, i) => {
    const [from, to] = path.points;
    if (path.points.length !== 2 || from === undefined || to === undefined) return;
    const length = distance2(from, to);
    if (length > LONGEST_CAP_MM || length < 1) return;
    const unit = unitFrom(from, to);
    const normal: Vec2 = [-unit[1], unit[0]];
    // Ends point out of their lines; the line itself lies the other way.
    const sides = (place: Vec2): number[] =>
      grid
        .near(place)
        .filter(({ path: other, away }) => other !== i && Math.abs(dot2(away, unit)) < 0.1)
        .map(({ away }) => -Math.sign(dot2(away, normal)));
    const atFrom = sides(from);
    const atTo = sides(to);
    const isCap = [1, -1].some((side) => atFrom.includes(side) && atTo.includes(side));
    // A staircase has one neighbour to each side; a cap has both to one.
    if (isCap) caps.add(i);
  });
  return caps;
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
    for (const point of joins ? own.slice(1) : own) points.push(point);
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
  const items = around.map(({ path }) => path.item);
  return [...new Set(items)].sort((a, b) => compareText(a.id, b.id));
}

/** Finds chains near a place. */
export class ChainIndex {
  private readonly owners: number[] = [];
  private readonly index: Flatbush | null;

  constructor(chains: readonly ServiceChain[]) {
    const boxes: [number, number, number, number][] = [];
    chains.forEach(({ path }, at) => {
      for (let i = 0; i + 1 < path.points.length; i++) {
        const a = path.points[i];
        const b = path.points[i + 1];
        if (a === undefined || b === undefined) continue;
        this.owners.push(at);
        boxes.push([
          Math.min(a[0], b[0]),
          Math.min(a[1], b[1]),
          Math.max(a[0], b[0]),
          Math.max(a[1], b[1]),
        ]);
      }
    });
    this.index = boxes.length === 0 ? null : new Flatbush(boxes.length);
    for (const box of boxes) this.index?.add(...box);
    this.index?.finish();
  }

  /** Chains that come into the square round a place, lowest number first. */
  near([x, y]: Vec2, reachMm: number): number[] {
    const found = new Set<number>();
    for (const i of this.index?.search(x - reachMm, y - reachMm, x + reachMm, y + reachMm) ?? []) {
      const owner = this.owners[i];
      if (owner !== undefined) found.add(owner);
    }
    return [...found].sort((a, b) => a - b);
  }
}

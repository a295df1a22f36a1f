import { compareText } from '../../basics/order.ts';
import { type PlanePath, pathAt, pathLength, planePath } from '../../geometry/plane-cross.ts';
import { nearestOnPath } from '../../geometry/plane-project.ts';
import { dot2, type Vec2 } from '../../geometry/vec.ts';
import type { Label } from './labels.ts';
import { ChainIndex, type ServiceChain } from './service-chains.ts';

/*
 * Trays and ducts are often drawn by their two edges, pipes too. Two lines beside each other may as
 * well be two services, so a pair needs a reason: a label that gives just their distance, a centre
 * line midway between them, or a kind of service that is always drawn by its edges.
 */

/** Two edges are this far apart. */
const WIDTH_MM = { from: 15, to: 2000 };
/** Pipes and conduits are no wider than this. */
const WIDEST_ROUND_MM = 700;
/** Two lines on a duct layer without a label are two ducts below this, one duct above. Our own choice. */
const WIDE_DUCT_MM = 200;
/** A label's size and a drawn distance agree within this ratio. */
const SAME_SIZE_RATIO = 0.06;
/** Share of the longer line beside which the other must run. */
const BESIDE_RATIO = 0.7;
/** The distance between two edges may vary by this. */
const EVEN_MM = 3;
const EVEN_RATIO = 0.03;

interface Pair {
  readonly a: number;
  readonly b: number;
  readonly widthMm: number;
  /** 0: a label says so · 1: a centre line · 2: the kind of service. */
  readonly rank: number;
  readonly centre: number | null;
}

/** Chains with those that are the two edges of one service put together as its middle line. */
export function joinEdges(
  chains: readonly ServiceChain[],
  readLabels: () => readonly (readonly Label[])[],
): ServiceChain[] {
  const index = new ChainIndex(chains);
  const beside = chains.map((chain, i) => besideOf(chain, i, chains, index));
  if (beside.every((each) => each.length === 0)) return [...chains];
  const labels = readLabels();
  const pairs = chains.flatMap((_, a) =>
    (beside[a] ?? []).flatMap(({ other: b, widthMm }): Pair[] => {
      if (b <= a) return [];
      const reason = reasonFor(a, b, widthMm, chains, labels, beside);
      return reason === null ? [] : [{ a, b, widthMm, ...reason }];
    }),
  );
  pairs.sort((x, y) => x.rank - y.rank || x.widthMm - y.widthMm || x.a - y.a || x.b - y.b);
  const used = new Set<number>();
  const joined: ServiceChain[] = [];
  for (const pair of pairs) {
    const members = [pair.a, pair.b, ...(pair.centre === null ? [] : [pair.centre])];
    if (members.some((member) => used.has(member))) continue;
    const merged = middleChain(pair, chains);
    if (merged === null) continue;
    for (const member of members) used.add(member);
    joined.push(merged);
  }
  return [...chains.filter((_, i) => !used.has(i)), ...joined];
}

interface Beside {
  readonly other: number;
  readonly widthMm: number;
}

/** Chains of the same kind that run beside this one all along, nearest first. */
function besideOf(
  chain: ServiceChain,
  own: number,
  chains: readonly ServiceChain[],
  index: ChainIndex,
): Beside[] {
  const length = pathLength(chain.path);
  if (length < WIDTH_MM.from) return [];
  const { point } = pathAt(chain.path, length / 2);
  const found: Beside[] = [];
  const kind = kindOf(chain);
  if (kind === 'cable') return [];
  const widest = kind === 'carrier' || kind === 'duct' ? WIDTH_MM.to : WIDEST_ROUND_MM;
  for (const other of index.near(point, widest)) {
    const candidate = chains[other];
    if (other === own || candidate === undefined || kindOf(candidate) !== kind) continue;
    const widthMm = evenDistance(chain.path, candidate.path);
    if (widthMm !== null && widthMm >= WIDTH_MM.from && widthMm <= widest) {
      found.push({ other, widthMm });
    }
  }
  return found.sort((a, b) => a.widthMm - b.widthMm || a.other - b.other);
}

const kindOf = (chain: ServiceChain): string => chain.members[0]?.path.item.kind ?? '';
const layerOf = (chain: ServiceChain): string => chain.members[0]?.path.item.layer ?? '';

/** The distance of two paths where it is even all along, else null. */
function evenDistance(a: PlanePath, b: PlanePath): number | null {
  const shorter = pathLength(a) <= pathLength(b) ? a : b;
  const longer = shorter === a ? b : a;
  if (pathLength(shorter) < BESIDE_RATIO * pathLength(longer)) return null;
  let width: number | null = null;
  for (let i = 0; i + 1 < shorter.points.length; i++) {
    const p = shorter.points[i];
    const q = shorter.points[i + 1];
    if (p === undefined || q === undefined) continue;
    const middle: Vec2 = [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2];
    const near = nearestOnPath(longer, middle);
    const { along } = pathAt(longer, near.s);
    const run: Vec2 = [q[0] - p[0], q[1] - p[1]];
    const size = Math.hypot(run[0], run[1]);
    if (size > 0 && Math.abs(dot2(run, along)) < 0.995 * size) return null;
    const tolerance = Math.max(EVEN_MM, EVEN_RATIO * (width ?? 0));
    if (width !== null && Math.abs(near.distanceMm - width) > tolerance) return null;
    width ??= near.distanceMm;
  }
  return width;
}

function reasonFor(
  a: number,
  b: number,
  widthMm: number,
  chains: readonly ServiceChain[],
  labels: readonly (readonly Label[])[],
  beside: readonly (readonly Beside[])[],
): { readonly rank: number; readonly centre: number | null } | null {
  const both = [...(labels[a] ?? []), ...(labels[b] ?? [])];
  const centre = centreBetween(a, b, widthMm, beside);
  const ofCentre = centre === null ? [] : (labels[centre] ?? []);
  const sized = [...both, ...ofCentre].filter(({ reading }) => reading.sizes.length > 0);
  if (sized.some((label) => givesWidth(label, widthMm))) return { rank: 0, centre };
  const chain = chains[a];
  const other = chains[b];
  if (chain === undefined || other === undefined) return null;
  // Wider than long: the two ends of something, not its edges.
  if (Math.min(pathLength(chain.path), pathLength(other.path)) < widthMm) return null;
  const kind = kindOf(chain);
  if (centre !== null && layerOf(chain) === layerOf(other) && isCentreLine(chains[centre], chain)) {
    return { rank: 1, centre };
  }
  // Two lines with a size each are two services; a count means that each line is one.
  const isCounted = both.some(({ reading }) => (reading.count ?? 1) > 1);
  const hasOwnSizes = hasSize(labels[a]) && hasSize(labels[b]);
  if (isCounted || hasOwnSizes || layerOf(chain) !== layerOf(other)) return null;
  // A third line as near makes three of them.
  const isMutual = beside[a]?.[0]?.other === b && beside[b]?.[0]?.other === a;
  const isLone = [a, b].every(
    (i) => (beside[i]?.[1]?.widthMm ?? Number.POSITIVE_INFINITY) > widthMm * 1.3,
  );
  if (!isMutual || !isLone) return null;
  const isByEdges =
    kind === 'carrier' || (kind === 'duct' && widthMm >= WIDE_DUCT_MM && !isCounted);
  return isByEdges && widthMm >= 40 ? { rank: 2, centre: null } : null;
}

/** A line of another layer or another pattern than the edges on either side of it. */
function isCentreLine(centre: ServiceChain | undefined, edge: ServiceChain): boolean {
  const own = centre?.members[0]?.path.item;
  const beside = edge.members[0]?.path.item;
  if (own === undefined || beside === undefined) return false;
  const pattern = (item: typeof own) => item.entities[0]?.style.linetype ?? '';
  return own.layer !== beside.layer || pattern(own) !== pattern(beside);
}

const hasSize = (labels: readonly Label[] | undefined): boolean =>
  labels?.some(({ reading }) => reading.sizes.length > 0) ?? false;

function givesWidth({ reading }: Label, widthMm: number): boolean {
  if ((reading.count ?? 1) > 1) return false;
  return reading.sizes.some(({ section }) => {
    const size = section.type === 'circle' ? section.diameterMm : section.widthMm;
    return Math.abs(size - widthMm) <= SAME_SIZE_RATIO * widthMm;
  });
}

/** A chain that runs midway between two others. */
function centreBetween(
  a: number,
  b: number,
  widthMm: number,
  beside: readonly (readonly Beside[])[],
): number | null {
  const near = (i: number) =>
    new Set(
      (beside[i] ?? [])
        .filter(
          (each) => Math.abs(each.widthMm - widthMm / 2) <= Math.max(EVEN_MM, EVEN_RATIO * widthMm),
        )
        .map(({ other }) => other),
    );
  const ofB = near(b);
  return [...near(a)].find((other) => ofB.has(other)) ?? null;
}

/** The line midway between two edges, with the items of both. */
function middleChain(pair: Pair, chains: readonly ServiceChain[]): ServiceChain | null {
  const a = chains[pair.a];
  const b = chains[pair.b];
  const centre = pair.centre === null ? undefined : chains[pair.centre];
  if (a === undefined || b === undefined) return null;
  const points = a.path.points.map((point): Vec2 => {
    const { point: across } = nearestOnPath(b.path, point);
    return [(point[0] + across[0]) / 2, (point[1] + across[1]) / 2];
  });
  const path = planePath(points);
  const members = [a, b, ...(centre === undefined ? [] : [centre])].flatMap((chain) =>
    chain.members.map((member) => {
      const start = nearestOnPath(path, pathAt(chain.path, member.s0).point).s;
      const end = nearestOnPath(path, pathAt(chain.path, member.s1).point).s;
      return {
        path: { ...member.path, widthMm: pair.widthMm },
        s0: Math.min(start, end),
        s1: Math.max(start, end),
      };
    }),
  );
  members.sort((x, y) => x.s0 - y.s0 || compareText(x.path.item.id, y.path.item.id));
  return { path, members };
}

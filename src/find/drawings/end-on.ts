import Flatbush from 'flatbush';
import { isInsideOutline } from '../../geometry/plane-project.ts';
import { shapeAreaMm2, shapeExtentMm } from '../../geometry/shape.ts';
import type { PenetrationHost } from '../../model/penetration.ts';
import type { HostFaces } from './host-faces.ts';
import type { Label } from './labels.ts';
import type { PointItem } from './point-items.ts';

/**
 * What is seen end on: holes and services in the face of a wall (elevations, sections) or of a slab
 * (plans). Outlines that lie in one another are one hole with what passes through it.
 */
export interface EndOnHole {
  /** The outline that is the hole, or the service itself where no hole is drawn round it. */
  readonly root: PointItem;
  readonly labels: readonly Label[];
  /** What lies inside the root, largest first. */
  readonly inside: readonly EndOnBody[];
  readonly host: PenetrationHost | null;
  /** Its place in a regular array, from 1, rows from the top; null where it stands alone. */
  readonly place: ArrayPlace | null;
}

export interface EndOnBody {
  readonly point: PointItem;
  readonly labels: readonly Label[];
  /** The body right round this one; null when that is the hole. */
  readonly within: PointItem | null;
}

export interface ArrayPlace {
  readonly row: number;
  readonly column: number;
  /** Row by row, from 1. */
  readonly number: number;
  readonly total: number;
}

/** Holes from outlines; `labels` in the order of `points`. */
export function endOnHoles(
  points: readonly PointItem[],
  labels: readonly (readonly Label[])[],
  hosts: HostFaces,
): EndOnHole[] {
  const parents = parentsOf(points);
  const shared = shareArrayLabels(points, parents, labels);
  const roots = points.flatMap((point, i) => (parents[i] === null ? [{ point, i }] : []));
  const children = new Map<number, number[]>();
  points.forEach((_, i) => {
    for (let up = parents[i] ?? null; up !== null; up = parents[up] ?? null) {
      if ((parents[up] ?? null) !== null) continue;
      const list = children.get(up) ?? [];
      list.push(i);
      children.set(up, list);
    }
  });
  return roots.map(({ point, i }): EndOnHole => {
    const inside = (children.get(i) ?? []).flatMap((child): EndOnBody[] => {
      const body = points[child];
      const parent = parents[child] ?? null;
      if (body === undefined || parent === null) return [];
      return [
        {
          point: body,
          labels: shared.labels[child] ?? [],
          within: parent === i ? null : (points[parent] ?? null),
        },
      ];
    });
    return {
      root: point,
      host: hosts.at(point.centre),
      place: shared.places[i] ?? null,
      ...labelsInside(shared.labels[i] ?? [], inside),
    };
  });
}

/** A label on a frame that names as many as lie in it speaks of them, row by row, not of the frame. */
function labelsInside(
  labels: readonly Label[],
  inside: readonly EndOnBody[],
): Pick<EndOnHole, 'labels' | 'inside'> {
  const plural = inside.length > 1 ? labels.filter((label) => isForAll(label, inside.length)) : [];
  if (plural.length === 0) return { labels, inside };
  const places = rowByRow(
    inside.map((_, i) => i),
    inside.map(({ point }) => point),
  );
  const order = new Map(places.map(({ at }, k) => [at, k]));
  return {
    labels: labels.filter((label) => !plural.includes(label)),
    inside: inside.map((body, i) => ({
      ...body,
      labels: [
        ...body.labels,
        ...plural.map((label) => oneOf(label, order.get(i) ?? i, inside.length)),
      ],
    })),
  };
}

/** For each outline the smallest other that holds it. */
function parentsOf(points: readonly PointItem[]): (number | null)[] {
  if (points.length === 0) return [];
  const index = new Flatbush(points.length);
  for (const { box } of points) index.add(...box);
  index.finish();
  return points.map((point, i) => {
    const [x, y] = point.centre;
    let best: number | null = null;
    let bestArea = Number.POSITIVE_INFINITY;
    for (const at of index.search(x, y, x, y)) {
      const other = points[at];
      if (at === i || other === undefined || other.shape === null) continue;
      const area = shapeAreaMm2(other.shape);
      const isSmaller = area < bestArea || (area === bestArea && best !== null && at < best);
      if (isSmaller && holds(other, point, at, i)) {
        best = at;
        bestArea = area;
      }
    }
    return best;
  });
}

/** Rounding of drawn outlines. */
const EDGE_MM = 1;

function holds(outer: PointItem, inner: PointItem, outerAt: number, innerAt: number): boolean {
  const [x0, y0, x1, y1] = outer.box;
  const [a0, b0, a1, b1] = inner.box;
  const isInBox =
    a0 >= x0 - EDGE_MM && b0 >= y0 - EDGE_MM && a1 <= x1 + EDGE_MM && b1 <= y1 + EDGE_MM;
  if (!isInBox || !isInsideOutline(inner.centre, outer.outline)) return false;
  const areaOut = outer.shape === null ? 0 : shapeAreaMm2(outer.shape);
  const areaIn = inner.shape === null ? 0 : shapeAreaMm2(inner.shape);
  // The same outline drawn twice: the first holds the second.
  return areaOut > areaIn * 1.001 || (areaOut >= areaIn * 0.999 && outerAt < innerAt);
}

/** Members of an array lie no farther apart than this many times their size. */
const ARRAY_PITCH = 4;
/** Where a label says how many there are, they may lie so much farther apart. Our choice. */
const WIDE_PITCH = 12;
const SAME_SIZE_RATIO = 0.03;

/**
 * Equal outlines near each other are an array. A label on one of them that names as many as there
 * are belongs to all: sizes to each, a list of references one each, row by row from the top left.
 */
function shareArrayLabels(
  points: readonly PointItem[],
  parents: readonly (number | null)[],
  labels: readonly (readonly Label[])[],
): {
  readonly labels: readonly (readonly Label[])[];
  readonly places: readonly (ArrayPlace | null)[];
} {
  const shared: (readonly Label[])[] = points.map((_, i) => labels[i] ?? []);
  const places: (ArrayPlace | null)[] = points.map(() => null);
  for (const members of namedArrays(points, parents, labels)) {
    const ordered = rowByRow(members, points);
    ordered.forEach(({ at, row, column }, k) => {
      places[at] = { row, column, number: k + 1, total: ordered.length };
    });
    const plural = ordered
      .flatMap(({ at }) => labels[at] ?? [])
      .filter((label) => isForAll(label, ordered.length));
    if (plural.length === 0) continue;
    ordered.forEach(({ at }, k) => {
      const own = (labels[at] ?? []).filter((label) => !plural.includes(label));
      shared[at] = [...own, ...plural.map((label) => oneOf(label, k, ordered.length))];
    });
  }
  return { labels: shared, places };
}

/** Arrays of close members, and wider ones where a label names just as many as there are. */
function namedArrays(
  points: readonly PointItem[],
  parents: readonly (number | null)[],
  labels: readonly (readonly Label[])[],
): readonly (readonly number[])[] {
  const close = arraysOf(points, parents, ARRAY_PITCH);
  const taken = new Set(close.flat());
  const isPlural = ({ reading }: Label) =>
    (reading.count ?? 0) > 1 || reading.references.length > 1;
  const hasPlural = labels.some((each, at) => !taken.has(at) && each.some(isPlural));
  const wide = hasPlural ? arraysOf(points, parents, WIDE_PITCH) : [];
  const named = wide.filter(
    (members) =>
      members.every((at) => !taken.has(at)) &&
      members.some((at) => (labels[at] ?? []).some((label) => isForAll(label, members.length))),
  );
  return [...close, ...named];
}

const isForAll = ({ reading }: Label, total: number): boolean =>
  reading.count === total || reading.references.length === total;

/** The part of a label that belongs to one member of an array. */
function oneOf(label: Label, place: number, total: number): Label {
  const { reading } = label;
  return {
    ...label,
    reading: {
      ...reading,
      count: null,
      references:
        reading.references.length === total
          ? reading.references.slice(place, place + 1)
          : reading.references,
    },
  };
}

function arraysOf(
  points: readonly PointItem[],
  parents: readonly (number | null)[],
  pitch: number,
): number[][] {
  const round = points.flatMap((point, i) => (point.shape === null ? [] : [i]));
  if (round.length < 2) return [];
  const index = new Flatbush(round.length);
  for (const i of round) index.add(...(points[i]?.box ?? [0, 0, 0, 0]));
  index.finish();
  const seen = new Set<number>();
  const arrays: number[][] = [];
  for (const start of round) {
    if (seen.has(start)) continue;
    const members = [start];
    seen.add(start);
    const waiting = [start];
    for (let at = waiting.pop(); at !== undefined; at = waiting.pop()) {
      const point = points[at];
      if (point === undefined) continue;
      const reach = (pitch - 1) * sizeOf(point);
      const [x0, y0, x1, y1] = point.box;
      for (const found of index.search(x0 - reach, y0 - reach, x1 + reach, y1 + reach)) {
        const other = round[found];
        const candidate = other === undefined ? undefined : points[other];
        if (other === undefined || candidate === undefined || seen.has(other)) continue;
        if ((parents[other] ?? null) !== (parents[at] ?? null) || !isAlike(point, candidate))
          continue;
        seen.add(other);
        members.push(other);
        waiting.push(other);
      }
    }
    if (members.length > 1) arrays.push(members.sort((a, b) => a - b));
  }
  return arrays;
}

function sizeOf({ shape }: PointItem): number {
  if (shape === null) return 0;
  const { widthMm, heightMm } = shapeExtentMm(shape);
  return Math.max(widthMm, heightMm);
}

function isAlike(a: PointItem, b: PointItem): boolean {
  if (a.kind !== b.kind || a.shape?.type !== b.shape?.type) return false;
  const [x, y] = [sizeOf(a), sizeOf(b)];
  return Math.abs(x - y) <= SAME_SIZE_RATIO * Math.max(x, y);
}

/** Rows from the top, columns from the left. */
function rowByRow(
  members: readonly number[],
  points: readonly PointItem[],
): { readonly at: number; readonly row: number; readonly column: number }[] {
  const placed = members.flatMap((at) => {
    const point = points[at];
    return point === undefined
      ? []
      : [{ at, x: point.centre[0], y: point.centre[1], size: sizeOf(point) }];
  });
  placed.sort((a, b) => b.y - a.y || a.x - b.x || a.at - b.at);
  const rows: (typeof placed)[] = [];
  for (const each of placed) {
    const row = rows[rows.length - 1];
    const top = row?.[0];
    // Half a size lower is the next row.
    if (row !== undefined && top !== undefined && top.y - each.y < each.size / 2) row.push(each);
    else rows.push([each]);
  }
  return rows.flatMap((row, r) =>
    row
      .sort((a, b) => a.x - b.x || a.at - b.at)
      .map(({ at }, c) => ({ at, row: r + 1, column: c + 1 })),
  );
}

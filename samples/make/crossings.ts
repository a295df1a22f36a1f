import type { HostDim, PieceDim, RunDim, V2, V3 } from '../dimensions/types.ts';

/**
 * Where the straight axes of the dimensions lie inside the hosts of the dimensions, by plain
 * clipping against convex outlines and rings. It shares nothing with the product, so that it can
 * speak for the truth.
 */
export interface AxisInHost {
  readonly host: HostDim;
  /** Pieces whose axis lies inside, in order. */
  readonly pieces: readonly PieceDim[];
  readonly kind: 'through' | 'endsInside' | 'within';
  readonly entry: V3;
  readonly exit: V3;
}

/** A stretch of a run without a break: its points, and the pieces between them. */
interface Chain {
  readonly points: readonly V3[];
  /** One a stretch between two points. */
  readonly owners: readonly PieceDim[];
}

/** All stays of a run inside hosts. */
export function axisInHosts(run: RunDim, hosts: readonly HostDim[]): readonly AxisInHost[] {
  if (run.withoutBody === true) return [];
  return chainsOf(run).flatMap((chain) => hosts.flatMap((host) => staysOf(chain, host)));
}

function chainsOf(run: RunDim): readonly Chain[] {
  const chains: { points: V3[]; owners: PieceDim[] }[] = [];
  for (const piece of run.pieces) {
    const path = [piece.from, ...(piece.via ?? []), piece.to];
    const last = chains.at(-1);
    const end = last?.points.at(-1);
    if (last !== undefined && end !== undefined && distance(end, piece.from) < 1e-6) {
      last.points.push(...path.slice(1));
      last.owners.push(...path.slice(1).map(() => piece));
    } else {
      chains.push({ points: [...path], owners: path.slice(1).map(() => piece) });
    }
  }
  return chains;
}

function staysOf(chain: Chain, host: HostDim): readonly AxisInHost[] {
  const parts = chain.owners.flatMap((piece, index) => {
    const from = chain.points[index];
    const to = chain.points[index + 1];
    if (from === undefined || to === undefined) return [];
    return insideParts(from, to, host).map(([a, b]) => ({
      piece,
      entry: between(from, to, a),
      exit: between(from, to, b),
      startsInside: a <= 1e-9,
      endsInside: b >= 1 - 1e-9,
    }));
  });
  const stays: (typeof parts)[] = [];
  for (const part of parts) {
    const last = stays.at(-1)?.at(-1);
    if (last !== undefined && distance(last.exit, part.entry) < 1e-6) stays.at(-1)?.push(part);
    else stays.push([part]);
  }
  return stays.flatMap((stay): readonly AxisInHost[] => {
    const [first] = stay;
    const last = stay.at(-1);
    if (first === undefined || last === undefined) return [];
    const opensInside =
      first.startsInside && distance(first.entry, chain.points[0] ?? first.exit) < 1e-6;
    const closesInside =
      last.endsInside && distance(last.exit, chain.points.at(-1) ?? last.entry) < 1e-6;
    return [
      {
        host,
        pieces: [...new Set(stay.map((part) => part.piece))],
        kind:
          opensInside && closesInside
            ? 'within'
            : opensInside || closesInside
              ? 'endsInside'
              : 'through',
        entry: first.entry,
        exit: last.exit,
      },
    ];
  });
}

/** Parameters 0–1 between which a straight line lies inside a host. */
function insideParts(from: V3, to: V3, host: HostDim): readonly (readonly [number, number])[] {
  const height = clip(from[2], to[2], host.baseMm, host.baseMm + host.heightMm);
  if (height === null) return [];
  if (host.form !== 'ring') {
    const flat = clipConvex(from, to, outline(host));
    return flat === null ? [] : overlap(height, flat);
  }
  const outer = clipCircle(from, to, host.centre, host.outerRadiusMm);
  if (outer === null) return [];
  const inner = clipCircle(from, to, host.centre, host.outerRadiusMm - host.thicknessMm);
  const rings: readonly (readonly [number, number])[] =
    inner === null
      ? [outer]
      : [
          [outer[0], inner[0]],
          [inner[1], outer[1]],
        ];
  return rings.flatMap((ring) => overlap(height, ring));
}

function overlap(
  a: readonly [number, number],
  b: readonly [number, number],
): readonly (readonly [number, number])[] {
  const from = Math.max(a[0], b[0], 0);
  const to = Math.min(a[1], b[1], 1);
  return to - from > 1e-9 ? [[from, to]] : [];
}

function clip(a: number, b: number, low: number, high: number): readonly [number, number] | null {
  if (Math.abs(b - a) < 1e-9) return a > low && a < high ? [0, 1] : null;
  const t1 = (low - a) / (b - a);
  const t2 = (high - a) / (b - a);
  return [Math.min(t1, t2), Math.max(t1, t2)];
}

/** Outline of a straight wall or slab in plan, anticlockwise. */
function outline(host: Exclude<HostDim, { readonly form: 'ring' }>): readonly V2[] {
  if (host.form === 'slab') {
    return [
      [host.x[0], host.y[0]],
      [host.x[1], host.y[0]],
      [host.x[1], host.y[1]],
      [host.x[0], host.y[1]],
    ];
  }
  if (host.footprint !== undefined) return host.footprint;
  const length = Math.hypot(host.to[0] - host.from[0], host.to[1] - host.from[1]);
  const nx = (-(host.to[1] - host.from[1]) / length) * (host.thicknessMm / 2);
  const ny = ((host.to[0] - host.from[0]) / length) * (host.thicknessMm / 2);
  return [
    [host.from[0] - nx, host.from[1] - ny],
    [host.to[0] - nx, host.to[1] - ny],
    [host.to[0] + nx, host.to[1] + ny],
    [host.from[0] + nx, host.from[1] + ny],
  ];
}

function clipConvex(from: V3, to: V3, corners: readonly V2[]): readonly [number, number] | null {
  let low = Number.NEGATIVE_INFINITY;
  let high = Number.POSITIVE_INFINITY;
  for (const [index, corner] of corners.entries()) {
    const next = corners[(index + 1) % corners.length];
    if (next === undefined) continue;
    const ex = next[0] - corner[0];
    const ey = next[1] - corner[1];
    // Positive on the inside of an anticlockwise outline.
    const a = ex * (from[1] - corner[1]) - ey * (from[0] - corner[0]);
    const b = ex * (to[1] - corner[1]) - ey * (to[0] - corner[0]);
    if (Math.abs(b - a) < 1e-6) {
      if (a <= 1e-6) return null;
      continue;
    }
    const t = a / (a - b);
    if (b > a) low = Math.max(low, t);
    else high = Math.min(high, t);
  }
  return high - low > 1e-9 ? [low, high] : null;
}

function clipCircle(
  from: V3,
  to: V3,
  centre: V2,
  radius: number,
): readonly [number, number] | null {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  const [fx, fy] = [from[0] - centre[0], from[1] - centre[1]];
  const a = dx * dx + dy * dy;
  if (a < 1e-9) return Math.hypot(fx, fy) < radius ? [0, 1] : null;
  const b = 2 * (fx * dx + fy * dy);
  const c = fx * fx + fy * fy - radius * radius;
  const root = b * b - 4 * a * c;
  if (root <= 0) return null;
  return [(-b - Math.sqrt(root)) / (2 * a), (-b + Math.sqrt(root)) / (2 * a)];
}

/** Shortest distance from a point to a host, 0 inside, mm. */
export function distanceToHost(point: V3, host: HostDim): number {
  const dz = Math.max(host.baseMm - point[2], point[2] - host.baseMm - host.heightMm, 0);
  if (host.form === 'ring') {
    const r = Math.hypot(point[0] - host.centre[0], point[1] - host.centre[1]);
    const flat = Math.max(r - host.outerRadiusMm, host.outerRadiusMm - host.thicknessMm - r, 0);
    return Math.hypot(flat, dz);
  }
  const corners = outline(host);
  let isInside = true;
  let nearest = Number.POSITIVE_INFINITY;
  for (const [index, a] of corners.entries()) {
    const b = corners[(index + 1) % corners.length];
    if (b === undefined) continue;
    const [ex, ey] = [b[0] - a[0], b[1] - a[1]];
    if (ex * (point[1] - a[1]) - ey * (point[0] - a[0]) < 0) isInside = false;
    const t = ((point[0] - a[0]) * ex + (point[1] - a[1]) * ey) / (ex * ex + ey * ey);
    const s = Math.min(1, Math.max(0, t));
    nearest = Math.min(nearest, Math.hypot(point[0] - a[0] - s * ex, point[1] - a[1] - s * ey));
  }
  return Math.hypot(isInside ? 0 : nearest, dz);
}

function distance(a: V3, b: V3): number {
  return Math.hypot(b[0] - a[0], b[1] - a[1], b[2] - a[2]);
}

export function between(from: V3, to: V3, share: number): V3 {
  return [
    from[0] + (to[0] - from[0]) * share,
    from[1] + (to[1] - from[1]) * share,
    from[2] + (to[2] - from[2]) * share,
  ];
}

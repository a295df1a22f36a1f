import Flatbush from 'flatbush';
import { type Band, bandPoint, bandThicknessMm } from './band.ts';
import type { PlaneBox } from './plane-box.ts';
import { distance2, dot2, length2, scale2, sub2, type Vec2 } from './vec.ts';

/** Where a path lies inside one band, as distances along the path. */
export interface Inside {
  readonly band: number;
  readonly s0: number;
  readonly s1: number;
  /** How it comes in and goes out: by a face, by an end of the band, or it begins or ends inside. */
  readonly in: Boundary;
  readonly out: Boundary;
}

export type Boundary = 'low' | 'high' | 'end' | 'inside';

/** A path through points, with the distance along it of each. */
export interface PlanePath {
  readonly points: readonly Vec2[];
  readonly distances: readonly number[];
}

export function planePath(points: readonly Vec2[]): PlanePath {
  const distances: number[] = [];
  let total = 0;
  points.forEach((point, i) => {
    const before = points[i - 1];
    if (before !== undefined) total += distance2(before, point);
    distances.push(total);
  });
  return { points, distances };
}

export const pathLength = (path: PlanePath): number => path.distances.at(-1) ?? 0;

/** The point at a distance along a path, and the direction in which it runs there. */
export function pathAt(path: PlanePath, s: number): { readonly point: Vec2; readonly along: Vec2 } {
  const { points, distances } = path;
  let low = 0;
  let high = Math.max(0, points.length - 2);
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((distances[middle] ?? 0) <= s) low = middle;
    else high = middle - 1;
  }
  const a = points[low] ?? [0, 0];
  const b = points[low + 1] ?? a;
  const length = distance2(a, b);
  const along: Vec2 = length > 0 ? scale2(sub2(b, a), 1 / length) : [1, 0];
  const rest = Math.min(length, Math.max(0, s - (distances[low] ?? 0)));
  return { point: [a[0] + along[0] * rest, a[1] + along[1] * rest], along };
}

/** A drawn face may lie this far off the one that was found. */
const FACE_MM = 1;

/** Finds bands near a segment. */
export class BandIndex {
  readonly bands: readonly Band[];
  private readonly index: Flatbush | null;

  constructor(bands: readonly Band[]) {
    this.bands = bands;
    this.index = bands.length === 0 ? null : new Flatbush(bands.length);
    for (const band of bands) this.index?.add(...bandBox(band));
    this.index?.finish();
  }

  search(x0: number, y0: number, x1: number, y1: number): number[] {
    return this.index?.search(x0, y0, x1, y1).sort((a, b) => a - b) ?? [];
  }

  /** Whether a place lies in a band or on its face. */
  holds([x, y]: Vec2): boolean {
    return this.search(x - FACE_MM, y - FACE_MM, x + FACE_MM, y + FACE_MM).some((at) => {
      const band = this.bands[at];
      if (band === undefined) return false;
      const { u, v } = bandCoordinates(band, [x, y]);
      return u >= band.u0 && u <= band.u1 && v >= band.v0 - FACE_MM && v <= band.v1 + FACE_MM;
    });
  }
}

/** Box round a band, that round its whole circle for a curved one. */
export function bandBox(band: Band): PlaneBox {
  if (band.type === 'curved') {
    const [x, y] = band.centre;
    return [x - band.v1, y - band.v1, x + band.v1, y + band.v1];
  }
  const corners = [
    bandPoint(band, band.u0, band.v0),
    bandPoint(band, band.u1, band.v0),
    bandPoint(band, band.u0, band.v1),
    bandPoint(band, band.u1, band.v1),
  ];
  const xs = corners.map(([x]) => x);
  const ys = corners.map(([, y]) => y);
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
}

/** How near a face an end must lie to count as on it: below what anyone draws on purpose. */
const ON_FACE_MM = 2;
/** Stretches shorter than this are a touch. */
const TOUCH_MM = 0.5;

/** All stretches of a path inside bands, in order along the path. */
export function insideStretches(path: PlanePath, index: BandIndex): Inside[] {
  const pieces: { band: number; s0: number; s1: number }[] = [];
  for (let i = 0; i + 1 < path.points.length; i++) {
    const a = path.points[i];
    const b = path.points[i + 1];
    if (a === undefined || b === undefined) continue;
    const near = index.search(
      Math.min(a[0], b[0]),
      Math.min(a[1], b[1]),
      Math.max(a[0], b[0]),
      Math.max(a[1], b[1]),
    );
    const start = path.distances[i] ?? 0;
    const length = distance2(a, b);
    for (const at of near) {
      const band = index.bands[at];
      if (band === undefined) continue;
      for (const [t0, t1] of clipToBand(band, a, b)) {
        pieces.push({ band: at, s0: start + t0 * length, s1: start + t1 * length });
      }
    }
  }
  return joinPieces(pieces).map(({ band, s0, s1 }) => ({
    band,
    s0,
    s1,
    in: boundaryAt(index.bands[band], pathAt(path, s0).point),
    out: boundaryAt(index.bands[band], pathAt(path, s1).point),
  }));
}

interface Piece {
  readonly band: number;
  s0: number;
  s1: number;
}

function joinPieces(pieces: readonly Piece[]): Piece[] {
  const sorted = [...pieces].sort((a, b) => a.band - b.band || a.s0 - b.s0);
  const joined: Piece[] = [];
  for (const piece of sorted) {
    const last = joined[joined.length - 1];
    if (last !== undefined && last.band === piece.band && piece.s0 - last.s1 < TOUCH_MM) {
      last.s1 = Math.max(last.s1, piece.s1);
    } else joined.push({ ...piece });
  }
  return joined
    .filter(({ s0, s1 }) => s1 - s0 > TOUCH_MM)
    .sort((a, b) => a.s0 - b.s0 || a.s1 - b.s1 || a.band - b.band);
}

/** Own coordinates of a point in a band. */
export function bandCoordinates(
  band: Band,
  point: Vec2,
): { readonly u: number; readonly v: number } {
  if (band.type === 'curved') {
    const [x, y] = sub2(point, band.centre);
    const angle = Math.atan2(y, x);
    return { u: angle < 0 ? angle + 2 * Math.PI : angle, v: Math.hypot(x, y) };
  }
  const [x, y] = sub2(point, band.origin);
  const [dx, dy] = band.direction;
  return { u: x * dx + y * dy, v: y * dx - x * dy };
}

function boundaryAt(band: Band | undefined, point: Vec2): Boundary {
  if (band === undefined) return 'inside';
  const { u, v } = bandCoordinates(band, point);
  if (Math.abs(v - band.v0) <= ON_FACE_MM) return 'low';
  if (Math.abs(v - band.v1) <= ON_FACE_MM) return 'high';
  const scale = band.type === 'curved' ? band.v1 : 1;
  const toEnd = Math.min(Math.abs(u - band.u0), Math.abs(u - band.u1)) * scale;
  return toEnd <= ON_FACE_MM ? 'end' : 'inside';
}

/** Unit vector out of the band at a point of one of its faces. */
function outwardNormal(band: Band, point: Vec2, face: 'low' | 'high'): Vec2 {
  const side = face === 'high' ? 1 : -1;
  if (band.type === 'straight') {
    return [-band.direction[1] * side, band.direction[0] * side];
  }
  const radial = sub2(point, band.centre);
  return scale2(radial, side / Math.max(length2(radial), 1e-9));
}

/** Parts of a segment inside a band, as ratios along it. */
function clipToBand(band: Band, a: Vec2, b: Vec2): [number, number][] {
  return band.type === 'straight' ? clipToStraight(band, a, b) : clipToCurved(band, a, b);
}

function clipToStraight(band: Band, a: Vec2, b: Vec2): [number, number][] {
  const from = bandCoordinates(band, a);
  const to = bandCoordinates(band, b);
  let t0 = 0;
  let t1 = 1;
  for (const [start, end, low, high] of [
    [from.u, to.u, band.u0, band.u1],
    [from.v, to.v, band.v0, band.v1],
  ] as const) {
    const delta = end - start;
    if (Math.abs(delta) < 1e-12) {
      if (start < low || start > high) return [];
      continue;
    }
    const at = [(low - start) / delta, (high - start) / delta];
    t0 = Math.max(t0, Math.min(at[0] ?? 0, at[1] ?? 0));
    t1 = Math.min(t1, Math.max(at[0] ?? 0, at[1] ?? 0));
  }
  return t1 > t0 ? [[t0, t1]] : [];
}

function clipToCurved(band: Band, a: Vec2, b: Vec2): [number, number][] {
  if (band.type !== 'curved') return [];
  const cuts = [0, 1];
  for (const radius of [band.v0, band.v1]) cuts.push(...circleCuts(band.centre, radius, a, b));
  for (const angle of [band.u0, band.u1]) cuts.push(...rayCuts(band.centre, angle, a, b));
  cuts.sort((x, y) => x - y);
  const parts: [number, number][] = [];
  for (let i = 0; i + 1 < cuts.length; i++) {
    const t0 = cuts[i] ?? 0;
    const t1 = cuts[i + 1] ?? 0;
    if (t1 - t0 < 1e-9) continue;
    const middle = (t0 + t1) / 2;
    const point: Vec2 = [a[0] + (b[0] - a[0]) * middle, a[1] + (b[1] - a[1]) * middle];
    const { u, v } = bandCoordinates(band, point);
    const last = parts[parts.length - 1];
    if (v < band.v0 || v > band.v1 || u < band.u0 || u > band.u1) continue;
    if (last !== undefined && t0 - last[1] < 1e-9) last[1] = t1;
    else parts.push([t0, t1]);
  }
  return parts;
}

function circleCuts(centre: Vec2, radius: number, a: Vec2, b: Vec2): number[] {
  const d = sub2(b, a);
  const f = sub2(a, centre);
  const qa = dot2(d, d);
  const qb = 2 * dot2(f, d);
  const qc = dot2(f, f) - radius * radius;
  const discriminant = qb * qb - 4 * qa * qc;
  if (qa < 1e-18 || discriminant <= 0) return [];
  const root = Math.sqrt(discriminant);
  return [(-qb - root) / (2 * qa), (-qb + root) / (2 * qa)].filter((t) => t > 0 && t < 1);
}

function rayCuts(centre: Vec2, angle: number, a: Vec2, b: Vec2): number[] {
  const normal: Vec2 = [-Math.sin(angle), Math.cos(angle)];
  const da = dot2(sub2(a, centre), normal);
  const db = dot2(sub2(b, centre), normal);
  if (da === db) return [];
  const t = da / (da - db);
  return t > 0 && t < 1 ? [t] : [];
}

/** Stretches that belong to one assembly: leaves that touch or lie near each other. */
export interface Passage {
  readonly stretches: readonly Inside[];
  readonly outcome: 'through' | 'endsInside' | 'within' | 'edge' | 'sameFace';
  readonly s0: number;
  readonly s1: number;
  /** Across the assembly, air gaps included; only for what goes through. */
  readonly thicknessMm: number;
  /** Between the path's chord and the normal of the face it comes in by. */
  readonly skewRad: number;
  /** Unit vector through the assembly, from entry to exit, square to the entry face. */
  readonly axis: Vec2;
}

/** Groups the stretches of a path into passages through wall assemblies. */
export function passages(
  path: PlanePath,
  stretches: readonly Inside[],
  bands: readonly Band[],
  leafGapMm: number,
): Passage[] {
  const groups: Inside[][] = [];
  for (const stretch of stretches) {
    const group = groups[groups.length - 1];
    const last = group?.reduce((latest, each) => (each.s1 > latest.s1 ? each : latest));
    if (
      group !== undefined &&
      last !== undefined &&
      isSameAssembly(path, last, stretch, bands, leafGapMm)
    ) {
      group.push(stretch);
    } else groups.push([stretch]);
  }
  return groups.map((group) => passageOf(path, group, bands));
}

function isSameAssembly(
  path: PlanePath,
  before: Inside,
  after: Inside,
  bands: readonly Band[],
  leafGapMm: number,
): boolean {
  const gap = after.s0 - before.s1;
  if (gap <= 1) return true;
  const first = bands[before.band];
  const second = bands[after.band];
  if (first === undefined || second === undefined) return false;
  if (before.out === 'end' || after.in === 'end' || before.out === 'inside') return false;
  const out = pathAt(path, before.s1).point;
  const back = pathAt(path, after.s0).point;
  const normalOut = outwardNormal(first, out, before.out === 'high' ? 'high' : 'low');
  const normalIn = outwardNormal(second, back, after.in === 'high' ? 'high' : 'low');
  const areParallel = dot2(normalOut, normalIn) < -0.98;
  return areParallel && Math.abs(dot2(sub2(back, out), normalOut)) <= leafGapMm + 0.5;
}

/** Length over which a path that begins and ends in a wall is inside it rather than a stub across. */
function passageOf(path: PlanePath, stretches: readonly Inside[], bands: readonly Band[]): Passage {
  const first = stretches[0];
  const last = stretches.reduce(
    (latest, each) => (each.s1 > latest.s1 ? each : latest),
    stretches[0] as Inside,
  );
  const none = { s0: 0, s1: 0, thicknessMm: 0, skewRad: 0, axis: [1, 0] as Vec2 };
  if (first === undefined) return { stretches, outcome: 'within', ...none };
  const s0 = first.s0;
  const s1 = last.s1;
  const fail = (outcome: Passage['outcome']): Passage => ({ ...none, stretches, outcome, s0, s1 });
  if (first.in === 'inside' && last.out === 'inside') return fail('within');
  if (first.in === 'inside' || last.out === 'inside') return fail('endsInside');
  if (first.in === 'end' || last.out === 'end') return fail('edge');
  const bandIn = bands[first.band];
  const bandOut = bands[last.band];
  if (bandIn === undefined || bandOut === undefined) return fail('within');
  const entry = pathAt(path, s0).point;
  const exit = pathAt(path, s1).point;
  const normalIn = outwardNormal(bandIn, entry, first.in);
  const normalOut = outwardNormal(bandOut, exit, last.out);
  const across = dot2(normalIn, normalOut);
  // Along the face of a wall the path is on both faces' sides of nothing: it never went across.
  if (across > 0.5) return fail('sameFace');
  if (across > -0.5) return fail('edge');
  const chord = sub2(exit, entry);
  const isOneCurve =
    bandIn.type === 'curved' && bandOut.type === 'curved' && bandIn.centre === bandOut.centre;
  const thicknessMm =
    bandIn === bandOut
      ? bandThicknessMm(bandIn)
      : isOneCurve
        ? Math.abs(bandCoordinates(bandOut, exit).v - bandCoordinates(bandIn, entry).v)
        : Math.abs(dot2(chord, normalIn));
  const axis: Vec2 = [-normalIn[0], -normalIn[1]];
  const length = length2(chord);
  const cosine = length > 0 ? Math.min(1, Math.abs(dot2(chord, axis)) / length) : 1;
  return { stretches, outcome: 'through', s0, s1, thicknessMm, skewRad: Math.acos(cosine), axis };
}

import type Flatbush from 'flatbush';
import type { Band, BandInput } from './band.ts';
import { curveBands } from './plane-curve-band.ts';
import { PointGrid } from './plane-grid.ts';
import {
  type FilledGap,
  filledGaps,
  type GapLimits,
  type RailPiece,
  type Side,
} from './plane-rails.ts';
import { indexSegments } from './segment-index.ts';
import { dot2, length2, scale2, sub2, type Vec2 } from './vec.ts';

/** Two lines count as parallel up to this angle: a tenth of a degree more than drawing noise. */
const PARALLEL_RAD = (0.3 * Math.PI) / 180;
const SAME_POINT_MM = 2;

/** All bands of a set of lines and arcs. */
export function findBands(inputs: readonly BandInput[], limits: GapLimits): Band[] {
  const known = withCaps(drawnOnce(inputs), limits);
  const curves = curveBands(known, limits);
  return [...straightBands(curves.rest, limits), ...curvedBands(known, limits), ...curves.bands];
}

/** Of lines and arcs drawn again exactly on one another with the same sides, the first source's. */
function drawnOnce(inputs: readonly BandInput[]): BandInput[] {
  const first = new Map<string, BandInput>();
  for (const input of inputs) {
    const key = placeKey(input);
    const known = first.get(key);
    if (known === undefined || input.source < known.source) first.set(key, input);
  }
  return first.size === inputs.length ? [...inputs] : [...first.values()];
}

/** The same for a line drawn from either end. */
function placeKey({ piece, left, right, isChord = false }: BandInput): string {
  if (piece.type === 'arc') {
    const { centre, radiusMm, startRad, sweepRad } = piece;
    return [...centre, radiusMm, startRad, sweepRad, left, right, isChord].join();
  }
  const { from, to } = piece;
  const isForwards = from[0] < to[0] || (from[0] === to[0] && from[1] <= to[1]);
  const ends = isForwards ? [...from, ...to, left, right] : [...to, ...from, right, left];
  return [...ends, isChord].join();
}

interface Straight {
  readonly input: BandInput;
  readonly from: Vec2;
  readonly to: Vec2;
  readonly length: number;
  /** Direction in [0, π). */
  readonly angle: number;
}

function straights(inputs: readonly BandInput[]): Straight[] {
  const found: Straight[] = [];
  for (const input of inputs) {
    if (input.piece.type !== 'line') continue;
    const { from, to } = input.piece;
    const along = sub2(to, from);
    const length = length2(along);
    if (length < 1) continue;
    const angle = Math.atan2(along[1], along[0]);
    found.push({ input, from, to, length, angle: angle < 0 ? angle + Math.PI : angle % Math.PI });
  }
  return found;
}

/** Smallest angle between two directions in [0, π). */
function angleBetween(a: number, b: number): number {
  const difference = Math.abs(a - b);
  return Math.min(difference, Math.PI - difference);
}

/**
 * A short line that joins the ends of two parallel ones is the end of a wall: its material is on
 * the side on which they run on, and the other side is free.
 */
function withCaps(inputs: readonly BandInput[], limits: GapLimits): BandInput[] {
  const lines = straights(inputs);
  const ends = new PointGrid<{ readonly line: Straight; readonly away: Vec2 }>(SAME_POINT_MM);
  for (const line of lines) {
    const unit = scale2(sub2(line.to, line.from), 1 / line.length);
    ends.add(line.from, { line, away: unit });
    ends.add(line.to, { line, away: scale2(unit, -1) });
  }
  const sides = new Map<BandInput, { left: Side; right: Side }>();
  for (const cap of lines) {
    const { input } = cap;
    if (cap.length > limits.thickest || input.left !== 'unknown' || input.right !== 'unknown') {
      continue;
    }
    const unit = scale2(sub2(cap.to, cap.from), 1 / cap.length);
    const normal: Vec2 = [-unit[1], unit[0]];
    const sideOf = (place: Vec2): number[] =>
      ends
        .near(place)
        .filter(({ line, away }) => line !== cap && Math.abs(dot2(away, unit)) < 0.1)
        .map(({ away }) => Math.sign(dot2(away, normal)));
    const atFrom = sideOf(cap.from);
    const atTo = sideOf(cap.to);
    const isLeft = atFrom.includes(1) && atTo.includes(1);
    const isRight = atFrom.includes(-1) && atTo.includes(-1);
    if (isLeft !== isRight) {
      sides.set(
        input,
        isLeft ? { left: 'filled', right: 'empty' } : { left: 'empty', right: 'filled' },
      );
    }
  }
  return inputs.map((input) => ({ ...input, ...sides.get(input) }));
}

function straightBands(inputs: readonly BandInput[], limits: GapLimits): Band[] {
  const lines = straights(inputs);
  return componentsOf(lines, limits).flatMap((members) => bandsOfComponent(members, limits));
}

/** Lines that run beside each other, near enough to be one wall, with their neighbours' neighbours. */
function componentsOf(lines: readonly Straight[], limits: GapLimits): Straight[][] {
  if (lines.length === 0) return [];
  const index = indexSegments(lines);
  const parents = lines.map((_, i) => i);
  lines.forEach((line, i) => {
    for (const j of neighboursOf(line, i, lines, index, limits)) join(parents, i, j);
  });
  const groups = new Map<number, Straight[]>();
  lines.forEach((line, i) => {
    const root = rootOf(parents, i);
    const group = groups.get(root);
    if (group === undefined) groups.set(root, [line]);
    else group.push(line);
  });
  return [...groups.values()].filter((group) => group.length > 1);
}

/** Long slanting lines have large boxes: they are searched in pieces of this length. */
const SEARCH_STEP_MM = 4000;

function neighboursOf(
  line: Straight,
  own: number,
  lines: readonly Straight[],
  index: Flatbush,
  limits: GapLimits,
): Set<number> {
  const near = new Set<number>();
  const isAxisParallel =
    angleBetween(line.angle, 0) < 0.01 || angleBetween(line.angle, Math.PI / 2) < 0.01;
  const steps = isAxisParallel ? 1 : Math.min(256, Math.ceil(line.length / SEARCH_STEP_MM));
  const [dx, dy] = sub2(line.to, line.from);
  for (let step = 0; step < steps; step++) {
    const a: Vec2 = [line.from[0] + (dx * step) / steps, line.from[1] + (dy * step) / steps];
    const b: Vec2 = [
      line.from[0] + (dx * (step + 1)) / steps,
      line.from[1] + (dy * (step + 1)) / steps,
    ];
    index.search(
      Math.min(a[0], b[0]) - limits.thickest,
      Math.min(a[1], b[1]) - limits.thickest,
      Math.max(a[0], b[0]) + limits.thickest,
      Math.max(a[1], b[1]) + limits.thickest,
      (j) => {
        const other = lines[j];
        if (j > own && other !== undefined && runBeside(line, other, limits)) near.add(j);
        return false;
      },
    );
  }
  return near;
}

function runBeside(a: Straight, b: Straight, limits: GapLimits): boolean {
  if (angleBetween(a.angle, b.angle) > PARALLEL_RAD) return false;
  const longer = a.length >= b.length ? a : b;
  const shorter = longer === a ? b : a;
  const unit = scale2(sub2(longer.to, longer.from), 1 / longer.length);
  const normal: Vec2 = [-unit[1], unit[0]];
  const toMiddle = sub2(
    [(shorter.from[0] + shorter.to[0]) / 2, (shorter.from[1] + shorter.to[1]) / 2],
    longer.from,
  );
  if (Math.abs(dot2(toMiddle, normal)) > limits.thickest) return false;
  const u1 = dot2(sub2(shorter.from, longer.from), unit);
  const u2 = dot2(sub2(shorter.to, longer.from), unit);
  return Math.min(longer.length, Math.max(u1, u2)) - Math.max(0, Math.min(u1, u2)) > -SAME_POINT_MM;
}

function rootOf(parents: number[], i: number): number {
  let at = i;
  for (let parent = parents[at]; parent !== undefined && parent !== at; parent = parents[at]) {
    const grand = parents[parent] ?? parent;
    parents[at] = grand;
    at = grand;
  }
  return at;
}

function join(parents: number[], a: number, b: number): void {
  const rootA = rootOf(parents, a);
  const rootB = rootOf(parents, b);
  // The lower root wins, so that the order of joining leaves no trace.
  if (rootA < rootB) parents[rootB] = rootA;
  else if (rootB < rootA) parents[rootA] = rootB;
}

function bandsOfComponent(members: readonly Straight[], limits: GapLimits): Band[] {
  const longest = members.reduce((best, line) => (line.length > best.length ? line : best));
  const origin = longest.from;
  const direction = scale2(sub2(longest.to, longest.from), 1 / longest.length);
  const normal: Vec2 = [-direction[1], direction[0]];
  const pieces = members.map(({ input, from, to }): RailPiece => {
    const ua = dot2(sub2(from, origin), direction);
    const ub = dot2(sub2(to, origin), direction);
    const v = (dot2(sub2(from, origin), normal) + dot2(sub2(to, origin), normal)) / 2;
    const runsAlong = ub >= ua;
    return {
      u0: Math.min(ua, ub),
      u1: Math.max(ua, ub),
      v,
      above: runsAlong ? input.left : input.right,
      below: runsAlong ? input.right : input.left,
      source: input.source,
    };
  });
  return filledGaps(pieces, limits)
    .filter((gap) => isLongEnough(gap, gap.u1 - gap.u0))
    .map((gap) => ({ type: 'straight', origin, direction, ...faces(gap) }));
}

/** A gap shorter than it is wide lies between two ends of walls, unless both faces say otherwise. */
function isLongEnough(gap: FilledGap, lengthMm: number): boolean {
  return lengthMm > (gap.v1 - gap.v0) * (gap.isSure ? 0.05 : 0.999);
}

const faces = ({ u0, u1, v0, v1, low, high }: FilledGap) => ({ u0, u1, v0, v1, low, high });

function curvedBands(inputs: readonly BandInput[], limits: GapLimits): Band[] {
  const arcs = inputs.filter(({ piece }) => piece.type === 'arc');
  const groups: { readonly centre: Vec2; readonly members: BandInput[] }[] = [];
  const grid = new PointGrid<number>(SAME_POINT_MM);
  for (const input of arcs) {
    if (input.piece.type !== 'arc') continue;
    const { centre } = input.piece;
    const [known] = grid.near(centre);
    const group = known === undefined ? undefined : groups[known];
    if (group !== undefined) group.members.push(input);
    else {
      grid.add(centre, groups.length);
      groups.push({ centre, members: [input] });
    }
  }
  return groups.flatMap(({ centre, members }) => bandsRoundCentre(centre, members, limits));
}

function bandsRoundCentre(centre: Vec2, members: readonly BandInput[], limits: GapLimits): Band[] {
  if (members.length < 2) return [];
  const pieces = members.flatMap(angularPieces);
  const radius = pieces.reduce((largest, { v }) => Math.max(largest, v), 0);
  return filledGaps(pieces, limits, Math.max(radius, 1))
    .filter((gap) => isLongEnough(gap, (gap.u1 - gap.u0) * gap.v1))
    .map((gap) => ({ type: 'curved', centre, ...faces(gap) }));
}

/** An arc as a stretch of angles in [0, 2π), cut where it passes 0. */
function angularPieces({ piece, source, left, right }: BandInput): RailPiece[] {
  if (piece.type !== 'arc') return [];
  const full = 2 * Math.PI;
  const isTurningLeft = piece.sweepRad >= 0;
  const first = isTurningLeft ? piece.startRad : piece.startRad + piece.sweepRad;
  const start = ((first % full) + full) % full;
  const end = start + Math.min(full, Math.abs(piece.sweepRad));
  const part = (u0: number, u1: number): RailPiece => ({
    u0,
    u1,
    v: piece.radiusMm,
    // Anticlockwise, the centre lies to the left.
    below: isTurningLeft ? left : right,
    above: isTurningLeft ? right : left,
    source,
  });
  return end <= full + 1e-9 ? [part(start, end)] : [part(start, full), part(0, end - full)];
}

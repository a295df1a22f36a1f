/**
 * Walls from parallel lines. Lines of one direction (or arcs of one centre) are *rails*: each has a
 * place `v` across and stretches `u` along. Where rails run beside each other, the gaps between them
 * are filled or empty; this file decides which, stretch by stretch, in one sweep along u.
 */

/** What is known of the two sides of a line: filled with the host's material, empty, or unknown. */
export type Side = 'filled' | 'empty' | 'unknown';

export interface RailPiece {
  readonly u0: number;
  readonly u1: number;
  readonly v: number;
  /** Towards larger v. */
  readonly above: Side;
  /** Towards smaller v. */
  readonly below: Side;
  readonly source: number;
}

/** What lies between two faces over a stretch, along u and across v. */
export interface Strip {
  readonly u0: number;
  readonly u1: number;
  readonly v0: number;
  readonly v1: number;
  /** Sources of the pieces along v0 and along v1, in order along u, each once. */
  readonly low: readonly number[];
  readonly high: readonly number[];
}

/** A filled gap between two rails over a stretch. */
export interface FilledGap extends Strip {
  /** Both faces say that the material lies between them. */
  readonly isSure: boolean;
}

export interface GapLimits {
  readonly thinnest: number;
  readonly thickest: number;
  /** Gaps up to this between lines of one wall are layers of it. */
  readonly layer: number;
}

/** What an outline shows to be a body may be thinner than what two lines are taken for. */
const THINNEST_SURE_RATIO = 0.4;
/** Lines closer than this across are one line drawn twice. */
const SAME_LINE = 0.5;
/** Breaks along a line shorter than this are none. */
const SAME_PLACE = 1;

interface Active {
  readonly v: number;
  readonly above: Side;
  readonly below: Side;
  readonly source: number;
}

/**
 * Filled gaps of pieces that share a direction. `uScale` turns u into millimetres (1 for straight
 * rails, the radius for curved ones). Cost: pieces × those that run beside each other.
 */
export function filledGaps(
  pieces: readonly RailPiece[],
  limits: GapLimits,
  uScale = 1,
): FilledGap[] {
  const tolerance = SAME_PLACE / uScale;
  const stops = stopsOf(pieces, tolerance);
  const byStart = [...pieces].sort((a, b) => a.u0 - b.u0 || a.v - b.v);
  const gaps: OpenGap[] = [];
  let open: OpenGap[] = [];
  let active: RailPiece[] = [];
  let next = 0;
  for (let i = 0; i + 1 < stops.length; i++) {
    const u0 = stops[i] ?? 0;
    const u1 = stops[i + 1] ?? 0;
    const middle = (u0 + u1) / 2;
    for (let piece = byStart[next]; piece !== undefined && piece.u0 <= middle; ) {
      active.push(piece);
      next += 1;
      piece = byStart[next];
    }
    active = active.filter((piece) => piece.u1 >= middle);
    const filled = fillStretch(mergeSame(active), limits);
    open = carryOn(open, filled, u0, u1, tolerance, gaps);
  }
  gaps.push(...open);
  return gaps.map(({ u0, u1, v0, v1, low, high, isSure }) => ({
    u0,
    u1,
    v0,
    v1,
    low: [...low],
    high: [...high],
    isSure,
  }));
}

interface OpenGap {
  readonly u0: number;
  u1: number;
  readonly v0: number;
  readonly v1: number;
  readonly low: Set<number>;
  readonly high: Set<number>;
  isSure: boolean;
}

function stopsOf(pieces: readonly RailPiece[], tolerance: number): number[] {
  const sorted = pieces.flatMap((piece) => [piece.u0, piece.u1]).sort((a, b) => a - b);
  const stops: number[] = [];
  for (const stop of sorted) {
    const last = stops[stops.length - 1];
    if (last === undefined || stop - last > tolerance) stops.push(stop);
  }
  return stops;
}

/** Rails at one stretch, by place across; lines drawn twice become one. */
function mergeSame(active: readonly RailPiece[]): Active[] {
  const sorted = [...active].sort((a, b) => a.v - b.v || a.source - b.source);
  const merged: Active[] = [];
  for (const piece of sorted) {
    const last = merged[merged.length - 1];
    if (last !== undefined && piece.v - last.v <= SAME_LINE) {
      // An outline tells where the face lies; a line beside it was drawn by eye.
      const isSurer = tells(piece) > tells(last);
      merged[merged.length - 1] = {
        ...(isSurer ? { v: piece.v, source: piece.source } : { v: last.v, source: last.source }),
        above: surer(last.above, piece.above),
        below: surer(last.below, piece.below),
      };
    } else merged.push(piece);
  }
  return merged;
}

/** Of how many of its sides a line tells something. */
const tells = ({ above, below }: Pick<Active, 'above' | 'below'>): number =>
  Number(above !== 'unknown') + Number(below !== 'unknown');

/**
 * Two lines on one another: filled where either says so. That one of them is the end of a wall says
 * nothing of the other, so "empty" takes both.
 */
function surer(a: Side, b: Side): Side {
  if (a === 'filled' || b === 'filled') return 'filled';
  return a === 'empty' && b === 'empty' ? 'empty' : 'unknown';
}

interface Filled {
  readonly low: Active;
  readonly high: Active;
  readonly isSure: boolean;
}

function fillStretch(rails: readonly Active[], limits: GapLimits): Filled[] {
  const filled: Filled[] = [];
  const taken = new Set<Active>();
  const states: Side[] = [];
  for (let i = 0; i + 1 < rails.length; i++) {
    const low = rails[i];
    const high = rails[i + 1];
    if (low === undefined || high === undefined) continue;
    const state = gapState(low, high, limits);
    states.push(state);
    if (state !== 'filled' || high.v - low.v < limits.thinnest * THINNEST_SURE_RATIO) continue;
    filled.push({ low, high, isSure: true });
    taken.add(low).add(high);
  }
  let cluster: Active[] = [];
  rails.forEach((rail, i) => {
    if (!taken.has(rail)) cluster.push(rail);
    // What is filled on one side is taken to be free on the other.
    if (states[i] !== 'unknown' || taken.has(rail)) {
      filled.push(...fillCluster(cluster, limits));
      cluster = [];
    }
  });
  return filled;
}

function gapState(low: Active, high: Active, limits: GapLimits): Side {
  const width = high.v - low.v;
  if (low.above === 'filled' || high.below === 'filled') {
    const isDenied = low.above === 'empty' || high.below === 'empty';
    return isDenied || width > limits.thickest ? 'empty' : 'filled';
  }
  if (low.above === 'empty' || high.below === 'empty') return 'empty';
  return width > limits.thickest ? 'empty' : 'unknown';
}

/**
 * Rails whose gaps nothing tells of. Lines closer than the thinnest wall are finishes and stay with
 * their neighbour; of the rest, two are a wall, an even number are walls with spaces between them,
 * three close together are one wall in layers, and otherwise the closest pairs win.
 */
function fillCluster(cluster: readonly Active[], limits: GapLimits): Filled[] {
  const thick = thickRails(cluster, limits.thinnest);
  if (thick.length < 2) return [];
  const pairs = thick.length % 2 === 0 ? alternate(thick) : oddPairs(thick, limits);
  return pairs
    .map(
      ([a, b]): Filled => ({
        low: isOutermost(thick, a) ? a.low : a.high,
        high: isOutermost(thick, b) ? b.high : b.low,
        isSure: false,
      }),
    )
    .filter(({ low, high }) => {
      const width = high.v - low.v;
      return width >= limits.thinnest && width <= limits.thickest;
    });
}

/** One rail, or several closer than the thinnest wall. */
interface ThickRail {
  readonly low: Active;
  readonly high: Active;
}

function thickRails(cluster: readonly Active[], thinnest: number): ThickRail[] {
  const thick: ThickRail[] = [];
  for (const rail of cluster) {
    const last = thick[thick.length - 1];
    if (last !== undefined && rail.v - last.high.v < thinnest && rail.v - last.low.v < thinnest) {
      thick[thick.length - 1] = { low: last.low, high: rail };
    } else thick.push({ low: rail, high: rail });
  }
  return thick;
}

const isOutermost = (thick: readonly ThickRail[], rail: ThickRail): boolean =>
  rail === thick[0] || rail === thick[thick.length - 1];

function alternate(thick: readonly ThickRail[]): [ThickRail, ThickRail][] {
  const pairs: [ThickRail, ThickRail][] = [];
  for (let i = 0; i + 1 < thick.length; i += 2) {
    const a = thick[i];
    const b = thick[i + 1];
    if (a !== undefined && b !== undefined) pairs.push([a, b]);
  }
  return pairs;
}

function oddPairs(thick: readonly ThickRail[], limits: GapLimits): [ThickRail, ThickRail][] {
  const gaps: { readonly at: number; readonly width: number }[] = [];
  for (let i = 0; i + 1 < thick.length; i++) {
    gaps.push({ at: i, width: (thick[i + 1]?.low.v ?? 0) - (thick[i]?.high.v ?? 0) });
  }
  const areLayers = gaps.filter(({ width }) => width > limits.layer).length <= 1;
  const total = gaps.reduce((sum, { width }) => sum + width, 0);
  if (areLayers && total <= limits.thickest) return neighbours(thick);
  const used = new Set<number>();
  const pairs: [number, number][] = [];
  for (const { at } of gaps.sort((a, b) => a.width - b.width || a.at - b.at)) {
    if (used.has(at) || used.has(at + 1)) continue;
    used.add(at);
    used.add(at + 1);
    pairs.push([at, at + 1]);
  }
  return pairs
    .sort(([a], [b]) => a - b)
    .flatMap(([a, b]) => {
      const low = thick[a];
      const high = thick[b];
      return low !== undefined && high !== undefined ? [[low, high] as [ThickRail, ThickRail]] : [];
    });
}

function neighbours(thick: readonly ThickRail[]): [ThickRail, ThickRail][] {
  const pairs: [ThickRail, ThickRail][] = [];
  for (let i = 0; i + 1 < thick.length; i++) {
    const a = thick[i];
    const b = thick[i + 1];
    if (a !== undefined && b !== undefined) pairs.push([a, b]);
  }
  return pairs;
}

/** Lengthens the gaps that go on over this stretch and closes those that do not. */
function carryOn(
  open: readonly OpenGap[],
  filled: readonly Filled[],
  u0: number,
  u1: number,
  tolerance: number,
  done: OpenGap[],
): OpenGap[] {
  const going: OpenGap[] = [];
  const waiting = [...open];
  for (const { low, high, isSure } of filled) {
    const at = waiting.findIndex(
      (gap) =>
        Math.abs(gap.v0 - low.v) <= SAME_LINE &&
        Math.abs(gap.v1 - high.v) <= SAME_LINE &&
        u0 - gap.u1 <= tolerance,
    );
    const known = at === -1 ? undefined : waiting.splice(at, 1)[0];
    const gap = known ?? {
      u0,
      u1,
      v0: low.v,
      v1: high.v,
      low: new Set<number>(),
      high: new Set<number>(),
      isSure,
    };
    gap.u1 = u1;
    gap.isSure = gap.isSure && isSure;
    gap.low.add(low.source);
    gap.high.add(high.source);
    going.push(gap);
  }
  done.push(...waiting);
  return going;
}

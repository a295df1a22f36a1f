import type Flatbush from 'flatbush';
import { greatestOf } from '../basics/extremes.ts';
import type { BandInput, StraightBand } from './band.ts';
import type { GapLimits } from './plane-rails.ts';
import { indexSegments, type Segment } from './segment-index.ts';
import { cross2, distance2, dot2, length2, scale2, sub2, type Vec2 } from './vec.ts';

/** Fewer chords are corners of an outline rather than a curve. */
const FEWEST_CHORDS = 8;
/** Chords of a curve turn from one to the next by less than this. */
const SMOOTH_COSINE = Math.cos((20 * Math.PI) / 180);
/** The two faces of a wall run alike: their directions differ by less, and their distance from chord to chord. */
const ALIKE_COSINE = Math.cos((10 * Math.PI) / 180);
const SAME_DISTANCE_RATIO = 0.05;

interface Chord extends Segment {
  readonly unit: Vec2;
  readonly length: number;
  /** Directions of the curve at the chord's two ends: between the chords that meet there. */
  readonly tangents: readonly [Vec2, Vec2];
  /** How much the curve turns from chord to chord, the most in it. */
  readonly turnRad: number;
  readonly curve: number;
  readonly source: number;
  readonly input: BandInput;
}

/** A chord before its curve is known. */
type Link = Omit<Chord, 'curve' | 'turnRad' | 'tangents'>;

/**
 * Bands between smooth curves that run beside each other and are neither lines nor arcs of one centre:
 * ellipses and splines, given as chords. Each chord makes a short straight band, as thick as the curves
 * are apart at its two ends, square to it.
 */
export function curveBands(inputs: readonly BandInput[], limits: GapLimits): CurveBands {
  const chords = smoothChords(inputs);
  if (chords.length === 0) return { bands: [], rest: inputs };
  const index = indexSegments(chords);
  const found = chords.flatMap((chord) =>
    ([1, -1] as const).flatMap((side) => bandBeside(chord, side, chords, index, limits)),
  );
  const paired = new Set(found.flatMap(({ curves }) => curves));
  const used = new Set(chords.filter(({ curve }) => paired.has(curve)).map(({ input }) => input));
  return {
    bands: found.map(({ band }) => band),
    rest: inputs.filter((input) => !used.has(input)),
  };
}

/** Bands of curves, and the lines that belong to no curve with another beside it. */
interface CurveBands {
  readonly bands: readonly StraightBand[];
  readonly rest: readonly BandInput[];
}

/** Chords of curves, numbered by curve. */
function smoothChords(inputs: readonly BandInput[]): Chord[] {
  const found: Chord[] = [];
  let run: Link[] = [];
  let curve = 0;
  const finish = (): void => {
    if (run.length >= FEWEST_CHORDS) {
      const turns = run.map(({ unit }, at) => Math.abs(cross2(run[at - 1]?.unit ?? unit, unit)));
      const turnRad = Math.asin(Math.min(1, greatestOf(turns)));
      found.push(...withTangents(run).map((chord) => ({ ...chord, curve, turnRad })));
      curve += 1;
    }
    run = [];
  };
  for (const input of inputs) {
    const { piece, source } = input;
    if (piece.type !== 'line' || input.isChord !== true) continue;
    const along = sub2(piece.to, piece.from);
    const length = length2(along);
    if (length === 0) continue;
    const chord = {
      from: piece.from,
      to: piece.to,
      unit: scale2(along, 1 / length),
      length,
      source,
      input,
    };
    const last = run[run.length - 1];
    if (last !== undefined && !goesOn(last, chord)) finish();
    run.push(chord);
  }
  finish();
  return found;
}

function withTangents(run: readonly Link[]): Omit<Chord, 'curve' | 'turnRad'>[] {
  const [first] = run;
  const last = run[run.length - 1];
  const isRing = first !== undefined && last !== undefined && distance2(last.to, first.from) < 1e-6;
  return run.map((chord, at) => {
    const before = run[at - 1] ?? (isRing ? last : undefined);
    const after = run[at + 1] ?? (isRing ? first : undefined);
    return {
      ...chord,
      tangents: [between(before?.unit, chord.unit), between(chord.unit, after?.unit)],
    };
  });
}

function between(a: Vec2 | undefined, b: Vec2 | undefined): Vec2 {
  const sum: Vec2 = [(a?.[0] ?? 0) + (b?.[0] ?? 0), (a?.[1] ?? 0) + (b?.[1] ?? 0)];
  return scale2(sum, 1 / length2(sum));
}

function goesOn(a: Link, b: Link): boolean {
  const turn = dot2(a.unit, b.unit);
  return (
    a.source === b.source &&
    a.to[0] === b.from[0] &&
    a.to[1] === b.from[1] &&
    turn > SMOOTH_COSINE &&
    Math.abs(cross2(a.unit, b.unit)) > 1e-9
  );
}

function bandBeside(
  chord: Chord,
  side: 1 | -1,
  chords: readonly Chord[],
  index: Flatbush,
  limits: GapLimits,
): PairBand[] {
  const [atStart, atEnd] = chord.tangents;
  const across = ([x, y]: Vec2): Vec2 => [-y * side, x * side];
  const a = firstBeside(chord.from, across(atStart), chord, chords, index, limits.thickest);
  const b = firstBeside(chord.to, across(atEnd), chord, chords, index, limits.thickest);
  // One of the two curves makes the bands, so that each stretch has one.
  if (a === null || b === null) return [];
  if (a.chord.curve !== b.chord.curve || a.chord.curve <= chord.curve) return [];
  const thick = Math.max(a.distance, b.distance);
  const isEven = Math.abs(a.distance - b.distance) <= SAME_DISTANCE_RATIO * thick;
  if (!isEven || thick < limits.thinnest) return [];
  // Outside a bend two strips square to their chords leave a wedge between them.
  const overlap = thick * Math.tan(chord.turnRad / 2);
  const band: StraightBand = {
    type: 'straight',
    origin: chord.from,
    direction: chord.unit,
    u0: -overlap,
    u1: chord.length + overlap,
    v0: side === 1 ? 0 : -thick,
    v1: side === 1 ? thick : 0,
    low: [side === 1 ? chord.source : a.chord.source],
    high: [side === 1 ? a.chord.source : chord.source],
  };
  return [{ band, curves: [chord.curve, a.chord.curve] }];
}

interface PairBand {
  readonly band: StraightBand;
  readonly curves: readonly number[];
}

/** The nearest chord of another curve straight across from a point, running alike; null where there is none. */
function firstBeside(
  point: Vec2,
  normal: Vec2,
  own: Chord,
  chords: readonly Chord[],
  index: Flatbush,
  reach: number,
): { readonly chord: Chord; readonly distance: number } | null {
  const end: Vec2 = [point[0] + normal[0] * reach, point[1] + normal[1] * reach];
  let best: { readonly chord: Chord; readonly distance: number } | null = null;
  for (const at of index.search(
    Math.min(point[0], end[0]),
    Math.min(point[1], end[1]),
    Math.max(point[0], end[0]),
    Math.max(point[1], end[1]),
  )) {
    const chord = chords[at];
    if (chord === undefined || chord.curve === own.curve) continue;
    const distance = distanceAlong(point, normal, chord);
    if (distance === null || distance > reach) continue;
    const isAlike = Math.abs(dot2(chord.unit, own.unit)) > ALIKE_COSINE;
    if (isAlike && (best === null || distance < best.distance)) best = { chord, distance };
  }
  return best;
}

/** How far along a ray it meets a chord; null where it does not. */
function distanceAlong(point: Vec2, direction: Vec2, { from, to }: Segment): number | null {
  const along = sub2(to, from);
  const turn = cross2(direction, along);
  if (Math.abs(turn) < 1e-12) return null;
  const across = sub2(from, point);
  const distance = cross2(across, along) / turn;
  const part = cross2(across, direction) / turn;
  const slack = 1e-6;
  return distance > 0 && part >= -slack && part <= 1 + slack ? distance : null;
}

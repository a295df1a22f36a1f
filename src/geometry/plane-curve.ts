import { type Frame3, frameDirection } from './frame3.ts';
import type { Vec2, Vec3 } from './vec.ts';
import { distance2 } from './vec.ts';

/** A straight line or a circular arc in the plane, millimetres. */
export type PlanePiece =
  | { readonly type: 'line'; readonly from: Vec2; readonly to: Vec2 }
  | {
      readonly type: 'arc';
      readonly centre: Vec2;
      readonly radiusMm: number;
      readonly startRad: number;
      /** Positive anticlockwise; ±2π for a full circle. */
      readonly sweepRad: number;
    };

export const line = (from: Vec2, to: Vec2): PlanePiece => ({ type: 'line', from, to });

export function pieceStart(piece: PlanePiece): Vec2 {
  return piece.type === 'line' ? piece.from : onCircle(piece, piece.startRad);
}

export function pieceEnd(piece: PlanePiece): Vec2 {
  return piece.type === 'line' ? piece.to : onCircle(piece, piece.startRad + piece.sweepRad);
}

export function pieceMiddle(piece: PlanePiece): Vec2 {
  return piece.type === 'line'
    ? [(piece.from[0] + piece.to[0]) / 2, (piece.from[1] + piece.to[1]) / 2]
    : onCircle(piece, piece.startRad + piece.sweepRad / 2);
}

export function pieceLengthMm(piece: PlanePiece): number {
  return piece.type === 'line'
    ? distance2(piece.from, piece.to)
    : piece.radiusMm * Math.abs(piece.sweepRad);
}

function onCircle(
  { centre, radiusMm }: { readonly centre: Vec2; readonly radiusMm: number },
  angleRad: number,
): Vec2 {
  return [centre[0] + radiusMm * Math.cos(angleRad), centre[1] + radiusMm * Math.sin(angleRad)];
}

/** How far chords may lie from the curve they stand for. Half a millimetre is below drawing accuracy. */
const CHORD_ERROR_MM = 0.5;
const MOST_CHORDS_PER_TURN = 128;
const FEWEST_CHORDS_PER_TURN = 16;

/** Number of chords for a sweep of this radius. */
function chordCount(radiusMm: number, sweepRad: number): number {
  const step =
    radiusMm > CHORD_ERROR_MM ? 2 * Math.acos(1 - CHORD_ERROR_MM / radiusMm) : Math.PI / 4;
  const perTurn = Math.min(
    MOST_CHORDS_PER_TURN,
    Math.max(FEWEST_CHORDS_PER_TURN, Math.ceil((2 * Math.PI) / step)),
  );
  return Math.max(1, Math.ceil((perTurn * Math.abs(sweepRad)) / (2 * Math.PI)));
}

/** Points along a piece from start to end, both included. */
export function piecePoints(piece: PlanePiece): Vec2[] {
  if (piece.type === 'line') return [piece.from, piece.to];
  const count = chordCount(piece.radiusMm, piece.sweepRad);
  const points: Vec2[] = [];
  for (let i = 0; i <= count; i++) {
    points.push(onCircle(piece, piece.startRad + (piece.sweepRad * i) / count));
  }
  return points;
}

/** Points along several pieces that follow each other; shared ends once. */
export function pathPoints(pieces: readonly PlanePiece[]): Vec2[] {
  const points: Vec2[] = [];
  for (const piece of pieces) {
    for (const point of piecePoints(piece)) {
      const last = points[points.length - 1];
      if (last === undefined || distance2(last, point) > 1e-9) points.push(point);
    }
  }
  return points;
}

/** Shorter lines have no direction. */
export const SHORTEST_LINE = 1e-9;

/** Lines through points in order; those too short to have a direction are left out. */
export function linesThrough(points: readonly Vec2[]): PlanePiece[] {
  const pieces: PlanePiece[] = [];
  for (let i = 1; i < points.length; i++) {
    const from = points[i - 1];
    const to = points[i];
    if (from !== undefined && to !== undefined && distance2(from, to) > SHORTEST_LINE) {
      pieces.push(line(from, to));
    }
  }
  return pieces;
}

/** The world's point seen from above. */
export function mapPoint(map: Frame3, point: Vec3): Vec2 {
  const { origin, x, y, z } = map;
  return [
    origin[0] + x[0] * point[0] + y[0] * point[1] + z[0] * point[2],
    origin[1] + x[1] * point[0] + y[1] * point[1] + z[1] * point[2],
  ];
}

/** Relative difference below which two axes count as equally long and square to each other. */
const SIMILARITY_TOLERANCE = 1e-9;

/** An arc of the map's own plane, seen from above: an arc where the map keeps circles, else chords. */
export function mapArc(
  map: Frame3,
  arc: { centre: Vec3; radius: number; startRad: number; sweepRad: number },
): PlanePiece[] {
  const x = frameDirection(map, [1, 0, 0]);
  const y = frameDirection(map, [0, 1, 0]);
  const lengthX = Math.hypot(x[0], x[1]);
  const lengthY = Math.hypot(y[0], y[1]);
  const dot = x[0] * y[0] + x[1] * y[1];
  const size = lengthX * lengthX;
  const keepsCircles =
    size > 0 &&
    Math.abs(lengthX - lengthY) <= SIMILARITY_TOLERANCE * lengthX &&
    Math.abs(dot) <= SIMILARITY_TOLERANCE * size;
  if (keepsCircles) {
    const isMirrored = x[0] * y[1] - x[1] * y[0] < 0;
    const turn = Math.atan2(x[1], x[0]);
    const side = isMirrored ? -1 : 1;
    return [
      {
        type: 'arc',
        centre: mapPoint(map, arc.centre),
        radiusMm: arc.radius * lengthX,
        startRad: turn + side * arc.startRad,
        sweepRad: side * arc.sweepRad,
      },
    ];
  }
  return mapEllipse(map, {
    centre: arc.centre,
    major: [arc.radius, 0, 0],
    minor: [0, arc.radius, 0],
    startRad: arc.startRad,
    sweepRad: arc.sweepRad,
  });
}

/** An ellipse (centre and two half axes), seen from above, as chords. */
export function mapEllipse(
  map: Frame3,
  ellipse: { centre: Vec3; major: Vec3; minor: Vec3; startRad: number; sweepRad: number },
): PlanePiece[] {
  const [cx, cy] = mapPoint(map, ellipse.centre);
  const major = frameDirection(map, ellipse.major);
  const minor = frameDirection(map, ellipse.minor);
  const radius = Math.max(Math.hypot(major[0], major[1]), Math.hypot(minor[0], minor[1]));
  const count = chordCount(radius, ellipse.sweepRad);
  const points: Vec2[] = [];
  for (let i = 0; i <= count; i++) {
    const angle = ellipse.startRad + (ellipse.sweepRad * i) / count;
    const c = Math.cos(angle);
    const s = Math.sin(angle);
    points.push([cx + major[0] * c + minor[0] * s, cy + major[1] * c + minor[1] * s]);
  }
  return linesThrough(points);
}

/**
 * The arc between two points of a polyline with this bulge, in the polyline's own plane.
 * @source DXF reference: bulge = tan(included angle / 4), positive anticlockwise (from memory).
 */
export function bulgeArc(
  from: Vec2,
  to: Vec2,
  bulge: number,
): { centre: Vec2; radius: number; startRad: number; sweepRad: number } | null {
  const chord = distance2(from, to);
  if (bulge === 0 || chord < 1e-12 || Math.abs(bulge) < 1e-9) return null;
  const sweepRad = 4 * Math.atan(bulge);
  // From the chord's middle to the centre, to the left of the chord; negative for a large arc.
  const toCentre = (chord * (1 - bulge * bulge)) / (4 * bulge);
  const middle: Vec2 = [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2];
  const centre: Vec2 = [
    middle[0] - ((to[1] - from[1]) / chord) * toCentre,
    middle[1] + ((to[0] - from[0]) / chord) * toCentre,
  ];
  return {
    centre,
    radius: (chord * (1 + bulge * bulge)) / (4 * Math.abs(bulge)),
    startRad: Math.atan2(from[1] - centre[1], from[0] - centre[0]),
    sweepRad,
  };
}

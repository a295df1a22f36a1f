import { SealbookError } from '../../basics/errors.ts';
import { type PlanePiece, pieceLengthMm, pieceStart } from '../../geometry/plane-curve.ts';
import { isInsideOutline } from '../../geometry/plane-project.ts';
import { polygonAreaMm2, type Shape } from '../../geometry/shape.ts';
import type { Vec2 } from '../../geometry/vec.ts';
import type { InputFile } from '../../model/input.ts';
import { Settings } from '../../model/settings.ts';
import { readFlat } from './read-dxf.ts';

interface Outline {
  readonly handle: string;
  readonly layer: string;
  readonly pieces: readonly PlanePiece[];
  readonly pointsMm: readonly Vec2[];
}

const MOST_LISTED = 8;

/**
 * The opening that a closed polyline, circle or ellipse of a drawing shows; closed outlines within
 * it are islands. `handle` says which, where the drawing has several side by side. Relative to the
 * middle of its box, mm.
 * @throws SealbookError `usage` where none or several could be meant; those of reading a drawing
 */
export function outlineFromDrawing(file: InputFile, handle: string | null): Shape {
  const { flat } = readFlat(file, {}, Settings.parse({}));
  const outlines = flat.entities.flatMap(({ ref, layer, loops, form }): Outline[] => {
    const [loop] = loops;
    if (form === 'fill' || loops.length !== 1 || loop?.isClosed !== true) return [];
    return [
      { handle: ref.id, layer, pieces: loop.pieces, pointsMm: loop.pieces.flatMap(cornersOf) },
    ];
  });
  const outer = outlines.filter(
    (each) => !outlines.some((other) => other !== each && holds(other, each)),
  );
  const meant = handle === null ? outer : outlines.filter((each) => each.handle === handle);
  const [one, ...more] = meant;
  if (one === undefined || more.length > 0) throw unclear(file.name, handle, outer);
  const islands = outlines.filter((each) => each !== one && holds(one, each));
  return shapeOf(
    one,
    islands.filter((each) => !islands.some((other) => holds(other, each))),
  );
}

/** Chords leave the arc by no more than this, so that the area is right to well under a percent. */
const SAGITTA_MM = 0.05;
const MOST_CHORDS = 180;

/** A piece as corners, without its end. */
function cornersOf(piece: PlanePiece): Vec2[] {
  if (piece.type === 'line') return [pieceStart(piece)];
  const { centre, radiusMm, startRad, sweepRad } = piece;
  const step = 2 * Math.acos(Math.max(0, 1 - SAGITTA_MM / radiusMm));
  const count = Math.min(MOST_CHORDS, Math.max(4, Math.ceil(Math.abs(sweepRad) / step)));
  return Array.from({ length: count }, (_, at): Vec2 => {
    const angle = startRad + (sweepRad * at) / count;
    return [centre[0] + radiusMm * Math.cos(angle), centre[1] + radiusMm * Math.sin(angle)];
  });
}

function holds(outer: Outline, inner: Outline): boolean {
  return (
    outer !== inner &&
    polygonAreaMm2(outer.pointsMm) > polygonAreaMm2(inner.pointsMm) &&
    inner.pointsMm.every((point) => isInsideOutline(point, outer.pointsMm))
  );
}

function shapeOf({ pieces, pointsMm }: Outline, islands: readonly Outline[]): Shape {
  const [piece] = pieces;
  const isCircle =
    pieces.length === 1 &&
    piece?.type === 'arc' &&
    Math.abs(pieceLengthMm(piece) - 2 * Math.PI * piece.radiusMm) < 1e-6 * piece.radiusMm;
  if (isCircle && islands.length === 0) {
    return { type: 'circle', diameterMm: tidy(2 * piece.radiusMm) };
  }
  const xs = pointsMm.map(([x]) => x);
  const ys = pointsMm.map(([, y]) => y);
  const middle: Vec2 = [
    (Math.min(...xs) + Math.max(...xs)) / 2,
    (Math.min(...ys) + Math.max(...ys)) / 2,
  ];
  const centred = (points: readonly Vec2[]) =>
    points.map(([x, y]): Vec2 => [tidy(x - middle[0]), tidy(y - middle[1])]);
  return {
    type: 'polygon',
    pointsMm: centred(pointsMm),
    ...(islands.length === 0 ? {} : { islandsMm: islands.map((each) => centred(each.pointsMm)) }),
  };
}

/** To a millionth of a millimetre: what a drawing's own rounding leaves is no size. */
function tidy(value: number): number {
  return Math.round(value * 1e6) / 1e6;
}

function unclear(name: string, handle: string | null, outer: readonly Outline[]): SealbookError {
  const listed = outer
    .slice(0, MOST_LISTED)
    .map((each) => `${each.handle} on layer ${each.layer}`)
    .join(', ');
  const what =
    handle !== null
      ? `has no closed outline with the handle ${handle}`
      : outer.length === 0
        ? 'has no closed polyline, circle or ellipse'
        : `has ${outer.length} closed outlines beside each other`;
  return new SealbookError('usage', `The drawing ${what}.`, {
    where: { file: name },
    todo:
      outer.length === 0
        ? 'Draw the opening as one closed polyline.'
        : `Name one by its handle after a colon: ${name}:${outer[0]?.handle}. There are: ${listed}${outer.length > MOST_LISTED ? ' …' : ''}.`,
  });
}

import { recogniseOutline } from '../../geometry/outline-shape.ts';
import type { Shape } from '../../geometry/shape.ts';
import { shapeExtentMm } from '../../geometry/shape.ts';
import { faceMiddle, faceNormal } from '../../geometry/solid-body.ts';
import { isInsideOutline, sliceBody } from '../../geometry/solid-slice.ts';
import { tidyShape } from '../../geometry/tidy-shape.ts';
import { add3, dot3, scale3, sub3, type Vec2, type Vec3 } from '../../geometry/vec.ts';
import type { SectionFrame } from '../../model/penetration.ts';
import type { AxisPiece } from './axis-pieces.ts';
import type { FaceMeeting } from './face-meeting.ts';
import type { HostBody } from './host-body.ts';
import { alignedFrame, frameFor, turnedShape } from './opening-body.ts';

/** A hole that is part of a host's own body, with no opening element. */
export interface HostHole {
  readonly host: number;
  readonly frame: SectionFrame;
  readonly shape: Shape;
  /** In the frame. */
  readonly outline: readonly Vec2[];
  readonly thicknessMm: number;
}

/** Bodies of fewer triangles than this are plain boxes and prisms without holes. */
const FEWEST_TRIANGLES = 16;
/** A hole must be there right under both faces, this part of the thickness deep. */
const SKIN_RATIO = 0.02;
const ON_FACE_MM = 1;

/** Holes through a flat host: outlines within the outline of a cut along its middle. */
export function holesOf(host: HostBody, number: number): readonly HostHole[] {
  if (host.body.count < FEWEST_TRIANGLES || host.thicknessMm <= 0) return [];
  const face = largestFace(host);
  if (face === null) return [];
  const at = (ratio: number): SectionFrame => {
    const depth = -host.thicknessMm * ratio;
    return frameFor(add3(face, scale3(host.mainNormal, depth)), host.mainNormal);
  };
  const middle = innerOutlines(host, at(0.5));
  if (middle.length === 0) return [];
  const skins = [at(SKIN_RATIO), at(1 - SKIN_RATIO)].map((frame) => innerOutlines(host, frame));
  const plain = at(0.5);
  return middle.flatMap((outline): readonly HostHole[] => {
    const [corner] = outline;
    const found = recogniseOutline(outline);
    if (corner === undefined || found === null) return [];
    const isThrough = skins.every((skin) =>
      skin.some((other) => isInsideOutline(other, found.centre)),
    );
    if (!isThrough || !isInsideOutline(outline, found.centre)) return [];
    const originMm = add3(
      plain.originMm,
      add3(scale3(plain.right, found.centre[0]), scale3(plain.up, found.centre[1])),
    );
    const hasSides = found.shape.type !== 'circle' && found.shape.type !== 'polygon';
    const frame = alignedFrame({ ...plain, originMm }, hasSides ? found.right : null);
    const turned = ([x, y]: Vec2): Vec2 => {
      const p = add3(scale3(plain.right, x), scale3(plain.up, y));
      return [dot3(p, frame.right), dot3(p, frame.up)];
    };
    const right = turned(found.right);
    const across = turned([-found.right[1], found.right[0]]);
    return [
      {
        host: number,
        frame,
        shape: tidyShape(turnedShape(found.shape, right, across)),
        outline: outline.map(([x, y]) => turned([x - found.centre[0], y - found.centre[1]])),
        thicknessMm: host.thicknessMm,
      },
    ];
  });
}

function largestFace({ body, mainNormal }: HostBody): Vec3 | null {
  let best: number | null = null;
  for (let n = 0; n < body.count; n += 1) {
    if (dot3(faceNormal(body, n), mainNormal) < 0.9999) continue;
    if (best === null || (body.areas[n] ?? 0) > (body.areas[best] ?? 0)) best = n;
  }
  return best === null ? null : faceMiddle(body, best);
}

/** Outlines that lie within an odd number of others: holes of the cut. */
function innerOutlines(host: HostBody, frame: SectionFrame): readonly (readonly Vec2[])[] {
  const outlines = sliceBody(host.body, { ...frame, normal: frame.axis, origin: frame.originMm });
  return outlines.filter((outline, n) => {
    const [corner] = outline;
    if (corner === undefined) return false;
    const around = outlines.filter((other, m) => m !== n && isInsideOutline(other, corner));
    return around.length % 2 === 1;
  });
}

/** Whether a hole is so large that it is a shaft or doorway rather than a hole for services. */
export function isShaftHole(hole: HostHole, host: HostBody, shaftFromMm: number): boolean {
  const { widthMm, heightMm } = shapeExtentMm(hole.shape);
  const isFlat = host.host.kind === 'slab' || host.host.kind === 'roof';
  return isFlat && widthMm > shaftFromMm && heightMm > shaftFromMm;
}

/** Where a piece of centre line goes in and out of a hole; null where it doesn't pass it whole. */
export function passHole(
  hole: HostHole,
  piece: AxisPiece,
): readonly [FaceMeeting, FaceMeeting] | null {
  const { frame, thicknessMm } = hole;
  const facing = dot3(piece.direction, frame.axis);
  if (Math.abs(facing) < 0.05) return null;
  const middle = dot3(sub3(frame.originMm, piece.from), frame.axis) / facing;
  const half = thicknessMm / 2 / Math.abs(facing);
  if (middle - half < -ON_FACE_MM || middle + half > piece.lengthMm + ON_FACE_MM) return null;
  const point = (along: number): Vec3 => add3(piece.from, scale3(piece.direction, along));
  const offset = sub3(point(middle), frame.originMm);
  if (!isInsideOutline(hole.outline, [dot3(offset, frame.right), dot3(offset, frame.up)])) {
    return null;
  }
  const out = facing > 0 ? frame.axis : scale3(frame.axis, -1);
  const meet = (along: number, normal: Vec3): FaceMeeting => ({
    pointMm: point(along),
    normal,
    service: piece.service,
    isSeparating: true,
  });
  return [meet(middle - half, scale3(out, -1)), meet(middle + half, out)];
}

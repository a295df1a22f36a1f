import { notchesOf } from '../../geometry/outline-notches.ts';
import { recogniseOutline } from '../../geometry/outline-shape.ts';
import { shapeExtentMm } from '../../geometry/shape.ts';
import { faceMiddle, faceNormal, stretchesInside } from '../../geometry/solid-body.ts';
import { distanceToOutline, isInsideOutline, sliceBody } from '../../geometry/solid-slice.ts';
import { tidyMm, tidyShape } from '../../geometry/tidy-shape.ts';
import { add3, dot3, scale3, sub3, type Vec2, type Vec3 } from '../../geometry/vec.ts';
import type { SectionFrame } from '../../model/penetration.ts';
import type { AxisPiece } from './axis-pieces.ts';
import type { HostHole } from './hole-prism.ts';
import { type HostBody, mayFace } from './host-body.ts';
import { alignedFrame, frameFor, turnedShape } from './opening-body.ts';

/** Bodies of fewer triangles than this are plain boxes and prisms without holes. */
const FEWEST_TRIANGLES = 16;
/** A hole must be there right under both faces, this part of the thickness deep. */
const SKIN_RATIO = 0.02;
const ON_FACE_MM = 1;
/** Holes smaller than this are gaps of the mesh, mm. */
const SMALLEST_MM = 10;

/** Whether a host's body can hold holes at all. */
export function mayHaveHoles({ body, thicknessMm }: HostBody): boolean {
  return body.count >= FEWEST_TRIANGLES && thicknessMm > 0;
}

/**
 * Holes through a flat host: outlines within the outline of a cut along its middle, and notches in
 * its edges. Voids as large as shafts are left out.
 */
export function holesOf(host: HostBody, shaftFromMm: number): readonly HostHole[] {
  if (!mayHaveHoles(host)) return [];
  const face = largestFace(host);
  if (face === null) return [];
  const cut = (ratio: number): Cut => {
    const depth = -host.thicknessMm * ratio;
    const frame = frameFor(add3(face, scale3(host.mainNormal, depth)), host.mainNormal);
    return cutAlong(host, frame);
  };
  const middle = cut(0.5);
  const skins = [cut(SKIN_RATIO), cut(1 - SKIN_RATIO)];
  if (skins.every(({ holes }) => holes.length === 0)) return [];
  const found: HostHole[] = [];
  // Boards on studs have the hole in their boards only.
  for (const { frame, holes } of [middle, skins[0] ?? middle]) {
    for (const outline of holes) {
      const hole = placedHole(frame, outline.points, host.thicknessMm, outline.isNotch);
      if (hole === null || isShaftHole(hole, host, shaftFromMm)) continue;
      const centred = centredIn(hole, face, host);
      const at = (frame: SectionFrame): Vec2 => {
        const d = sub3(centred.frame.originMm, frame.originMm);
        return [dot3(d, frame.right), dot3(d, frame.up)];
      };
      const isThrough = skins.every((skin) =>
        skin.holes.some(({ points }) => isInsideOutline(points, at(skin.frame))),
      );
      const isFree = !isSolidAt(middle, at(middle.frame));
      const isKnown = found.some((other) => isInHole(other, centred.frame.originMm));
      if (isThrough && isFree && !isKnown) found.push(centred);
    }
  }
  return found;
}

/** The hole with its origin midway through the host. */
function centredIn(hole: HostHole, face: Vec3, host: HostBody): HostHole {
  const { frame } = hole;
  const middle = add3(face, scale3(host.mainNormal, -host.thicknessMm / 2));
  const shift = dot3(sub3(middle, frame.originMm), frame.axis);
  return {
    ...hole,
    frame: { ...frame, originMm: add3(frame.originMm, scale3(frame.axis, shift)) },
  };
}

export function isInHole({ frame, outline, thicknessMm }: HostHole, point: Vec3): boolean {
  const d = sub3(point, frame.originMm);
  return (
    Math.abs(dot3(d, frame.axis)) <= thicknessMm &&
    isInsideOutline(outline, [dot3(d, frame.right), dot3(d, frame.up)])
  );
}

function largestFace({ body, mainNormal }: HostBody): Vec3 | null {
  let best: number | null = null;
  for (let n = 0; n < body.count; n += 1) {
    if (dot3(faceNormal(body, n), mainNormal) < 0.9999) continue;
    if (best === null || (body.areas[n] ?? 0) > (body.areas[best] ?? 0)) best = n;
  }
  return best === null ? null : faceMiddle(body, best);
}

interface HoleOutline {
  readonly points: readonly Vec2[];
  readonly isNotch: boolean;
}

/** A host cut along a plane. */
interface Cut {
  readonly frame: SectionFrame;
  readonly outlines: readonly (readonly Vec2[])[];
  readonly holes: readonly HoleOutline[];
}

/** Outlines within an odd number of others are holes of the cut; the others may have notches. */
function cutAlong(host: HostBody, frame: SectionFrame): Cut {
  const plane = { ...frame, normal: frame.axis, origin: frame.originMm };
  const outlines = sliceBody(host.body, plane);
  const holes = outlines.flatMap((outline, n): readonly HoleOutline[] => {
    const [corner] = outline;
    if (corner === undefined) return [];
    const around = outlines.filter((other, m) => m !== n && isInsideOutline(other, corner));
    if (around.length % 2 === 1) return [{ points: outline, isNotch: false }];
    return notchesOf(outline).map((points) => ({ points, isNotch: true }));
  });
  return { frame, outlines, holes };
}

function isSolidAt({ outlines }: Cut, at: Vec2): boolean {
  return outlines.filter((outline) => isInsideOutline(outline, at)).length % 2 === 1;
}

/** A hole from its outline in a plane; its origin stays in that plane. */
function placedHole(
  plain: SectionFrame,
  outline: readonly Vec2[],
  thicknessMm: number,
  isNotch: boolean,
): HostHole | null {
  const found = recogniseOutline(outline);
  if (found === null || !isInsideOutline(outline, found.centre)) return null;
  const { widthMm, heightMm } = shapeExtentMm(found.shape);
  if (Math.min(widthMm, heightMm) < SMALLEST_MM) return null;
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
  return {
    frame,
    shape: tidyShape(turnedShape(found.shape, right, across)),
    outline: outline.map(([x, y]) => turned([x - found.centre[0], y - found.centre[1]])),
    thicknessMm,
    isNotch,
  };
}

/** Whether a hole is so large that it is a shaft or doorway rather than a hole for services. */
export function isShaftHole(
  { shape, isNotch }: HostHole,
  host: HostBody,
  shaftFromMm: number,
): boolean {
  const { widthMm, heightMm } = shapeExtentMm(shape);
  if (isNotch) return widthMm > shaftFromMm || heightMm > shaftFromMm;
  const isFlat = host.host.kind === 'slab' || host.host.kind === 'roof';
  return isFlat && widthMm > shaftFromMm && heightMm > shaftFromMm;
}

/** Part of the surface that must look along the main direction for a host to be flat. */
const FLAT_RATIO = 0.9;

/** Whether all of a host's separating faces lie in two planes; else its holes are looked for one by one. */
export function isFlatHost({ host, body, mainNormal }: HostBody): boolean {
  let facing = 0;
  let flat = 0;
  for (let n = 0; n < body.count; n += 1) {
    const normal = faceNormal(body, n);
    if (!mayFace(host, normal)) continue;
    const area = body.areas[n] ?? 0;
    facing += area;
    if (Math.abs(dot3(normal, mainNormal)) > 0.999) flat += area;
  }
  // The ends of a wall face as well.
  return flat >= facing * FLAT_RATIO;
}

/** The hole of a curved or angled host that a piece of centre line passes without meeting the host. */
export function holeRound(host: HostBody, piece: AxisPiece, shaftFromMm: number): HostHole | null {
  const near = nearestFacing(host, piece, shaftFromMm / 2);
  if (near === null) return null;
  const through = scale3(near.normal, -host.thicknessMm / 2);
  const plain = frameFor(add3(near.pointMm, through), near.normal);
  const along = dot3(piece.direction, plain.axis);
  const d = sub3(piece.from, plain.originMm);
  const at = -dot3(d, plain.axis) / along;
  const point = add3(d, scale3(piece.direction, at));
  const here: Vec2 = [dot3(point, plain.right), dot3(point, plain.up)];
  const around = cutAlong(host, plain)
    .holes.filter(({ points }) => isInsideOutline(points, here))
    .sort((a, b) => distanceToOutline(a.points, here) - distanceToOutline(b.points, here));
  for (const { points, isNotch } of around) {
    const hole = placedHole(plain, points, host.thicknessMm, isNotch);
    if (hole === null) continue;
    const { widthMm, heightMm } = shapeExtentMm(hole.shape);
    if (widthMm > shaftFromMm || heightMm > shaftFromMm) continue;
    return measuredThrough(host, hole);
  }
  return null;
}

interface FacePoint {
  readonly pointMm: Vec3;
  readonly normal: Vec3;
}

/** Where a piece passes the plane of the face, turned its way, that lies nearest beside it. */
function nearestFacing(host: HostBody, piece: AxisPiece, reachMm: number): FacePoint | null {
  const { body } = host;
  let best: FacePoint | null = null;
  let least = reachMm;
  for (let n = 0; n < body.count; n += 1) {
    const normal = faceNormal(body, n);
    const facing = dot3(piece.direction, normal);
    if (Math.abs(facing) < 0.3 || !mayFace(host.host, normal)) continue;
    const c = n * 9;
    const corner = (k: number): Vec3 => [
      body.corners[c + k] ?? 0,
      body.corners[c + k + 1] ?? 0,
      body.corners[c + k + 2] ?? 0,
    ];
    const at = dot3(sub3(corner(0), piece.from), normal) / facing;
    if (at < -ON_FACE_MM || at > piece.lengthMm + ON_FACE_MM) continue;
    const pointMm = add3(piece.from, scale3(piece.direction, at));
    const plain = frameFor(pointMm, normal);
    const flat = [0, 3, 6].map((k): Vec2 => {
      const d = sub3(corner(k), pointMm);
      return [dot3(d, plain.right), dot3(d, plain.up)];
    });
    const distance = distanceToOutline(flat, [0, 0]);
    if (distance < least) {
      least = distance;
      best = { pointMm, normal };
    }
  }
  return best;
}

/** How far beside a hole the host is probed, mm. */
const BESIDE_MM = 3;

/** The hole with origin and depth as the host has them round its edge. */
function measuredThrough(host: HostBody, hole: HostHole): HostHole {
  const { frame, outline } = hole;
  const ends: { from: number; to: number }[] = [];
  for (const [x, y] of outline) {
    const length = Math.hypot(x, y) || 1;
    const [u, v] = [x + (x / length) * BESIDE_MM, y + (y / length) * BESIDE_MM];
    const beside = add3(frame.originMm, add3(scale3(frame.right, u), scale3(frame.up, v)));
    const stretch = stretchesInside(host.body, beside, frame.axis).find(
      ({ enter, leave }) => enter.at < 0 && leave.at > 0,
    );
    if (stretch !== undefined) ends.push({ from: stretch.enter.at, to: stretch.leave.at });
  }
  if (ends.length === 0) return hole;
  const mean = (pick: (end: { from: number; to: number }) => number): number =>
    ends.reduce((sum, end) => sum + pick(end), 0) / ends.length;
  const [from, to] = [mean((end) => end.from), mean((end) => end.to)];
  return {
    ...hole,
    frame: { ...frame, originMm: add3(frame.originMm, scale3(frame.axis, (from + to) / 2)) },
    thicknessMm: tidyMm(to - from),
  };
}

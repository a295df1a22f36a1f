import { type Box, boxCentre, boxOfPositions } from '../../geometry/box.ts';
import { recogniseOutline } from '../../geometry/outline-shape.ts';
import { polygonAreaMm2, type Shape } from '../../geometry/shape.ts';
import { faceMiddle, solidBody } from '../../geometry/solid-body.ts';
import { distanceToOutline, isInsideOutline, sliceBody } from '../../geometry/solid-slice.ts';
import { tidyShape } from '../../geometry/tidy-shape.ts';
import {
  add3,
  cross3,
  dot3,
  lerp3,
  scale3,
  sub3,
  unit3,
  type Vec2,
  type Vec3,
} from '../../geometry/vec.ts';
import type { Mesh, Opening } from '../../model/building.ts';
import type { SectionFrame } from '../../model/penetration.ts';
import { type HostBody, normalAt, stretchAt } from './host-body.ts';

/** A host that an opening lies in, along the opening's axis from its centre. */
export interface OpeningSpan {
  readonly host: number;
  readonly fromMm: number;
  readonly toMm: number;
  /** Whether the opening goes right through it. */
  readonly isThrough: boolean;
}

/** An opening placed in its hosts. */
export interface OpeningBody {
  readonly opening: Opening;
  readonly box: Box;
  readonly frame: SectionFrame;
  /** From the frame's origin along its axis. */
  readonly fromMm: number;
  readonly toMm: number;
  readonly spans: readonly OpeningSpan[];
  /** Clear outline in the frame; null where it could not be told. */
  readonly shape: Shape | null;
}

/** A depth this much short of the host still goes through, mm. */
const DEPTH_SLACK_MM = 1;
const LEAST_OVERLAP_MM = 1;
/** An extrusion this near to the host's direction gives the opening's own axis: 60°. */
const ALONG_COSINE = 0.5;

/**
 * Places an opening in the hosts near it, once for each assembly that it goes through; nothing
 * without geometry.
 */
export function openingBody(
  opening: Opening,
  hosts: readonly HostBody[],
  declared: readonly number[],
  nearby: readonly number[],
  gapMm: number,
): readonly OpeningBody[] {
  if (opening.mesh === null) return [];
  const { positionsMm } = opening.mesh;
  const box = boxOfPositions(positionsMm);
  const profileAxis =
    opening.profile === null ? null : unit3(sub3(opening.profile.endMm, opening.profile.startMm));
  const centre =
    opening.profile === null
      ? boxCentre(box)
      : lerp3(opening.profile.startMm, opening.profile.endMm, 0.5);
  const axis = axisThrough(hosts, declared, nearby, box, centre, profileAxis);
  const extent = extentAlong(positionsMm, centre, axis);
  const candidates = [...new Set([...declared, ...nearby])];
  const spans = candidates
    .map((n) => spanIn(hosts, n, opening.mesh, centre, axis, extent, declared.includes(n)))
    .filter((span): span is OpeningSpan => span !== null);
  const clusters = clustersOf(spans, gapMm);
  const line = { opening, box, profileAxis, centre, axis };
  if (clusters.length <= 1) return [placedAlong(line, spans, extent)];
  // A riser's opening through floors far apart is a hole in each of them.
  return clusters.map((cluster) => {
    const from = Math.min(...cluster.map(({ fromMm }) => fromMm)) - gapMm / 2;
    const to = Math.max(...cluster.map(({ toMm }) => toMm)) + gapMm / 2;
    const own = { from: Math.max(from, extent.from), to: Math.min(to, extent.to) };
    return placedAlong(line, cluster, own);
  });
}

/** Spans in order along the axis, those further apart than the gap told apart. */
function clustersOf(
  spans: readonly OpeningSpan[],
  gapMm: number,
): readonly (readonly OpeningSpan[])[] {
  const clusters: OpeningSpan[][] = [];
  let reached = -Infinity;
  for (const span of [...spans].sort((a, b) => a.fromMm - b.fromMm)) {
    const last = clusters[clusters.length - 1];
    if (last === undefined || span.fromMm - reached > gapMm + DEPTH_SLACK_MM) clusters.push([span]);
    else last.push(span);
    reached = Math.max(reached, span.toMm);
  }
  return clusters;
}

interface OpeningLine {
  readonly opening: Opening;
  readonly box: Box;
  readonly profileAxis: Vec3 | null;
  readonly centre: Vec3;
  readonly axis: Vec3;
}

/** The opening as it stands in the hosts of some of its spans. */
function placedAlong(
  { opening, box, profileAxis, centre, axis }: OpeningLine,
  spans: readonly OpeningSpan[],
  extent: { readonly from: number; readonly to: number },
): OpeningBody {
  const middle = middleOf(spans, extent);
  const frame = frameFor(add3(centre, scale3(axis, middle)), axis);
  const turned = dot3(frame.axis, axis) < 0;
  const along = (at: number): number => (turned ? -(at - middle) : at - middle);
  const north = outlineOf(opening, frame, profileAxis);
  const aligned = north === null ? frame : alignedFrame(frame, north.sides);
  const outline = aligned === frame ? north : outlineOf(opening, aligned, profileAxis);
  const shift = outline?.centre ?? [0, 0];
  const originMm = add3(
    frame.originMm,
    add3(scale3(aligned.right, shift[0]), scale3(aligned.up, shift[1])),
  );
  const [a, b] = [along(extent.from), along(extent.to)];
  return {
    opening,
    box,
    frame: { ...aligned, originMm },
    fromMm: Math.min(a, b),
    toMm: Math.max(a, b),
    spans: spans.map((span) => {
      const ends = [along(span.fromMm), along(span.toMm)];
      return { ...span, fromMm: Math.min(...ends), toMm: Math.max(...ends) };
    }),
    shape: outline === null ? null : tidyShape(outline.shape),
  };
}

function axisThrough(
  hosts: readonly HostBody[],
  declared: readonly number[],
  nearby: readonly number[],
  box: Box,
  centre: Vec3,
  profileAxis: Vec3 | null,
): Vec3 {
  for (const n of [...declared, ...nearby]) {
    const host = hosts[n];
    if (host === undefined) continue;
    const normal = normalAt(host, centre, profileAxis);
    if (!declared.includes(n)) {
      const stretch = stretchAt(host, centre, normal, host.thicknessMm);
      if (stretch === null) continue;
    }
    const isAlong = profileAxis !== null && Math.abs(dot3(profileAxis, normal)) >= ALONG_COSINE;
    return isAlong && profileAxis !== null ? profileAxis : normal;
  }
  return profileAxis ?? thinDirection(box);
}

/** Of an opening alone: the world axis along which it is thinnest. */
function thinDirection({ low, high }: Box): Vec3 {
  const sizes = [high[0] - low[0], high[1] - low[1], high[2] - low[2]];
  const thin = sizes.indexOf(Math.min(...sizes));
  return thin === 0 ? [1, 0, 0] : thin === 1 ? [0, 1, 0] : [0, 0, 1];
}

function extentAlong(
  positionsMm: Float64Array,
  centre: Vec3,
  axis: Vec3,
): { readonly from: number; readonly to: number } {
  let from = Infinity;
  let to = -Infinity;
  const offset = dot3(centre, axis);
  for (let n = 0; n + 2 < positionsMm.length; n += 3) {
    const at =
      (positionsMm[n] ?? 0) * axis[0] +
      (positionsMm[n + 1] ?? 0) * axis[1] +
      (positionsMm[n + 2] ?? 0) * axis[2] -
      offset;
    if (at < from) from = at;
    if (at > to) to = at;
  }
  return { from, to };
}

function spanIn(
  hosts: readonly HostBody[],
  n: number,
  mesh: Mesh | null,
  centre: Vec3,
  axis: Vec3,
  extent: { readonly from: number; readonly to: number },
  isDeclared: boolean,
): OpeningSpan | null {
  const host = hosts[n];
  if (host === undefined) return null;
  const reach = Math.max(Math.abs(extent.from), Math.abs(extent.to));
  const spanAt = (point: Vec3): OpeningSpan | null => {
    const stretch = stretchAt(host, point, axis, reach);
    if (stretch === null) return null;
    const offset = dot3(sub3(point, centre), axis);
    const from = stretch.enter.at + offset;
    const to = stretch.leave.at + offset;
    const overlap = Math.min(to, extent.to) - Math.max(from, extent.from);
    if (overlap < LEAST_OVERLAP_MM) return null;
    const isThrough = extent.from <= from + DEPTH_SLACK_MM && extent.to >= to - DEPTH_SLACK_MM;
    return { host: n, fromMm: from, toMm: to, isThrough };
  };
  const inMiddle = spanAt(centre);
  if (inMiddle !== null || !isDeclared) return inMiddle;
  // Other points matter only where the middle misses the host.
  for (const point of mesh === null ? [] : insidePoints(mesh)) {
    const span = spanAt(point);
    if (span !== null) return span;
  }
  return spanAcross(host, n, centre, axis, extent);
}

/** Deepest host, over all, that a declared opening is taken to lie in where no line meets it, mm. */
const DEEPEST_FRAME_MM = 1500;

/** A framed wall has nothing behind an opening's middle: its whole depth counts. */
function spanAcross(
  host: HostBody,
  n: number,
  centre: Vec3,
  axis: Vec3,
  extent: { readonly from: number; readonly to: number },
): OpeningSpan | null {
  const whole = extentAlong(host.body.corners, centre, axis);
  const overlap = Math.min(whole.to, extent.to) - Math.max(whole.from, extent.from);
  if (whole.to - whole.from > DEEPEST_FRAME_MM || overlap < LEAST_OVERLAP_MM) return null;
  const isThrough =
    extent.from <= whole.from + DEPTH_SLACK_MM && extent.to >= whole.to - DEPTH_SLACK_MM;
  return { host: n, fromMm: whole.from, toMm: whole.to, isThrough };
}

/** A few points of an opening other than its centre, for one that lies half outside its host. */
function insidePoints(mesh: Mesh): readonly Vec3[] {
  const body = solidBody(mesh);
  const centre = boxCentre(body.box);
  return Array.from({ length: Math.min(body.count, 8) }, (_, n) =>
    lerp3(faceMiddle(body, n), centre, 0.2),
  );
}

function middleOf(
  spans: readonly OpeningSpan[],
  extent: { readonly from: number; readonly to: number },
): number {
  if (spans.length === 0) return (extent.from + extent.to) / 2;
  const from = Math.min(...spans.map(({ fromMm }) => fromMm));
  const to = Math.max(...spans.map(({ toMm }) => toMm));
  return (from + to) / 2;
}

/**
 * The section plane at a point: through a wall one looks north (or east) with z up; through a slab one
 * looks down with north up.
 */
export function frameFor(originMm: Vec3, through: Vec3): SectionFrame {
  const isFlat = Math.abs(through[2]) > 0.7;
  const axis = isFlat ? downward(through) : northward(through);
  const hint: Vec3 = isFlat ? [0, 1, 0] : [0, 0, 1];
  const up = unit3(sub3(hint, scale3(axis, dot3(hint, axis)))) ?? [0, 0, 1];
  return { originMm, axis, right: cross3(axis, up), up };
}

function downward(axis: Vec3): Vec3 {
  return axis[2] > 0 ? scale3(axis, -1) : axis;
}

function northward(axis: Vec3): Vec3 {
  const isNorth = Math.abs(axis[1]) >= Math.abs(axis[0]) - 1e-9;
  const positive = isNorth ? axis[1] > 0 : axis[0] > 0;
  return positive ? axis : scale3(axis, -1);
}

interface Outline {
  readonly shape: Shape;
  /** Centre of the shape in the frame it was taken in. */
  readonly centre: Vec2;
  /** Unit vector along a side of a shape that has straight sides; null for the others. */
  readonly sides: Vec2 | null;
}

/**
 * In a floor, a frame whose up is the side of the shape nearest to north, so that a rectangle stays
 * one in a building that is turned. In a wall up stays plumb.
 */
export function alignedFrame(frame: SectionFrame, sides: Vec2 | null): SectionFrame {
  if (sides === null || Math.abs(frame.axis[2]) <= 0.7) return frame;
  const turns: readonly Vec2[] = [sides, [-sides[1], sides[0]]];
  const nearest = turns.reduce((a, b) => (Math.abs(b[1]) > Math.abs(a[1]) + 1e-9 ? b : a));
  const [x, y] = nearest[1] < 0 ? [-nearest[0], -nearest[1]] : nearest;
  if (Math.abs(x) < 1e-6) return frame;
  const up = add3(scale3(frame.right, x), scale3(frame.up, y));
  return { ...frame, up, right: cross3(frame.axis, up) };
}

/** The outline across the axis: from the exact profile where it lies across, else a cut through the mesh. */
function outlineOf(
  opening: Opening,
  frame: SectionFrame,
  profileAxis: Vec3 | null,
): Outline | null {
  const { profile } = opening;
  if (
    profile !== null &&
    profileAxis !== null &&
    Math.abs(dot3(profileAxis, frame.axis)) > 0.9999
  ) {
    const right: Vec2 = [dot3(profile.right, frame.right), dot3(profile.right, frame.up)];
    const up: Vec2 = [dot3(profile.up, frame.right), dot3(profile.up, frame.up)];
    const offset = sub3(profile.startMm, frame.originMm);
    return {
      shape: turnedShape(profile.shape, right, up),
      centre: [dot3(offset, frame.right), dot3(offset, frame.up)],
      sides: hasSides(profile.shape) ? right : null,
    };
  }
  if (opening.mesh === null) return null;
  const outlines = sliceBody(solidBody(opening.mesh), {
    origin: frame.originMm,
    right: frame.right,
    up: frame.up,
    normal: frame.axis,
  });
  const largest = outlines.reduce<readonly Vec2[] | null>(
    (a, b) => (a === null || polygonAreaMm2(b) > polygonAreaMm2(a) ? b : a),
    null,
  );
  if (largest === null) return null;
  const found = recogniseOutline(largest);
  if (found === null) return null;
  const across: Vec2 = [-found.right[1], found.right[0]];
  return {
    shape: turnedShape(found.shape, found.right, across),
    centre: found.centre,
    sides: hasSides(found.shape) ? found.right : null,
  };
}

function hasSides({ type }: Shape): boolean {
  return type === 'rectangle' || type === 'slot' || type === 'oval';
}

const SQUARE_COSINE = 0.9999;

/** A shape with its own x and y along the given directions, said in the frame's x and y. */
export function turnedShape(shape: Shape, right: Vec2, up: Vec2): Shape {
  if (shape.type === 'circle') return shape;
  const isStraight = Math.abs(right[0]) > SQUARE_COSINE;
  const isSideways = Math.abs(right[1]) > SQUARE_COSINE;
  if (shape.type === 'rectangle') {
    if (isStraight) return shape;
    if (isSideways) {
      return { type: 'rectangle', widthMm: shape.heightMm, heightMm: shape.widthMm };
    }
  } else if (shape.type !== 'polygon' && isStraight) return shape;
  return {
    type: 'polygon',
    pointsMm: shapeOutline(shape).map(
      ([x, y]): Vec2 => [x * right[0] + y * up[0], x * right[1] + y * up[1]],
    ),
  };
}

const ROUND_CHORDS = 48;

/** Corners of a shape round its centre; round ones as chords. */
function shapeOutline(shape: Shape): readonly Vec2[] {
  switch (shape.type) {
    case 'circle':
      return ellipse(shape.diameterMm / 2, shape.diameterMm / 2);
    case 'oval':
      return ellipse(shape.lengthMm / 2, shape.widthMm / 2);
    case 'rectangle': {
      const [x, y] = [shape.widthMm / 2, shape.heightMm / 2];
      return [
        [-x, -y],
        [x, -y],
        [x, y],
        [-x, y],
      ];
    }
    case 'slot': {
      const radius = shape.widthMm / 2;
      const straight = shape.lengthMm / 2 - radius;
      return ellipse(radius, radius).map(
        ([x, y]): Vec2 => [x + (x >= 0 ? straight : -straight), y],
      );
    }
    case 'polygon':
      return shape.pointsMm;
  }
}

function ellipse(radiusX: number, radiusY: number): readonly Vec2[] {
  return Array.from({ length: ROUND_CHORDS }, (_, n): Vec2 => {
    const angle = (2 * Math.PI * n) / ROUND_CHORDS;
    return [radiusX * Math.cos(angle), radiusY * Math.sin(angle)];
  });
}

/** How far inside a shape's outline a point lies, mm; negative outside. */
export function depthInShape(shape: Shape, point: Vec2): number {
  if (shape.type === 'circle') return shape.diameterMm / 2 - Math.hypot(...point);
  const outline = shapeOutline(shape);
  const distance = distanceToOutline(outline, point);
  return isInsideOutline(outline, point) ? distance : -distance;
}

/** A world point in a section frame: right, up, and along the axis. */
export function inSection(frame: SectionFrame, point: Vec3): Vec3 {
  const offset = sub3(point, frame.originMm);
  return [dot3(offset, frame.right), dot3(offset, frame.up), dot3(offset, frame.axis)];
}

import type {
  DxfArc,
  DxfEllipse,
  DxfLine,
  DxfLook,
  DxfPlain,
  DxfPoint,
  DxfPolyline,
  DxfSolid,
  DxfSpline,
  DxfVertex,
} from './dxf-entity.ts';
import {
  asNumber,
  type EntityTags,
  handleOf,
  hasCode,
  numberOf,
  numbersOf,
  pointOf,
  pointsOf,
  radians,
  sweepBetween,
} from './entity-tags.ts';

export function lineOf(tags: EntityTags, look: DxfLook): DxfLine {
  return {
    type: tags.type,
    handle: handleOf(tags),
    look,
    kind: 'line',
    start: pointOf(tags, 10),
    end: pointOf(tags, 11),
  };
}

export function pointEntityOf(tags: EntityTags, look: DxfLook): DxfPlain {
  return {
    type: tags.type,
    handle: handleOf(tags),
    look,
    kind: 'point',
    position: pointOf(tags, 10),
  };
}

export function circleOf(tags: EntityTags, look: DxfLook): DxfArc {
  return {
    type: tags.type,
    handle: handleOf(tags),
    look,
    kind: 'arc',
    centre: pointOf(tags, 10),
    radius: Math.abs(numberOf(tags, 40, 0)),
    startRad: 0,
    sweepRad: 2 * Math.PI,
  };
}

export function arcOf(tags: EntityTags, look: DxfLook): DxfArc {
  const startRad = radians(numberOf(tags, 50, 0));
  return {
    type: tags.type,
    handle: handleOf(tags),
    look,
    kind: 'arc',
    centre: pointOf(tags, 10),
    radius: Math.abs(numberOf(tags, 40, 0)),
    startRad,
    sweepRad: sweepBetween(startRad, radians(numberOf(tags, 51, 360))),
  };
}

export function ellipseOf(tags: EntityTags, look: DxfLook): DxfEllipse {
  const startRad = numberOf(tags, 41, 0);
  return {
    type: tags.type,
    handle: handleOf(tags),
    look,
    kind: 'ellipse',
    centre: pointOf(tags, 10),
    major: pointOf(tags, 11),
    ratio: numberOf(tags, 40, 1),
    startRad,
    sweepRad: sweepBetween(startRad, numberOf(tags, 42, 2 * Math.PI)),
  };
}

/**
 * LWPOLYLINE. Each 10 begins a vertex whatever stands between (vertex ids, code 91, among them);
 * the count in 90 is not trusted.
 */
export function lwpolylineOf(tags: EntityTags, look: DxfLook): DxfPolyline {
  const elevation = numberOf(tags, 38, 0);
  const vertices: { x: number; y: number; z: number; bulge: number }[] = [];
  let widest = 0;
  for (let i = 0; i < tags.codes.length; i++) {
    const value = asNumber(tags.values[i]);
    const current = vertices.at(-1);
    switch (tags.codes[i]) {
      case 10:
        vertices.push({ x: value, y: 0, z: elevation, bulge: 0 });
        break;
      case 20:
        if (current !== undefined) current.y = value;
        break;
      case 42:
        if (current !== undefined) current.bulge = value;
        break;
      case 40:
      case 41:
        widest = Math.max(widest, value);
        break;
    }
  }
  return {
    type: tags.type,
    handle: handleOf(tags),
    look,
    kind: 'polyline',
    vertices,
    isClosed: (numberOf(tags, 70, 0) & 1) === 1,
    width: Math.max(0, numberOf(tags, 43, widest)),
    is3d: false,
  };
}

const VERTEX_SPLINE_FRAME = 16;
const VERTEX_FACE_RECORD = 128;
const VERTEX_OF_MESH = 64;

/** Old-style POLYLINE with its VERTEX records; null for meshes, whose edges are no drawn lines. */
export function polylineOf(
  tags: EntityTags,
  look: DxfLook,
  vertices: readonly EntityTags[],
): DxfPolyline | null {
  const flags = numberOf(tags, 70, 0);
  const isMesh = (flags & 16) !== 0 || (flags & 64) !== 0;
  if (isMesh) return null;
  const is3d = (flags & 8) !== 0;
  const elevation = is3d ? 0 : numberOf(tags, 30, 0);
  return {
    type: tags.type,
    handle: handleOf(tags),
    look,
    kind: 'polyline',
    vertices: vertices.flatMap((vertex) => vertexOf(vertex, is3d, elevation)),
    isClosed: (flags & 1) === 1,
    width: Math.max(0, numberOf(tags, 40, 0)),
    is3d,
  };
}

function vertexOf(tags: EntityTags, is3d: boolean, elevation: number): DxfVertex[] {
  const flags = numberOf(tags, 70, 0);
  // The frame of a spline-fit polyline is not drawn; face records hold no place at all.
  if ((flags & VERTEX_SPLINE_FRAME) !== 0) return [];
  if ((flags & VERTEX_FACE_RECORD) !== 0 && (flags & VERTEX_OF_MESH) === 0) return [];
  const [x, y, z] = pointOf(tags, 10);
  return [{ x, y, z: is3d ? z : elevation, bulge: is3d ? 0 : numberOf(tags, 42, 0) }];
}

export function splineOf(tags: EntityTags, look: DxfLook): DxfSpline {
  const flags = numberOf(tags, 70, 0);
  return {
    type: tags.type,
    handle: handleOf(tags),
    look,
    kind: 'spline',
    degree: numberOf(tags, 71, 3),
    isClosed: (flags & 1) === 1,
    knots: numbersOf(tags, 40),
    controlPoints: pointsOf(tags, 10),
    weights: numbersOf(tags, 41),
    fitPoints: pointsOf(tags, 11),
  };
}

/** SOLID and TRACE give their corners crosswise (1, 2, 4, 3); 3DFACE goes round. */
export function solidOf(tags: EntityTags, look: DxfLook): DxfSolid {
  const isWorld = tags.type === '3DFACE';
  const given = [10, 11, 12, 13].filter((code) => hasCode(tags, code));
  const points = given.map((code) => pointOf(tags, code));
  const [a, b, c, d] = points;
  const corners: DxfPoint[] = [];
  if (a !== undefined && b !== undefined && c !== undefined) {
    if (d === undefined || samePoint(c, d)) corners.push(a, b, c);
    else if (isWorld) corners.push(a, b, c, d);
    else corners.push(a, b, d, c);
  }
  return { type: tags.type, handle: handleOf(tags), look, kind: 'solid', corners, isWorld };
}

function samePoint(a: DxfPoint, b: DxfPoint): boolean {
  return a[0] === b[0] && a[1] === b[1] && a[2] === b[2];
}

import type {
  DxfHatch,
  DxfHatchEdge,
  DxfHatchPath,
  DxfLook,
  DxfMultiline,
  DxfPoint,
  DxfVertex,
  DxfViewport,
  DxfWipeout,
} from './dxf-entity.ts';
import {
  asNumber,
  type EntityTags,
  handleOf,
  numberOf,
  pointOf,
  pointsOf,
  radians,
  sweepBetween,
  textOf,
} from './entity-tags.ts';

const PATH_IS_POLYLINE = 2;

/**
 * HATCH. Its boundary paths are a sequence in which the same codes mean different things, so the
 * tags are walked once with a cursor. What does not fit the pattern ends the path early.
 */
export function hatchOf(tags: EntityTags, look: DxfLook): DxfHatch {
  const cursor = { at: Math.max(0, tags.codes.indexOf(91)) };
  const pathCount = numberOf(tags, 91, 0);
  const paths: DxfHatchPath[] = [];
  while (paths.length < pathCount && moveTo(tags, cursor, 92, [75, 78, 98])) {
    const flags = asNumber(tags.values[cursor.at]);
    cursor.at += 1;
    paths.push(
      (flags & PATH_IS_POLYLINE) !== 0 ? polylinePath(tags, cursor) : edgePath(tags, cursor),
    );
  }
  return {
    type: tags.type,
    handle: handleOf(tags),
    look,
    kind: 'hatch',
    pattern: textOf(tags, 2) ?? '',
    isSolid: numberOf(tags, 70, 0) === 1,
    elevation: numberOf(tags, 30, 0),
    paths,
  };
}

interface Cursor {
  at: number;
}

/** Moves on to the next tag with this code, not past any of the stops. */
function moveTo(tags: EntityTags, cursor: Cursor, code: number, stops: readonly number[]): boolean {
  while (cursor.at < tags.codes.length) {
    const here = tags.codes[cursor.at];
    if (here === code) return true;
    if (here !== undefined && stops.includes(here)) return false;
    cursor.at += 1;
  }
  return false;
}

function polylinePath(tags: EntityTags, cursor: Cursor): DxfHatchPath {
  const vertices: { x: number; y: number; z: number; bulge: number }[] = [];
  if (!moveTo(tags, cursor, 93, [92, 97, 75, 98])) return { type: 'polyline', vertices };
  cursor.at += 1;
  for (; cursor.at < tags.codes.length; cursor.at++) {
    const value = asNumber(tags.values[cursor.at]);
    const current = vertices.at(-1);
    switch (tags.codes[cursor.at]) {
      case 10:
        vertices.push({ x: value, y: 0, z: 0, bulge: 0 });
        break;
      case 20:
        if (current !== undefined) current.y = value;
        break;
      case 42:
        if (current !== undefined) current.bulge = value;
        break;
      default:
        return { type: 'polyline', vertices };
    }
  }
  return { type: 'polyline', vertices };
}

function edgePath(tags: EntityTags, cursor: Cursor): DxfHatchPath {
  const edges: DxfHatchEdge[] = [];
  if (!moveTo(tags, cursor, 93, [92, 97, 75, 98])) return { type: 'edges', edges };
  const count = asNumber(tags.values[cursor.at]);
  cursor.at += 1;
  while (edges.length < count && tags.codes[cursor.at] === 72) {
    const kind = asNumber(tags.values[cursor.at]);
    const from = cursor.at + 1;
    let end = from;
    while (end < tags.codes.length && !isEdgeEnd(tags.codes[end])) end += 1;
    const edge = edgeOf(kind, {
      type: 'edge',
      codes: tags.codes.slice(from, end),
      values: tags.values.slice(from, end),
    });
    if (edge === null) break;
    edges.push(edge);
    cursor.at = end;
  }
  return { type: 'edges', edges };
}

const isEdgeEnd = (code: number | undefined): boolean =>
  code === 72 || code === 92 || code === 75 || code === 98 || code === 330;

function edgeOf(kind: number, tags: EntityTags): DxfHatchEdge | null {
  switch (kind) {
    case 1:
      return { type: 'line', start: pointOf(tags, 10), end: pointOf(tags, 11) };
    case 2: {
      const turn = turnOf(tags, radians);
      return { type: 'arc', centre: pointOf(tags, 10), radius: numberOf(tags, 40, 0), ...turn };
    }
    case 3: {
      const turn = turnOf(tags, radians);
      const major = pointOf(tags, 11);
      const ratio = numberOf(tags, 40, 1);
      return { type: 'ellipse', centre: pointOf(tags, 10), major, ratio, ...turn };
    }
    case 4:
      return splineEdge(tags);
    default:
      return null;
  }
}

/** Start and sweep of an edge's arc; one drawn clockwise has its angles measured clockwise too. */
function turnOf(
  tags: EntityTags,
  toRad: (angle: number) => number,
): { readonly startRad: number; readonly sweepRad: number } {
  const start = toRad(numberOf(tags, 50, 0));
  const sweep = sweepBetween(start, toRad(numberOf(tags, 51, 360)));
  const isAnticlockwise = numberOf(tags, 73, 1) !== 0;
  return isAnticlockwise
    ? { startRad: start, sweepRad: sweep }
    : { startRad: -start, sweepRad: -sweep };
}

function splineEdge(tags: EntityTags): DxfHatchEdge {
  const knots: number[] = [];
  const weights: number[] = [];
  for (let i = 0; i < tags.codes.length; i++) {
    if (tags.codes[i] === 40) knots.push(asNumber(tags.values[i]));
    if (tags.codes[i] === 42) weights.push(asNumber(tags.values[i]));
  }
  return {
    type: 'spline',
    degree: numberOf(tags, 94, 3),
    knots,
    weights,
    controlPoints: pointsOf(tags, 10),
  };
}

const MLINE_CLOSED = 2;

/**
 * MLINE: at each vertex, each element's line lies on the mitre direction, at the distance that is
 * the element's first parameter there.
 */
export function multilineOf(tags: EntityTags, look: DxfLook): DxfMultiline {
  const lines: DxfPoint[][] = [];
  let vertex: DxfPoint | null = null;
  let mitre: DxfPoint = [0, 0, 0];
  let element = 0;
  let isFirstParameter = false;
  for (let i = 0; i < tags.codes.length; i++) {
    const code = tags.codes[i];
    if (code === 11) {
      vertex = pointOf(sliceTags(tags, i, 3), 11);
      element = 0;
    } else if (code === 13) {
      mitre = pointOf(sliceTags(tags, i, 3), 13);
    } else if (code === 74) {
      isFirstParameter = true;
    } else if (code === 41 && isFirstParameter && vertex !== null) {
      isFirstParameter = false;
      const line = lines[element] ?? [];
      lines[element] = line;
      line.push(along(vertex, mitre, asNumber(tags.values[i])));
      element += 1;
    }
  }
  return {
    type: tags.type,
    handle: handleOf(tags),
    look,
    kind: 'multiline',
    lines,
    isClosed: (numberOf(tags, 71, 0) & MLINE_CLOSED) !== 0,
  };
}

function sliceTags(tags: EntityTags, from: number, count: number): EntityTags {
  return {
    type: tags.type,
    codes: tags.codes.slice(from, from + count),
    values: tags.values.slice(from, from + count),
  };
}

function along(from: DxfPoint, direction: DxfPoint, distance: number): DxfPoint {
  return [
    from[0] + direction[0] * distance,
    from[1] + direction[1] * distance,
    from[2] + direction[2] * distance,
  ];
}

export function viewportOf(tags: EntityTags, look: DxfLook): DxfViewport {
  return {
    type: tags.type,
    handle: handleOf(tags),
    look,
    kind: 'viewport',
    number: numberOf(tags, 69, 0),
    paperHeight: numberOf(tags, 41, 0),
    viewHeight: numberOf(tags, 45, 0),
  };
}

/**
 * WIPEOUT: its outline is given in the picture's own frame, from −0.5 to 0.5 across the vectors u
 * and v with y downwards; two points are opposite corners.
 */
export function wipeoutOf(tags: EntityTags, look: DxfLook): DxfWipeout {
  const origin = pointOf(tags, 10);
  const u = pointOf(tags, 11);
  const v = pointOf(tags, 12);
  const given: DxfVertex[] = pointsOf(tags, 14).map(([x, y]) => ({ x, y, z: 0, bulge: 0 }));
  const [first, second] = given;
  const corners =
    given.length === 2 && first !== undefined && second !== undefined
      ? [first, { ...first, x: second.x }, second, { ...first, y: second.y }]
      : given;
  const outline = corners.map(({ x, y }) => along(along(origin, u, x + 0.5), v, 0.5 - y));
  return { type: tags.type, handle: handleOf(tags), look, kind: 'wipeout', outline };
}

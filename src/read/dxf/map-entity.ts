import type {
  DxfEntity,
  DxfHatch,
  DxfHatchEdge,
  DxfPolyline,
  DxfVertex,
} from '../../formats/dxf/dxf-entity.ts';
import { type Frame3, frameInside } from '../../geometry/frame3.ts';
import {
  bulgeArc,
  line,
  linesThrough,
  mapArc,
  mapEllipse,
  mapPoint,
  type PlanePiece,
  pieceEnd,
  pieceStart,
  SHORTEST_LINE,
} from '../../geometry/plane-curve.ts';
import { splinePoints, throughPoints } from '../../geometry/plane-spline.ts';
import { planeOfExtrusion } from '../../geometry/plane-transform.ts';
import { cross3, distance2, scale3, unit3, type Vec3 } from '../../geometry/vec.ts';
import type { DrawnLoop } from '../../model/drawing.ts';

/**
 * The lines and arcs of an entity, seen from above, after `map` (from the entity's space to the
 * drawing's millimetres). Null for entities that draw no lines of their own.
 */
export function mapEntity(entity: DxfEntity, map: Frame3): readonly DrawnLoop[] | null {
  const own = () => frameInside(map, planeOfExtrusion(entity.look.extrusion));
  switch (entity.kind) {
    case 'line':
      return [open(linesThrough([mapPoint(map, entity.start), mapPoint(map, entity.end)]))];
    case 'arc': {
      if (!(entity.radius > 0)) return [];
      const pieces = mapArc(own(), entity);
      return [{ pieces, isClosed: isFullTurn(entity.sweepRad) }];
    }
    case 'ellipse': {
      const minor = minorAxis(entity.major, entity.look.extrusion, entity.ratio);
      const pieces =
        Math.abs(entity.ratio - 1) < 1e-9
          ? circleFromAxes(map, entity, minor)
          : mapEllipse(map, { ...entity, minor });
      return [{ pieces, isClosed: isFullTurn(entity.sweepRad) }];
    }
    case 'polyline':
      return [mapPolyline(entity, entity.is3d ? map : own())];
    case 'spline': {
      const points = splinePoints(entity);
      const through = points.length > 0 ? points : throughPoints(curvePoints(entity));
      const mapped = through.map((point) => mapPoint(map, point));
      return [{ pieces: linesThrough(mapped), isClosed: entity.isClosed }];
    }
    case 'solid': {
      const corners = entity.corners.map((corner) =>
        mapPoint(entity.isWorld ? map : own(), corner),
      );
      const [first] = corners;
      if (first === undefined) return [];
      return [{ pieces: linesThrough([...corners, first]), isClosed: true }];
    }
    case 'hatch':
      return mapHatch(entity, own());
    case 'multiline':
      return entity.lines.map((points) => {
        const mapped = points.map((point) => mapPoint(map, point));
        const [first] = mapped;
        const closed = entity.isClosed && first !== undefined ? [...mapped, first] : mapped;
        return { pieces: linesThrough(closed), isClosed: entity.isClosed };
      });
    default:
      return null;
  }
}

const open = (pieces: readonly PlanePiece[]): DrawnLoop => ({ pieces, isClosed: false });

const isFullTurn = (sweepRad: number): boolean => Math.abs(sweepRad) > 2 * Math.PI - 1e-9;

function minorAxis(major: Vec3, extrusion: Vec3, ratio: number): Vec3 {
  const normal = unit3(extrusion) ?? [0, 0, 1];
  return scale3(cross3(normal, major), ratio);
}

/** An ellipse whose axes are equal is a circle, and is kept as one. */
function circleFromAxes(
  map: Frame3,
  ellipse: { centre: Vec3; major: Vec3; startRad: number; sweepRad: number },
  minor: Vec3,
): PlanePiece[] {
  const plane: Frame3 = {
    x: ellipse.major,
    y: minor,
    z: [0, 0, 1],
    origin: ellipse.centre,
  };
  return mapArc(frameInside(map, plane), {
    centre: [0, 0, 0],
    radius: 1,
    startRad: ellipse.startRad,
    sweepRad: ellipse.sweepRad,
  });
}

function curvePoints(entity: {
  readonly fitPoints: readonly Vec3[];
  readonly controlPoints: readonly Vec3[];
}): readonly Vec3[] {
  return entity.fitPoints.length > 1 ? entity.fitPoints : entity.controlPoints;
}

function mapPolyline(entity: DxfPolyline, map: Frame3): DrawnLoop {
  const pieces = vertexPieces(entity.vertices, entity.isClosed, map);
  const [first] = pieces;
  const last = pieces.at(-1);
  // Many draw a closed outline by ending where it began.
  const meets =
    first !== undefined &&
    last !== undefined &&
    pieces.length > 2 &&
    distance2(pieceStart(first), pieceEnd(last)) < 1e-6;
  return { pieces, isClosed: entity.isClosed || meets };
}

function vertexPieces(
  vertices: readonly DxfVertex[],
  isClosed: boolean,
  map: Frame3,
): PlanePiece[] {
  const pieces: PlanePiece[] = [];
  const count = isClosed ? vertices.length : vertices.length - 1;
  for (let i = 0; i < count; i++) {
    const from = vertices[i];
    const to = vertices[(i + 1) % vertices.length];
    if (from === undefined || to === undefined) continue;
    const isStraight = from.bulge === 0;
    const arc = isStraight ? null : bulgeArc([from.x, from.y], [to.x, to.y], from.bulge);
    if (arc !== null) {
      const centre: Vec3 = [arc.centre[0], arc.centre[1], from.z];
      pieces.push(...mapArc(map, { ...arc, centre }));
    } else {
      const start = mapPoint(map, [from.x, from.y, from.z]);
      const end = mapPoint(map, [to.x, to.y, to.z]);
      // As in linesThrough: this makes most of the lines of a drawing.
      if (distance2(start, end) > SHORTEST_LINE) pieces.push(line(start, end));
    }
  }
  return pieces;
}

function mapHatch(entity: DxfHatch, map: Frame3): DrawnLoop[] {
  return entity.paths.map((path) => {
    const pieces =
      path.type === 'polyline'
        ? vertexPieces(
            path.vertices.map((vertex) => ({ ...vertex, z: entity.elevation })),
            true,
            map,
          )
        : closeUp(path.edges.flatMap((edge) => mapHatchEdge(edge, entity.elevation, map)));
    return { pieces, isClosed: true };
  });
}

function mapHatchEdge(edge: DxfHatchEdge, z: number, map: Frame3): PlanePiece[] {
  const lift = ([x, y]: Vec3): Vec3 => [x, y, z];
  switch (edge.type) {
    case 'line':
      return linesThrough([mapPoint(map, lift(edge.start)), mapPoint(map, lift(edge.end))]);
    case 'arc':
      return mapArc(map, { ...edge, centre: lift(edge.centre) });
    case 'ellipse': {
      const minor = scale3(cross3([0, 0, 1], edge.major), edge.ratio);
      return mapEllipse(map, { ...edge, centre: lift(edge.centre), minor });
    }
    case 'spline':
      return linesThrough(splinePoints(edge).map((point) => mapPoint(map, lift(point))));
  }
}

function closeUp(pieces: readonly PlanePiece[]): PlanePiece[] {
  const first = pieces[0];
  const last = pieces.at(-1);
  if (first === undefined || last === undefined) return [];
  const from = pieceEnd(last);
  const to = pieceStart(first);
  return distance2(from, to) > 1e-6 ? [...pieces, line(from, to)] : [...pieces];
}

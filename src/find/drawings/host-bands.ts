import { compareText } from '../../basics/order.ts';
import { type Band, type BandInput, findBands } from '../../geometry/plane-band.ts';
import { BandIndex } from '../../geometry/plane-cross.ts';
import { pathPoints, pieceLengthMm } from '../../geometry/plane-curve.ts';
import type { Side } from '../../geometry/plane-rails.ts';
import { signedPolygonAreaMm2 } from '../../geometry/shape.ts';
import type { HostKind } from '../../model/building.ts';
import type { DrawnEntity, DrawnLoop } from '../../model/drawing.ts';
import type { Settings } from '../../model/settings.ts';

/** The hosts of a view: bands, and for each the entities that draw its two faces. */
export interface HostBands {
  readonly bands: readonly Band[];
  readonly index: BandIndex;
  /** Entities that draw a band's faces, lowest id first. */
  readonly entitiesOf: (band: number) => readonly DrawnEntity[];
  readonly kindOf: (band: number) => HostKind;
}

/** Walls and slabs of a view from the lines, outlines and fills on their layers. */
export function hostBands(
  walls: readonly DrawnEntity[],
  slabs: readonly DrawnEntity[],
  settings: Settings,
): HostBands {
  const { thinnestWallMm, thickestWallMm, leafGapMm } = settings.find;
  const limits = { thinnest: thinnestWallMm, thickest: thickestWallMm, layer: leafGapMm };
  const entities = [...walls, ...slabs];
  const wallBands = findBands(inputsOf(walls, 0, thickestWallMm), limits);
  const slabBands = findBands(inputsOf(slabs, walls.length, thickestWallMm), limits);
  const bands = [...wallBands, ...slabBands];
  return {
    bands,
    index: new BandIndex(bands),
    entitiesOf: (at) => {
      const band = bands[at];
      const sources = band === undefined ? [] : [...band.low, ...band.high];
      const found = sources.flatMap((source) => entities[source] ?? []);
      return [...new Set(found)].sort((a, b) => compareText(a.ref.id, b.ref.id));
    },
    kindOf: (at) => (at < wallBands.length ? 'wall' : 'slab'),
  };
}

function inputsOf(
  entities: readonly DrawnEntity[],
  firstSource: number,
  thickestMm: number,
): BandInput[] {
  return entities.flatMap((entity, i) => inputsOfEntity(entity, firstSource + i, thickestMm));
}

/** Lines of an entity with what its outline tells of their two sides. */
function inputsOfEntity(entity: DrawnEntity, source: number, thickestMm: number): BandInput[] {
  if (entity.widthMm > 0) return wideLine(entity, source);
  const isMultiline = entity.type === 'MLINE' && entity.loops.length > 1;
  const filledSides = isMultiline ? null : filledSidesOf(entity, thickestMm);
  return entity.loops.flatMap((loop, i) => {
    const left: Side = filledSides?.[i] ?? 'unknown';
    const right: Side = left === 'unknown' ? 'unknown' : left === 'filled' ? 'empty' : 'filled';
    return loop.pieces.map((piece) => ({ piece, source, left, right }));
  });
}

/**
 * For each loop whether its left side is filled. Only for outlines that are as thin as a wall:
 * a large closed outline may be a room, a building, or a wall's outer face alone.
 */
function filledSidesOf(entity: DrawnEntity, thickestMm: number): readonly Side[] | null {
  if (!entity.loops.every(({ isClosed }) => isClosed)) return null;
  const outlines = entity.loops.map(outlineOf);
  const areas = outlines.map(signedPolygonAreaMm2);
  const perimeter = entity.loops.reduce((sum, loop) => sum + loopLength(loop), 0);
  // Inner loops of a fill are holes in it; a loop inside an odd number of others is one.
  const depths = outlines.map(
    (outline, i) => outlines.filter((other, j) => j !== i && isInside(outline[0], other)).length,
  );
  const area = areas.reduce(
    (sum, each, i) => sum + Math.abs(each) * ((depths[i] ?? 0) % 2 === 0 ? 1 : -1),
    0,
  );
  if (perimeter <= 0 || (2 * area) / perimeter > thickestMm) return null;
  if (entity.loops.length === 1 && !hasThinPart(entity.loops[0], thickestMm)) return null;
  return areas.map((each, i) => {
    const isHole = (depths[i] ?? 0) % 2 === 1;
    return each > 0 !== isHole ? 'filled' : 'empty';
  });
}

/** A rectangle whose short side is thicker than any wall is no wall, however small it is. */
function hasThinPart(loop: DrawnLoop | undefined, thickestMm: number): boolean {
  if (loop === undefined || loop.pieces.length !== 4) return true;
  return Math.min(...loop.pieces.map(pieceLengthMm)) <= thickestMm;
}

const outlineOf = (loop: DrawnLoop) => pathPoints(loop.pieces);

const loopLength = (loop: DrawnLoop): number =>
  loop.pieces.reduce((sum, piece) => sum + pieceLengthMm(piece), 0);

function isInside(
  point: readonly [number, number] | undefined,
  outline: readonly (readonly [number, number])[],
): boolean {
  if (point === undefined) return false;
  let inside = false;
  let before = outline[outline.length - 1];
  for (const corner of outline) {
    if (before !== undefined && corner[1] > point[1] !== before[1] > point[1]) {
      const x =
        corner[0] + ((point[1] - corner[1]) / (before[1] - corner[1])) * (before[0] - corner[0]);
      if (point[0] < x) inside = !inside;
    }
    before = corner;
  }
  return inside;
}

/** A wall drawn as one line as wide as the wall: its two edges. */
function wideLine(entity: DrawnEntity, source: number): BandInput[] {
  const half = entity.widthMm / 2;
  return entity.loops.flatMap(({ pieces }) =>
    pieces.flatMap((piece): BandInput[] => {
      if (piece.type === 'arc') {
        const side = piece.sweepRad > 0 ? 1 : -1;
        return [
          { piece: { ...piece, radiusMm: piece.radiusMm + half }, source, ...sides(side > 0) },
          { piece: { ...piece, radiusMm: piece.radiusMm - half }, source, ...sides(side < 0) },
        ];
      }
      const [dx, dy] = [piece.to[0] - piece.from[0], piece.to[1] - piece.from[1]];
      const length = Math.hypot(dx, dy);
      const [nx, ny] = [(-dy / length) * half, (dx / length) * half];
      const edge = (sign: number): BandInput => ({
        piece: {
          type: 'line',
          from: [piece.from[0] + sign * nx, piece.from[1] + sign * ny],
          to: [piece.to[0] + sign * nx, piece.to[1] + sign * ny],
        },
        source,
        ...sides(sign < 0),
      });
      return [edge(1), edge(-1)];
    }),
  );
}

const sides = (isLeftFilled: boolean): { left: Side; right: Side } =>
  isLeftFilled ? { left: 'filled', right: 'empty' } : { left: 'empty', right: 'filled' };

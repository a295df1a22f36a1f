import { compareText } from '../../basics/order.ts';
import { type Band, type BandInput, bandPoint, type StraightBand } from '../../geometry/band.ts';
import { findBands } from '../../geometry/plane-band.ts';
import { BandIndex, bandCoordinates } from '../../geometry/plane-cross.ts';
import {
  type PlanePiece,
  pathPoints,
  pieceEnd,
  pieceLengthMm,
  pieceMiddle,
  pieceStart,
} from '../../geometry/plane-curve.ts';
import { PointGrid } from '../../geometry/plane-grid.ts';
import { isInsideOutline } from '../../geometry/plane-project.ts';
import type { Side } from '../../geometry/plane-rails.ts';
import { signedPolygonAreaMm2 } from '../../geometry/shape.ts';
import { dot2, sub2, type Vec2 } from '../../geometry/vec.ts';
import type { HostKind } from '../../model/building.ts';
import type { DrawnEntity, DrawnLoop } from '../../model/drawing.ts';
import type { Settings } from '../../model/settings.ts';
import type { DoorSwing } from './door-swings.ts';

/** The hosts of a view: bands, and for each the entities that draw its two faces. */
export interface HostBands {
  readonly bands: readonly Band[];
  readonly index: BandIndex;
  /** Entities that draw a band's faces, lowest id first. */
  readonly entitiesOf: (band: number) => readonly DrawnEntity[];
  readonly kindOf: (band: number) => HostKind;
}

/** What else tells where walls are and are not. */
export interface HostGaps {
  /** Boxes of drawn openings: a wall that stops at one goes on behind it. */
  readonly openings?: readonly Box[];
  /** Outlines that hide what lies below them. */
  readonly masks?: readonly (readonly Vec2[])[];
  /** Doors, where a wall's lines run on across. */
  readonly swings?: readonly DoorSwing[];
  /** What is drawn besides hosts: a line along a gap is glass or a sill. */
  readonly others?: readonly DrawnEntity[];
}

/** Walls and slabs of a view from the lines, outlines and fills on their layers. */
export function hostBands(
  walls: readonly DrawnEntity[],
  slabs: readonly DrawnEntity[],
  settings: Settings,
  { openings = [], masks = [], swings = [], others = [] }: HostGaps = {},
): HostBands {
  const { thinnestWallMm, thickestWallMm, leafGapMm } = settings.find;
  const limits = { thinnest: thinnestWallMm, thickest: thickestWallMm, layer: leafGapMm };
  const entities = [...walls, ...slabs];
  const wallBands = withoutGaps(
    findBands(inputsOf(walls, 0, thickestWallMm), limits),
    masks,
    swings,
  );
  const slabBands = findBands(inputsOf(slabs, walls.length, thickestWallMm), limits);
  const found = [...wallBands, ...slabBands];
  const drawn = bridgedGaps(found, openings);
  const bridges = [...drawn, ...narrowGaps(found, drawn, swings, others)];
  const bands = [...found, ...bridges.map(({ band }) => band)];
  return {
    bands,
    index: new BandIndex(bands),
    entitiesOf: (at) => {
      const band = bands[at];
      const sources = band === undefined ? [] : [...band.low, ...band.high];
      const found = sources.flatMap((source) => entities[source] ?? []);
      return [...new Set(found)].sort((a, b) => compareText(a.ref.id, b.ref.id));
    },
    kindOf: (at) => {
      const own = bridges[at - found.length]?.beside ?? at;
      return own < wallBands.length ? 'wall' : 'slab';
    },
  };
}

/** Bands with the stretches cut out that a mask hides or a door takes. */
function withoutGaps(
  bands: readonly Band[],
  masks: readonly (readonly Vec2[])[],
  swings: readonly DoorSwing[],
): Band[] {
  if (masks.length === 0 && swings.length === 0) return [...bands];
  const index = new BandIndex(bands);
  const cuts = new Map<number, { u0: number; u1: number }[]>();
  const cut = (at: number, u0: number, u1: number) => {
    const known = cuts.get(at);
    if (known === undefined) cuts.set(at, [{ u0, u1 }]);
    else known.push({ u0, u1 });
  };
  for (const outline of masks) {
    for (const at of index.search(...boxOfPoints(outline))) {
      const band = bands[at];
      if (band?.type !== 'straight') continue;
      const places = outline.map((point) => bandCoordinates(band, point));
      const vs = places.map(({ v }) => v);
      const us = places.map(({ u }) => u);
      const hidesAll = Math.min(...vs) <= band.v0 + 1 && Math.max(...vs) >= band.v1 - 1;
      if (hidesAll) cut(at, Math.min(...us), Math.max(...us));
    }
  }
  for (const { hinge, ends } of swings) {
    for (const end of ends) {
      for (const at of index.search(...boxOfPoints([hinge, end]))) {
        const band = bands[at];
        if (band?.type !== 'straight') continue;
        const places = [hinge, end].map((point) => bandCoordinates(band, point));
        const isOn = places.every(
          ({ v }) => v >= band.v0 - BESIDE_WALL_MM && v <= band.v1 + BESIDE_WALL_MM,
        );
        const us = places.map(({ u }) => u);
        if (isOn) cut(at, Math.min(...us), Math.max(...us));
      }
    }
  }
  return bands.flatMap((band, at) => withoutStretches(band, cuts.get(at) ?? []));
}

/** A door's hinge stands on its frame, a little off the wall's face. */
const BESIDE_WALL_MM = 80;
const SHORTEST_REST_MM = 1;

function withoutStretches(
  band: Band,
  cuts: readonly { readonly u0: number; readonly u1: number }[],
): Band[] {
  if (cuts.length === 0) return [band];
  const rest: Band[] = [];
  let from = band.u0;
  for (const { u0, u1 } of [...cuts].sort((a, b) => a.u0 - b.u0)) {
    if (u0 - from > SHORTEST_REST_MM) rest.push({ ...band, u0: from, u1: Math.min(u0, band.u1) });
    from = Math.max(from, u1);
  }
  if (band.u1 - from > SHORTEST_REST_MM) rest.push({ ...band, u0: from });
  return rest;
}

function boxOfPoints(points: readonly Vec2[]): [number, number, number, number] {
  const xs = points.map(([x]) => x);
  const ys = points.map(([, y]) => y);
  return [
    Math.min(...xs) - BESIDE_WALL_MM,
    Math.min(...ys) - BESIDE_WALL_MM,
    Math.max(...xs) + BESIDE_WALL_MM,
    Math.max(...ys) + BESIDE_WALL_MM,
  ];
}

/** x1, y1, x2, y2. */
export type Box = readonly [number, number, number, number];

/** How far a wall may end from the opening that is drawn in its gap. */
const NEAR_GAP_MM = 40;
/** Faces in line with each other, across. */
const IN_LINE_MM = 3;

interface Bridge {
  readonly band: StraightBand;
  /** The band that ends at the gap. */
  readonly beside: number;
}

/** Narrower than any door. Our choice. */
const WIDEST_GAP_MM = 600;

/**
 * Where a wall's lines stop and go on in line within less than a door, without a door's swing and
 * without anything drawn in the gap: what goes through the gap goes through the wall.
 */
function narrowGaps(
  bands: readonly Band[],
  drawn: readonly Bridge[],
  swings: readonly DoorSwing[],
  others: readonly DrawnEntity[],
): Bridge[] {
  const index = new BandIndex(bands);
  let glass: PointGrid<PlanePiece> | null = null;
  const taken = new Set(drawn.map(({ beside, band }) => `${beside} ${Math.round(band.u0)}`));
  return bands.flatMap((before, beside): Bridge[] => {
    if (before.type !== 'straight' || taken.has(`${beside} ${Math.round(before.u1)}`)) return [];
    const after = nextInLine(before, beside, bands, index);
    if (after === null) return [];
    const band: StraightBand = {
      ...before,
      u0: before.u1,
      u1: after.u0,
      low: [...before.low, ...after.band.low],
      high: [...before.high, ...after.band.high],
    };
    const hasDoor = swings.some(({ hinge, ends }) =>
      [hinge, ...ends].some((point) => {
        const { u, v } = bandCoordinates(band, point);
        const isAlong = u >= band.u0 - BESIDE_WALL_MM && u <= band.u1 + BESIDE_WALL_MM;
        return isAlong && v >= band.v0 - BESIDE_WALL_MM && v <= band.v1 + BESIDE_WALL_MM;
      }),
    );
    if (hasDoor) return [];
    glass ??= shortLines(others);
    const middle = bandPoint(band, (band.u0 + band.u1) / 2, (band.v0 + band.v1) / 2);
    const isGlazed = glass.near(middle).some((piece) => runsAlong(band, piece));
    return isGlazed ? [] : [{ band, beside }];
  });
}

/** Lines that could close a gap lengthwise, by their middles. */
function shortLines(entities: readonly DrawnEntity[]): PointGrid<PlanePiece> {
  const grid = new PointGrid<PlanePiece>(WIDEST_GAP_MM);
  for (const { loops, form } of entities) {
    if (form === 'fill') continue;
    for (const { pieces } of loops) {
      for (const piece of pieces) {
        const length = piece.type === 'line' ? pieceLengthMm(piece) : 0;
        if (length > 0 && length <= 2 * WIDEST_GAP_MM) grid.add(pieceMiddle(piece), piece);
      }
    }
  }
  return grid;
}

/** Along the wall, within its thickness, and over most of the gap. */
function runsAlong(gap: StraightBand, piece: PlanePiece): boolean {
  const ends = [pieceStart(piece), pieceEnd(piece)].map((point) => bandCoordinates(gap, point));
  const us = ends.map(({ u }) => u);
  const vs = ends.map(({ v }) => v);
  const isWithin =
    Math.min(...vs) >= gap.v0 - NEAR_GAP_MM && Math.max(...vs) <= gap.v1 + NEAR_GAP_MM;
  const covered = Math.min(gap.u1, Math.max(...us)) - Math.max(gap.u0, Math.min(...us));
  return isWithin && covered > MOST_OF_GAP * (gap.u1 - gap.u0);
}

const MOST_OF_GAP = 0.6;

/** The band in line that begins soonest behind the end of another, within a gap's width. */
function nextInLine(
  before: StraightBand,
  at: number,
  bands: readonly Band[],
  index: BandIndex,
): { readonly band: StraightBand; readonly u0: number } | null {
  const ends = [before.u1, before.u1 + WIDEST_GAP_MM].flatMap((u) => [
    bandPoint(before, u, before.v0),
    bandPoint(before, u, before.v1),
  ]);
  let next: { readonly band: StraightBand; readonly u0: number } | null = null;
  for (const other of index.search(...boxOfPoints(ends))) {
    const band = bands[other];
    if (other === at || band?.type !== 'straight') continue;
    const place = inFrameOf(before, band);
    if (place === null) continue;
    const width = place.u0 - before.u1;
    if (width < LEAST_GAP_MM || width > WIDEST_GAP_MM) continue;
    if (next === null || place.u0 < next.u0) next = { band, u0: place.u0 };
  }
  return next;
}

/** Less is drafting noise. */
const LEAST_GAP_MM = 5;

/**
 * Where a wall's lines stop at a drawn opening and go on behind it, the wall is bridged: what goes
 * through the opening goes through the wall.
 */
function bridgedGaps(bands: readonly Band[], boxes: readonly Box[]): Bridge[] {
  if (boxes.length === 0) return [];
  const index = new BandIndex(bands);
  return boxes.flatMap(([x0, y0, x1, y1]) => {
    const near = index.search(
      x0 - NEAR_GAP_MM,
      y0 - NEAR_GAP_MM,
      x1 + NEAR_GAP_MM,
      y1 + NEAR_GAP_MM,
    );
    for (const at of near) {
      const before = bands[at];
      if (before?.type !== 'straight') continue;
      const span = spanIn(before, [x0, y0, x1, y1]);
      if (span.u0 < before.u1 - NEAR_GAP_MM || span.u0 > before.u1 + NEAR_GAP_MM) continue;
      for (const other of near) {
        const after = bands[other];
        if (other === at || after?.type !== 'straight') continue;
        const place = inFrameOf(before, after);
        if (place === null || Math.abs(place.u0 - span.u1) > NEAR_GAP_MM) continue;
        const band: StraightBand = {
          ...before,
          u0: before.u1,
          u1: place.u0,
          low: [...before.low, ...after.low],
          high: [...before.high, ...after.high],
        };
        if (band.u1 > band.u0) return [{ band, beside: at }];
      }
    }
    return [];
  });
}

/** A box's stretch along a band. */
function spanIn(band: StraightBand, [x0, y0, x1, y1]: Box): { u0: number; u1: number } {
  const corners: Vec2[] = [
    [x0, y0],
    [x1, y0],
    [x1, y1],
    [x0, y1],
  ];
  const us = corners.map((corner) => dot2(sub2(corner, band.origin), band.direction));
  // A box round a turned opening is wider than the opening; its middle is right.
  const [dx, dy] = band.direction;
  const middle = (Math.min(...us) + Math.max(...us)) / 2;
  const isTurned = Math.min(Math.abs(dx), Math.abs(dy)) > 0.02;
  const half = isTurned ? Math.min(x1 - x0, y1 - y0) / 2 : (Math.max(...us) - Math.min(...us)) / 2;
  return { u0: middle - half, u1: middle + half };
}

/** Where a band in line with another begins, in the other's coordinates; null when it is not in line. */
function inFrameOf(frame: StraightBand, band: StraightBand): { u0: number } | null {
  const corners = [bandPoint(band, band.u0, band.v0), bandPoint(band, band.u1, band.v1)].map(
    (point) => bandCoordinates(frame, point),
  );
  const us = corners.map(({ u }) => u);
  const vs = corners.map(({ v }) => v);
  const isInLine =
    Math.abs(Math.min(...vs) - frame.v0) <= IN_LINE_MM &&
    Math.abs(Math.max(...vs) - frame.v1) <= IN_LINE_MM;
  return isInLine ? { u0: Math.min(...us) } : null;
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
  const isChord = entity.type === 'SPLINE' || entity.type === 'ELLIPSE';
  const isMultiline = entity.type === 'MLINE' && entity.loops.length > 1;
  const filledSides = isMultiline ? null : filledSidesOf(entity, thickestMm);
  return entity.loops.flatMap((loop, i) => {
    const left: Side = filledSides?.[i] ?? 'unknown';
    const right: Side = left === 'unknown' ? 'unknown' : left === 'filled' ? 'empty' : 'filled';
    return loop.pieces.map((piece) => ({ piece, source, left, right, isChord }));
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
    (outline, i) => outlines.filter((other, j) => j !== i && isHole(outline, other)).length,
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

const isHole = (outline: readonly Vec2[], other: readonly Vec2[]): boolean => {
  const [corner] = outline;
  return corner !== undefined && isInsideOutline(corner, other);
};

const outlineOf = (loop: DrawnLoop) => pathPoints(loop.pieces);

const loopLength = (loop: DrawnLoop): number =>
  loop.pieces.reduce((sum, piece) => sum + pieceLengthMm(piece), 0);

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

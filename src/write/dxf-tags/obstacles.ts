import Flatbush from 'flatbush';
import { piecePoints } from '../../geometry/plane-curve.ts';
import type { Vec2 } from '../../geometry/vec.ts';
import type { Drawing } from '../../model/drawing.ts';
import {
  type Box,
  boxOf,
  boxRound,
  cross,
  crossesBox,
  overlaps,
  type Segment,
  turned,
} from './label-plane.ts';

/** What wants a label, in drawing mm. */
export interface Anchor {
  readonly point: Vec2;
  readonly radiusMm: number;
  readonly text: string;
}

/** Segments beyond this are not looked at: the drawing is too full to find clear room anyway. */
const SEGMENT_LIMIT = 400_000;

/** What labels must keep clear of, in the turned frame. */
export class Obstacles {
  readonly #texts: Flatbush | null;
  readonly #textBoxes: readonly Box[];
  readonly #lines: Flatbush | null;
  readonly #segments: readonly (readonly [Vec2, Vec2])[];
  readonly #taken: Grid<Box>;
  readonly #leaders: Grid<Segment>;

  constructor(drawing: Drawing, anchors: readonly Anchor[], turnRad: number, textHeightMm: number) {
    this.#taken = new Grid(textHeightMm * CELL_HEIGHTS);
    this.#leaders = new Grid(textHeightMm * CELL_HEIGHTS);
    this.#textBoxes = [
      ...drawing.texts.map((text) => textBox(text, turnRad)),
      ...anchors.map(({ point, radiusMm }) =>
        boxRound(turned(point, -turnRad), radiusMm * 2, radiusMm * 2),
      ),
    ];
    this.#texts = indexOf(this.#textBoxes);
    this.#segments = segmentsOf(drawing, turnRad);
    this.#lines = indexOf(this.#segments.map(([a, b]) => boxOf([a, b])));
  }

  add(box: Box, leader: Segment): void {
    this.#taken.add(box, box);
    this.#leaders.add(boxOf(leader), leader);
  }

  /** Hundreds for a label, tens for a text, ones for lines; the leader counts as well. */
  cost(box: Box, leader: Segment): number {
    const alongSegment = boxOf(leader);
    const labels = this.#taken.near(box).filter((other) => overlaps(box, other)).length;
    const struck =
      this.#taken.near(alongSegment).filter((other) => crossesBox(leader[0], leader[1], other))
        .length + this.#leaders.near(box).filter(([from, to]) => crossesBox(from, to, box)).length;
    const crossed = this.#leaders.near(alongSegment).filter((other) => cross(leader, other)).length;
    const texts = this.#texts?.search(...box).length ?? 0;
    const lines = (this.#lines?.search(...box) ?? []).filter((at) => {
      const segment = this.#segments[at];
      return segment !== undefined && crossesBox(segment[0], segment[1], box);
    }).length;
    return labels * 1000 + struck * 300 + texts * 100 + crossed * 50 + Math.min(lines, 40);
  }
}

/** Side of a cell of the grid, in text heights: about the width of a label. */
const CELL_HEIGHTS = 12;

/** Things placed one after another, found by the cells their boxes touch. */
class Grid<Thing> {
  readonly #cellMm: number;
  readonly #cells = new Map<string, Thing[]>();

  constructor(cellMm: number) {
    this.#cellMm = cellMm;
  }

  add(box: Box, thing: Thing): void {
    for (const cell of this.#cellsOf(box)) {
      const things = this.#cells.get(cell);
      if (things === undefined) this.#cells.set(cell, [thing]);
      else things.push(thing);
    }
  }

  /** Things whose box shares a cell with this one, each once. */
  near(box: Box): Thing[] {
    const found = new Set<Thing>();
    for (const cell of this.#cellsOf(box)) {
      for (const thing of this.#cells.get(cell) ?? []) found.add(thing);
    }
    return [...found];
  }

  #cellsOf([x1, y1, x2, y2]: Box): string[] {
    const cells: string[] = [];
    for (let i = Math.floor(x1 / this.#cellMm); i <= Math.floor(x2 / this.#cellMm); i++) {
      for (let j = Math.floor(y1 / this.#cellMm); j <= Math.floor(y2 / this.#cellMm); j++) {
        cells.push(`${i}/${j}`);
      }
    }
    return cells;
  }
}

function indexOf(boxes: readonly Box[]): Flatbush | null {
  if (boxes.length === 0) return null;
  const index = new Flatbush(boxes.length);
  for (const box of boxes) index.add(...box);
  index.finish();
  return index;
}

function textBox(text: Drawing['texts'][number], turnRad: number): Box {
  const centre = turned(text.centreMm, -turnRad);
  const angle = text.rotationRad - turnRad;
  const cos = Math.abs(Math.cos(angle));
  const sin = Math.abs(Math.sin(angle));
  return boxRound(
    centre,
    text.lengthMm * cos + text.depthMm * sin,
    text.lengthMm * sin + text.depthMm * cos,
  );
}

function segmentsOf(drawing: Drawing, turnRad: number): [Vec2, Vec2][] {
  const segments: [Vec2, Vec2][] = [];
  for (const entity of drawing.entities) {
    for (const { pieces } of entity.loops) {
      for (const piece of pieces) {
        const points = piecePoints(piece).map((point) => turned(point, -turnRad));
        for (let i = 1; i < points.length; i++) {
          const [a, b] = [points[i - 1], points[i]];
          if (a !== undefined && b !== undefined) segments.push([a, b]);
        }
        if (segments.length > SEGMENT_LIMIT) return segments;
      }
    }
  }
  return segments;
}

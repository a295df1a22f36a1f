import Flatbush from 'flatbush';
import { piecePoints } from '../../geometry/plane-curve.ts';
import type { Vec2 } from '../../geometry/vec.ts';
import type { Drawing } from '../../model/drawing.ts';
import { drawnExtentMm } from './drawing-place.ts';

/** What wants a label, in drawing mm. */
export interface Anchor {
  readonly point: Vec2;
  readonly radiusMm: number;
  readonly text: string;
}

/** A label's box, turned with the drawing. */
export interface PlacedTag {
  readonly centre: Vec2;
  readonly widthMm: number;
  readonly heightMm: number;
  /** From the edge of the opening to the box. */
  readonly leader: { readonly from: Vec2; readonly to: Vec2 };
}

export interface TagLayout {
  readonly textHeightMm: number;
  readonly turnRad: number;
  readonly placed: readonly PlacedTag[];
}

/** x1, y1, x2, y2 in the turned frame. */
type Box = readonly [number, number, number, number];

/** Distances of the box from the opening's edge, in text heights; nearest first. */
const REACHES = [2.5, 4, 6, 9, 13, 18, 25, 34] as const;
const DIRECTIONS = 16;
/** Width of a letter over its height, generous, so that no program's font runs out of the box. */
const LETTER_RATIO = 0.95;
const PADDING = 1.4;
const BOX_HEIGHT = 2;
/** Segments beyond this are not looked at: the drawing is too full to find clear room anyway. */
const SEGMENT_LIMIT = 400_000;

/**
 * Finds a place for each label, in order: clear of texts, other labels and marked openings, then
 * with as few lines under it as can be had, then near. Deterministic.
 */
export function placeTags(drawing: Drawing, anchors: readonly Anchor[]): TagLayout {
  const turnRad = usualTurn(drawing);
  const textHeightMm = usualTextHeight(drawing);
  const obstacles = new Obstacles(drawing, anchors, turnRad, textHeightMm);
  const placed = anchors.map((anchor) => {
    const widthMm = (anchor.text.length * LETTER_RATIO + PADDING) * textHeightMm;
    const heightMm = BOX_HEIGHT * textHeightMm;
    return bestPlace(anchor, widthMm, heightMm, textHeightMm, turnRad, obstacles);
  });
  return { textHeightMm, turnRad, placed };
}

interface Candidate {
  readonly cost: number;
  readonly centre: Vec2;
  readonly box: Box;
  readonly leader: Leader;
}

/** From the edge of the opening to the box. */
type Leader = readonly [Vec2, Vec2];

function bestPlace(
  anchor: Anchor,
  widthMm: number,
  heightMm: number,
  textHeightMm: number,
  turnRad: number,
  obstacles: Obstacles,
): PlacedTag {
  const point = turned(anchor.point, -turnRad);
  let best: Candidate | null = null;
  for (const reach of REACHES) {
    for (let step = 0; step < DIRECTIONS; step++) {
      // From the upper right round: where a draughtsman looks first.
      const angle = Math.PI / 4 + (step * 2 * Math.PI) / DIRECTIONS;
      const away = anchor.radiusMm + reach * textHeightMm;
      const centre: Vec2 = [
        point[0] + Math.cos(angle) * (away + widthMm / 2),
        point[1] + Math.sin(angle) * (away + heightMm / 2),
      ];
      const box = boxRound(centre, widthMm, heightMm);
      const leader = leaderTo(box, point, anchor.radiusMm);
      const cost = obstacles.cost(box, leader) + reach / 100 + step / 10_000;
      if (best === null || cost < best.cost) best = { cost, centre, box, leader };
    }
    // Nothing in the way: further out can only be worse.
    if (best !== null && best.cost < 1) break;
  }
  const chosen: Candidate = best ?? {
    cost: 0,
    centre: point,
    box: boxRound(point, widthMm, heightMm),
    leader: [point, point],
  };
  obstacles.add(chosen.box, chosen.leader);
  const [from, to] = chosen.leader;
  return {
    centre: turned(chosen.centre, turnRad),
    widthMm,
    heightMm,
    leader: { from: turned(from, turnRad), to: turned(to, turnRad) },
  };
}

/** Straight from the edge of the opening to the nearest point of the box. */
function leaderTo([x1, y1, x2, y2]: Box, point: Vec2, radiusMm: number): Leader {
  const to: Vec2 = [clamp(point[0], x1, x2), clamp(point[1], y1, y2)];
  const length = Math.hypot(to[0] - point[0], to[1] - point[1]);
  const ratio = length > radiusMm ? radiusMm / length : 0;
  const from: Vec2 = [point[0] + (to[0] - point[0]) * ratio, point[1] + (to[1] - point[1]) * ratio];
  return [from, to];
}

/** What labels must keep clear of, in the turned frame. */
class Obstacles {
  readonly #texts: Flatbush | null;
  readonly #textBoxes: readonly Box[];
  readonly #lines: Flatbush | null;
  readonly #segments: readonly (readonly [Vec2, Vec2])[];
  readonly #taken: Grid<Box>;
  readonly #leaders: Grid<Leader>;

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

  add(box: Box, leader: Leader): void {
    this.#taken.add(box, box);
    this.#leaders.add(boxOf(leader), leader);
  }

  /** Hundreds for a label, tens for a text, ones for lines; the leader counts as well. */
  cost(box: Box, leader: Leader): number {
    const alongLeader = boxOf(leader);
    const labels = this.#taken.near(box).filter((other) => overlaps(box, other)).length;
    const struck =
      this.#taken.near(alongLeader).filter((other) => crossesBox(leader[0], leader[1], other))
        .length + this.#leaders.near(box).filter(([from, to]) => crossesBox(from, to, box)).length;
    const crossed = this.#leaders.near(alongLeader).filter((other) => cross(leader, other)).length;
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

/** The height most texts of the drawing have; else a fortieth of a metre on paper's usual scale. */
function usualTextHeight(drawing: Drawing): number {
  const counts = new Map<number, number>();
  for (const { heightMm } of drawing.texts) {
    if (!(heightMm > 0)) continue;
    const rounded = Number(heightMm.toPrecision(2));
    counts.set(rounded, (counts.get(rounded) ?? 0) + 1);
  }
  const [usual] = [...counts].sort((a, b) => b[1] - a[1] || a[0] - b[0]);
  return usual?.[0] ?? extentMm(drawing) / HEIGHTS_ACROSS;
}

/** A drawing without any text: a label of 2.5 mm on a sheet about 600 mm wide. */
const HEIGHTS_ACROSS = 240;

function extentMm(drawing: Drawing): number {
  const [x1, y1, x2, y2] = drawnExtentMm(drawing);
  const extent = Math.max(x2 - x1, y2 - y1);
  return Number.isFinite(extent) && extent > 0 ? extent : 10_000;
}

/** The direction most texts run, where more than half agree: a view that was turned. */
function usualTurn(drawing: Drawing): number {
  const counts = new Map<number, number>();
  for (const { rotationRad } of drawing.texts) {
    const degrees = (((Math.round((rotationRad * 180) / Math.PI) % 180) + 180) % 180) % 90;
    counts.set(degrees, (counts.get(degrees) ?? 0) + 1);
  }
  for (const [degrees, count] of counts) {
    if (count * 2 > drawing.texts.length) return (degrees * Math.PI) / 180;
  }
  return 0;
}

function turned([x, y]: Vec2, angleRad: number): Vec2 {
  if (angleRad === 0) return [x, y];
  const cos = Math.cos(angleRad);
  const sin = Math.sin(angleRad);
  return [x * cos - y * sin, x * sin + y * cos];
}

function boxRound([x, y]: Vec2, width: number, height: number): Box {
  return [x - width / 2, y - height / 2, x + width / 2, y + height / 2];
}

function boxOf(points: readonly Vec2[]): Box {
  const xs = points.map(([x]) => x);
  const ys = points.map(([, y]) => y);
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
}

const clamp = (value: number, low: number, high: number): number =>
  Math.min(Math.max(value, low), high);

function overlaps(a: Box, b: Box): boolean {
  return a[0] < b[2] && b[0] < a[2] && a[1] < b[3] && b[1] < a[3];
}

/** Whether two segments cross. */
function cross([a, b]: Leader, [c, d]: Leader): boolean {
  const side = (p: Vec2, q: Vec2, r: Vec2) =>
    Math.sign((q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]));
  return side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0;
}

/** Whether a segment passes a box. @source Liang and Barsky, ACM TOG 3(1), 1984: line clipping. */
function crossesBox(a: Vec2, b: Vec2, [x1, y1, x2, y2]: Box): boolean {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  let [enter, leave] = [0, 1];
  for (const [step, gap] of [
    [-dx, a[0] - x1],
    [dx, x2 - a[0]],
    [-dy, a[1] - y1],
    [dy, y2 - a[1]],
  ] as const) {
    if (step === 0) {
      if (gap < 0) return false;
    } else if (step < 0) enter = Math.max(enter, gap / step);
    else leave = Math.min(leave, gap / step);
  }
  return enter <= leave;
}

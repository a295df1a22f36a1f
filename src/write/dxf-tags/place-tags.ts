import type { Vec2 } from '../../geometry/vec.ts';
import type { Drawing } from '../../model/drawing.ts';
import { drawnExtentMm } from './drawing-place.ts';
import { type Box, boxRound, type Segment, turned } from './label-plane.ts';
import { type Anchor, Obstacles } from './obstacles.ts';

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

/** Distances of the box from the opening's edge, in text heights; nearest first. */
const REACHES = [2.5, 4, 6, 9, 13, 18, 25, 34] as const;
const DIRECTIONS = 16;
/** Width of a letter over its height, generous, so that no program's font runs out of the box. */
const LETTER_RATIO = 0.95;
const PADDING = 1.4;
const BOX_HEIGHT = 2;

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
  /** From the edge of the opening to the box. */
  readonly leader: Segment;
}

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
function leaderTo([x1, y1, x2, y2]: Box, point: Vec2, radiusMm: number): Segment {
  const to: Vec2 = [clamp(point[0], x1, x2), clamp(point[1], y1, y2)];
  const length = Math.hypot(to[0] - point[0], to[1] - point[1]);
  const ratio = length > radiusMm ? radiusMm / length : 0;
  const from: Vec2 = [point[0] + (to[0] - point[0]) * ratio, point[1] + (to[1] - point[1]) * ratio];
  return [from, to];
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

const clamp = (value: number, low: number, high: number): number =>
  Math.min(Math.max(value, low), high);

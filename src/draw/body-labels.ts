import { distance2, type Vec2 } from '../geometry/vec.ts';
import type { PlacedBody } from '../model/arrangement.ts';
import type { Callout } from './callouts.ts';
import { labelRoomMm } from './outline.ts';
import { CABLE, type Svg, text } from './svg.ts';
import { textWidth } from './text-width.ts';

export interface LabelFrame {
  readonly scale: number;
  readonly toPaper: (point: Vec2) => Vec2;
}

/** What is written in the bodies, and what stands beside with a leader. */
export interface BodyLabels {
  readonly inside: Svg;
  readonly notes: readonly Callout[];
  /** Bodies too small and too many to be numbered at this scale. */
  readonly left: number;
}

const SIZE = 2.3;
const SMALLEST = 1.6;
/** A number that stands over a small body and a little beyond it. */
const OVER = 1.5;
/** More leaders than this from bodies can't be told apart. */
const MOST_LEADERS = 14;

/**
 * The reference in each body where it can be read, else its number in the list; over a body too
 * small for it where the neighbours leave room, else beside it with a leader.
 */
export function bodyLabels(items: readonly PlacedBody[], frame: LabelFrame): BodyLabels {
  const inside: Svg[] = [];
  const notes: Callout[] = [];
  let left = 0;
  for (const [at, item] of items.entries()) {
    const centre = frame.toPaper([item.xMm, item.yMm]);
    const room = (labelRoomMm(item.outline) / frame.scale) * 0.86;
    const number = String(at + 1);
    const fitting = [item.ref, number].find((label) => sizeWithin(label, room) >= SMALLEST);
    if (fitting !== undefined) {
      inside.push(label(centre, fitting, sizeWithin(fitting, room)));
    } else if (nearestPaper(item, items, frame) > textWidth(number, OVER, true) + 0.5) {
      inside.push(label(centre, number, OVER));
    } else if (notes.length < MOST_LEADERS) notes.push({ at: centre, label: number });
    else left += 1;
  }
  return { inside: inside.join(''), notes, left };
}

function label([x, y]: Vec2, content: string, size: number): Svg {
  return text(x, y + size * 0.36, content, {
    size,
    anchor: 'middle',
    bold: true,
    ...(size < SMALLEST ? { halo: CABLE } : {}),
  });
}

/** Size at which a label's box fits a circle of the given diameter. */
function sizeWithin(content: string, diameter: number): number {
  const width = textWidth(content, 1, true);
  return Math.min(SIZE, diameter / Math.sqrt(width * width + 0.73 * 0.73));
}

/** Distance on paper to the nearest other body's centre. */
function nearestPaper(item: PlacedBody, items: readonly PlacedBody[], frame: LabelFrame): number {
  let nearest = Number.POSITIVE_INFINITY;
  for (const other of items) {
    if (other === item) continue;
    nearest = Math.min(nearest, distance2([item.xMm, item.yMm], [other.xMm, other.yMm]));
  }
  return nearest / frame.scale;
}

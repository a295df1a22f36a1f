import { el, INK, line, n, PAPER, type Svg, text } from './svg.ts';

const THIN = { stroke: INK, 'stroke-width': 0.15 };
const SIZE = 2.3;
/** Narrower than this, the arrows point inwards from outside. */
const ROOM_FOR_ARROWS = 5;

/** A dimension across, at height y, with extension lines from the outline at `fromY`. */
export function dimensionAcross(
  x1: number,
  x2: number,
  y: number,
  fromY: number,
  label: string,
): Svg {
  return [
    line(x1, fromY + 0.8, x1, y + 1, THIN),
    line(x2, fromY + 0.8, x2, y + 1, THIN),
    line(x1, y, x2, y, THIN),
    ...arrows(x1, x2).map(([x, turn]) => arrow(x, y, turn)),
    text((x1 + x2) / 2, y - 0.7, label, { size: SIZE, anchor: 'middle', halo: PAPER }),
  ].join('');
}

/** A dimension upright, at x, with extension lines from the outline at `fromX`. */
export function dimensionUp(y1: number, y2: number, x: number, fromX: number, label: string): Svg {
  const outward = x < fromX ? -1 : 1;
  return [
    line(fromX + outward * 0.8, y1, x + outward, y1, THIN),
    line(fromX + outward * 0.8, y2, x + outward, y2, THIN),
    line(x, y1, x, y2, THIN),
    ...arrows(y1, y2).map(([y, turn]) => arrow(x, y, turn + 90)),
    text(x - 0.7, (y1 + y2) / 2, label, { size: SIZE, anchor: 'middle', turn: -90, halo: PAPER }),
  ].join('');
}

/** Places and turns of the two arrow heads; a turn of 0 points to the right. */
function arrows(from: number, to: number): readonly (readonly [number, number])[] {
  return to - from >= ROOM_FOR_ARROWS
    ? [
        [from, 180],
        [to, 0],
      ]
    : [
        [from, 0],
        [to, 180],
      ];
}

/** A filled head whose tip is at the point. */
function arrow(x: number, y: number, turn: number): Svg {
  return el('path', {
    d: `M${n(x)} ${n(y)}l-1.8 -0.42v0.84Z`,
    fill: INK,
    transform: `rotate(${n(turn)} ${n(x)} ${n(y)})`,
  });
}

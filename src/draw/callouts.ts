import type { Vec2 } from '../geometry/vec.ts';
import { el, INK, line, type Svg, text } from './svg.ts';

/** A note beside the drawing with a line to what it speaks of; paper mm. */
export interface Callout {
  readonly at: Vec2;
  readonly label: string;
  /** Ends of a measured gap, drawn as a bar. */
  readonly measured?: readonly [Vec2, Vec2];
}

export interface CalloutColumns {
  readonly leftX: number;
  readonly rightX: number;
  readonly top: number;
  readonly bottom: number;
  /** Notes about what lies left of this stand left. */
  readonly middleX: number;
}

const SIZE = 2.3;
const STEP = 3.3;

/** Notes in two columns, in order of height so that their lines don't cross, none over another. */
export function layCallouts(notes: readonly Callout[], columns: CalloutColumns): Svg {
  const isLeft = (note: Callout) => note.at[0] < columns.middleX;
  return [
    ...notes.flatMap((note) => (note.measured === undefined ? [] : [measuredBar(note.measured)])),
    column(notes.filter(isLeft), columns, 'left'),
    column(
      notes.filter((note) => !isLeft(note)),
      columns,
      'right',
    ),
  ].join('');
}

function column(notes: readonly Callout[], columns: CalloutColumns, side: 'left' | 'right'): Svg {
  const sorted = [...notes].sort((a, b) => a.at[1] - b.at[1] || a.at[0] - b.at[0]);
  const heights = spread(
    sorted.map((note) => note.at[1]),
    columns.top,
    columns.bottom,
  );
  const x = side === 'left' ? columns.leftX : columns.rightX;
  const away = side === 'left' ? -1 : 1;
  return sorted
    .map((note, at) => {
      const y = heights[at] ?? note.at[1];
      return [
        line(note.at[0], note.at[1], x, y, { 'stroke-width': 0.14 }),
        el('circle', { cx: note.at[0], cy: note.at[1], r: 0.35, fill: INK }),
        line(x, y, x + away * 1.2, y, { 'stroke-width': 0.14 }),
        text(x + away * 1.7, y + SIZE * 0.36, note.label, {
          size: SIZE,
          anchor: side === 'left' ? 'end' : 'start',
          halo: true,
        }),
      ].join('');
    })
    .join('');
}

/** Heights in the order given, a step apart at least, kept between top and bottom where they fit. */
function spread(wanted: readonly number[], top: number, bottom: number): readonly number[] {
  const heights: number[] = [];
  for (const [at, want] of wanted.entries()) {
    const least = at === 0 ? top : (heights[at - 1] ?? top) + STEP;
    heights.push(Math.max(want, least));
  }
  let most = bottom;
  for (let at = heights.length - 1; at >= 0; at -= 1) {
    const height = Math.min(heights[at] ?? most, most);
    heights[at] = height;
    most = height - STEP;
  }
  return heights;
}

function measuredBar([from, to]: readonly [Vec2, Vec2]): Svg {
  const length = Math.sqrt((to[0] - from[0]) ** 2 + (to[1] - from[1]) ** 2);
  if (length < 0.01) return '';
  const across: Vec2 = [(-(to[1] - from[1]) / length) * 0.9, ((to[0] - from[0]) / length) * 0.9];
  const tick = (end: Vec2) =>
    line(end[0] - across[0], end[1] - across[1], end[0] + across[0], end[1] + across[1], {
      'stroke-width': 0.25,
    });
  return [
    line(from[0], from[1], to[0], to[1], { 'stroke-width': 0.35 }),
    tick(from),
    tick(to),
  ].join('');
}

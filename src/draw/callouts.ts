import type { Vec2 } from '../geometry/vec.ts';
import { el, INK, line, PAPER, type Svg, text } from './svg.ts';
import { textWidth } from './text-width.ts';

/** A note beside the drawing with a line to what it speaks of; paper mm. */
export interface Callout {
  readonly at: Vec2;
  readonly label: string;
  /** Ends of a measured gap, drawn as a bar. */
  readonly measured?: readonly [Vec2, Vec2];
}

/** Where notes stand: left and right of the host shown, and above it. */
export interface CalloutPlaces {
  readonly leftX: number;
  readonly rightX: number;
  readonly topY: number;
  /** How far notes may go up and down at the sides, and to both sides at the top. */
  readonly sides: readonly [number, number];
  readonly tops: readonly [number, number];
}

/** Leaders lie beneath what is drawn, labels and measured bars over it. */
export interface LaidCallouts {
  readonly leaders: Svg;
  readonly labels: Svg;
}

const SIZE = 2.3;
const STEP = 3.3;
const THIN = { 'stroke-width': 0.14 } as const;

type Side = 'left' | 'right' | 'top';

/** Notes on the side each is nearest to, in order along it so that leaders don't cross, none over another. */
export function layCallouts(notes: readonly Callout[], places: CalloutPlaces): LaidCallouts {
  const bySide: Record<Side, Callout[]> = { left: [], right: [], top: [] };
  for (const note of notes) bySide[nearestSide(note, places)].push(note);
  const laid = [
    atSide(bySide.left, places, 'left'),
    atSide(bySide.right, places, 'right'),
    atTop(bySide.top, places),
  ];
  const bars = notes.flatMap(({ measured }) => (measured === undefined ? [] : [bar(measured)]));
  return {
    leaders: laid.map(({ leaders }) => leaders).join(''),
    labels: [...bars, ...laid.map(({ labels }) => labels)].join(''),
  };
}

function nearestSide({ at }: Callout, { leftX, rightX, topY }: CalloutPlaces): Side {
  const [toLeft, toRight, toTop] = [at[0] - leftX, rightX - at[0], at[1] - topY];
  if (toTop < toLeft && toTop < toRight) return 'top';
  return toLeft <= toRight ? 'left' : 'right';
}

function atSide(
  notes: readonly Callout[],
  places: CalloutPlaces,
  side: 'left' | 'right',
): LaidCallouts {
  const sorted = [...notes].sort((a, b) => a.at[1] - b.at[1] || a.at[0] - b.at[0]);
  const heights = spread(
    sorted.map(({ at }) => ({ at: at[1], room: STEP })),
    places.sides,
  );
  const x = side === 'left' ? places.leftX : places.rightX;
  const away = side === 'left' ? -1 : 1;
  return joined(
    sorted.map((note, index) => {
      const y = heights[index] ?? note.at[1];
      return {
        leaders: line(note.at[0], note.at[1], x, y, THIN) + line(x, y, x + away * 1.2, y, THIN),
        labels:
          dot(note.at) +
          text(x + away * 1.7, y + SIZE * 0.36, note.label, {
            size: SIZE,
            anchor: side === 'left' ? 'end' : 'start',
            halo: PAPER,
          }),
      };
    }),
  );
}

function atTop(notes: readonly Callout[], places: CalloutPlaces): LaidCallouts {
  const sorted = [...notes].sort((a, b) => a.at[0] - b.at[0] || a.at[1] - b.at[1]);
  const xs = spread(
    sorted.map(({ at, label }) => ({ at: at[0], room: textWidth(label, SIZE) + 2 })),
    places.tops,
  );
  return joined(
    sorted.map((note, index) => {
      const x = xs[index] ?? note.at[0];
      return {
        leaders: line(note.at[0], note.at[1], x, places.topY, THIN),
        labels:
          dot(note.at) +
          text(x, places.topY - 0.8, note.label, { size: SIZE, anchor: 'middle', halo: PAPER }),
      };
    }),
  );
}

function dot([cx, cy]: Vec2): Svg {
  return el('circle', { cx, cy, r: 0.35, fill: INK });
}

function joined(all: readonly LaidCallouts[]): LaidCallouts {
  return {
    leaders: all.map(({ leaders }) => leaders).join(''),
    labels: all.map(({ labels }) => labels).join(''),
  };
}

/**
 * Places along a line in the order given, each with its own room to both sides, as near to where
 * they are wanted as a pass forward and one back bring them; kept within the ends where they fit.
 */
function spread(
  wanted: readonly { readonly at: number; readonly room: number }[],
  [first, last]: readonly [number, number],
): readonly number[] {
  const places: number[] = [];
  let least = first;
  for (const { at, room } of wanted) {
    const place = Math.max(at, least + room / 2);
    places.push(place);
    least = place + room / 2;
  }
  let most = last;
  for (let index = wanted.length - 1; index >= 0; index -= 1) {
    const room = wanted[index]?.room ?? 0;
    const place = Math.min(places[index] ?? most, most - room / 2);
    places[index] = place;
    most = place - room / 2;
  }
  return places;
}

function bar([from, to]: readonly [Vec2, Vec2]): Svg {
  const length = Math.sqrt((to[0] - from[0]) ** 2 + (to[1] - from[1]) ** 2);
  if (length < 0.01) return '';
  const across: Vec2 = [(-(to[1] - from[1]) / length) * 0.9, ((to[0] - from[0]) / length) * 0.9];
  const tick = (end: Vec2) =>
    line(end[0] - across[0], end[1] - across[1], end[0] + across[0], end[1] + across[1], {
      'stroke-width': 0.25,
    });
  return line(from[0], from[1], to[0], to[1], { 'stroke-width': 0.35 }) + tick(from) + tick(to);
}

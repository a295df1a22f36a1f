import { greatestOf, leastOf } from '../../basics/extremes.ts';
import { el, FAINT, INK, line, n, PAPER, page, SLATE, type Svg, text } from '../../draw/svg.ts';
import type { Vec2 } from '../../geometry/vec.ts';
import type { Penetration } from '../../model/penetration.ts';

const WIDTH = 58;
const HEIGHT = 46;
const MARGIN = 5;
/** Lengths that a scale bar may have, mm. */
const BARS = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000].map((metres) => metres * 1000);
/** Half of the piece of host that is shown at each penetration, mm on paper. */
const HOST = 1.6;

/** Penetrations of one level as a plan, so that one of them can be shown among the others. */
export interface KeyPlan {
  /** Stands once in the document that holds the pages: all penetrations, which each page refers to. */
  readonly shared: Svg;
  readonly of: (penetration: Penetration) => Svg | null;
}

/** Id of the shared part; a document holds one. */
const SHARED_ID = 'key-plan';

/**
 * Plan of all penetrations of a level, drawn once: seen from above, north up, no walls but the piece
 * of host at each. Null for one that is known from a section or elevation alone.
 */
export function keyPlan(penetrations: readonly Penetration[]): KeyPlan {
  const shown = penetrations.filter(isInPlan);
  const toPaper = frameOf(shown);
  const others = [
    el('rect', {
      ...{ x: 0.2, y: 0.2, width: WIDTH - 0.4, height: HEIGHT - 0.4 },
      ...{ fill: PAPER, stroke: FAINT, 'stroke-width': 0.2 },
    }),
    ...shown.map((each) => mark(each, toPaper.at, false)),
    scaleBar(toPaper.scale),
    text(WIDTH - 2, 4.4, 'y up', { size: 2.2, anchor: 'end', fill: SLATE }),
  ];
  return {
    shared: el(
      'svg',
      {
        ...{ xmlns: 'http://www.w3.org/2000/svg', width: 0, height: 0, 'aria-hidden': 'true' },
        class: 'shared',
      },
      el('defs', {}, el('g', { id: SHARED_ID }, ...others)),
    ),
    of: (penetration) =>
      isInPlan(penetration)
        ? page(WIDTH, HEIGHT, 'Place on the level, seen from above', [
            el('use', { href: `#${SHARED_ID}` }),
            mark(penetration, toPaper.at, true),
          ])
        : null,
  };
}

function isInPlan({ drawnIn }: Penetration): boolean {
  return drawnIn === undefined || drawnIn === 'plan';
}

function frameOf(shown: readonly Penetration[]) {
  const xs = shown.map(({ frame }) => frame.originMm[0]);
  const ys = shown.map(({ frame }) => frame.originMm[1]);
  const [left, right] = [leastOf(xs), greatestOf(xs)];
  const [low, high] = [leastOf(ys), greatestOf(ys)];
  const room = { width: WIDTH - 2 * MARGIN, height: HEIGHT - 2 * MARGIN - 4 };
  const scale = Math.min(
    room.width / Math.max(right - left, 1000),
    room.height / Math.max(high - low, 1000),
  );
  return {
    scale,
    at: ([x, y]: Vec2): Vec2 => [
      WIDTH / 2 + (x - (left + right) / 2) * scale,
      MARGIN + room.height / 2 - (y - (low + high) / 2) * scale,
    ],
  };
}

/** A short piece of the host, through or square; a ring with a cross for the one that is meant. */
function mark({ frame }: Penetration, at: (point: Vec2) => Vec2, isMeant: boolean): Svg {
  const [x, y] = at([frame.originMm[0], frame.originMm[1]]);
  const [dx, dy] = [frame.right[0] * HOST, -frame.right[1] * HOST];
  const isFloor = Math.abs(frame.axis[2]) > 0.7;
  const host = isFloor
    ? el('rect', {
        ...{ x: x - 0.8, y: y - 0.8, width: 1.6, height: 1.6 },
        ...{ fill: isMeant ? INK : FAINT },
      })
    : line(x - dx, y - dy, x + dx, y + dy, {
        'stroke-width': isMeant ? 1 : 0.7,
        stroke: isMeant ? INK : FAINT,
      });
  if (!isMeant) return host;
  return [
    host,
    el('circle', { cx: x, cy: y, r: 3.2, fill: 'none', stroke: INK, 'stroke-width': 0.5 }),
    ...[
      [-5.4, 0],
      [5.4, 0],
      [0, -5.4],
      [0, 5.4],
    ].map(([ex = 0, ey = 0]) =>
      line(x + ex * 0.6, y + ey * 0.6, x + ex, y + ey, { 'stroke-width': 0.5 }),
    ),
  ].join('');
}

function scaleBar(scale: number): Svg {
  const lengthMm = BARS.findLast((each) => each * scale <= WIDTH / 3) ?? BARS[0] ?? 1000;
  const width = lengthMm * scale;
  const y = HEIGHT - 3.4;
  if (!(width <= WIDTH - 20)) return '';
  return [
    line(4, y, 4 + width, y, { 'stroke-width': 0.4 }),
    line(4, y - 1, 4, y + 1, { 'stroke-width': 0.4 }),
    line(4 + width, y - 1, 4 + width, y + 1, { 'stroke-width': 0.4 }),
    text(6 + width, y + 0.9, `${n(lengthMm / 1000)} m`, { size: 2.4 }),
  ].join('');
}

import { type Shape, shapeExtentMm, sizeText } from '../geometry/shape.ts';
import { scale2, type Vec2 } from '../geometry/vec.ts';
import type { PlacedBody, PlacedFiller } from '../model/arrangement.ts';
import type { Seal } from '../model/seal.ts';
import type { Box } from './box.ts';
import { type Callout, layCallouts } from './callouts.ts';
import { closestBodies, closestToWall, type Gap } from './closest.ts';
import { dimensionAcross, dimensionUp } from './dimensions.ts';
import { islandsOf, labelRoomMm, pathOf, rectangleCorners, shapePolygon } from './outline.ts';
import { chooseScale, scaleBarMm, scaleText } from './scale.ts';
import { CABLE, el, INK, line, n, PAPER, SLATE, type Svg, TUBE, text } from './svg.ts';
import { textWidth } from './text-width.ts';

export interface SectionField {
  readonly opening: Shape;
  readonly seal: Seal;
  /** Outside of the hollow body where its bore is what is sealed. */
  readonly hollowOutsideMm: number | null;
  /** "up", or "north" where the host is a floor seen from above. */
  readonly upWord: string;
}

/** Room left of the opening for its height and notes, right for notes, below for its width. */
const MARGIN = { left: 25, right: 18, top: 10, bottom: 14 } as const;
const HOST_SHOWN = 7;
/** More notes than this round one drawing can't be read. */
const MOST_NOTES = 26;
const SMALLEST_LABEL = 1.6;
const LABEL = 2.3;

/** The cross-section to scale, in its box; scale bar and up mark in a strip beneath. */
export function sectionField(field: SectionField, box: Box, strip: Box): Svg {
  const { opening, seal } = field;
  const extent = shapeExtentMm(opening);
  const outsideMm = field.hollowOutsideMm ?? 0;
  const scale = chooseScale(
    Math.max(extent.widthMm, outsideMm),
    Math.max(extent.heightMm, outsideMm),
    box.width - MARGIN.left - MARGIN.right,
    box.height - MARGIN.top - MARGIN.bottom,
  );
  const centre: Vec2 = [
    box.x + MARGIN.left + (box.width - MARGIN.left - MARGIN.right) / 2,
    box.y + MARGIN.top + (box.height - MARGIN.top - MARGIN.bottom) / 2,
  ];
  const middle = middleOf(opening);
  // Paper has y down; the section has y up.
  const toPaper = (point: Vec2): Vec2 => [
    centre[0] + (point[0] - middle[0]) / scale,
    centre[1] - (point[1] - middle[1]) / scale,
  ];
  const half: Vec2 = [
    Math.max(extent.widthMm, outsideMm) / scale / 2,
    Math.max(extent.heightMm, outsideMm) / scale / 2,
  ];
  const frame: Frame = { scale, centre, half, toPaper };
  const items = seal.arrangement?.items ?? [];
  const notes: Callout[] = [...gapNotes(items, opening, frame)];
  const labels = bodyLabels(items, frame, notes);
  const openingHalf: Vec2 = [extent.widthMm / scale / 2, extent.heightMm / scale / 2];
  return [
    hostArea(field, frame),
    el('path', {
      d: pathOf(shapePolygon(opening), toPaper),
      fill: PAPER,
      stroke: INK,
      'stroke-width': 0.6,
      'stroke-linejoin': 'round',
    }),
    ...islandsOf(opening).map((island) =>
      el('path', {
        d: pathOf(island, toPaper),
        fill: 'url(#host)',
        stroke: INK,
        'stroke-width': 0.4,
      }),
    ),
    ...seal.fillers.flatMap((filler, at) => fillerMarks(filler, at, frame)),
    ...items.map((item) => bodyMark(item, frame)),
    ...labels,
    dimensionAcross(
      centre[0] - openingHalf[0],
      centre[0] + openingHalf[0],
      centre[1] + half[1] + HOST_SHOWN + 3.4,
      centre[1] + openingHalf[1],
      opening.type === 'circle' ? `${sizeText(opening.diameterMm)} dia` : sizeText(extent.widthMm),
    ),
    ...(opening.type === 'circle'
      ? []
      : [
          dimensionUp(
            centre[1] - openingHalf[1],
            centre[1] + openingHalf[1],
            centre[0] - half[0] - HOST_SHOWN - 2.2,
            centre[0] - openingHalf[0],
            sizeText(extent.heightMm),
          ),
        ]),
    layCallouts(notes, {
      leftX: centre[0] - half[0] - HOST_SHOWN - (opening.type === 'circle' ? 2 : 7),
      rightX: centre[0] + half[0] + HOST_SHOWN + 2,
      top: box.y + 3,
      bottom: centre[1] + half[1] + HOST_SHOWN,
      middleX: centre[0],
    }),
    scaleBar(scale, strip),
    upMark(field.upWord, strip),
  ].join('');
}

interface Frame {
  readonly scale: number;
  readonly centre: Vec2;
  /** Half of what is drawn without the host, on paper. */
  readonly half: Vec2;
  readonly toPaper: (point: Vec2) => Vec2;
}

/** A polygon need not be centred on its box. */
function middleOf(shape: Shape): Vec2 {
  if (shape.type !== 'polygon') return [0, 0];
  const xs = shape.pointsMm.map(([x]) => x);
  const ys = shape.pointsMm.map(([, y]) => y);
  return [(Math.min(...xs) + Math.max(...xs)) / 2, (Math.min(...ys) + Math.max(...ys)) / 2];
}

function hostArea({ hollowOutsideMm }: SectionField, { centre, half, scale }: Frame): Svg {
  const parts = [
    el('rect', {
      x: centre[0] - half[0] - HOST_SHOWN,
      y: centre[1] - half[1] - HOST_SHOWN,
      width: 2 * (half[0] + HOST_SHOWN),
      height: 2 * (half[1] + HOST_SHOWN),
      fill: 'url(#host)',
    }),
  ];
  if (hollowOutsideMm !== null) {
    const circle = { cx: centre[0], cy: centre[1], r: hollowOutsideMm / scale / 2 };
    parts.push(
      el('circle', { ...circle, fill: PAPER }),
      el('circle', { ...circle, fill: 'url(#hollow)', stroke: INK, 'stroke-width': 0.35 }),
    );
  }
  return parts.join('');
}

/** Rings; the mark in the middle tells the sizes apart: none, dot, cross, bar. */
function fillerMarks(filler: PlacedFiller, at: number, frame: Frame): Svg[] {
  return filler.positionsMm.map((position) => {
    const [x, y] = frame.toPaper(position);
    return tubeMark(x, y, filler.outsideMm / frame.scale, filler.boreMm / frame.scale, at);
  });
}

/** An empty tube of the size listed at place `at`. */
export function tubeMark(x: number, y: number, outside: number, bore: number, at: number): Svg {
  const size = Math.min(bore * 0.3, 0.9);
  const thin = { stroke: INK, 'stroke-width': 0.2 };
  const inner = [
    '',
    el('circle', { cx: x, cy: y, r: size * 0.6, fill: INK }),
    line(x - size, y - size, x + size, y + size, thin) +
      line(x - size, y + size, x + size, y - size, thin),
    line(x - size, y, x + size, y, thin),
  ];
  return [
    el('circle', {
      cx: x,
      cy: y,
      r: outside / 2,
      fill: TUBE,
      stroke: SLATE,
      'stroke-width': 0.2,
    }),
    el('circle', { cx: x, cy: y, r: bore / 2, fill: PAPER, stroke: SLATE, 'stroke-width': 0.15 }),
    inner[at % inner.length] ?? '',
  ].join('');
}

function bodyMark(item: PlacedBody, { toPaper, scale }: Frame): Svg {
  const [x, y] = toPaper([item.xMm, item.yMm]);
  if (item.outline.type === 'circle') {
    const radius = item.outline.diameterMm / scale / 2;
    const tube = item.tube === null ? '' : splitTubeMark(x, y, item.tube.outsideMm / scale, radius);
    return tube + cableMark(x, y, radius);
  }
  const corners = rectangleCorners(
    [item.xMm, item.yMm],
    item.outline.widthMm,
    item.outline.heightMm,
    item.angleRad,
  );
  return el('path', {
    d: pathOf(corners, toPaper),
    fill: CABLE,
    stroke: INK,
    'stroke-width': 0.35,
  });
}

export function cableMark(x: number, y: number, radius: number): Svg {
  return el('circle', {
    cx: x,
    cy: y,
    r: radius,
    fill: CABLE,
    stroke: INK,
    'stroke-width': 0.35,
  });
}

/** A tube over a cable, with the line where it is split. */
export function splitTubeMark(x: number, y: number, outside: number, cableRadius: number): Svg {
  const outer = Math.max(outside / 2, cableRadius + 0.25);
  return [
    el('circle', { cx: x, cy: y, r: outer, fill: TUBE, stroke: SLATE, 'stroke-width': 0.2 }),
    line(x, y - outer, x, y - cableRadius, { 'stroke-width': 0.35 }),
  ].join('');
}

/** References inside the bodies where they can be read, else as notes beside. */
function bodyLabels(items: readonly PlacedBody[], frame: Frame, notes: Callout[]): Svg[] {
  return items.flatMap((item, at) => {
    const [x, y] = frame.toPaper([item.xMm, item.yMm]);
    const room = (labelRoomMm(item.outline) / frame.scale) * 0.86;
    const inside = [item.ref, String(at + 1)]
      .map((label) => ({ label, size: labelSize(label, room) }))
      .find(({ size }) => size >= SMALLEST_LABEL);
    if (inside !== undefined) {
      const { label, size } = inside;
      return [text(x, y + size * 0.36, label, { size, anchor: 'middle', bold: true })];
    }
    if (notes.length < MOST_NOTES) notes.push({ at: [x, y], label: String(at + 1) });
    return [];
  });
}

/** Size at which a label's box fits a circle of the given diameter. */
function labelSize(label: string, diameter: number): number {
  const width = textWidth(label, 1, true);
  const diagonal = Math.sqrt(width * width + 0.73 * 0.73);
  return Math.min(LABEL, diameter / diagonal);
}

/** The closest pair and the one closest to the wall, measured and noted. */
function gapNotes(items: readonly PlacedBody[], opening: Shape, frame: Frame): Callout[] {
  const gaps = [
    { gap: closestBodies(items), word: 'apart' },
    { gap: closestToWall(items, opening), word: 'to wall' },
  ];
  return gaps.flatMap(({ gap, word }) => (gap === null ? [] : [gapNote(gap, word, frame)]));
}

function gapNote(gap: Gap, word: string, { toPaper }: Frame): Callout {
  const [from, to] = [toPaper(gap.from), toPaper(gap.to)];
  const middle = scale2([from[0] + to[0], from[1] + to[1]], 0.5);
  return { at: middle, label: `${gap.gapMm.toFixed(1)} ${word}`, measured: [from, to] };
}

function scaleBar(scale: number, strip: Box): Svg {
  const lengthMm = scaleBarMm(scale);
  const width = lengthMm / scale;
  const [x, y] = [strip.x + 2, strip.y + strip.height - 14];
  const quarter = width / 4;
  const blocks = [0, 1, 2, 3].map((at) =>
    el('rect', {
      x: x + at * quarter,
      y,
      width: quarter,
      height: 1.1,
      fill: at % 2 === 0 ? INK : PAPER,
      stroke: INK,
      'stroke-width': 0.18,
    }),
  );
  return [
    text(x, y - 2, `scale ${scaleText(scale)} at full size, mm`, { size: 2.1, fill: SLATE }),
    ...blocks,
    text(x, y + 4, '0', { size: 2.1, anchor: 'middle' }),
    text(x + width, y + 4, n(lengthMm), { size: 2.1, anchor: 'middle' }),
    text(strip.x + 1, strip.y + strip.height - 4.6, 'Seen from the near side,', VIEW_NOTE),
    text(strip.x + 1, strip.y + strip.height - 2, 'sealant layer not shown.', VIEW_NOTE),
  ].join('');
}

const VIEW_NOTE = { size: 1.9, fill: SLATE } as const;

function upMark(word: string, strip: Box): Svg {
  const [x, y] = [strip.x + 8, strip.y + 4];
  return [
    el('path', {
      d: `M${n(x)} ${n(y)}L${n(x + 1.6)} ${n(y + 4)}L${n(x)} ${n(y + 3.1)}L${n(x - 1.6)} ${n(y + 4)}Z`,
      fill: INK,
    }),
    line(x, y + 3, x, y + 8, { 'stroke-width': 0.3 }),
    text(x + 2.6, y + 7.4, word, { size: 2.1 }),
  ].join('');
}

import { closestBodies, closestToWall, type Gap } from '../geometry/body-gaps.ts';
import { islandsOf, rectangleCorners, shapePolygon } from '../geometry/outline-polygon.ts';
import { type Shape, shapeExtentMm, sizeText } from '../geometry/shape.ts';
import { scale2, type Vec2 } from '../geometry/vec.ts';
import type { PlacedBody, PlacedFiller } from '../model/arrangement.ts';
import type { Crossing } from '../model/penetration.ts';
import type { Seal } from '../model/seal.ts';
import { asFoundMark } from './as-found.ts';
import { bodyLabels } from './body-labels.ts';
import type { Box } from './box.ts';
import { type Callout, layCallouts } from './callouts.ts';
import { dimensionAcross, dimensionUp } from './dimensions.ts';
import { cableMark, splitTubeMark, tubeMark } from './marks.ts';
import { pathOf } from './outline.ts';
import { chooseScale, scaleBarMm, scaleText } from './scale.ts';
import { type Attributes, CABLE, el, INK, line, n, PAPER, SLATE, type Svg, text } from './svg.ts';

export interface SectionField {
  readonly opening: Shape;
  readonly seal: Seal;
  /** What passes and is not arranged, where it was found. */
  readonly asFound: readonly Crossing[];
  /** Outside of the hollow body where its bore is what is sealed. */
  readonly hollowOutsideMm: number | null;
  /** "up", or "north" where the host is a floor seen from above. */
  readonly upWord: string;
}

/** Room left of the opening for its height and notes, right for notes, below for its width. */
const MARGIN = { left: 25, right: 18, top: 10, bottom: 14 } as const;
const HOST_SHOWN = 7;

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
  const labels = bodyLabels(items, frame);
  const [shownX, shownY]: Vec2 = [half[0] + HOST_SHOWN, half[1] + HOST_SHOWN];
  const notes = layCallouts([...gapNotes(items, opening, frame), ...labels.notes], {
    leftX: centre[0] - shownX - (opening.type === 'circle' ? 1.5 : 6),
    rightX: centre[0] + shownX + 1.5,
    topY: centre[1] - shownY - 1,
    sides: [box.y + 1, centre[1] + shownY],
    tops: [centre[0] - shownX, centre[0] + shownX],
  });
  return [
    hostArea(field, frame),
    openingArea(opening, frame),
    ...seal.fillers.flatMap((filler, at) => fillerMarks(filler, at, frame)),
    notes.leaders,
    ...items.map((item) => bodyMark(item, frame)),
    ...field.asFound.map((crossing) => asFoundMark(crossing, scale, toPaper)),
    outline(opening, frame, EDGE),
    labels.inside,
    notes.labels,
    dimensions(opening, frame),
    scaleBar(scale, strip),
    upMark(field.upWord, strip),
    labels.left === 0 ? '' : unnumbered(labels.left, box),
  ].join('');
}

/** The clear opening; its outline is drawn last, over what touches it. */
function openingArea(opening: Shape, frame: Frame): Svg {
  return [
    outline(opening, frame, { fill: PAPER }),
    ...islandsOf(opening).map((island) =>
      el('path', {
        d: pathOf(island, frame.toPaper),
        fill: 'url(#host)',
        stroke: INK,
        'stroke-width': 0.4,
      }),
    ),
  ].join('');
}

function outline(opening: Shape, { centre, scale, toPaper }: Frame, look: Attributes): Svg {
  return opening.type === 'circle'
    ? el('circle', { cx: centre[0], cy: centre[1], r: opening.diameterMm / scale / 2, ...look })
    : el('path', { d: pathOf(shapePolygon(opening), toPaper), ...look });
}

const EDGE = {
  fill: 'none',
  stroke: INK,
  'stroke-width': 0.6,
  'stroke-linejoin': 'round',
} as const;

/** Overall sizes of the opening. */
function dimensions(opening: Shape, { centre, half, scale }: Frame): Svg {
  const { widthMm, heightMm } = shapeExtentMm(opening);
  const [x, y] = [widthMm / scale / 2, heightMm / scale / 2];
  const below = dimensionAcross(
    centre[0] - x,
    centre[0] + x,
    centre[1] + half[1] + HOST_SHOWN + 3.4,
    centre[1] + y,
    opening.type === 'circle' ? `${sizeText(widthMm)} dia` : sizeText(widthMm),
  );
  if (opening.type === 'circle') return below;
  const beside = centre[0] - half[0] - HOST_SHOWN - 2.2;
  return (
    below + dimensionUp(centre[1] - y, centre[1] + y, beside, centre[0] - x, sizeText(heightMm))
  );
}

function unnumbered(count: number, box: Box): Svg {
  return text(box.x + box.width, box.y + box.height, `${count} too small to number here`, {
    size: 2,
    anchor: 'end',
    fill: SLATE,
  });
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

function fillerMarks(filler: PlacedFiller, at: number, frame: Frame): Svg[] {
  return filler.positionsMm.map((position) => {
    const [x, y] = frame.toPaper(position);
    return tubeMark(x, y, filler.outsideMm / frame.scale, filler.boreMm / frame.scale, at);
  });
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

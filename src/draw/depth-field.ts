import { shapeExtentMm, sizeText } from '../geometry/shape.ts';
import type { PlacedBody } from '../model/arrangement.ts';
import type { Seal } from '../model/seal.ts';
import type { Box } from './box.ts';
import { dimensionAcross, dimensionUp } from './dimensions.ts';
import { chooseScale, scaleText } from './scale.ts';
import { CABLE, el, INK, line, n, PAPER, SLATE, type Svg, TUBE, text } from './svg.ts';

export interface DepthField {
  readonly seal: Seal;
  /** Whole assembly along the axis; null when not known. */
  readonly thicknessMm: number | null;
  /** Wall of the hollow body where its bore is what is sealed; null for an annulus. */
  readonly hollowWallMm: number | null;
}

const SIZE = 2;
/** Paper: host shown above and below, what passes shown before and behind. */
const HOST_SHOWN = 3;
const REACH = 6;
const ROOM = { top: 6, bottom: 7.5, left: 14, right: 9 } as const;
/** Services shown lengthwise; more would hide the layers. */
const MOST_BODIES = 4;
/** Smaller than this, layers can't be seen: the middle of the opening is left out instead. */
const SMALLEST_WHOLE = 10;
const BROKEN_SCALE = 5;
const BREAK_GAP = 1.6;
/** Where the host's thickness is not known, the layers are shown in one this deep. */
const SHOWN_THICKNESS_MM = 200;

/** Long section through a seal, to scale: host, sealant layer at each sealed face, fillers behind. */
export function depthField(field: DepthField, box: Box): Svg {
  const { seal } = field;
  if (seal.opening === null) return '';
  const heightMm = shapeExtentMm(seal.opening).heightMm;
  const lengthMm = field.thicknessMm ?? SHOWN_THICKNESS_MM;
  const wallMm = field.hollowWallMm ?? 0;
  const room = {
    width: box.width - ROOM.left - ROOM.right - 2 * REACH,
    height: box.height - ROOM.top - ROOM.bottom - 2 * HOST_SHOWN,
  };
  const wholeScale = chooseScale(lengthMm, heightMm + 2 * wallMm, room.width, room.height);
  const scale =
    wholeScale <= SMALLEST_WHOLE
      ? wholeScale
      : Math.max(BROKEN_SCALE, chooseScale(lengthMm, 0, room.width, room.height));
  const isBroken = scale < wholeScale;
  const length = lengthMm / scale;
  const wall = wallMm / scale;
  const height = isBroken ? room.height - 2 * wall : heightMm / scale;
  const frame: Frame = {
    scale,
    left: box.x + ROOM.left + REACH + (room.width - length) / 2,
    top: box.y + ROOM.top + HOST_SHOWN + wall + (room.height - height - 2 * wall) / 2,
    length,
    height,
    heightMm,
    wall,
    isBroken,
  };
  const bodies = bodiesAlong(seal, frame);
  const hidesBodies = isBroken && bodies.length === 0 && seal.bodies.length > 0;
  return [
    hostBlocks(frame),
    ...layers(seal, frame),
    ...bodies,
    outlines(frame),
    isBroken ? breakLines(frame) : '',
    ...depthNotes(field, frame, box),
    hidesBodies ? hiddenNote(box) : '',
  ].join('');
}

interface Frame {
  readonly scale: number;
  readonly left: number;
  readonly top: number;
  readonly length: number;
  /** On paper; less than to scale where the opening is shown broken. */
  readonly height: number;
  readonly heightMm: number;
  readonly wall: number;
  readonly isBroken: boolean;
}

function hostBlocks({ left, top, length, height, wall }: Frame): Svg {
  const block = (y: number) =>
    el('rect', { x: left, y, width: length, height: HOST_SHOWN, fill: 'url(#host)' });
  const sleeve = (y: number) =>
    wall === 0
      ? ''
      : el('rect', {
          x: left - REACH,
          y,
          width: length + 2 * REACH,
          height: wall,
          fill: 'url(#hollow)',
          stroke: INK,
          'stroke-width': 0.2,
        });
  return [
    block(top - wall - HOST_SHOWN),
    block(top + height + wall),
    sleeve(top - wall),
    sleeve(top + height),
  ].join('');
}

/** Sealant at the face, and behind it the tubes, for each sealed face. */
function layers(seal: Seal, frame: Frame): Svg[] {
  if (seal.state !== 'designed') return [];
  const { left, top, length, height, scale } = frame;
  const depth = Math.min(seal.setBackMm / scale, length);
  const tube = Math.min(tubeLengthMm(seal) / scale, Math.max(0, length - depth));
  const faces = seal.faces >= 2 ? (['near', 'far'] as const) : (['near'] as const);
  return faces.flatMap((face) => {
    const sealantX = face === 'near' ? left : left + length - depth;
    const tubeX = face === 'near' ? left + depth : left + length - depth - tube;
    return [
      el('rect', {
        x: tubeX,
        y: top,
        width: tube,
        height,
        fill: TUBE,
        stroke: SLATE,
        'stroke-width': 0.15,
      }),
      ...tubeLines(tubeX, tube, frame),
      el('rect', { x: sealantX, y: top, width: depth, height, fill: 'url(#sealant)' }),
    ];
  });
}

function tubeLines(x: number, width: number, { top, height }: Frame): Svg[] {
  if (width <= 0) return [];
  const count = Math.max(2, Math.round(height / 1.6));
  return Array.from({ length: count - 1 }, (_, at) => {
    const y = top + (height * (at + 1)) / count;
    return line(x, y, x + width, y, { stroke: SLATE, 'stroke-width': 0.12 });
  });
}

function tubeLengthMm(seal: Seal): number {
  return Math.max(0, ...seal.fillerQuantities.map((filler) => filler.lengthMm));
}

/** The largest of what passes, lengthwise, at their own heights. */
function bodiesAlong(seal: Seal, frame: Frame): Svg[] {
  const items = [...(seal.arrangement?.items ?? [])];
  const largest = items.sort((a, b) => heightOf(b) - heightOf(a)).slice(0, MOST_BODIES);
  return largest.flatMap((item) => {
    const height = heightOf(item) / frame.scale;
    const y = topOnPaper(item, height, frame);
    if (y === null) return [];
    return [
      el('rect', {
        x: frame.left - REACH,
        y,
        width: frame.length + 2 * REACH,
        height,
        fill: CABLE,
        stroke: INK,
        'stroke-width': 0.25,
      }),
    ];
  });
}

/** Upper edge of a body; null where it lies in the part that is left out. */
function topOnPaper(item: PlacedBody, height: number, frame: Frame): number | null {
  const { top, scale, heightMm, isBroken } = frame;
  const fromTop = (heightMm / 2 - item.yMm) / scale - height / 2;
  if (!isBroken) return top + fromTop;
  const part = (frame.height - BREAK_GAP) / 2;
  const fromBottom = heightMm / scale - fromTop - height;
  if (fromTop >= 0 && fromTop + height <= part) return top + fromTop;
  if (fromBottom >= 0 && fromBottom + height <= part) {
    return top + frame.height - fromBottom - height;
  }
  return null;
}

/** Two zigzag lines across, with nothing between. @source ISO 128-2, break lines. */
function breakLines({ left, top, length, height }: Frame): Svg {
  const middle = top + height / 2;
  const [from, to] = [left - REACH, left + length + REACH];
  const centre = left + length / 2;
  const zigzag = (y: number) =>
    `M${n(from)} ${n(y)}L${n(centre - 1.2)} ${n(y)}l0.8 -1.1l0.8 2.2l0.8 -1.1L${n(to)} ${n(y)}`;
  const [upper, lower] = [middle - BREAK_GAP / 2, middle + BREAK_GAP / 2];
  return [
    el('rect', {
      x: from,
      y: upper,
      width: to - from,
      height: BREAK_GAP,
      fill: PAPER,
    }),
    el('path', { d: zigzag(upper), fill: 'none', stroke: INK, 'stroke-width': 0.18 }),
    el('path', { d: zigzag(lower), fill: 'none', stroke: INK, 'stroke-width': 0.18 }),
  ].join('');
}

function heightOf({ outline, angleRad }: PlacedBody): number {
  if (outline.type === 'circle') return outline.diameterMm;
  const [cos, sin] = [Math.abs(Math.cos(angleRad)), Math.abs(Math.sin(angleRad))];
  return outline.widthMm * sin + outline.heightMm * cos;
}

function outlines({ left, top, length, height, wall }: Frame): Svg {
  const strong = { 'stroke-width': 0.5 };
  const [above, below] = [top - wall, top + height + wall];
  const face = (x: number) =>
    line(x, above - HOST_SHOWN, x, above, strong) + line(x, below, x, below + HOST_SHOWN, strong);
  return [
    face(left),
    face(left + length),
    line(left, above, left + length, above, strong),
    line(left, below, left + length, below, strong),
  ].join('');
}

function hiddenNote(box: Box): Svg {
  return ['What passes lies', 'in the part left out.']
    .map((part, at) => text(box.x, box.y + 11 + 2.6 * at, part, { size: 1.9, fill: SLATE }))
    .join('');
}

function depthNotes({ seal, thicknessMm }: DepthField, frame: Frame, box: Box): Svg[] {
  const { left, top, length, height, wall, scale } = frame;
  const upper = top - wall - HOST_SHOWN;
  const lower = top + height + wall + HOST_SHOWN;
  const depth = Math.min(seal.setBackMm / scale, length);
  const designed = seal.state === 'designed';
  const side = (x: number, label: string, anchor: 'start' | 'end') =>
    text(x, lower + 5.6, label, { size: SIZE, anchor, fill: SLATE });
  return [
    text(box.x, box.y + 4, 'Long section', { size: 2.2, bold: true }),
    text(
      box.x,
      box.y + 7.2,
      frame.isBroken ? `scale ${scaleText(scale)}, broken` : `scale ${scaleText(scale)}`,
      { size: SIZE, fill: SLATE },
    ),
    designed
      ? dimensionAcross(left, left + depth, upper - 1.8, upper, sizeText(seal.setBackMm))
      : '',
    designed && seal.faces >= 2
      ? dimensionAcross(
          left + length - depth,
          left + length,
          upper - 1.8,
          upper,
          sizeText(seal.setBackMm),
        )
      : '',
    dimensionAcross(
      left,
      left + length,
      lower + 3.4,
      lower,
      thicknessMm === null ? 'thickness not known' : sizeText(thicknessMm),
    ),
    dimensionUp(
      top,
      top + height,
      left + length + REACH + 3.4,
      left + length + REACH,
      sizeText(frame.heightMm),
    ),
    designed ? side(left - 1.5, seal.faces >= 2 ? 'near side' : 'sealed side', 'end') : '',
    designed && seal.faces >= 2 ? side(left + length + 1.5, 'far side', 'start') : '',
  ];
}

import { shapeExtentMm, sizeText } from '../geometry/shape.ts';
import type { PlacedBody } from '../model/arrangement.ts';
import type { Seal } from '../model/seal.ts';
import type { Box } from './box.ts';
import { dimensionAcross, dimensionUp } from './dimensions.ts';
import { chooseScale, scaleText } from './scale.ts';
import { CABLE, el, INK, line, SLATE, type Svg, TUBE, text } from './svg.ts';

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
  const scale = chooseScale(lengthMm, heightMm + 2 * wallMm, room.width, room.height);
  const length = lengthMm / scale;
  const height = heightMm / scale;
  const left = box.x + ROOM.left + REACH + (room.width - length) / 2;
  const top =
    box.y +
    ROOM.top +
    HOST_SHOWN +
    wallMm / scale +
    (room.height - height - (2 * wallMm) / scale) / 2;
  const frame: Frame = { scale, left, top, length, height, wall: wallMm / scale };
  return [
    hostBlocks(frame),
    ...layers(seal, frame),
    ...bodiesAlong(seal, frame),
    outlines(frame),
    ...depthNotes(field, frame, box),
  ].join('');
}

interface Frame {
  readonly scale: number;
  readonly left: number;
  readonly top: number;
  readonly length: number;
  readonly height: number;
  readonly wall: number;
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
  return largest.map((item) => {
    const height = heightOf(item) / frame.scale;
    const y = frame.top + frame.height / 2 - item.yMm / frame.scale - height / 2;
    return el('rect', {
      x: frame.left - REACH,
      y,
      width: frame.length + 2 * REACH,
      height,
      fill: CABLE,
      stroke: INK,
      'stroke-width': 0.25,
    });
  });
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
    text(box.x, box.y + 7.2, `scale ${scaleText(scale)}`, { size: SIZE, fill: SLATE }),
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
      sizeText(height * scale),
    ),
    designed ? side(left - 1.5, seal.faces >= 2 ? 'near side' : 'sealed side', 'end') : '',
    designed && seal.faces >= 2 ? side(left + length + 1.5, 'far side', 'start') : '',
  ];
}

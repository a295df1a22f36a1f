import type { DxfText } from '../../formats/dxf/dxf-entity.ts';
import { type Frame3, frameDirection, frameInside } from '../../geometry/frame3.ts';
import { mapPoint } from '../../geometry/plane-curve.ts';
import { planeOfExtrusion } from '../../geometry/plane-transform.ts';
import type { Vec2 } from '../../geometry/vec.ts';
import type { DrawnText } from '../../model/drawing.ts';

/** Width of a letter over its height: a middle value of common fonts. Our own choice. */
const LETTER_WIDTH_RATIO = 0.7;
/** Distance of lines of text over their height. @source DXF reference, line spacing 5/3 (from memory) */
const LINE_PITCH_RATIO = 5 / 3;

/** Where a text stands, seen from above, and how large it is. */
export function mapText(
  entity: DxfText,
  map: Frame3,
): Pick<DrawnText, 'centreMm' | 'lengthMm' | 'depthMm' | 'heightMm' | 'rotationRad'> {
  const own = entity.isWorld ? map : frameInside(map, planeOfExtrusion(entity.look.extrusion));
  const cos = Math.cos(entity.rotationRad);
  const sin = Math.sin(entity.rotationRad);
  const along = frameDirection(own, [cos, sin, 0]);
  const upwards = frameDirection(own, [-sin, cos, 0]);
  const scaleAlong = Math.hypot(along[0], along[1]);
  const scaleUp = Math.hypot(upwards[0], upwards[1]);
  const heightMm = entity.height * scaleUp;
  const lines = entity.text.split('\n');
  const letters = Math.max(1, ...lines.map((line) => line.trim().length));
  const lengthMm = entity.height * scaleAlong * LETTER_WIDTH_RATIO * letters;
  const depthMm = heightMm * (1 + (lines.length - 1) * LINE_PITCH_RATIO);
  const anchor = mapPoint(own, entity.position);
  const right: Vec2 = scaleAlong > 0 ? [along[0] / scaleAlong, along[1] / scaleAlong] : [1, 0];
  const up: Vec2 = scaleUp > 0 ? [upwards[0] / scaleUp, upwards[1] / scaleUp] : [0, 1];
  const shiftRight = ((1 - entity.horizontal) * lengthMm) / 2;
  const shiftUp = ((1 - entity.vertical) * depthMm) / 2;
  return {
    centreMm: [
      anchor[0] + right[0] * shiftRight + up[0] * shiftUp,
      anchor[1] + right[1] * shiftRight + up[1] * shiftUp,
    ],
    lengthMm,
    depthMm,
    heightMm,
    rotationRad: Math.atan2(right[1], right[0]),
  };
}

import type { Shape } from './shape.ts';
import type { Vec2 } from './vec.ts';

/** A length to a thousandth of a millimetre: what arithmetic adds beyond that is no information. */
export function tidyMm(valueMm: number): number {
  return Math.round(valueMm * 1000) / 1000;
}

/** A shape with its sizes to a thousandth of a millimetre. */
export function tidyShape(shape: Shape): Shape {
  switch (shape.type) {
    case 'circle':
      return { type: 'circle', diameterMm: tidyMm(shape.diameterMm) };
    case 'rectangle':
      return {
        type: 'rectangle',
        widthMm: tidyMm(shape.widthMm),
        heightMm: tidyMm(shape.heightMm),
      };
    case 'slot':
    case 'oval':
      return {
        type: shape.type,
        lengthMm: tidyMm(shape.lengthMm),
        widthMm: tidyMm(shape.widthMm),
      };
    case 'polygon':
      return {
        ...shape,
        pointsMm: shape.pointsMm.map(([x, y]): Vec2 => [tidyMm(x), tidyMm(y)]),
      };
  }
}

import { depthBelowOriginMm, shapeExtentMm } from '../geometry/shape.ts';
import type { Penetration } from './penetration.ts';

/** Lowest point of a hole, mm above the project's zero; of its centre line where its shape is not known. */
export function lowestPointMm({
  frame: { originMm, up, right, axis },
  shape,
  thicknessMm,
}: Pick<Penetration, 'frame' | 'shape' | 'thicknessMm'>): number {
  const widthMm = shape === null ? 0 : shapeExtentMm(shape).widthMm;
  return (
    originMm[2] -
    Math.abs(up[2]) * (shape === null ? 0 : depthBelowOriginMm(shape)) -
    (Math.abs(right[2]) * widthMm + Math.abs(axis[2]) * thicknessMm) / 2
  );
}

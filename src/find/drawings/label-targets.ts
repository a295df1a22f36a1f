import { planePath } from '../../geometry/plane-cross.ts';
import { shapeExtentMm } from '../../geometry/shape.ts';
import type { LabelTarget } from './label-index.ts';
import type { PointItem } from './point-items.ts';
import type { ServiceChain } from './service-chains.ts';
import { boxOfItem, type SheetItem } from './sheet-item.ts';

/** A run as something that a text may name. */
export function chainTarget({ path, members }: ServiceChain): LabelTarget {
  const widthMm = members[0]?.path.widthMm ?? null;
  const drawnMm = widthMm === null ? [] : [widthMm];
  return { path, halfWidthMm: (widthMm ?? 0) / 2, drawnMm, isOpening: false };
}

/** A circle, rectangle or block of a service. */
export function pointTarget({ outline, shape, kind }: PointItem): LabelTarget {
  return {
    path: planePath(outline),
    halfWidthMm: 0,
    drawnMm: shape === null ? [] : [shapeExtentMm(shape).widthMm],
    isOpening: kind === null,
  };
}

/** A drawn opening, by the box round it. */
export function itemTarget(item: SheetItem): LabelTarget {
  const box = boxOfItem(item);
  const [x, y] = item.symbol?.positionMm ?? [0, 0];
  const [x0, y0, x1, y1] = box ?? [x, y, x, y];
  return {
    path: planePath([
      [x0, y0],
      [x1, y0],
      [x1, y1],
      [x0, y1],
      [x0, y0],
    ]),
    halfWidthMm: 0,
    drawnMm: box === null || item.symbol !== null ? [] : [x1 - x0, y1 - y0],
    isOpening: true,
  };
}

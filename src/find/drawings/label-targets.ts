import { planePath } from '../../geometry/plane-cross.ts';
import { shapeExtentMm } from '../../geometry/shape.ts';
import type { Vec2 } from '../../geometry/vec.ts';
import type { ServiceKind } from '../../model/building.ts';
import type { LabelTarget } from './label-index.ts';
import { type PointItem, pointItemsOf } from './point-items.ts';
import type { ServiceChain } from './service-chains.ts';
import { boxOfItem, type SheetItem } from './sheet-item.ts';

const ROUND_KINDS: ReadonlySet<ServiceKind> = new Set(['cable', 'conduit', 'pipe']);

/** A run as something that a text may name. */
export function chainTarget({ path, members }: ServiceChain): LabelTarget {
  const widthMm = members[0]?.path.widthMm ?? null;
  const drawnMm = widthMm === null ? [] : [widthMm];
  const isRound = widthMm === null && ROUND_KINDS.has(members[0]?.path.item.kind ?? 'duct');
  return { path, halfWidthMm: (widthMm ?? 0) / 2, drawnMm, isOpening: false, isRound };
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

/** A drawn opening, by its outline where it draws one, else by the box round it. */
export function itemTarget(item: SheetItem): LabelTarget {
  const [drawn] = item.symbol === null ? pointItemsOf(item, null) : [];
  if (drawn?.shape != null) {
    const { widthMm, heightMm } = shapeExtentMm(drawn.shape);
    return {
      path: planePath(closed(drawn.outline)),
      halfWidthMm: 0,
      drawnMm: [widthMm, heightMm],
      isOpening: true,
    };
  }
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

/** Points of an outline with the first one again at the end. */
function closed(points: readonly Vec2[]): readonly Vec2[] {
  const [first] = points;
  const last = points[points.length - 1];
  const isClosed = first?.[0] === last?.[0] && first?.[1] === last?.[1];
  return first === undefined || isClosed ? points : [...points, first];
}

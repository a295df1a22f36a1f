import { recogniseOutline } from '../../geometry/outline-shape.ts';
import { pathPoints } from '../../geometry/plane-curve.ts';
import { type Shape, shapeAreaMm2 } from '../../geometry/shape.ts';
import type { Vec2 } from '../../geometry/vec.ts';
import type { ServiceKind } from '../../model/building.ts';
import { attributeLabel, type Label } from './labels.ts';
import type { ServiceItem } from './sheet.ts';
import { boxOfItem, isClosedOutlines, isSymbolSized, type SheetItem } from './sheet-item.ts';

/** Something drawn at a place rather than along a line: a circle, a rectangle, a block. */
export interface PointItem {
  readonly item: SheetItem;
  /** Null for an opening. */
  readonly kind: ServiceKind | null;
  readonly service: ServiceItem | null;
  readonly centre: Vec2;
  /** Box round it: x1, y1, x2, y2. */
  readonly box: readonly [number, number, number, number];
  /** What is drawn; null for a block without an outline of its own. */
  readonly shape: Shape | null;
  /** Its outline as points; the place alone for a block without one. */
  readonly outline: readonly Vec2[];
  readonly attribute: Label | null;
}

/**
 * Whether a service item marks a place: a small block, or closed outlines that are no line's edges.
 * A long outline is a tray from above in a plan; elsewhere a small one is a tray seen end on.
 */
export function isPointItem(item: ServiceItem, drawsLines: boolean, isPlan: boolean): boolean {
  const isSmall = isSymbolSized(boxOfItem(item));
  if (item.symbol !== null) return isSmall;
  if (isPlan || !isSmall) return !drawsLines;
  return isClosedOutlines(item);
}

/** One for each closed outline of an item, or one for a block without any. */
export function pointItemsOf(item: SheetItem, service: ServiceItem | null): PointItem[] {
  const attribute = item.symbol === null ? null : attributeLabel(item.symbol);
  const common = { item, service, kind: service?.kind ?? null, attribute };
  const outlines = item.entities.flatMap(({ loops }) =>
    loops
      .filter(({ isClosed }) => isClosed)
      .map(({ pieces }) => {
        const [piece] = pieces;
        const points = pathPoints(pieces);
        if (pieces.length === 1 && piece?.type === 'arc') {
          const shape: Shape = { type: 'circle', diameterMm: 2 * piece.radiusMm };
          return { shape, centre: piece.centre, points };
        }
        const found = recogniseOutline(points);
        return found === null ? null : { shape: found.shape, centre: found.centre, points };
      }),
  );
  const shapes = outlines
    .filter((outline) => outline !== null)
    .sort((a, b) => shapeAreaMm2(b.shape) - shapeAreaMm2(a.shape));
  if (shapes.length === 0) {
    const box = boxOfItem(item);
    const place = item.symbol?.positionMm ?? middleOf(box);
    if (place === null) return [];
    const [x, y] = place;
    return [{ ...common, centre: place, box: box ?? [x, y, x, y], shape: null, outline: [place] }];
  }
  return shapes.map(({ shape, centre, points }) => ({
    ...common,
    centre,
    box: boxOf(points),
    shape,
    outline: points,
  }));
}

function middleOf(box: readonly [number, number, number, number] | null): Vec2 | null {
  return box === null ? null : [(box[0] + box[2]) / 2, (box[1] + box[3]) / 2];
}

function boxOf(points: readonly Vec2[]): [number, number, number, number] {
  let [x0, y0, x1, y1] = [
    Number.POSITIVE_INFINITY,
    Number.POSITIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
  ];
  for (const [x, y] of points) {
    x0 = Math.min(x0, x);
    y0 = Math.min(y0, y);
    x1 = Math.max(x1, x);
    y1 = Math.max(y1, y);
  }
  return [x0, y0, x1, y1];
}

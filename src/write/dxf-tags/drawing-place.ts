import { piecePoints } from '../../geometry/plane-curve.ts';
import type { Vec2, Vec3 } from '../../geometry/vec.ts';
import type { Drawing, DrawnView } from '../../model/drawing.ts';

/**
 * Where a place of the world lies in a view's drawing, mm: the way back of what finding does.
 * Null where the view doesn't show it.
 */
export function placeInView(view: DrawnView, [wx, wy, wz]: Vec3): Vec2 | null {
  const [px, py] = view.base?.pointMm ?? [0, 0];
  const [ax, ay, az] = view.base?.atMm ?? [0, 0, 0];
  const x = wx - ax + px;
  const point: Vec2 =
    view.view === 'plan'
      ? [x, wy - ay + py]
      : [x, view.datum === null ? wz - az + py : wz - view.datum.heightMm + view.datum.yMm];
  return isWithin(view, point) ? point : null;
}

/** A view and a place in it, drawing mm. */
export interface PlaceShown {
  readonly view: DrawnView;
  readonly point: Vec2;
}

/** The view that shows a place: of several the one of its level, then the nearest by height. */
export function viewOf(
  views: readonly DrawnView[],
  atMm: Vec3,
  level: string | null,
): PlaceShown | null {
  const showing = views.flatMap((view) => {
    const point = placeInView(view, atMm);
    return point === null ? [] : [{ view, point }];
  });
  const heightOff = ({ elevationMm }: DrawnView) =>
    elevationMm === null ? 0 : Math.abs(atMm[2] - elevationMm);
  const [best] = showing.sort(
    (a, b) =>
      Number(b.view.level === level) - Number(a.view.level === level) ||
      heightOff(a.view) - heightOff(b.view),
  );
  return best ?? null;
}

/**
 * The plan that shows a place which was not read in the drawing: joined to the project by a base
 * point, of the same level, and with something drawn round the place.
 */
export function planOf(
  drawing: Drawing,
  extentMm: Extent,
  atMm: Vec3,
  level: string | null,
): PlaceShown | null {
  const plans = drawing.views.filter(
    (view) => view.view === 'plan' && view.base !== null && view.level !== null,
  );
  const shown = viewOf(
    plans.filter((view) => view.level === level),
    atMm,
    level,
  );
  return shown !== null && isInside(extentMm, shown.point) ? shown : null;
}

/** x1, y1, x2, y2. */
export type Extent = readonly [number, number, number, number];

/** The box round all that is drawn; nothing lies inside an empty one. */
export function drawnExtentMm(drawing: Drawing): Extent {
  let [x1, y1, x2, y2]: Extent = [
    Number.POSITIVE_INFINITY,
    Number.POSITIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
  ];
  for (const { loops } of drawing.entities) {
    for (const { pieces } of loops) {
      for (const piece of pieces) {
        for (const [x, y] of piecePoints(piece)) {
          [x1, y1] = [Math.min(x1, x), Math.min(y1, y)];
          [x2, y2] = [Math.max(x2, x), Math.max(y2, y)];
        }
      }
    }
  }
  return [x1, y1, x2, y2];
}

function isWithin({ windowMm }: DrawnView, point: Vec2): boolean {
  return windowMm === null || isInside(windowMm, point);
}

function isInside([x1, y1, x2, y2]: Extent, [x, y]: Vec2): boolean {
  return x >= x1 && x <= x2 && y >= y1 && y <= y2;
}

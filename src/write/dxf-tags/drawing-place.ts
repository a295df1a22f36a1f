import type { Vec2, Vec3 } from '../../geometry/vec.ts';
import type { DrawnView } from '../../model/drawing.ts';

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

/** The view that shows a place: of several the one of its level, then the nearest by height. */
export function viewOf(
  views: readonly DrawnView[],
  atMm: Vec3,
  level: string | null,
): { readonly view: DrawnView; readonly point: Vec2 } | null {
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

function isWithin({ windowMm }: DrawnView, [x, y]: Vec2): boolean {
  if (windowMm === null) return true;
  const [x1, y1, x2, y2] = windowMm;
  return x >= x1 && x <= x2 && y >= y1 && y <= y2;
}

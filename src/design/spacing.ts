import { greatestOf, leastOf } from '../basics/extremes.ts';
import { groupBy } from '../basics/order.ts';
import { type Box, grownBox } from '../geometry/box.ts';
import { indexBoxes } from '../geometry/box-index.ts';
import { shapeExtentMm } from '../geometry/shape.ts';
import { dot3 } from '../geometry/vec.ts';
import type { Penetration, PenetrationHost, SectionFrame } from '../model/penetration.ts';

/** Width and height of an opening, mm. */
export interface Extent {
  readonly widthMm: number;
  readonly heightMm: number;
}

/** Openings whose axes lean apart by more than this (cosine) lie in different planes. */
const SAME_PLANE = 0.99;

/** An opening as a box in the plane of its host; null where it faces another way than the plane. */
export function boxInPlane(
  frame: SectionFrame,
  { widthMm, heightMm }: Extent,
  plane: SectionFrame,
): Box | null {
  if (Math.abs(dot3(plane.axis, frame.axis)) < SAME_PLANE) return null;
  const x = dot3(frame.originMm, plane.right);
  const y = dot3(frame.originMm, plane.up);
  return {
    low: [x - widthMm / 2, y - heightMm / 2, 0],
    high: [x + widthMm / 2, y + heightMm / 2, 0],
  };
}

/** The larger side of a box in plane. */
export function boxSizeMm({ low, high }: Box): number {
  return Math.max(high[0] - low[0], high[1] - low[1]);
}

/** Clear distance between two boxes in plane; 0 where they touch or overlap. */
export function clearBetweenMm(a: Box, b: Box): number {
  const x = Math.max(0, a.low[0] - b.high[0], b.low[0] - a.high[0]);
  const y = Math.max(0, a.low[1] - b.high[1], b.low[1] - a.high[1]);
  return Math.hypot(x, y);
}

/**
 * Finds the clear distance from a penetration to the nearest other one in the same host, looking
 * as far as its own larger side or `reachMm`, whichever is more; null where none is that near.
 */
export function spacingFinder(
  penetrations: readonly Penetration[],
  reachMm: number,
): (penetrationId: string) => number | null {
  const inHosts = penetrations.flatMap((penetration) => {
    const extent = extentOf(penetration);
    return extent === null
      ? []
      : penetration.hosts.map(({ id }) => ({ hostId: id, penetration, extent }));
  });
  const nearest = new Map<string, number>();
  for (const group of groupBy(inHosts, ({ hostId }) => hostId).values()) {
    const plane = group[0]?.penetration.frame;
    if (plane === undefined || group.length < 2) continue;
    const boxes = group.map(({ penetration, extent }) =>
      boxInPlane(penetration.frame, extent, plane),
    );
    const index = indexBoxes(boxes);
    group.forEach(({ penetration: { id } }, at) => {
      const box = boxes[at] ?? null;
      if (box === null) return;
      const reach = Math.max(reachMm, boxSizeMm(box));
      const clearMm = leastOf(
        index.meeting(grownBox(box, reach)).flatMap((other) => {
          const otherBox = boxes[other];
          return other === at || otherBox == null ? [] : [clearBetweenMm(box, otherBox)];
        }),
      );
      if (clearMm <= reach) nearest.set(id, Math.min(clearMm, nearest.get(id) ?? Infinity));
    });
  }
  return (penetrationId) => nearest.get(penetrationId) ?? null;
}

/** Size of the opening, else of the largest thing that passes. */
function extentOf({ shape, crossings }: Penetration): Extent | null {
  if (shape !== null) return shapeExtentMm(shape);
  const sizes = crossings.flatMap(({ section }) =>
    section === null
      ? []
      : [
          section.type === 'circle'
            ? section.diameterMm
            : Math.max(section.widthMm, section.heightMm),
        ],
  );
  if (sizes.length === 0) return null;
  const sizeMm = greatestOf(sizes);
  return { widthMm: sizeMm, heightMm: sizeMm };
}

/** Clear distance from an opening to the nearest edge of its host, and which edge that is. */
export interface EdgeDistance {
  readonly clearMm: number;
  readonly edge: 'left' | 'right' | 'below' | 'above';
}

/** The nearest edge of a host; null where no edge is known. */
export function nearestEdge(
  { toEdgeMm }: PenetrationHost,
  { widthMm, heightMm }: Extent,
): EdgeDistance | null {
  if (toEdgeMm === undefined) return null;
  const half = { left: widthMm / 2, right: widthMm / 2, below: heightMm / 2, above: heightMm / 2 };
  const edges = (['left', 'right', 'below', 'above'] as const).flatMap((edge): EdgeDistance[] => {
    const fromCentreMm = toEdgeMm[edge];
    return fromCentreMm === null ? [] : [{ edge, clearMm: fromCentreMm - half[edge] }];
  });
  return edges.reduce<EdgeDistance | null>(
    (least, one) => (least === null || one.clearMm < least.clearMm ? one : least),
    null,
  );
}

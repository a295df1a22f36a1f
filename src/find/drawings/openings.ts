import { recogniseOutline } from '../../geometry/outline-shape.ts';
import { bandCoordinates } from '../../geometry/plane-cross.ts';
import { pathPoints } from '../../geometry/plane-curve.ts';
import { type Shape, shapeExtentMm } from '../../geometry/shape.ts';
import type { Vec2 } from '../../geometry/vec.ts';
import type { PenetrationHost } from '../../model/penetration.ts';
import { chooseSize } from './choose-size.ts';
import { hostOf } from './find-crossings.ts';
import type { HostBands } from './host-bands.ts';
import { attributeLabel, type Label } from './labels.ts';
import { boxOfItem, type SheetItem } from './sheet-item.ts';

/** A drawn opening in a plan: where it lies and what is known of it. */
export interface OpeningDraft {
  readonly item: SheetItem;
  readonly centre: Vec2;
  /** Half its width along the wall as drawn. */
  readonly halfWidthMm: number;
  /** What it looks like to someone facing the wall; null where the drawing does not tell. */
  readonly shape: Shape | null;
  readonly hostIds: readonly string[];
  readonly hosts: readonly PenetrationHost[];
  /** Unit vector through the host. */
  readonly axis: Vec2;
  readonly labels: readonly Label[];
  /** How far its drawing reaches along the axis. */
  readonly spansMm: number;
}

/** How far an opening's symbol may stand off the wall it belongs to. */
const NEAR_WALL_MM = 60;

/** Openings drawn in plan, each with the wall it lies in; hosts empty where it lies in none. */
export function draftOpenings(
  items: readonly SheetItem[],
  labels: readonly (readonly Label[])[],
  hosts: HostBands,
): OpeningDraft[] {
  return items.flatMap((item, i) => {
    const draft = draftOpening(item, labels[i] ?? [], hosts);
    return draft === null ? [] : [draft];
  });
}

function draftOpening(
  item: SheetItem,
  texts: readonly Label[],
  hosts: HostBands,
): OpeningDraft | null {
  const box = boxOfItem(item);
  const centre: Vec2 | null =
    box !== null
      ? [(box[0] + box[2]) / 2, (box[1] + box[3]) / 2]
      : (item.symbol?.positionMm ?? null);
  if (centre === null) return null;
  const attribute = item.symbol === null ? null : attributeLabel(item.symbol);
  const labels = attribute === null ? texts : [attribute, ...texts];
  const at = bandAt(centre, box, hosts);
  const band = at === null ? undefined : hosts.bands[at];
  const host = at === null ? null : hostOf(at, hosts);
  const axis: Vec2 =
    band === undefined
      ? [0, 1]
      : band.type === 'straight'
        ? [-band.direction[1], band.direction[0]]
        : radial(centre, band.centre);
  const drawn = drawnShape(item);
  const size = chooseSize(labels, centre, 'duct', null);
  const spansMm = extentAlong(item, axis);
  const shape: Shape | null = size.section ?? (drawn?.type === 'circle' ? drawn : null);
  const acrossMm = extentAlong(item, [-axis[1], axis[0]]);
  const shapeWidth = shape === null ? 0 : shapeExtentMm(shape).widthMm;
  return {
    item,
    centre,
    halfWidthMm: Math.max(acrossMm, shapeWidth) / 2,
    shape,
    hostIds: host === null ? [] : [host.id],
    hosts: host === null ? [] : [host],
    axis,
    labels,
    spansMm,
  };
}

function radial(point: Vec2, centre: Vec2): Vec2 {
  const [x, y] = [point[0] - centre[0], point[1] - centre[1]];
  const length = Math.hypot(x, y);
  return length > 0 ? [x / length, y / length] : [1, 0];
}

/** How far an item's lines reach in a direction, however they are turned. */
function extentAlong(item: SheetItem, [dx, dy]: Vec2): number {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const { loops } of item.entities) {
    for (const { pieces } of loops) {
      for (const [x, y] of pathPoints(pieces)) {
        low = Math.min(low, x * dx + y * dy);
        high = Math.max(high, x * dx + y * dy);
      }
    }
  }
  return high > low ? high - low : 0;
}

function drawnShape(item: SheetItem): Shape | null {
  for (const { loops } of item.entities) {
    for (const { pieces, isClosed } of loops) {
      const [piece] = pieces;
      if (pieces.length === 1 && piece?.type === 'arc' && isClosed) {
        return { type: 'circle', diameterMm: piece.radiusMm * 2 };
      }
      if (isClosed) {
        const found = recogniseOutline(pathPoints(pieces));
        if (found !== null) return found.shape;
      }
    }
  }
  return null;
}

/** The band that holds a place, or the nearest that its box reaches. */
function bandAt(
  centre: Vec2,
  box: readonly [number, number, number, number] | null,
  hosts: HostBands,
): number | null {
  const [x0, y0, x1, y1] = box ?? [centre[0], centre[1], centre[0], centre[1]];
  let best: number | null = null;
  let bestOff = NEAR_WALL_MM;
  for (const at of hosts.index.search(
    x0 - NEAR_WALL_MM,
    y0 - NEAR_WALL_MM,
    x1 + NEAR_WALL_MM,
    y1 + NEAR_WALL_MM,
  )) {
    const band = hosts.bands[at];
    if (band === undefined) continue;
    const { u, v } = bandCoordinates(band, centre);
    if (u < band.u0 || u > band.u1) continue;
    const off = Math.max(0, band.v0 - v, v - band.v1);
    if (off < bestOff || (off === bestOff && best === null)) {
      best = at;
      bestOff = off;
    }
  }
  return best;
}

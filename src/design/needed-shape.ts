import type { Shape } from '../geometry/shape.ts';
import type { Vec2 } from '../geometry/vec.ts';
import type { Body } from '../model/arrangement.ts';

export interface Footprint {
  readonly outline: Body['outline'];
  /** Centre in the section frame; null where only the count is known. */
  readonly atMm: Vec2 | null;
}

/** What a hole must be where none is provided, and where its centre lies in the section frame. */
export interface NeededOpening {
  readonly shape: Shape;
  readonly centreMm: Vec2;
}

/**
 * The hole that services ask for: a circle round one round service, else the rectangle round all
 * of them, with `clearanceMm` on every side and room for their wander across the thickness.
 * Services of unknown place stand in a row to the right. Sizes are rounded up to whole
 * millimetres. Null when nothing passes.
 * @source Own rule; clearance from the settings.
 */
export function neededOpening(
  footprints: readonly Footprint[],
  clearanceMm: number,
  wanderMm: number,
): NeededOpening | null {
  const [first] = footprints;
  if (first === undefined) return null;
  if (footprints.length === 1 && first.outline.type === 'circle') {
    const diameterMm = wholeMm(first.outline.diameterMm + 2 * clearanceMm + wanderMm);
    return { shape: { type: 'circle', diameterMm }, centreMm: first.atMm ?? [0, 0] };
  }
  const box = boxRound(footprints, clearanceMm);
  return {
    shape: {
      type: 'rectangle',
      widthMm: wholeMm(box.right - box.left + 2 * clearanceMm + wanderMm),
      heightMm: wholeMm(box.top - box.bottom + 2 * clearanceMm + wanderMm),
    },
    centreMm: [(box.left + box.right) / 2, (box.bottom + box.top) / 2],
  };
}

interface Box {
  left: number;
  right: number;
  bottom: number;
  top: number;
}

function boxRound(footprints: readonly Footprint[], clearanceMm: number): Box {
  const box: Box = { left: Infinity, right: -Infinity, bottom: Infinity, top: -Infinity };
  for (const { outline, atMm } of footprints) {
    if (atMm !== null) widen(box, outline, atMm);
  }
  for (const { outline, atMm } of footprints) {
    if (atMm !== null) continue;
    const { width } = extent(outline);
    const isFirst = !Number.isFinite(box.left);
    const x = isFirst ? 0 : box.right + clearanceMm + width / 2;
    widen(box, outline, [x, isFirst ? 0 : (box.bottom + box.top) / 2]);
  }
  return box;
}

function widen(box: Box, outline: Body['outline'], [x, y]: Vec2): void {
  const { width, height } = extent(outline);
  box.left = Math.min(box.left, x - width / 2);
  box.right = Math.max(box.right, x + width / 2);
  box.bottom = Math.min(box.bottom, y - height / 2);
  box.top = Math.max(box.top, y + height / 2);
}

function extent(outline: Body['outline']): { width: number; height: number } {
  return outline.type === 'circle'
    ? { width: outline.diameterMm, height: outline.diameterMm }
    : { width: outline.widthMm, height: outline.heightMm };
}

function wholeMm(valueMm: number): number {
  return Math.ceil(valueMm - 1e-6);
}

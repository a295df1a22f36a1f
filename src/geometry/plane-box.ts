import type { PlanePiece } from './plane-curve.ts';

/** A rectangle along the axes of a drawing: x1, y1, x2, y2, mm. */
export type PlaneBox = readonly [number, number, number, number];

/** Box round lines and arcs, an arc taken as its whole circle; null when there is nothing. */
export function boxOfLoops(
  loops: readonly { readonly pieces: readonly PlanePiece[] }[],
): PlaneBox | null {
  let x1 = Number.POSITIVE_INFINITY;
  let y1 = Number.POSITIVE_INFINITY;
  let x2 = Number.NEGATIVE_INFINITY;
  let y2 = Number.NEGATIVE_INFINITY;
  // Plain comparisons: this looks at every line of a drawing.
  for (const { pieces } of loops) {
    for (const piece of pieces) {
      const reach = piece.type === 'line' ? 0 : piece.radiusMm;
      const [ax, ay] = piece.type === 'line' ? piece.from : piece.centre;
      const [bx, by] = piece.type === 'line' ? piece.to : piece.centre;
      if (ax - reach < x1) x1 = ax - reach;
      if (bx - reach < x1) x1 = bx - reach;
      if (ay - reach < y1) y1 = ay - reach;
      if (by - reach < y1) y1 = by - reach;
      if (ax + reach > x2) x2 = ax + reach;
      if (bx + reach > x2) x2 = bx + reach;
      if (ay + reach > y2) y2 = ay + reach;
      if (by + reach > y2) y2 = by + reach;
    }
  }
  return x1 <= x2 && y1 <= y2 ? [x1, y1, x2, y2] : null;
}

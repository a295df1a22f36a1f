import { rectangleCorners } from '../geometry/outline-polygon.ts';
import type { Vec2 } from '../geometry/vec.ts';
import type { Crossing, Penetration } from '../model/penetration.ts';
import type { Seal } from '../model/seal.ts';
import { pathOf } from './outline.ts';
import { el, INK, type Svg } from './svg.ts';

/** Told from what is designed by its broken line. @source ISO 128-2, line 02.1, dashed. */
const DASHED = {
  fill: 'none',
  stroke: INK,
  'stroke-width': 0.3,
  'stroke-dasharray': '1.4 0.8',
} as const;

/**
 * Services where the model or drawing has them, for a seal round them that is not arranged. None
 * where the seal is arranged, is of a bore, or nothing tells the place.
 */
export function crossingsAsFound(
  seal: Seal,
  penetration: Penetration | undefined,
): readonly Crossing[] {
  const isArranged = (seal.arrangement?.items ?? []).length > 0;
  if (isArranged || seal.path === 'bore' || penetration === undefined) return [];
  return penetration.crossings.filter(
    ({ section, offsetMm, carriedBy }) =>
      section !== null && offsetMm !== null && carriedBy === null,
  );
}

/** The outline of a service as found. */
export function asFoundMark(
  { section, offsetMm }: Crossing,
  scale: number,
  toPaper: (point: Vec2) => Vec2,
): Svg {
  if (section === null || offsetMm === null) return '';
  if (section.type === 'circle') {
    const [cx, cy] = toPaper(offsetMm);
    return el('circle', { cx, cy, r: section.diameterMm / scale / 2, ...DASHED });
  }
  const corners = rectangleCorners(offsetMm, section.widthMm, section.heightMm, 0);
  return el('path', { d: pathOf(corners, toPaper), ...DASHED });
}

/** The mark of the legend. */
export function asFoundSwatch(x: number, y: number): Svg {
  return el('circle', { cx: x, cy: y, r: 1.1, ...DASHED });
}

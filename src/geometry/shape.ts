import { leastOf } from '../basics/extremes.ts';
import type { Vec2 } from './vec.ts';

/**
 * The outline of an opening or a bore in its own section frame: x right, y up, millimetres,
 * centred on the origin (a polygon's points are given relative to it). Sizes are overall and clear.
 */
export type Shape =
  | { readonly type: 'circle'; readonly diameterMm: number }
  | { readonly type: 'rectangle'; readonly widthMm: number; readonly heightMm: number }
  /** Straight sides and round ends; `lengthMm` overall, along x. */
  | { readonly type: 'slot'; readonly lengthMm: number; readonly widthMm: number }
  /** Ellipse: an out-of-round duct; `lengthMm` along x. */
  | { readonly type: 'oval'; readonly lengthMm: number; readonly widthMm: number }
  | {
      readonly type: 'polygon';
      /** Simple outline, at least three points, either winding. */
      readonly pointsMm: readonly Vec2[];
      /** Islands: what already stands in the opening. */
      readonly islandsMm?: readonly (readonly Vec2[])[];
    };

/** Area inside a simple polygon, mm², positive for either winding. Shoelace formula. */
export function polygonAreaMm2(pointsMm: readonly Vec2[]): number {
  return Math.abs(signedPolygonAreaMm2(pointsMm));
}

/** Area with sign: positive when the points run anticlockwise. Shoelace formula. */
export function signedPolygonAreaMm2(pointsMm: readonly Vec2[]): number {
  let doubled = 0;
  let previous = pointsMm[pointsMm.length - 1];
  for (const point of pointsMm) {
    if (previous !== undefined) doubled += previous[0] * point[1] - point[0] * previous[1];
    previous = point;
  }
  return doubled / 2;
}

/** Clear area of an opening, mm²; islands are taken off. */
export function shapeAreaMm2(shape: Shape): number {
  switch (shape.type) {
    case 'circle':
      return (Math.PI * shape.diameterMm ** 2) / 4;
    case 'rectangle':
      return shape.widthMm * shape.heightMm;
    case 'slot':
      return slotAreaMm2(shape.lengthMm, shape.widthMm);
    case 'oval':
      return (Math.PI * shape.lengthMm * shape.widthMm) / 4;
    case 'polygon': {
      const islands = shape.islandsMm ?? [];
      return islands.reduce(
        (area, island) => area - polygonAreaMm2(island),
        polygonAreaMm2(shape.pointsMm),
      );
    }
  }
}

/** The round ends are on the shorter sides, whichever way the two sizes are given. */
function slotAreaMm2(lengthMm: number, widthMm: number): number {
  const narrowMm = Math.min(lengthMm, widthMm);
  return Math.abs(lengthMm - widthMm) * narrowMm + (Math.PI * narrowMm ** 2) / 4;
}

/** Width and height of the box round the shape, mm. */
export function shapeExtentMm(shape: Shape): {
  readonly widthMm: number;
  readonly heightMm: number;
} {
  switch (shape.type) {
    case 'circle':
      return { widthMm: shape.diameterMm, heightMm: shape.diameterMm };
    case 'rectangle':
      return { widthMm: shape.widthMm, heightMm: shape.heightMm };
    case 'slot':
    case 'oval':
      return { widthMm: shape.lengthMm, heightMm: shape.widthMm };
    case 'polygon': {
      const xs = shape.pointsMm.map(([x]) => x);
      const ys = shape.pointsMm.map(([, y]) => y);
      return {
        widthMm: Math.max(...xs) - Math.min(...xs),
        heightMm: Math.max(...ys) - Math.min(...ys),
      };
    }
  }
}

/** A shape in words and millimetres: "150 dia", "300 × 200", "slot 300 × 100". */
export function shapeText(shape: Shape): string {
  switch (shape.type) {
    case 'circle':
      return `${sizeText(shape.diameterMm)} dia`;
    case 'rectangle':
      return `${sizeText(shape.widthMm)} × ${sizeText(shape.heightMm)}`;
    case 'slot':
      return `slot ${sizeText(shape.lengthMm)} × ${sizeText(shape.widthMm)}`;
    case 'oval':
      return `oval ${sizeText(shape.lengthMm)} × ${sizeText(shape.widthMm)}`;
    case 'polygon': {
      const { widthMm, heightMm } = shapeExtentMm(shape);
      return `polygon within ${sizeText(widthMm)} × ${sizeText(heightMm)}`;
    }
  }
}

/** Millimetres for people: whole where they are whole, else one decimal. */
export function sizeText(valueMm: number): string {
  const rounded = Math.round(valueMm * 10) / 10;
  return Number.isInteger(rounded) ? String(rounded) : rounded.toFixed(1);
}

/** How far a shape reaches below its own origin, mm. */
export function depthBelowOriginMm(shape: Shape): number {
  return shape.type === 'polygon'
    ? -leastOf(shape.pointsMm.map(([, y]) => y))
    : shapeExtentMm(shape).heightMm / 2;
}

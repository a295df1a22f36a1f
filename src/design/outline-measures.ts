import type { Shape } from '../geometry/shape.ts';
import type { Vec2 } from '../geometry/vec.ts';
import { distance2 } from '../geometry/vec.ts';
import type { Body } from '../model/arrangement.ts';

/** Area of a body across its axis, mm². */
export function bodyAreaMm2(outline: Body['outline']): number {
  return outline.type === 'circle'
    ? (Math.PI * outline.diameterMm ** 2) / 4
    : outline.widthMm * outline.heightMm;
}

/** Length of a body's outline, mm: what the sealant bonds to. */
export function bodyPerimeterMm(outline: Body['outline']): number {
  return outline.type === 'circle'
    ? Math.PI * outline.diameterMm
    : 2 * (outline.widthMm + outline.heightMm);
}

/** Length of the opening's own edge, mm; islands are not part of the wall. */
export function shapePerimeterMm(shape: Shape): number {
  switch (shape.type) {
    case 'circle':
      return Math.PI * shape.diameterMm;
    case 'rectangle':
      return 2 * (shape.widthMm + shape.heightMm);
    case 'slot': {
      const roundMm = Math.min(shape.lengthMm, shape.widthMm);
      return 2 * Math.abs(shape.lengthMm - shape.widthMm) + Math.PI * roundMm;
    }
    case 'oval':
      return ellipsePerimeterMm(shape.lengthMm / 2, shape.widthMm / 2);
    case 'polygon':
      return polygonPerimeterMm(shape.pointsMm);
  }
}

function polygonPerimeterMm(points: readonly Vec2[]): number {
  let total = 0;
  let previous = points[points.length - 1];
  for (const point of points) {
    if (previous !== undefined) total += distance2(previous, point);
    previous = point;
  }
  return total;
}

/**
 * Perimeter of an ellipse, mm.
 * @source Arithmetic-geometric mean, DLMF 19.8.6: E(k) from the AGM, converging quadratically.
 */
function ellipsePerimeterMm(semiA: number, semiB: number): number {
  let a = Math.max(semiA, semiB);
  let b = Math.min(semiA, semiB);
  if (b <= 0) return 4 * a;
  let sum = (a * a - b * b) / 2;
  let factor = 1;
  const first = a * a;
  for (let step = 0; step < 30 && Math.abs(a - b) > 1e-15 * a; step += 1) {
    const c = (a - b) / 2;
    const mean = (a + b) / 2;
    b = Math.sqrt(a * b);
    a = mean;
    sum += factor * c * c;
    factor *= 2;
  }
  return (2 * Math.PI * (first - sum)) / a;
}

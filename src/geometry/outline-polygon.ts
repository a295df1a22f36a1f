import type { Shape } from './shape.ts';
import type { Vec2 } from './vec.ts';

/** Points round a full ellipse; at 150 mm the chord strays 0.02 mm from the curve. */
const ELLIPSE_POINTS = 180;

/** Corners of a body that is a rectangle, turned, about its centre. */
export function rectangleCorners(
  centre: Vec2,
  widthMm: number,
  heightMm: number,
  angleRad: number,
): readonly Vec2[] {
  const [cos, sin] = [Math.cos(angleRad), Math.sin(angleRad)];
  const half: readonly Vec2[] = [
    [-widthMm / 2, -heightMm / 2],
    [widthMm / 2, -heightMm / 2],
    [widthMm / 2, heightMm / 2],
    [-widthMm / 2, heightMm / 2],
  ];
  return half.map(([x, y]): Vec2 => [centre[0] + x * cos - y * sin, centre[1] + x * sin + y * cos]);
}

/** Outline of a shape as a closed polygon, section frame, mm; curves become many short sides. */
export function shapePolygon(shape: Shape): readonly Vec2[] {
  switch (shape.type) {
    case 'circle':
      return ellipse([0, 0], shape.diameterMm / 2, shape.diameterMm / 2);
    case 'oval':
      return ellipse([0, 0], shape.lengthMm / 2, shape.widthMm / 2);
    case 'rectangle':
      return rectangleCorners([0, 0], shape.widthMm, shape.heightMm, 0);
    case 'slot':
      return slot(shape.lengthMm, shape.widthMm);
    case 'polygon':
      return shape.pointsMm;
  }
}

function ellipse(centre: Vec2, radiusX: number, radiusY: number): readonly Vec2[] {
  return Array.from({ length: ELLIPSE_POINTS }, (_, at): Vec2 => {
    const angle = (2 * Math.PI * at) / ELLIPSE_POINTS;
    return [centre[0] + radiusX * Math.cos(angle), centre[1] + radiusY * Math.sin(angle)];
  });
}

function slot(lengthMm: number, widthMm: number): readonly Vec2[] {
  const radius = Math.min(lengthMm, widthMm) / 2;
  const reach = Math.max(0, lengthMm / 2 - radius);
  const side = (sign: number): Vec2[] =>
    Array.from({ length: ELLIPSE_POINTS / 2 + 1 }, (_, at): Vec2 => {
      const angle = -Math.PI / 2 + (Math.PI * at) / (ELLIPSE_POINTS / 2);
      return [sign * (reach + radius * Math.cos(angle)), sign * radius * Math.sin(angle)];
    });
  return [...side(1), ...side(-1)];
}

/** Islands that stand in the opening. */
export function islandsOf(shape: Shape): readonly (readonly Vec2[])[] {
  return shape.type === 'polygon' ? (shape.islandsMm ?? []) : [];
}

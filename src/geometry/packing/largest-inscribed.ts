import type { Region } from './region.ts';

/** Cells looked at before the search settles for the bound it has. */
const MAX_CELLS = 4000;

export interface InscribedBounds {
  /** Radius of a circle that certainly lies inside, about (x, y). */
  readonly radiusMm: number;
  readonly x: number;
  readonly y: number;
  /** No circle inside is larger than this. */
  readonly boundMm: number;
}

/**
 * The largest circle inside a region, between bounds. Exact for circles, slots, rectangles and
 * ovals; polygons by halving squares: no point of a square of half side h has a clearance above
 * that of its centre plus h√2.
 */
export function largestInscribed(region: Region): InscribedBounds {
  const { shape } = region;
  switch (shape.type) {
    case 'circle':
      return exact(shape.diameterMm / 2);
    case 'slot':
    case 'oval':
      return exact(Math.min(shape.lengthMm, shape.widthMm) / 2);
    case 'rectangle':
      return exact(Math.min(shape.widthMm, shape.heightMm) / 2);
    case 'polygon':
      return bySquares(region);
  }
}

function exact(radiusMm: number): InscribedBounds {
  return { radiusMm, x: 0, y: 0, boundMm: radiusMm };
}

interface Square {
  readonly x: number;
  readonly y: number;
  readonly half: number;
  readonly bound: number;
}

function bySquares(region: Region): InscribedBounds {
  const width = region.maxX - region.minX;
  const height = region.maxY - region.minY;
  const half = Math.min(width, height) / 8;
  const tolerance = Math.max(width, height) * 1e-7;
  let best = { radiusMm: 0, x: region.minX, y: region.minY };
  const look = (x: number, y: number, size: number): Square => {
    const clear = region.clearance(x, y);
    if (clear > best.radiusMm) best = { radiusMm: clear, x, y };
    return { x, y, half: size, bound: clear + size * Math.SQRT2 };
  };
  let open: Square[] = [];
  const columns = Math.min(40, Math.ceil(width / (2 * half)));
  const rows = Math.min(40, Math.ceil(height / (2 * half)));
  const cell = Math.max(width / columns, height / rows) / 2;
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const x = region.minX + ((column + 0.5) * width) / columns;
      const y = region.minY + ((row + 0.5) * height) / rows;
      open.push(look(x, y, cell));
    }
  }
  let looked = open.length;
  while (looked < MAX_CELLS) {
    open = open.filter(({ bound }) => bound > best.radiusMm + tolerance);
    if (open.length === 0) break;
    open.sort((a, b) => b.bound - a.bound);
    const next: Square[] = open.slice(64);
    for (const { x, y, half: size } of open.slice(0, 64)) {
      const step = size / 2;
      for (const [sx, sy] of [
        [-1, -1],
        [1, -1],
        [-1, 1],
        [1, 1],
      ] as const) {
        next.push(look(x + sx * step, y + sy * step, step));
        looked++;
      }
    }
    open = next;
  }
  const bound = open.reduce((most, square) => Math.max(most, square.bound), 0);
  return { ...best, boundMm: Math.max(bound, best.radiusMm + tolerance) };
}

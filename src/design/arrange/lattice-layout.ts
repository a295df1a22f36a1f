import type { Region } from '../../geometry/packing/region.ts';

/** Rows and columns beyond this are not walked. */
const MOST_POINTS = 400_000;

/**
 * Places for `count` bodies on a triangular lattice of pitch `pitchMm`, `wallMm` off the wall; x, y
 * by turns, or null when the opening has too few such points. For more bodies than a search can
 * take: each body gets the room of the largest.
 */
export function latticeLayout(
  region: Region,
  count: number,
  pitchMm: number,
  wallMm: number,
): Float64Array | null {
  const rise = (pitchMm * Math.sqrt(3)) / 2;
  const width = region.maxX - region.minX - 2 * wallMm;
  const height = region.maxY - region.minY - 2 * wallMm;
  if (width < 0 || height < 0) return null;
  if ((width / pitchMm + 1) * (height / rise + 1) > MOST_POINTS) return null;
  const at = new Float64Array(2 * count);
  let found = 0;
  for (let row = 0; row <= height / rise + 1e-12; row++) {
    const shift = row % 2 === 0 ? 0 : pitchMm / 2;
    for (let x = shift; x <= width + 1e-12; x += pitchMm) {
      const px = region.minX + wallMm + x;
      const py = region.minY + wallMm + row * rise;
      if (region.clearance(px, py) < wallMm) continue;
      at[2 * found] = px;
      at[2 * found + 1] = py;
      found++;
      if (found === count) return at;
    }
  }
  return null;
}

import type { Vec3 } from './vec.ts';

/** A box along the world's axes. */
export interface Box {
  readonly low: Vec3;
  readonly high: Vec3;
}

/** The smallest box round points; null for none. */
export function boxOfPoints(points: Iterable<Vec3>): Box | null {
  const low: [number, number, number] = [Infinity, Infinity, Infinity];
  const high: [number, number, number] = [-Infinity, -Infinity, -Infinity];
  let count = 0;
  for (const p of points) {
    count += 1;
    for (let k = 0; k < 3; k += 1) {
      low[k] = Math.min(low[k] ?? 0, p[k] ?? 0);
      high[k] = Math.max(high[k] ?? 0, p[k] ?? 0);
    }
  }
  return count === 0 ? null : { low, high };
}

/** The box round x, y, z numbers in turn. */
export function boxOfPositions(positions: Float64Array): Box {
  const low: [number, number, number] = [Infinity, Infinity, Infinity];
  const high: [number, number, number] = [-Infinity, -Infinity, -Infinity];
  for (let n = 0; n + 2 < positions.length; n += 3) {
    for (let k = 0; k < 3; k += 1) {
      const value = positions[n + k] ?? 0;
      if (value < (low[k] ?? 0)) low[k] = value;
      if (value > (high[k] ?? 0)) high[k] = value;
    }
  }
  return { low, high };
}

/** The box with all sides moved outwards. */
export function grownBox(box: Box, by: number): Box {
  return {
    low: [box.low[0] - by, box.low[1] - by, box.low[2] - by],
    high: [box.high[0] + by, box.high[1] + by, box.high[2] + by],
  };
}

/** Whether two boxes share a point. */
export function boxesMeet(a: Box, b: Box): boolean {
  for (let k = 0; k < 3; k += 1) {
    if ((a.low[k] ?? 0) > (b.high[k] ?? 0) || (b.low[k] ?? 0) > (a.high[k] ?? 0)) return false;
  }
  return true;
}

/** Middle of a box. */
export function boxCentre(box: Box): Vec3 {
  return [
    (box.low[0] + box.high[0]) / 2,
    (box.low[1] + box.high[1]) / 2,
    (box.low[2] + box.high[2]) / 2,
  ];
}

/** Whether a point lies in a box. */
export function isInBox(box: Box, p: Vec3): boolean {
  for (let k = 0; k < 3; k += 1) {
    if ((p[k] ?? 0) < (box.low[k] ?? 0) || (p[k] ?? 0) > (box.high[k] ?? 0)) return false;
  }
  return true;
}

import type { Vec2 } from './vec.ts';

/**
 * Corners of the convex hull, anticlockwise; points nearer than `near` count as one.
 * @source A. M. Andrew's monotone chain, 1979 (from memory)
 */
export function convexHull(points: readonly Vec2[], near = 0): Vec2[] {
  const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const half = (ordered: readonly Vec2[]): Vec2[] => {
    const chain: Vec2[] = [];
    for (const point of ordered) {
      for (;;) {
        const b = chain[chain.length - 1];
        const a = chain[chain.length - 2];
        if (a === undefined || b === undefined) break;
        const turn = (b[0] - a[0]) * (point[1] - a[1]) - (b[1] - a[1]) * (point[0] - a[0]);
        if (turn > near * Math.hypot(point[0] - a[0], point[1] - a[1])) break;
        chain.pop();
      }
      const last = chain[chain.length - 1];
      if (last === undefined || Math.hypot(last[0] - point[0], last[1] - point[1]) > near) {
        chain.push(point);
      }
    }
    chain.pop();
    return chain;
  };
  return [...half(sorted), ...half([...sorted].reverse())];
}

import type { Vec2 } from '../../geometry/vec.ts';

/** x1, y1, x2, y2. */
export type Box = readonly [number, number, number, number];

export type Segment = readonly [Vec2, Vec2];

/** A point turned about the origin, anticlockwise. */
export function turned([x, y]: Vec2, angleRad: number): Vec2 {
  if (angleRad === 0) return [x, y];
  const cos = Math.cos(angleRad);
  const sin = Math.sin(angleRad);
  return [x * cos - y * sin, x * sin + y * cos];
}

/** A box by its middle. */
export function boxRound([x, y]: Vec2, width: number, height: number): Box {
  return [x - width / 2, y - height / 2, x + width / 2, y + height / 2];
}

/** The box round points. */
export function boxOf(points: readonly Vec2[]): Box {
  const xs = points.map(([x]) => x);
  const ys = points.map(([, y]) => y);
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
}

/** Whether two boxes share more than an edge. */
export function overlaps(a: Box, b: Box): boolean {
  return a[0] < b[2] && b[0] < a[2] && a[1] < b[3] && b[1] < a[3];
}

/** Whether two segments cross. */
export function cross([a, b]: Segment, [c, d]: Segment): boolean {
  const side = (p: Vec2, q: Vec2, r: Vec2) =>
    Math.sign((q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]));
  return side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0;
}

/** Whether a segment passes a box. @source Liang and Barsky, ACM TOG 3(1), 1984: line clipping. */
export function crossesBox(a: Vec2, b: Vec2, [x1, y1, x2, y2]: Box): boolean {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  let [enter, leave] = [0, 1];
  for (const [step, gap] of [
    [-dx, a[0] - x1],
    [dx, x2 - a[0]],
    [-dy, a[1] - y1],
    [dy, y2 - a[1]],
  ] as const) {
    if (step === 0) {
      if (gap < 0) return false;
    } else if (step < 0) enter = Math.max(enter, gap / step);
    else leave = Math.min(leave, gap / step);
  }
  return enter <= leave;
}

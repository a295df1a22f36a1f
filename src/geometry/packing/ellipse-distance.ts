/**
 * Nearest point on the ellipse x²/a² + y²/b² = 1 to the point (x, y); any quadrant, a, b > 0.
 * @source D. Eberly, Distance from a point to an ellipse: the root of one monotone function,
 * found here by bisection and Newton steps together.
 */
export function nearestOnEllipse(
  a: number,
  b: number,
  x: number,
  y: number,
): readonly [number, number] {
  if (b > a) {
    const [ny, nx] = nearestOnEllipse(b, a, y, x);
    return [nx, ny];
  }
  const px = Math.abs(x);
  const py = Math.abs(y);
  const [nx, ny] = nearestInQuadrant(a, b, px, py);
  return [x < 0 ? -nx : nx, y < 0 ? -ny : ny];
}

/** a ≥ b, x, y ≥ 0. */
function nearestInQuadrant(a: number, b: number, x: number, y: number): readonly [number, number] {
  if (y === 0) {
    const reach = a * a - b * b;
    if (a * x >= reach) return [a, 0];
    const cosine = (a * x) / reach;
    return [a * cosine, b * Math.sqrt(1 - cosine * cosine)];
  }
  if (x === 0) return [0, b];
  const t = rootOf(a, b, x, y);
  return [(a * a * x) / (t + a * a), (b * b * y) / (t + b * b)];
}

/** t > −b² with (ax/(t+a²))² + (by/(t+b²))² = 1; the left side falls as t grows. */
function rootOf(a: number, b: number, x: number, y: number): number {
  let low = -b * b + b * y;
  const ax = a * x;
  const by = b * y;
  let high = -b * b + Math.sqrt(ax * ax + by * by);
  let t = low;
  for (let step = 0; step < 100; step++) {
    const u = ax / (t + a * a);
    const v = by / (t + b * b);
    const value = u * u + v * v - 1;
    if (value > 0) low = t;
    else high = t;
    const slope = -2 * ((u * u) / (t + a * a) + (v * v) / (t + b * b));
    let next = t - value / slope;
    if (!(next > low && next < high)) next = (low + high) / 2;
    if (next === t || high - low <= 1e-16 * (a * a)) break;
    t = next;
  }
  return t;
}

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
  // So close to the long axis that products underflow: on it.
  if (y < 1e-150 * b) {
    const reach = a * a - b * b;
    if (a * x >= reach) return [a, 0];
    const cosine = (a * x) / reach;
    return [a * cosine, b * Math.sqrt(1 - cosine * cosine)];
  }
  const u = rootOf(a, b, x, y);
  return [(a * a * x) / (u + a * a - b * b), (b * b * y) / u];
}

/**
 * u > 0 with (ax / (u + a² − b²))² + (by / u)² = 1; the left side falls as u grows. Counted from the
 * shorter axis, so that points close to the long one lose no digits.
 */
function rootOf(a: number, b: number, x: number, y: number): number {
  const ax = a * x;
  const by = b * y;
  const reach = a * a - b * b;
  let low = by;
  let high = Math.sqrt(ax * ax + by * by);
  let u = low;
  for (let step = 0; step < 200; step++) {
    const p = ax / (u + reach);
    const q = by / u;
    const value = p * p + q * q - 1;
    if (value > 0) low = u;
    else high = u;
    const slope = -2 * ((p * p) / (u + reach) + (q * q) / u);
    let next = u - value / slope;
    if (!(next > low && next < high)) next = (low + high) / 2;
    if (next === u || high - low <= 4e-16 * high) break;
    u = next;
  }
  return u;
}

/*
 * Sine, cosine and arc cosine from + − × ÷ and square root only. The built-in ones may differ in
 * their last digit between engines, and a last digit can turn a search onto another path.
 */

const HALF_PI = 1.5707963267948966;
/** What HALF_PI is short of π/2. */
const HALF_PI_REST = 6.123233995736766e-17;

/** Sine and cosine of an angle up to about 1e6 rad; error below 1e-15. */
export function sineCosine(angleRad: number): readonly [sine: number, cosine: number] {
  const quarter = Math.round(angleRad / HALF_PI);
  const rest = angleRad - quarter * HALF_PI - quarter * HALF_PI_REST;
  const sine = sineNearZero(rest);
  const cosine = cosineNearZero(rest);
  switch (((quarter % 4) + 4) % 4) {
    case 0:
      return [sine, cosine];
    case 1:
      return [cosine, -sine];
    case 2:
      return [-sine, -cosine];
    default:
      return [-cosine, sine];
  }
}

/** Angle in 0 … π whose cosine is given; values beyond ±1 count as ±1. */
export function arcCosine(cosine: number): number {
  if (cosine >= 1) return 0;
  if (cosine <= -1) return 2 * HALF_PI;
  if (cosine < 0) return 2 * HALF_PI - arcCosine(-cosine);
  // Halve the angle until the series is short: cos(a/2) = sqrt((1 + cos a) / 2).
  let doublings = 1;
  let sine = Math.sqrt((1 - cosine) / 2);
  let half = Math.sqrt((1 + cosine) / 2);
  while (sine > 0.05) {
    sine = sine / (2 * Math.sqrt((1 + half) / 2));
    half = Math.sqrt((1 + half) / 2);
    doublings *= 2;
  }
  return 2 * doublings * arcSineNearZero(sine);
}

/** Taylor series, |x| ≤ π/4. */
function sineNearZero(x: number): number {
  const square = x * x;
  let term = x;
  let total = x;
  for (let k = 2; k <= 18; k += 2) {
    term *= -square / (k * (k + 1));
    total += term;
  }
  return total;
}

/** Taylor series, |x| ≤ π/4. */
function cosineNearZero(x: number): number {
  const square = x * x;
  let term = 1;
  let total = 1;
  for (let k = 1; k <= 17; k += 2) {
    term *= -square / (k * (k + 1));
    total += term;
  }
  return total;
}

/** Taylor series, |x| ≤ 0.05. */
function arcSineNearZero(x: number): number {
  const square = x * x;
  let power = x;
  let total = x;
  for (let k = 1; k <= 7; k++) {
    power *= (square * (2 * k - 1)) / (2 * k);
    total += power / (2 * k + 1);
  }
  return total;
}

import type { Vec3 } from './vec.ts';

export interface Spline {
  readonly degree: number;
  readonly knots: readonly number[];
  readonly controlPoints: readonly Vec3[];
  /** One a control point, or none for a plain spline. */
  readonly weights: readonly number[];
}

const SAMPLES_PER_SPAN = 8;
const MOST_SAMPLES = 4096;

/**
 * Points on a spline, ends included: `SAMPLES_PER_SPAN` to each span between knots. Empty when the
 * knots do not fit the control points.
 * @source de Boor, A Practical Guide to Splines (from memory)
 */
export function splinePoints(spline: Spline): Vec3[] {
  const { degree, knots, controlPoints } = spline;
  const count = controlPoints.length;
  if (degree < 1 || degree > 16 || count <= degree || knots.length < count + degree + 1) return [];
  const points: Vec3[] = [];
  let last = degree;
  for (let span = degree; span < count; span++) {
    const from = knots[span] ?? 0;
    const to = knots[span + 1] ?? 0;
    if (!(to > from)) continue;
    if (points.length > MOST_SAMPLES) break;
    for (let i = 0; i < SAMPLES_PER_SPAN; i++) {
      points.push(splinePoint(spline, span, from + ((to - from) * i) / SAMPLES_PER_SPAN));
    }
    last = span;
  }
  if (points.length > 0) points.push(splinePoint(spline, last, knots[last + 1] ?? 0));
  return points;
}

/** De Boor's algorithm in homogeneous coordinates. */
function splinePoint(spline: Spline, span: number, at: number): Vec3 {
  const { degree, knots, controlPoints, weights } = spline;
  const row: [number, number, number, number][] = [];
  for (let i = span - degree; i <= span; i++) {
    const [x, y, z] = controlPoints[i] ?? [0, 0, 0];
    const w = weights[i] ?? 1;
    row.push([x * w, y * w, z * w, w]);
  }
  for (let level = 1; level <= degree; level++) {
    for (let j = degree; j >= level; j--) {
      const i = span - degree + j;
      const low = knots[i] ?? 0;
      const high = knots[i + degree - level + 1] ?? 0;
      const ratio = high > low ? (at - low) / (high - low) : 0;
      const a = row[j - 1] ?? [0, 0, 0, 1];
      const b = row[j] ?? [0, 0, 0, 1];
      row[j] = [
        a[0] + (b[0] - a[0]) * ratio,
        a[1] + (b[1] - a[1]) * ratio,
        a[2] + (b[2] - a[2]) * ratio,
        a[3] + (b[3] - a[3]) * ratio,
      ];
    }
  }
  const [x, y, z, w] = row[degree] ?? [0, 0, 0, 1];
  return w === 0 ? [x, y, z] : [x / w, y / w, z / w];
}

/**
 * A smooth line through points that have no control points: Catmull–Rom, eight samples to a span.
 * Programs that write fit points only leave the curve open to choice; between the points this may
 * differ a little from what they draw.
 */
export function throughPoints(points: readonly Vec3[]): Vec3[] {
  if (points.length < 3) return [...points];
  const out: Vec3[] = [];
  for (let i = 0; i + 1 < points.length; i++) {
    const p1 = points[i];
    const p2 = points[i + 1];
    if (p1 === undefined || p2 === undefined) continue;
    const p0 = points[i - 1] ?? p1;
    const p3 = points[i + 2] ?? p2;
    for (let k = 0; k < SAMPLES_PER_SPAN; k++) {
      out.push(catmullRom(p0, p1, p2, p3, k / SAMPLES_PER_SPAN));
    }
  }
  const end = points[points.length - 1];
  if (end !== undefined) out.push(end);
  return out;
}

function catmullRom(p0: Vec3, p1: Vec3, p2: Vec3, p3: Vec3, t: number): Vec3 {
  const at = (k: 0 | 1 | 2) =>
    0.5 *
    (2 * p1[k] +
      (p2[k] - p0[k]) * t +
      (2 * p0[k] - 5 * p1[k] + 4 * p2[k] - p3[k]) * t * t +
      (3 * p1[k] - p0[k] - 3 * p2[k] + p3[k]) * t * t * t);
  return [at(0), at(1), at(2)];
}

import type { StepValue } from '../../formats/ifc/step-values.ts';
import { type Frame3, framePoint } from '../../geometry/frame3.ts';
import {
  cross3,
  distance3,
  dot3,
  lerp3,
  scale3,
  sub3,
  unit3,
  type Vec3,
} from '../../geometry/vec.ts';
import { axisFrame, pointOf } from './placements.ts';
import type { ModelRecords } from './records.ts';
import { enumOf, listOf, numberOf, numbersOf, refOf, refsOf } from './values.ts';

/** Points along a curve, in file units; `isCircle` where all of it is one full circle. */
export interface CurvePoints {
  readonly points: readonly Vec3[];
  readonly circleRadius: number | null;
}

const DEEPEST_CURVE = 12;
const MOST_POINTS = 20_000;
/** Chords for a full turn: a 20 mm cable's bend stays within a tenth of a millimetre. */
const CHORDS_A_TURN = 48;

/** Points along a curve record, arcs as chords; null for a curve that isn't understood. */
export function curvePoints(
  step: ModelRecords,
  id: number | null,
  radPerUnit: number,
  depth = 0,
): CurvePoints | null {
  if (id === null || depth > DEEPEST_CURVE) return null;
  const attributes = step.attributes(id);
  switch (step.typeOf(id)) {
    case 'IFCPOLYLINE':
      return plain(pointsOf(step, attributes[0]));
    case 'IFCINDEXEDPOLYCURVE':
      return plain(indexedPoints(step, attributes));
    case 'IFCCOMPOSITECURVE':
    case 'IFC2DCOMPOSITECURVE':
      return plain(compositePoints(step, refsOf(attributes[0]), radPerUnit, depth));
    case 'IFCTRIMMEDCURVE':
      return plain(trimmedPoints(step, attributes, radPerUnit));
    case 'IFCCIRCLE':
      return fullCircle(step, attributes);
    case 'IFCELLIPSE':
      return fullEllipse(step, attributes);
    case 'IFCBSPLINECURVE':
    case 'IFCBSPLINECURVEWITHKNOTS':
    case 'IFCRATIONALBSPLINECURVEWITHKNOTS':
      return plain(splinePoints(step, attributes));
    default:
      return null;
  }
}

function plain(points: readonly Vec3[]): CurvePoints | null {
  if (points.length < 2 || points.length > MOST_POINTS) return null;
  if (!points.every((point) => point.every(Number.isFinite))) return null;
  return { points, circleRadius: null };
}

function pointsOf(step: ModelRecords, value: StepValue | undefined): readonly Vec3[] {
  const points: Vec3[] = [];
  for (const item of listOf(value)) {
    const point = pointOf(step, item);
    if (point !== null) points.push(point);
  }
  return points;
}

function indexedPoints(step: ModelRecords, attributes: readonly StepValue[]): readonly Vec3[] {
  const list = refOf(attributes[0]);
  if (list === null) return [];
  const all = listOf(step.attributes(list)[0]).map((item): Vec3 => {
    const [x = 0, y = 0, z = 0] = numbersOf(item);
    return [x, y, z];
  });
  const segments = listOf(attributes[1]);
  if (segments.length === 0) return all;
  const points: Vec3[] = [];
  for (const segment of segments) {
    const picked = numbersOf(segment).map((n) => all[n - 1]);
    const found = picked.filter((point): point is Vec3 => point !== undefined);
    const isArc = segment.kind === 'typed' && segment.type === 'IFCARCINDEX';
    const [a, b, c] = found;
    const part = isArc && a && b && c ? arcThrough(a, b, c) : found;
    appendPoints(points, part);
  }
  return points;
}

function compositePoints(
  step: ModelRecords,
  segments: readonly number[],
  radPerUnit: number,
  depth: number,
): readonly Vec3[] {
  const points: Vec3[] = [];
  for (const segment of segments) {
    const [, sense, parent] = step.attributes(segment);
    const part = curvePoints(step, refOf(parent), radPerUnit, depth + 1);
    if (part === null) return [];
    const forward = enumOf(sense) !== 'F';
    const ordered = forward ? part.points : [...part.points].reverse();
    appendPoints(points, ordered);
    if (points.length > MOST_POINTS) return [];
  }
  return points;
}

/** Adds points, the first left out where it repeats the last. */
function appendPoints(points: Vec3[], more: readonly Vec3[]): void {
  for (const point of more) {
    const last = points[points.length - 1];
    if (last === undefined || distance3(last, point) > 1e-9) points.push(point);
  }
}

function trimmedPoints(
  step: ModelRecords,
  attributes: readonly StepValue[],
  radPerUnit: number,
): readonly Vec3[] {
  const basis = refOf(attributes[0]);
  if (basis === null) return [];
  const forward = enumOf(attributes[3]) !== 'F';
  const type = step.typeOf(basis);
  const inner = step.attributes(basis);
  const trims = [attributes[1], attributes[2]].map((trim) => ({
    point: firstPoint(step, trim),
    value: firstNumber(trim),
  }));
  const [first, second] = trims;
  if (first === undefined || second === undefined) return [];
  if (type === 'IFCLINE') return trimmedLine(step, inner, first, second);
  if (type !== 'IFCCIRCLE' && type !== 'IFCELLIPSE') {
    return first.point && second.point ? [first.point, second.point] : [];
  }
  const frame = axisFrame(step, refOf(inner[0]));
  const radiusX = numberOf(inner[1]);
  const radiusY = type === 'IFCELLIPSE' ? numberOf(inner[2]) : radiusX;
  if (frame === null || radiusX === null || radiusY === null) return [];
  const angle = (trim: Trim): number | null => {
    if (trim.value !== null) return trim.value * radPerUnit;
    if (trim.point === null) return null;
    const d = sub3(trim.point, frame.origin);
    return Math.atan2(dot3(d, frame.y) / radiusY, dot3(d, frame.x) / radiusX);
  };
  const from = angle(first);
  const to = angle(second);
  if (from === null || to === null) return [];
  return ellipseArc(frame, radiusX, radiusY, from, to, forward);
}

interface Trim {
  readonly point: Vec3 | null;
  readonly value: number | null;
}

function firstPoint(step: ModelRecords, trim: StepValue | undefined): Vec3 | null {
  for (const item of listOf(trim)) {
    const point = pointOf(step, item);
    if (point !== null) return point;
  }
  return null;
}

function firstNumber(trim: StepValue | undefined): number | null {
  for (const item of listOf(trim)) {
    const value = numberOf(item);
    if (value !== null) return value;
  }
  return null;
}

function trimmedLine(
  step: ModelRecords,
  line: readonly StepValue[],
  first: Trim,
  second: Trim,
): readonly Vec3[] {
  if (first.point !== null && second.point !== null) return [first.point, second.point];
  const start = pointOf(step, line[0]);
  const vector = refOf(line[1]);
  if (start === null || vector === null) return [];
  const [orientation, magnitude] = step.attributes(vector);
  const direction = unit3(pointOf(step, orientation) ?? [0, 0, 0]);
  if (direction === null) return [];
  const length = numberOf(magnitude) ?? 1;
  return [first, second].map((trim) => {
    const along = scale3(direction, length * (trim.value ?? 0));
    return trim.point ?? [start[0] + along[0], start[1] + along[1], start[2] + along[2]];
  });
}

function ellipseArc(
  frame: Frame3,
  radiusX: number,
  radiusY: number,
  from: number,
  to: number,
  forward: boolean,
): readonly Vec3[] {
  const turn = 2 * Math.PI;
  let sweep = (to - from) % turn;
  if (forward && sweep <= 1e-9) sweep += turn;
  if (!forward && sweep >= -1e-9) sweep -= turn;
  const count = Math.max(2, Math.ceil((Math.abs(sweep) / turn) * CHORDS_A_TURN));
  return Array.from({ length: count + 1 }, (_, n) => {
    const angle = from + (sweep * n) / count;
    return framePoint(frame, [radiusX * Math.cos(angle), radiusY * Math.sin(angle), 0]);
  });
}

function fullCircle(step: ModelRecords, attributes: readonly StepValue[]): CurvePoints | null {
  const frame = axisFrame(step, refOf(attributes[0]));
  const radius = numberOf(attributes[1]);
  if (frame === null || radius === null || !(radius > 0)) return null;
  return {
    points: ellipseArc(frame, radius, radius, 0, 2 * Math.PI, true),
    circleRadius: radius,
  };
}

function fullEllipse(step: ModelRecords, attributes: readonly StepValue[]): CurvePoints | null {
  const frame = axisFrame(step, refOf(attributes[0]));
  const radiusX = numberOf(attributes[1]);
  const radiusY = numberOf(attributes[2]);
  if (frame === null || radiusX === null || radiusY === null) return null;
  return plain(ellipseArc(frame, radiusX, radiusY, 0, 2 * Math.PI, true));
}

/** Points of a B-spline by de Boor's algorithm; clamped uniform knots where none are given. */
function splinePoints(step: ModelRecords, attributes: readonly StepValue[]): readonly Vec3[] {
  const degree = numberOf(attributes[0]) ?? 0;
  const control = pointsOf(step, attributes[1]);
  if (degree < 1 || degree > 10 || control.length <= degree || control.length > 2000) return [];
  const multiplicities = numbersOf(attributes[5]);
  const values = numbersOf(attributes[6]);
  let knots = values.flatMap((value, n) =>
    Array.from({ length: Math.min(multiplicities[n] ?? 1, 20) }, () => value),
  );
  if (knots.length !== control.length + degree + 1) {
    const inner = control.length - degree;
    knots = Array.from({ length: control.length + degree + 1 }, (_, n) =>
      Math.min(Math.max(n - degree, 0), inner),
    );
  }
  const low = knots[degree] ?? 0;
  const high = knots[control.length] ?? 1;
  const count = Math.min(8 * control.length, 2000);
  return Array.from({ length: count + 1 }, (_, n) =>
    splinePoint(control, knots, degree, low + ((high - low) * n) / count),
  );
}

function splinePoint(
  control: readonly Vec3[],
  knots: readonly number[],
  degree: number,
  at: number,
): Vec3 {
  let span = degree;
  while (span < control.length - 1 && at >= (knots[span + 1] ?? 0)) span += 1;
  const work: Vec3[] = Array.from(
    { length: degree + 1 },
    (_, n) => control[n + span - degree] ?? [0, 0, 0],
  );
  for (let level = 1; level <= degree; level += 1) {
    for (let n = degree; n >= level; n -= 1) {
      const low = knots[n + span - degree] ?? 0;
      const high = knots[n + 1 + span - level] ?? 0;
      const ratio = high > low ? (at - low) / (high - low) : 0;
      work[n] = lerp3(work[n - 1] ?? [0, 0, 0], work[n] ?? [0, 0, 0], ratio);
    }
  }
  return work[degree] ?? [0, 0, 0];
}

/** Chords of the arc from a through b to c. */
function arcThrough(a: Vec3, b: Vec3, c: Vec3): readonly Vec3[] {
  const ab = sub3(b, a);
  const ac = sub3(c, a);
  const normal = cross3(ab, ac);
  const square = dot3(normal, normal);
  if (!(square > 1e-18)) return [a, b, c];
  const toCentre = scale3(
    [
      dot3(ac, ac) * cross3(normal, ab)[0] + dot3(ab, ab) * cross3(ac, normal)[0],
      dot3(ac, ac) * cross3(normal, ab)[1] + dot3(ab, ab) * cross3(ac, normal)[1],
      dot3(ac, ac) * cross3(normal, ab)[2] + dot3(ab, ab) * cross3(ac, normal)[2],
    ],
    1 / (2 * square),
  );
  const centre: Vec3 = [a[0] + toCentre[0], a[1] + toCentre[1], a[2] + toCentre[2]];
  const x = unit3(sub3(a, centre));
  const z = unit3(normal);
  if (x === null || z === null) return [a, b, c];
  const frame: Frame3 = { origin: centre, x, y: cross3(z, x), z };
  const d = sub3(c, centre);
  const radius = distance3(a, centre);
  return ellipseArc(frame, radius, radius, 0, Math.atan2(dot3(d, frame.y), dot3(d, x)), true);
}

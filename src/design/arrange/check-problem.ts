import { SealbookError } from '../../basics/errors.ts';
import type { Shape } from '../../geometry/shape.ts';
import { shapeText } from '../../geometry/shape.ts';
import type { Vec2 } from '../../geometry/vec.ts';
import type { ArrangementProblem, Body, FillerSize } from '../../model/arrangement.ts';

/** No opening, body or gap is longer than this: a hundred metres is a unit gone wrong. */
const LONGEST_MM = 100_000;
const MOST_BODIES = 100_000;
const MOST_CORNERS = 2_000;

/** Throws `usage` for sizes and shapes no arrangement can be made of. */
export function checkProblem(problem: ArrangementProblem): void {
  checkShape(problem.opening);
  if (problem.bodies.length > MOST_BODIES) {
    throw wrong(`${problem.bodies.length} bodies in one opening.`, 'Split the opening.');
  }
  const refs = new Set<string>();
  for (const body of problem.bodies) {
    checkBody(body);
    if (refs.has(body.ref)) {
      throw wrong(
        `Two bodies have the reference ${body.ref}.`,
        'Give each body its own reference.',
      );
    }
    refs.add(body.ref);
  }
  checkLength(problem.separationMm, 'The separation', true);
  checkLength(problem.bareApartMm ?? 0, 'What bare bodies keep', true);
  checkLength(problem.edgeMm, 'The distance to the wall', true);
  for (const { separationMm } of problem.classSeparations ?? []) {
    checkLength(separationMm, 'The separation of a pair of classes', true);
  }
  for (const filler of problem.fillers) checkFiller(filler);
  checkLength(problem.tubeClearanceMm, 'The clearance in a tube', true);
  const allowance = problem.packingAllowanceRatio;
  if (!(allowance >= 0 && allowance <= 0.5)) {
    throw wrong(`The packing allowance ${allowance} is not between 0 and 0.5.`, 'Give a ratio.');
  }
  if (problem.policy !== null) {
    checkLength(problem.policy.diameterMm, 'The diameter of the spare policy', false);
    if (!(Number.isInteger(problem.policy.count) && problem.policy.count >= 0)) {
      throw wrong('The count of the spare policy is not a whole number.', 'Give 0 or more.');
    }
  }
  if (!Number.isFinite(problem.seed)) throw wrong('The seed is not a number.', 'Give a number.');
}

function checkShape(shape: Shape): void {
  switch (shape.type) {
    case 'circle':
      checkLength(shape.diameterMm, 'The diameter of the opening', false);
      return;
    case 'rectangle':
      checkLength(shape.widthMm, 'The width of the opening', false);
      checkLength(shape.heightMm, 'The height of the opening', false);
      return;
    case 'slot':
    case 'oval':
      checkLength(shape.lengthMm, 'The length of the opening', false);
      checkLength(shape.widthMm, 'The width of the opening', false);
      return;
    case 'polygon': {
      const rings = [shape.pointsMm, ...(shape.islandsMm ?? [])];
      if (rings.reduce((total, ring) => total + ring.length, 0) > MOST_CORNERS) {
        throw wrong(`The opening has more than ${MOST_CORNERS} corners.`, 'Simplify its outline.');
      }
      for (const ring of rings) checkRing(ring, shape);
      checkCrossings(rings);
    }
  }
}

function checkRing(ring: readonly Vec2[], shape: Shape): void {
  if (ring.length < 3) throw wrong('A polygon has fewer than three points.', 'Close the outline.');
  for (const point of ring) {
    for (const value of point) {
      if (!(Math.abs(value) <= LONGEST_MM)) {
        throw wrong(`A corner of the opening lies at ${value}.`, 'Give corners in millimetres.');
      }
    }
  }
  const area = ring.reduce((total, [x, y], k) => {
    const [nx, ny] = ring[(k + 1) % ring.length] ?? [x, y];
    return total + (x * ny - nx * y) / 2;
  }, 0);
  if (Math.abs(area) < 1e-6) {
    throw wrong(`The opening (${shapeText(shape)}) has no area.`, 'Check its corners.');
  }
}

/** Any two sides that are not neighbours must stay apart, islands from the outline too. */
function checkCrossings(rings: readonly (readonly Vec2[])[]): void {
  const sides = rings.flatMap((ring, r) =>
    ring.map((from, k) => ({
      r,
      k,
      size: ring.length,
      from,
      to: ring[(k + 1) % ring.length] ?? from,
    })),
  );
  for (const [index, a] of sides.entries()) {
    for (const b of sides.slice(index + 1)) {
      const gap = Math.abs(a.k - b.k);
      if (a.r === b.r && (gap <= 1 || gap === a.size - 1)) continue;
      if (!sidesMeet(a.from, a.to, b.from, b.to)) continue;
      throw wrong(
        `The outline of the opening crosses or touches itself near ${Math.round(b.from[0])}, ${Math.round(b.from[1])} mm.`,
        'Draw the outline as a simple closed polygon with islands apart from it.',
      );
    }
  }
  for (const island of rings.slice(1)) {
    const [corner] = island;
    if (corner !== undefined && !isInside(corner, rings[0] ?? [])) {
      throw wrong('An island lies outside the opening.', 'Leave it out or correct its corners.');
    }
  }
}

function sidesMeet(a: Vec2, b: Vec2, c: Vec2, d: Vec2): boolean {
  const side = (p: Vec2, q: Vec2, r: Vec2) =>
    Math.sign((q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]));
  const within = (p: Vec2, q: Vec2, r: Vec2) =>
    Math.min(p[0], q[0]) <= r[0] &&
    r[0] <= Math.max(p[0], q[0]) &&
    Math.min(p[1], q[1]) <= r[1] &&
    r[1] <= Math.max(p[1], q[1]);
  const s1 = side(a, b, c);
  const s2 = side(a, b, d);
  const s3 = side(c, d, a);
  const s4 = side(c, d, b);
  if (s1 !== s2 && s3 !== s4 && s1 !== 0 && s2 !== 0 && s3 !== 0 && s4 !== 0) return true;
  return (
    (s1 === 0 && within(a, b, c)) ||
    (s2 === 0 && within(a, b, d)) ||
    (s3 === 0 && within(c, d, a)) ||
    (s4 === 0 && within(c, d, b))
  );
}

function isInside([x, y]: Vec2, ring: readonly Vec2[]): boolean {
  let inside = false;
  ring.forEach(([ax, ay], k) => {
    const [bx, by] = ring[(k + 1) % ring.length] ?? [ax, ay];
    if (ay > y !== by > y && x < ax + ((y - ay) / (by - ay)) * (bx - ax)) inside = !inside;
  });
  return inside;
}

function checkBody(body: Body): void {
  const { outline } = body;
  if (outline.type === 'circle')
    checkLength(outline.diameterMm, `The diameter of ${body.ref}`, false);
  else {
    checkLength(outline.widthMm, `The width of ${body.ref}`, false);
    checkLength(outline.heightMm, `The height of ${body.ref}`, false);
  }
  if (body.fixedAt === undefined) return;
  const { xMm, yMm, angleRad = 0 } = body.fixedAt;
  for (const value of [xMm, yMm, angleRad]) {
    if (!(Math.abs(value) <= LONGEST_MM)) {
      throw wrong(`${body.ref} is fixed at ${value}.`, 'Give its place in millimetres.');
    }
  }
}

function checkFiller(filler: FillerSize): void {
  checkLength(filler.outsideMm, `The outside of filler ${filler.name}`, false);
  checkLength(filler.boreMm, `The bore of filler ${filler.name}`, true);
  if (filler.boreMm >= filler.outsideMm) {
    throw wrong(
      `The bore of filler ${filler.name} is not smaller than its outside.`,
      'Correct it.',
    );
  }
}

function checkLength(value: number, what: string, mayBeZero: boolean): void {
  const isTooSmall = mayBeZero ? !(value >= 0) : !(value > 0);
  if (!isTooSmall && value <= LONGEST_MM) return;
  throw wrong(
    `${what} is ${value} mm.`,
    `Give millimetres, ${mayBeZero ? '0' : 'more than 0'} to ${LONGEST_MM}.`,
  );
}

function wrong(message: string, todo: string): SealbookError {
  return new SealbookError('usage', message, { todo });
}

import type { Arrangement, ArrangementProblem, PlacedBody } from '../../src/model/arrangement.ts';
import { bodyDistance, type PlainBody, rectangleAt, wallDistance } from './plain-distances.ts';

/** Distances shorter than asked for by more than this are faults, mm. */
const ROUNDING_MM = 1e-9;

export interface CheckReport {
  /** What is wrong, in words; empty when nothing is. */
  readonly faults: readonly string[];
  /** Distances looked at. */
  readonly distances: number;
}

/**
 * Works out every distance of an arrangement anew, from its coordinates and the problem alone:
 * separations, distances to the wall, bodies as built, bundles, tubes, and that nothing is missing.
 */
export function checkArrangement(problem: ArrangementProblem, answer: Arrangement): CheckReport {
  const check = makeCheck();
  if (answer.verdict === 'fits') {
    everyBodyOnce(problem, answer, check);
    asksAreKept(problem, answer.items, check);
    tubesAsBuilt(problem, answer, check);
  }
  for (const item of answer.items) fixedStay(problem, item, check);
  tubesAreFree(problem, answer, check);
  gapIsTrue(problem, answer, check);
  return { faults: check.faults, distances: check.distances() };
}

interface Check {
  readonly faults: string[];
  readonly distances: () => number;
  atLeast(value: number, limit: number, what: string): void;
  isTrue(holds: boolean, what: string): void;
}

function makeCheck(): Check {
  const faults: string[] = [];
  let distances = 0;
  return {
    faults,
    distances: () => distances,
    atLeast: (value, limit, what) => {
      distances++;
      if (!(value >= limit - ROUNDING_MM)) faults.push(`${what}: ${value} mm, at least ${limit}`);
    },
    isTrue: (holds, what) => {
      if (!holds) faults.push(what);
    },
  };
}

function everyBodyOnce({ bodies }: ArrangementProblem, { items }: Arrangement, check: Check): void {
  const asked = bodies.map(({ ref }) => ref).sort();
  const placed = items.map(({ ref }) => ref).sort();
  check.isTrue(asked.join('\n') === placed.join('\n'), `placed ${placed}, asked for ${asked}`);
}

function plainBody({ outline, xMm, yMm, angleRad }: PlacedBody, diameterMm?: number): PlainBody {
  if (outline.type === 'rectangle') {
    return rectangleAt([xMm, yMm], outline.widthMm, outline.heightMm, angleRad);
  }
  return { kind: 'disc', centre: [xMm, yMm], radius: (diameterMm ?? outline.diameterMm) / 2 };
}

/** In its tube, pressed as far as the packing allowance says but never into the cable. */
function plainBuilt(item: PlacedBody, allowance: number): PlainBody {
  if (item.tube === null || item.outline.type === 'rectangle') return plainBody(item);
  const pressed = item.tube.outsideMm * (1 - allowance);
  return plainBody(item, Math.max(item.outline.diameterMm, pressed));
}

function asksAreKept(
  problem: ArrangementProblem,
  items: readonly PlacedBody[],
  check: Check,
): void {
  const bodies = new Map(problem.bodies.map((body) => [body.ref, body]));
  const allowance = problem.packingAllowanceRatio;
  items.forEach((a, i) => {
    const bodyA = bodies.get(a.ref);
    const edge = bodyA?.isDrawCord === true ? 0 : problem.edgeMm;
    check.atLeast(wallDistance(plainBody(a), problem.opening), edge, `${a.ref} to the wall`);
    check.atLeast(
      wallDistance(plainBuilt(a, allowance), problem.opening),
      0,
      `${a.ref} as built to the wall`,
    );
    for (const b of items.slice(i + 1)) {
      const bodyB = bodies.get(b.ref);
      const apart = bodyDistance(plainBody(a), plainBody(b));
      const tied = bodyA?.bundle?.form !== 'spread' && bodyA?.bundle !== undefined;
      if (tied && bodyB?.bundle?.id === bodyA.bundle?.id && bodyB?.bundle?.form !== 'spread') {
        check.atLeast(apart, -1e-6, `${a.ref} and ${b.ref} of one bundle`);
        continue;
      }
      const isCord = bodyA?.isDrawCord === true || bodyB?.isDrawCord === true;
      const asked = (problem.classSeparations ?? []).reduce(
        (most, { classes: [x, y], separationMm }) => {
          const [p, q] = [bodyA?.separationClass, bodyB?.separationClass];
          const isPair = (p === x && q === y) || (p === y && q === x);
          return isPair ? Math.max(most, separationMm) : most;
        },
        isCord ? 0 : problem.separationMm,
      );
      check.atLeast(apart, asked, `${a.ref} to ${b.ref}`);
      const built = bodyDistance(plainBuilt(a, allowance), plainBuilt(b, allowance));
      check.atLeast(built, 0, `${a.ref} to ${b.ref} as built`);
    }
  });
}

/** Each split tube is as large as design rules 4.2 say, and worn by each cable that a tube takes. */
function tubesAsBuilt(problem: ArrangementProblem, { items }: Arrangement, check: Check): void {
  for (const { ref, outline, tube } of items) {
    const body = problem.bodies.find((one) => one.ref === ref);
    if (outline.type === 'rectangle' || body?.isDrawCord === true) continue;
    const isTied = body?.bundle !== undefined && body.bundle.form !== 'spread';
    const built = problem.fillers.flatMap(({ outsideMm, boreMm, takesCableMm: takes }) => {
      const d = outline.diameterMm;
      if (takes === null || d < takes.smallestMm || d > takes.largestMm) return [];
      return [Math.max(outsideMm, d + 2 * ((outsideMm - boreMm) / 2))];
    });
    const isBare = !problem.splitTubes || built.length === 0 || isTied;
    check.isTrue(isBare ? tube === null : tube !== null, `${ref} is bare or in a tube wrongly`);
    if (tube === null || isBare) continue;
    check.isTrue(
      built.some((outside) => Math.abs(outside - tube.outsideMm) < 1e-9),
      `${ref}: tube of ${tube.outsideMm} mm, expected one of ${built}`,
    );
  }
}

function fixedStay({ bodies }: ArrangementProblem, item: PlacedBody, check: Check): void {
  const place = bodies.find(({ ref }) => ref === item.ref)?.fixedAt;
  if (place === undefined) return;
  const moved = Math.hypot(item.xMm - place.xMm, item.yMm - place.yMm);
  check.isTrue(moved < 1e-9, `${item.ref} was moved by ${moved} mm`);
}

function tubesAreFree(problem: ArrangementProblem, answer: Arrangement, check: Check): void {
  const allowance = problem.packingAllowanceRatio;
  const tubes = answer.fillers.flatMap(({ name, outsideMm, positionsMm, count }) => {
    check.isTrue(
      count === positionsMm.length,
      `${name}: ${count} counted, ${positionsMm.length} placed`,
    );
    return positionsMm.map(
      (centre): PlainBody => ({ kind: 'disc', centre, radius: (outsideMm / 2) * (1 - allowance) }),
    );
  });
  tubes.forEach((tube, i) => {
    check.atLeast(wallDistance(tube, problem.opening), 0, `tube ${i} to the wall`);
    for (const [j, other] of tubes.slice(i + 1).entries()) {
      check.atLeast(bodyDistance(tube, other), 0, `tube ${i} to tube ${i + 1 + j}`);
    }
    for (const item of answer.items) {
      const apart = bodyDistance(tube, plainBuilt(item, allowance));
      check.atLeast(apart, 0, `tube ${i} to ${item.ref}`);
    }
  });
}

/** The gap stated is that of its coordinates, and none the bound excludes. */
function gapIsTrue(problem: ArrangementProblem, answer: Arrangement, check: Check): void {
  const { gapMm, gapBoundMm, gapItems } = answer;
  if (gapMm === null) return;
  if (gapBoundMm !== null) check.atLeast(gapBoundMm, gapMm - 1e-6, 'bound on the gap');
  if (gapItems === undefined) return;
  const gap = commonGap(problem, gapItems);
  check.isTrue(Math.abs(gap - gapMm) < 1e-6, `gap stated ${gapMm}, by coordinates ${gap}`);
}

/** Least distance between cables of different bundles and to the wall; draw cords don't count. */
export function commonGap(problem: ArrangementProblem, items: readonly PlacedBody[]): number {
  const bodies = new Map(problem.bodies.map((body) => [body.ref, body]));
  const cables = items.filter(({ ref }) => bodies.get(ref)?.isDrawCord !== true);
  let gap = Number.POSITIVE_INFINITY;
  cables.forEach((a, i) => {
    gap = Math.min(gap, wallDistance(plainBody(a), problem.opening));
    for (const b of cables.slice(i + 1)) {
      const bundleA = bodies.get(a.ref)?.bundle;
      const bundleB = bodies.get(b.ref)?.bundle;
      const isTied = bundleA !== undefined && bundleA.form !== 'spread';
      if (isTied && bundleB?.id === bundleA.id) continue;
      gap = Math.min(gap, bodyDistance(plainBody(a), plainBody(b)));
    }
  });
  return gap;
}

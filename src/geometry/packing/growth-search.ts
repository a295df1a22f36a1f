import { hop } from './hops.ts';
import { expectedGrowth, type Growth, tightenGrowth } from './largest-growth.ts';
import type { PackSolver } from './pack-solver.ts';
import { randomLayout, ringLayout } from './random-layout.ts';
import type { SeededRandom } from './seeded-random.ts';

export interface GrowthSearch {
  /** A growth that is surely too much: starts are pressed together from here. */
  readonly startGrowth: number;
  /** Effort: evaluations of a layout times its parts, counted. */
  readonly work: number;
  /** Stop as soon as this is reached. */
  readonly enough: number;
  /** Whether less than enough is of no use: layouts that promise less are not tightened. */
  readonly onlyEnough?: boolean;
  /** Growth that counts as nothing. */
  readonly tolerance: number;
  /** A layout to begin with, if there is one. */
  readonly first?: Float64Array | undefined;
}

/** Hops without gain before a new start: many pieces alike gain more from new starts. */
const PATIENCE_ALIKE = 0.4;
const PATIENCE_UNLIKE = 15;
/** How far beyond the growth a layout is pressed while it is judged, as a share of the start's. */
const OVERPRESS = 0.012;
/** Largest loss a hop may bring, as a share of the best of its chain; drawn below this. */
const SLACK_RATIO = 0.002;
const START_ROUNDS = 6;
/** How far off the promise of a pressed layout may be, as a share. */
const PROMISE_ERROR = 0.004;
const SCREEN_STEPS = 120;

/** A layout settled under pressure, and the growth it can be expected to reach. */
interface Pressed {
  readonly at: Float64Array;
  readonly expected: number;
}

/**
 * The largest growth found: random and ringed starts, each bettered by hops (a piece into a gap, two
 * swapped, all shaken) as long as that pays, then a new start. Many starts find the packings of equal
 * circles, hops those of unequal ones. Layouts are judged by what a Newton step promises; only those
 * that promise to beat the best are tightened.
 */
export function searchGrowth(
  solver: PackSolver,
  search: GrowthSearch,
  random: SeededRandom,
): Growth {
  let best: Growth = {
    growth: Number.NEGATIVE_INFINITY,
    at: search.first ?? randomLayout(solver, random),
  };
  const limit = solver.work() + search.work;
  const alike = areAlike(solver);
  const patience = Math.ceil(
    (alike ? PATIENCE_ALIKE : PATIENCE_UNLIKE) * solver.problem.pieces.length,
  );
  const isDone = () => solver.work() >= limit || best.growth >= search.enough;
  const judge = (at: Float64Array, growth: number): Pressed => {
    solver.settle(at, growth, { maxSteps: SCREEN_STEPS, valueBelow: 0 });
    return { at, expected: expectedGrowth(solver, at, growth) };
  };
  const better = ({ at, expected }: Pressed) => {
    const least =
      search.onlyEnough === true
        ? search.enough - PROMISE_ERROR * Math.abs(search.enough)
        : best.growth + search.tolerance;
    if (!(expected > least)) return;
    const start = at.slice();
    const growth = expected + 0.1 * (pressAbove(expected, search) - expected);
    solver.settle(start, growth, { maxSteps: SCREEN_STEPS, valueBelow: 0 });
    if (!(expectedGrowth(solver, start, growth) > least)) return;
    const tightened = tightenGrowth(solver, start, growth, search.tolerance, search.enough);
    if (tightened.growth > best.growth) best = tightened;
  };
  for (let start = 0; !isDone(); start++) {
    let current = startPressed(solver, search, start, random, judge);
    let top = current;
    if (alike || top.expected > search.enough) better(top);
    for (let idle = 0; idle < patience && !isDone(); idle++) {
      const at = current.at.slice();
      const growth = pressAbove(current.expected, search);
      hop(solver, at, growth, alike, random);
      const next = judge(at, growth);
      const slack = alike ? 0 : SLACK_RATIO * Math.abs(top.expected) * random.next();
      if (!(next.expected > current.expected - slack)) continue;
      current = next;
      if (!(next.expected > top.expected + search.tolerance)) continue;
      idle = 0;
      top = next;
      if (alike || top.expected > search.enough) better(top);
    }
    better(top);
  }
  return best;
}

function pressAbove(growth: number, { startGrowth }: GrowthSearch): number {
  return Math.min(startGrowth, growth + OVERPRESS * Math.abs(startGrowth));
}

/** A new start, pressed from far beyond down to a little beyond what it can reach. */
function startPressed(
  solver: PackSolver,
  search: GrowthSearch,
  start: number,
  random: SeededRandom,
  judge: (at: Float64Array, growth: number) => Pressed,
): Pressed {
  const at =
    start === 0 && search.first !== undefined
      ? search.first.slice()
      : startLayout(solver, search, start, random);
  let pressed = judge(at, search.startGrowth);
  let met = Number.NEGATIVE_INFINITY;
  let high = search.startGrowth;
  for (let round = 0; round < START_ROUNDS; round++) {
    const isUseful = pressed.expected > met && pressed.expected < high;
    const aim = isUseful ? pressed.expected : Number.isFinite(met) ? (met + high) / 2 : high / 2;
    const growth = Math.min(high, pressAbove(aim, search));
    pressed = judge(at, growth);
    if (pressed.expected >= growth) met = growth;
    else high = growth;
    if (round > 0 && isUseful && pressed.expected < growth) break;
  }
  return pressed;
}

/** Every other start ringed where the opening is round. */
function startLayout(
  solver: PackSolver,
  search: GrowthSearch,
  start: number,
  random: SeededRandom,
): Float64Array {
  const { region, pieces } = solver.problem;
  const isRinged = region.shape.type === 'circle' && pieces.length >= 5 && start % 2 === 1;
  if (!isRinged) return randomLayout(solver, random);
  const need = meanNeed(solver, search.startGrowth);
  const outer = Math.max(0, region.maxX - need / 2);
  return ringLayout(solver, outer, need, random);
}

function meanNeed({ problem }: PackSolver, growth: number): number {
  const { wallBase, wallSlope } = problem;
  let total = 0;
  wallBase.forEach((base, i) => {
    total += base + growth * (wallSlope[i] as number);
  });
  return (2 * total) / Math.max(1, wallBase.length);
}

/** Whether all pieces keep the same from the wall and so from each other. */
function areAlike({ problem }: PackSolver): boolean {
  const { wallBase, wallSlope } = problem;
  return wallBase.every((base, i) => base === wallBase[0] && wallSlope[i] === wallSlope[0]);
}

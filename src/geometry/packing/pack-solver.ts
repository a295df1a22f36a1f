import { bodyPressure } from './body-pressure.ts';
import { type Contact, contactsOf } from './contacts.ts';
import { discPressure } from './disc-pressure.ts';
import { growthNeeds } from './growth-needs.ts';
import { makeLbfgs } from './lbfgs.ts';
import { neighboursOf } from './neighbours.ts';
import { type Layout, layoutOf, PAD_MM, type PackProblem } from './pack-problem.ts';
import { placedParts } from './placed-parts.ts';

export interface SettleOptions {
  readonly maxSteps: number;
  readonly valueBelow: number;
  /** Give up when the value falls by less than a fifth over this many steps. */
  readonly stallSteps?: number;
}

export interface PackSolver {
  readonly problem: PackProblem;
  readonly layout: Layout;
  /** Minimises the squared shortfalls at a growth, moving `at` in place; returns what is left. */
  settle(at: Float64Array, growth: number, options: SettleOptions): number;
  /** Squared shortfalls at `at`, how fast they rise with the growth, and each piece's share. */
  strain(at: Float64Array, growth: number, shares?: Float64Array): Strain;
  /** Largest growth met at `at`, exactly; −∞ when a floor is missed by more than half the pad. */
  growthOf(at: Float64Array): number;
  /**
   * Contacts at `at` whose distance falls short of the need at a growth; null when a rectangle is
   * among the parts, whose contacts are not written down.
   */
  contacts(at: Float64Array, growth: number): Contact[] | null;
  /** The same contacts at other places and growth, touching or not. */
  again(contacts: readonly Contact[], at: Float64Array, growth: number): Contact[];
  /** Effort so far: evaluations of a layout times its parts, counted. */
  readonly work: () => number;
}

export interface Strain {
  readonly value: number;
  readonly slope: number;
}

/** A squared gradient below this share of the value is as good as none. */
const GRADIENT_RATIO = 1e-13;

export function makePackSolver(problem: PackProblem): PackSolver {
  const { region, pairBase, pairSlope, pairFloor, wallBase, wallSlope, wallFloor } = problem;
  const layout = layoutOf(problem.pieces);
  const placed = placedParts(problem, layout);
  const needs = growthNeeds(problem);
  const { count, owner } = placed;
  const width = Math.min(region.maxX - region.minX, region.maxY - region.minY);
  const neighbours = neighboursOf(owner, placed.reach, needs, width);
  const frozen = frozenUnknowns(problem, layout);
  const pressure = placed.isPlain
    ? discPressure(region, needs, neighbours, frozen)
    : bodyPressure(region, layout, placed, needs, neighbours, frozen);
  const contacts = contactsOf(problem, layout, placed, needs, frozen);
  const minimiser = makeLbfgs(layout.size);
  // A long outline costs as much as further parts.
  const wallCost = 1 + region.rings.reduce((total, ring) => total + ring.length, 0) / 24;

  function strain(at: Float64Array, growth: number, shares?: Float64Array): Strain {
    needs.setGrowth(growth);
    placed.place(at);
    shares?.fill(0);
    let value = 0;
    let slope = 0;
    const add = (short: number, rate: number, first: number, second: number | null) => {
      value += short * short;
      slope += 2 * short * rate;
      if (shares === undefined) return;
      shares[first] = (shares[first] as number) + short * short;
      if (second !== null) shares[second] = (shares[second] as number) + short * short;
    };
    const listed = neighbours.refresh(placed.places);
    for (let k = 0; k < listed; k++) {
      const i = neighbours.pairs[2 * k] as number;
      const j = neighbours.pairs[2 * k + 1] as number;
      const need = neighbours.needs[k] as number;
      const short = need - placed.distance(i, j);
      if (short <= 0) continue;
      const pair = i * count + j;
      const rate = need > (pairFloor[pair] as number) ? (pairSlope[pair] as number) : 0;
      add(short, rate, owner[i] as number, owner[j] as number);
    }
    for (let i = 0; i < count; i++) {
      const need = needs.wall[i] as number;
      const short = need - placed.clearance(i);
      if (short <= 0) continue;
      const rate = need > (wallFloor[i] as number) ? (wallSlope[i] as number) : 0;
      add(short, rate, owner[i] as number, null);
    }
    return { value, slope };
  }

  function growthOf(at: Float64Array): number {
    placed.place(at);
    let growth = Number.POSITIVE_INFINITY;
    for (let i = 0; i < count; i++) {
      const clear = placed.clearance(i);
      if (clear < (wallFloor[i] as number) - PAD_MM / 2) return Number.NEGATIVE_INFINITY;
      growth = Math.min(growth, allowed(clear, wallBase[i] as number, wallSlope[i] as number));
      for (let j = i + 1; j < count; j++) {
        if (owner[i] === owner[j]) continue;
        const k = i * count + j;
        const distance = placed.distance(i, j);
        if (distance < (pairFloor[k] as number) - PAD_MM / 2) return Number.NEGATIVE_INFINITY;
        growth = Math.min(growth, allowed(distance, pairBase[k] as number, pairSlope[k] as number));
      }
    }
    return growth;
  }

  return {
    problem,
    layout,
    settle: (at, growth, options) => {
      needs.setGrowth(growth);
      return minimiser.minimise(pressure, at, options, GRADIENT_RATIO);
    },
    strain,
    growthOf,
    contacts: (at, growth) => {
      needs.setGrowth(growth);
      placed.place(at);
      return contacts.pressed();
    },
    again: (known, at, growth) => {
      needs.setGrowth(growth);
      placed.place(at);
      return contacts.again(known);
    },
    work: () => minimiser.evaluations() * count * wallCost,
  };
}

function allowed(distance: number, base: number, slope: number): number {
  if (slope > 0) return (distance - base) / slope;
  return distance >= base ? Number.POSITIVE_INFINITY : Number.NEGATIVE_INFINITY;
}

/** Unknowns that stay as they are: places of fixed pieces, turns of all that are not free. */
function frozenUnknowns({ pieces }: PackProblem, layout: Layout): Int32Array {
  const frozen: number[] = [];
  pieces.forEach(({ fixed, turns }, i) => {
    const turn = layout.turnAt[i] as number;
    if (fixed !== null) frozen.push(2 * i, 2 * i + 1);
    if (turn >= 0 && (fixed !== null || turns !== 'free')) frozen.push(turn);
  });
  return Int32Array.from(frozen);
}

import { arcCosine } from './exact-trigonometry.ts';
import type { InscribedBounds } from './largest-inscribed.ts';
import { type CentreRegion, centreRegion, grownAreaMm2 } from './outline-bounds.ts';
import type { Region } from './region.ts';

/**
 * What bodies must keep at least, as far as proofs use it; a proof that these can't all be kept is a
 * proof for the bodies. Millimetres.
 */
export interface Needs {
  readonly region: Region;
  readonly inscribed: InscribedBounds;
  readonly bodies: readonly NeedBody[];
  /** Least distance of the centres of bodies i and j. */
  readonly pairNeed: (i: number, j: number) => number;
  /** Area of all bodies with what they keep round them, and how far that may stick out of the wall. */
  readonly loads: readonly { readonly areaMm2: number; readonly growMm: number }[];
}

export interface NeedBody {
  /** In words: "a body of 37 dia". */
  readonly name: string;
  /** Least distance of its centre from the wall. */
  readonly wallMm: number;
  /** Sides of a rectangle and the distance they keep from the wall; null for a disc. */
  readonly rectangle: {
    readonly widthMm: number;
    readonly heightMm: number;
    readonly edgeMm: number;
    readonly turns: 'none' | 'quarter' | 'free';
  } | null;
}

export interface Impossibility {
  readonly name:
    | 'bodies that stand fast'
    | 'largest body'
    | 'rectangle in the opening'
    | 'pair'
    | 'area'
    | 'angles about the centre'
    | 'proven optimum for equal circles'
    | 'Oler inequality'
    | 'subdivision';
  /** In numbers, so that anyone can work it out again. */
  readonly text: string;
}

/** Lengths closer than this share of the opening are not told apart: no proof rests on rounding. */
const CAUTION = 1e-9;

/** Of more bodies than this the largest are looked at pair by pair, so that proofs stay quick. */
const MOST_PAIRED = 300;

/**
 * Smallest R/r for n equal circles in a circle, where it is proven.
 * @source reference/circles-in-circle.json; proofs: n ≤ 10 Pirl 1969, 11 Melissen 1994, 12, 13 and 19
 * Fodor 1999–2003; n = 14 as the encyclopaedia page marks it.
 */
const PROVEN_RATIO = new Map<number, number>([
  [1, 1],
  [2, 2],
  [3, 2.1547005383792515],
  [4, 2.414213562373095],
  [5, 2.7013016167040798],
  [6, 3],
  [7, 3],
  [8, 3.3047648709624866],
  [9, 3.613125929752753],
  [10, 3.813025631398124],
  [11, 3.923804400163087],
  [12, 4.029601930116184],
  [13, 4.23606797749979],
  [14, 4.328428554860837],
  [19, 4.863703305156273],
]);

/** The first proof, in a fixed order, that the needs can't be met; null when none is known. */
export function proveImpossible(needs: Needs): Impossibility | null {
  return (
    largestBody(needs) ??
    largestRectangle(needs) ??
    closestPair(needs) ??
    totalArea(needs) ??
    anglesAboutCentre(needs) ??
    equalCircles(needs)
  );
}

function scaleOf({ region }: Needs): number {
  return Math.max(region.maxX - region.minX, region.maxY - region.minY);
}

function largestBody(needs: Needs): Impossibility | null {
  const limit = needs.inscribed.boundMm + CAUTION * scaleOf(needs);
  const body = needs.bodies.find(({ wallMm }) => wallMm > limit);
  if (body === undefined) return null;
  return {
    name: 'largest body',
    text: `${body.name} must keep its centre ${mm(body.wallMm)} mm from the wall; no point of the opening is more than ${mm(needs.inscribed.boundMm)} mm from it.`,
  };
}

/** A rectangle against the opening's widest diagonal, its box, and a rectangle it can be turned in. */
function largestRectangle(needs: Needs): Impossibility | null {
  const slack = CAUTION * scaleOf(needs);
  for (const { name, rectangle } of needs.bodies) {
    if (rectangle === null) continue;
    const { widthMm: w, heightMm: h, edgeMm, turns } = rectangle;
    const room = centreRegion(needs.region.shape, edgeMm);
    const diagonal = Math.sqrt(w * w + h * h);
    if (room === null || diagonal > room.diameterMm + slack) {
      return {
        name: 'rectangle in the opening',
        text: `${name} has a diagonal of ${mm(diagonal)} mm; within ${mm(edgeMm)} mm of the wall the opening is ${mm(room?.diameterMm ?? 0)} mm at its widest.`,
      };
    }
    const across = needs.region.maxX - needs.region.minX - 2 * edgeMm + slack;
    const up = needs.region.maxY - needs.region.minY - 2 * edgeMm + slack;
    const isIn = rectangleFits(w, h, across, up, turns);
    if (!isIn) {
      return {
        name: 'rectangle in the opening',
        text: `${name} (turns: ${turns}) does not go into the box of ${mm(across)} × ${mm(up)} mm that the opening leaves within ${mm(edgeMm)} mm of its wall.`,
      };
    }
  }
  return null;
}

/**
 * Whether a rectangle goes into another.
 * @source W. Carver, American Mathematical Monthly 64 (1957): the condition for free turns.
 */
function rectangleFits(
  w: number,
  h: number,
  across: number,
  up: number,
  turns: 'none' | 'quarter' | 'free',
): boolean {
  if (w <= across && h <= up) return true;
  if (turns === 'none') return false;
  if (h <= across && w <= up) return true;
  if (turns === 'quarter') return false;
  const p = Math.max(w, h);
  const q = Math.min(w, h);
  const a = Math.max(across, up);
  const b = Math.min(across, up);
  if (p <= a || q > b) return false;
  const squares = p * p + q * q;
  return b * squares >= 2 * p * q * a + (p * p - q * q) * Math.sqrt(squares - a * a);
}

function closestPair(needs: Needs): Impossibility | null {
  const { bodies, pairNeed, region } = needs;
  const whole = centreRegion(region.shape, 0);
  if (whole === null) return null;
  const largest = order(bodies).slice(0, MOST_PAIRED);
  for (const [rank, i] of largest.entries()) {
    for (const j of largest.slice(rank + 1)) {
      const a = bodies[i] as NeedBody;
      const b = bodies[j] as NeedBody;
      const need = pairNeed(i, j);
      const most = farthestCentres(needs, a.wallMm, b.wallMm, whole);
      if (need <= most + CAUTION * scaleOf(needs)) continue;
      return {
        name: 'pair',
        text: `The centres of ${a.name} and ${b.name} must be ${mm(need)} mm apart; kept from the wall as they must be, they can be no more than ${mm(most)} mm apart.`,
      };
    }
  }
  return null;
}

/** The line through both centres, prolonged by what each keeps from the wall, is inside the opening. */
function farthestCentres(
  { region }: Needs,
  wallA: number,
  wallB: number,
  whole: { readonly diameterMm: number },
): number {
  if (region.shape.type !== 'rectangle') return whole.diameterMm - wallA - wallB;
  const w = region.shape.widthMm - wallA - wallB;
  const h = region.shape.heightMm - wallA - wallB;
  return Math.sqrt(Math.max(0, w) * Math.max(0, w) + Math.max(0, h) * Math.max(0, h));
}

function totalArea({ region, loads }: Needs): Impossibility | null {
  for (const { areaMm2, growMm } of loads) {
    const room = grownAreaMm2(region.shape, growMm);
    if (areaMm2 <= room * (1 + CAUTION)) continue;
    return {
      name: 'area',
      text: `The bodies with half of what they keep round them take ${mm(areaMm2)} mm²; the opening, moved out by ${mm(growMm)} mm to hold these, has ${mm(room)} mm².`,
    };
  }
  return null;
}

/**
 * In a circle of centres: bodies whose pair needs are no less than both radii up to which they may
 * lie off the centre see each other, from the opening's centre, under an angle that is least when
 * both lie as far out as they may (so none of them can slip beside the others). More than a full
 * turn in the best order about the centre is impossible.
 */
function anglesAboutCentre(needs: Needs): Impossibility | null {
  const { region, bodies, pairNeed } = needs;
  if (region.shape.type !== 'circle' || bodies.length < 3) return null;
  const radius = region.shape.diameterMm / 2;
  const reach = bodies.map(({ wallMm }) => radius - wallMm);
  const largest = order(bodies).slice(0, 7);
  // Small bodies can lie anywhere: only those that keep two others out can be of a set.
  const able = largest.filter((i) => largest.filter((j) => i !== j && isKeptOut(i, j)).length >= 2);
  for (let size = 3; size <= Math.min(6, able.length); size++) {
    for (const chosen of subsets(able, size)) {
      if (!chosen.every((i) => chosen.every((j) => i === j || isKeptOut(i, j)))) continue;
      const turn = leastTurn(chosen, angleBetween);
      if (turn <= 2 * Math.PI + 1e-7) continue;
      return {
        name: 'angles about the centre',
        text: `Seen from the centre, ${chosen.map((i) => bodies[i]?.name).join(', ')} (centres at most ${chosen.map((i) => mm(reach[i] as number)).join(', ')} mm off it, none able to lie between the others and the centre) need ${mm((turn * 180) / Math.PI)}° of 360° in their best order.`,
      };
    }
  }
  return null;

  function isKeptOut(i: number, j: number): boolean {
    const need = pairNeed(i, j);
    return (reach[i] as number) > 0 && need >= (reach[i] as number) && need >= (reach[j] as number);
  }
  function angleBetween(i: number, j: number): number {
    const a = reach[i] as number;
    const b = reach[j] as number;
    const need = pairNeed(i, j);
    return arcCosine((a * a + b * b - need * need) / (2 * a * b));
  }
}

/** Least sum of angles between neighbours over all orders round the circle. */
function leastTurn(chosen: readonly number[], angle: (i: number, j: number) => number): number {
  const [first, ...rest] = chosen;
  if (first === undefined) return 0;
  let least = Number.POSITIVE_INFINITY;
  const walk = (last: number, left: readonly number[], total: number): void => {
    if (total >= least) return;
    if (left.length === 0) {
      least = Math.min(least, total + angle(last, first));
      return;
    }
    for (const next of left) {
      walk(
        next,
        left.filter((other) => other !== next),
        total + angle(last, next),
      );
    }
  };
  walk(first, rest, 0);
  return least;
}

function* subsets(items: readonly number[], size: number): Generator<number[]> {
  if (size === 0) {
    yield [];
    return;
  }
  for (let k = 0; k <= items.length - size; k++) {
    for (const rest of subsets(items.slice(k + 1), size - 1)) yield [items[k] as number, ...rest];
  }
}

/**
 * Any k of the bodies keep at least the least need among them, so they are k equal circles: against
 * the proven optimum in a circle, and against Oler's inequality in any convex figure,
 * k ≤ 2A/(√3 d²) + P/(2d) + 1 for k points d apart in a convex figure of area A and perimeter P.
 * @source N. Oler, An inequality in the geometry of numbers, Acta Mathematica 105 (1961).
 */
function equalCircles(needs: Needs): Impossibility | null {
  const { region, bodies, pairNeed } = needs;
  const sorted = order(bodies).slice(0, MOST_PAIRED);
  let least = Number.POSITIVE_INFINITY;
  let centres: CentreRegion | null = null;
  let centresWall = Number.NaN;
  for (let k = 2; k <= sorted.length; k++) {
    const added = sorted[k - 1] as number;
    for (let other = 0; other < k - 1; other++) {
      least = Math.min(least, pairNeed(added, sorted[other] as number));
    }
    const wall = bodies[added]?.wallMm ?? 0;
    if (wall !== centresWall) {
      centres = centreRegion(region.shape, wall);
      centresWall = wall;
    }
    if (centres === null || !(least > 0)) continue;
    const ratio = PROVEN_RATIO.get(k);
    if (region.shape.type === 'circle' && ratio !== undefined) {
      const needed = (ratio - 1) * (least / 2);
      const there = region.shape.diameterMm / 2 - wall;
      if (needed > there + CAUTION * scaleOf(needs)) {
        return {
          name: 'proven optimum for equal circles',
          text: `${k} of the bodies keep centres ${mm(least)} mm apart and ${mm(wall)} mm from the wall: that takes a circle of centres of radius ${mm(needed)} mm (proven ratio ${ratio} for ${k}); there are ${mm(there)} mm.`,
        };
      }
    }
    const most =
      (2 / Math.sqrt(3)) * (centres.areaMm2 / (least * least)) +
      centres.perimeterMm / (2 * least) +
      1;
    if (k > most * (1 + CAUTION)) {
      return {
        name: 'Oler inequality',
        text: `${k} of the bodies keep centres ${mm(least)} mm apart and ${mm(wall)} mm from the wall, within a convex area of ${mm(centres.areaMm2)} mm² and perimeter ${mm(centres.perimeterMm)} mm: no more than ${mm(most)} such centres have room.`,
      };
    }
  }
  return null;
}

/** Indices by falling distance from the wall, then by index. */
function order(bodies: readonly NeedBody[]): number[] {
  return bodies
    .map((_, i) => i)
    .sort((a, b) => (bodies[b]?.wallMm ?? 0) - (bodies[a]?.wallMm ?? 0) || a - b);
}

function mm(value: number): string {
  return value.toFixed(3);
}

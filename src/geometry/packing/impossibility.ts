import { arcCosine } from './exact-trigonometry.ts';
import type { InscribedBounds } from './largest-inscribed.ts';
import { centreRegion, grownAreaMm2 } from './outline-bounds.ts';
import type { Region } from './region.ts';

/** What discs must keep at least; a proof that these can't all be kept is a proof for the bodies. */
export interface Needs {
  readonly region: Region;
  readonly inscribed: InscribedBounds;
  readonly names: readonly string[];
  readonly count: number;
  /** Least distance of the centres of i and j. */
  readonly pairNeed: (i: number, j: number) => number;
  readonly wallNeed: Float64Array;
  /** Areas of bodies with what they keep round them: ρᵢ + ρⱼ ≤ need of every pair. */
  readonly inflated: readonly Float64Array[];
}

export interface Impossibility {
  readonly name:
    | 'largest body'
    | 'pair'
    | 'area'
    | 'angles about the centre'
    | 'proven optimum for equal circles'
    | 'Oler inequality';
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
  for (let i = 0; i < needs.count; i++) {
    const need = needs.wallNeed[i] as number;
    if (need <= limit) continue;
    return {
      name: 'largest body',
      text: `${needs.names[i]} must keep its centre ${mm(need)} mm from the wall; no point of the opening is more than ${mm(needs.inscribed.boundMm)} mm from it.`,
    };
  }
  return null;
}

function closestPair(needs: Needs): Impossibility | null {
  const { count, pairNeed, wallNeed, region } = needs;
  const whole = centreRegion(region.shape, 0);
  if (whole === null) return null;
  const largest = order(count, wallNeed).slice(0, MOST_PAIRED);
  for (const [rank, i] of largest.entries()) {
    for (const j of largest.slice(rank + 1)) {
      const need = pairNeed(i, j);
      const most = farthestCentres(needs, wallNeed[i] as number, wallNeed[j] as number, whole);
      if (need <= most + CAUTION * scaleOf(needs)) continue;
      return {
        name: 'pair',
        text: `The centres of ${needs.names[i]} and ${needs.names[j]} must be ${mm(need)} mm apart; kept from the wall as they must be, they can be no more than ${mm(most)} mm apart.`,
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

function totalArea(needs: Needs): Impossibility | null {
  for (const radii of needs.inflated) {
    let area = 0;
    let grow = Number.NEGATIVE_INFINITY;
    radii.forEach((radius, i) => {
      area += Math.PI * radius * radius;
      grow = Math.max(grow, radius - (needs.wallNeed[i] as number));
    });
    if (radii.length === 0) continue;
    const room = grownAreaMm2(needs.region.shape, grow);
    if (area <= room * (1 + CAUTION)) continue;
    return {
      name: 'area',
      text: `The bodies with half of what they keep round them take ${mm(area)} mm²; the opening, moved out by ${mm(grow)} mm to hold these, has ${mm(room)} mm².`,
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
  const { region, count, pairNeed, wallNeed } = needs;
  if (region.shape.type !== 'circle' || count < 3) return null;
  const radius = region.shape.diameterMm / 2;
  const reach = Array.from(wallNeed, (need) => radius - need);
  const largest = order(count, wallNeed).slice(0, 7);
  for (let size = 3; size <= Math.min(6, largest.length); size++) {
    for (const chosen of subsets(largest, size)) {
      if (!chosen.every((i) => chosen.every((j) => i === j || isKeptOut(i, j)))) continue;
      const turn = leastTurn(chosen, angleBetween);
      if (turn <= 2 * Math.PI + 1e-7) continue;
      return {
        name: 'angles about the centre',
        text: `Seen from the centre, ${chosen.map((i) => needs.names[i]).join(', ')} (centres at most ${chosen.map((i) => mm(reach[i] as number)).join(', ')} mm off it, none able to lie between the others and the centre) need ${mm((turn * 180) / Math.PI)}° of 360° in their best order.`,
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
  const { region, count, pairNeed, wallNeed } = needs;
  const sorted = order(count, wallNeed).slice(0, MOST_PAIRED);
  let least = Number.POSITIVE_INFINITY;
  for (let k = 2; k <= sorted.length; k++) {
    const added = sorted[k - 1] as number;
    for (let other = 0; other < k - 1; other++) {
      least = Math.min(least, pairNeed(added, sorted[other] as number));
    }
    const wall = wallNeed[added] as number;
    const centres = centreRegion(region.shape, wall);
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

/** Indices by falling wall need, then by index. */
function order(count: number, wallNeed: Float64Array): number[] {
  return Array.from({ length: count }, (_, i) => i).sort(
    (a, b) => (wallNeed[b] as number) - (wallNeed[a] as number) || a - b,
  );
}

function mm(value: number): string {
  return value.toFixed(3);
}

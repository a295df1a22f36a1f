import type { Vec2 } from '../vec.ts';
import {
  addCorner,
  type Box,
  type BoxPull,
  boxShortfall,
  boxToBox,
  cornerX,
  cornerY,
  pointShortfall,
  pointToBox,
} from './box-distance.ts';
import { sineCosine } from './exact-trigonometry.ts';
import { makeLbfgs } from './lbfgs.ts';
import {
  type Layout,
  layoutOf,
  PAD_MM,
  type PackProblem,
  type Part,
  turnOf,
} from './pack-problem.ts';

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

/** A pair or wall too close, linearised: distance − need ≈ rest + Σ pulls · change. */
export interface Contact {
  /** The parts that touch; the second is minus one less the number of a wall. */
  readonly first: number;
  readonly second: number;
  /** Distance less need; negative when too close. */
  readonly rest: number;
  /** Unknowns of the layout, and the rate of the distance by each. */
  readonly unknowns: readonly number[];
  readonly rates: readonly number[];
  /** Rate of the need by the growth. */
  readonly slope: number;
}

export interface Strain {
  readonly value: number;
  readonly slope: number;
}

/** Pairs further apart than their need plus twice this share of the region's width are not listed. */
const SKIN_RATIO = 0.06;

export function makePackSolver(problem: PackProblem): PackSolver {
  const { region, pieces, pairBase, pairSlope, pairFloor, wallBase, wallSlope, wallFloor } =
    problem;
  const layout = layoutOf(pieces);
  const parts: readonly Part[] = pieces.flatMap((piece) => piece.parts);
  const owner = Int32Array.from(pieces.flatMap((piece, i) => piece.parts.map(() => i)));
  const count = parts.length;
  const minimiser = makeLbfgs(layout.size);
  const isFlat = Uint8Array.from(parts, ({ halfX, halfY }) => (halfX > 0 || halfY > 0 ? 1 : 0));
  const isPlain = layout.size === 2 * pieces.length;
  const reach = Float64Array.from(parts, (p) => Math.sqrt(p.halfX * p.halfX + p.halfY * p.halfY));
  const frozen = frozenUnknowns(problem, layout);
  const isFrozen = new Uint8Array(layout.size);
  for (const k of frozen) isFrozen[k] = 1;
  const segments = region.isConvex ? [] : wallSegments(region.rings);

  const boxes: Box[] = parts.map(({ halfX, halfY }) => ({
    x: 0,
    y: 0,
    cosine: 1,
    sine: 0,
    halfX,
    halfY,
  }));
  const px = new Float64Array(count);
  const py = new Float64Array(count);
  const pullX = new Float64Array(count);
  const pullY = new Float64Array(count);
  const pullTurn = new Float64Array(count);
  const pairNeed = new Float64Array(count * count);
  const wallNeed = new Float64Array(count);
  const neighbours = new Int32Array(count * count + 2);
  const listedX = new Float64Array(count).fill(Number.NaN);
  const listedY = new Float64Array(count).fill(Number.NaN);
  const skin = SKIN_RATIO * Math.min(region.maxX - region.minX, region.maxY - region.minY);
  const wallPull = new Float64Array(2);
  const a: BoxPull = { x: 0, y: 0, turn: 0 };
  const b: BoxPull = { x: 0, y: 0, turn: 0 };
  // A long outline costs as much as further parts.
  const wallCost = 1 + region.rings.reduce((total, ring) => total + ring.length, 0) / 24;
  let listed = 0;
  let setAt = Number.NaN;

  function setGrowth(growth: number): void {
    if (growth === setAt) return;
    setAt = growth;
    listedX.fill(Number.NaN);
    for (let k = 0; k < count * count; k++) {
      const need = (pairBase[k] as number) + growth * (pairSlope[k] as number);
      pairNeed[k] = Math.max(need, pairFloor[k] as number);
    }
    for (let i = 0; i < count; i++) {
      const need = (wallBase[i] as number) + growth * (wallSlope[i] as number);
      wallNeed[i] = Math.max(need, wallFloor[i] as number);
    }
  }

  /** Places of all parts from the unknowns. */
  function placeParts(at: Float64Array): void {
    if (isPlain) {
      for (let i = 0; i < count; i++) {
        px[i] = at[2 * i] as number;
        py[i] = at[2 * i + 1] as number;
      }
      return;
    }
    let part = 0;
    for (let i = 0; i < pieces.length; i++) {
      const [sine, cosine] = sineCosine(turnOf(layout, at, i));
      const x = at[2 * i] as number;
      const y = at[2 * i + 1] as number;
      while (part < count && owner[part] === i) {
        const { dx, dy } = parts[part] as Part;
        px[part] = x + dx * cosine - dy * sine;
        py[part] = y + dx * sine + dy * cosine;
        const box = boxes[part] as Box;
        box.x = px[part] as number;
        box.y = py[part] as number;
        box.cosine = cosine;
        box.sine = sine;
        part++;
      }
    }
  }

  function list(): void {
    listed = 0;
    for (let i = 0; i < count; i++) {
      for (let j = i + 1; j < count; j++) {
        if (owner[i] === owner[j]) continue;
        const near =
          (pairNeed[i * count + j] as number) +
          (reach[i] as number) +
          (reach[j] as number) +
          2 * skin;
        const dx = (px[j] as number) - (px[i] as number);
        const dy = (py[j] as number) - (py[i] as number);
        if (dx * dx + dy * dy >= near * near) continue;
        neighbours[listed++] = i;
        neighbours[listed++] = j;
      }
    }
    listedX.set(px);
    listedY.set(py);
  }

  function listIsStale(): boolean {
    const limit = skin * skin;
    for (let k = 0; k < count; k++) {
      const dx = (px[k] as number) - (listedX[k] as number);
      const dy = (py[k] as number) - (listedY[k] as number);
      if (!(dx * dx + dy * dy <= limit)) return true;
    }
    return false;
  }

  function energy(at: Float64Array, gradient: Float64Array): number {
    placeParts(at);
    if (listIsStale()) list();
    pullX.fill(0);
    pullY.fill(0);
    pullTurn.fill(0);
    let total = 0;
    for (let k = 0; k < listed; k += 2) {
      const i = neighbours[k] as number;
      const j = neighbours[k + 1] as number;
      const need = pairNeed[i * count + j] as number;
      if (isFlat[i] === 1 || isFlat[j] === 1) {
        total += flatPair(i, j, need);
        continue;
      }
      const dx = (px[j] as number) - (px[i] as number);
      const dy = (py[j] as number) - (py[i] as number);
      const squared = dx * dx + dy * dy;
      if (squared >= need * need || need <= 0) continue;
      const distance = Math.sqrt(squared);
      const short = need - distance;
      total += short * short;
      const push = distance > 0 ? (2 * short) / distance : 0;
      pullX[i] = (pullX[i] as number) + push * dx;
      pullY[i] = (pullY[i] as number) + push * dy;
      pullX[j] = (pullX[j] as number) - push * dx;
      pullY[j] = (pullY[j] as number) - push * dy;
    }
    for (let i = 0; i < count; i++) total += wallOf(i, wallNeed[i] as number);
    collect(gradient);
    return total;
  }

  /** At least one of the two is a rectangle. */
  function flatPair(i: number, j: number, need: number): number {
    a.x = a.y = a.turn = b.x = b.y = b.turn = 0;
    const boxI = boxes[i] as Box;
    const boxJ = boxes[j] as Box;
    let short: number;
    if (isFlat[i] === 0) {
      short = pointShortfall(px[i] as number, py[i] as number, boxJ, need, a, b);
    } else if (isFlat[j] === 0) {
      short = pointShortfall(px[j] as number, py[j] as number, boxI, need, b, a);
    } else short = boxShortfall(boxI, boxJ, need, a, b);
    if (short === 0) return 0;
    addPull(i, a);
    addPull(j, b);
    return short;
  }

  function addPull(i: number, pull: BoxPull): void {
    pullX[i] = (pullX[i] as number) + pull.x;
    pullY[i] = (pullY[i] as number) + pull.y;
    pullTurn[i] = (pullTurn[i] as number) + pull.turn;
  }

  function wallOf(i: number, need: number): number {
    if (isFlat[i] === 1) return wallOfBox(i, need);
    wallPull[0] = 0;
    wallPull[1] = 0;
    const short = region.shortfall(px[i] as number, py[i] as number, need, wallPull);
    if (short <= 0) return 0;
    pullX[i] = (pullX[i] as number) + (wallPull[0] as number);
    pullY[i] = (pullY[i] as number) + (wallPull[1] as number);
    return short;
  }

  function wallOfBox(i: number, need: number): number {
    const box = boxes[i] as Box;
    a.x = a.y = a.turn = 0;
    let total = 0;
    for (let corner = 0; corner < 4; corner++) {
      const cx = cornerX(box, corner);
      const cy = cornerY(box, corner);
      wallPull[0] = 0;
      wallPull[1] = 0;
      const short = region.shortfall(cx, cy, need, wallPull);
      if (short <= 0) continue;
      total += short;
      addCorner(box, cx, cy, wallPull[0] as number, wallPull[1] as number, a);
    }
    for (const segment of segments) total += boxShortfall(box, segment, need, a, b);
    if (total > 0) addPull(i, a);
    return total;
  }

  /** Gradient by the unknowns from the pulls on the parts. */
  function collect(gradient: Float64Array): void {
    gradient.fill(0);
    for (let part = 0; part < count; part++) {
      const i = owner[part] as number;
      const fx = pullX[part] as number;
      const fy = pullY[part] as number;
      gradient[2 * i] = (gradient[2 * i] as number) + fx;
      gradient[2 * i + 1] = (gradient[2 * i + 1] as number) + fy;
    }
    if (!isPlain) collectTurns(gradient);
    for (const k of frozen) gradient[k] = 0;
  }

  function collectTurns(gradient: Float64Array): void {
    for (let part = 0; part < count; part++) {
      const i = owner[part] as number;
      const k = layout.turnAt[i] as number;
      if (k < 0) continue;
      const { dx, dy } = parts[part] as Part;
      const { cosine, sine } = boxes[part] as Box;
      const rx = dx * cosine - dy * sine;
      const ry = dx * sine + dy * cosine;
      const turn =
        (pullTurn[part] as number) + rx * (pullY[part] as number) - ry * (pullX[part] as number);
      gradient[k] = (gradient[k] as number) + turn / (layout.arm[i] as number);
    }
  }

  function settle(at: Float64Array, growth: number, options: SettleOptions): number {
    setGrowth(growth);
    return minimiser.minimise(energy, at, { ...options, gradientRatio: 1e-13 });
  }

  function partDistance(i: number, j: number): number {
    if (isFlat[i] === 0 && isFlat[j] === 0) {
      const dx = (px[j] as number) - (px[i] as number);
      const dy = (py[j] as number) - (py[i] as number);
      return Math.sqrt(dx * dx + dy * dy);
    }
    const boxI = boxes[i] as Box;
    const boxJ = boxes[j] as Box;
    if (isFlat[i] === 0) return pointToBox(px[i] as number, py[i] as number, boxJ);
    if (isFlat[j] === 0) return pointToBox(px[j] as number, py[j] as number, boxI);
    return boxToBox(boxI, boxJ);
  }

  function partClearance(i: number): number {
    if (isFlat[i] === 0) return region.clearance(px[i] as number, py[i] as number);
    const box = boxes[i] as Box;
    let least = Number.POSITIVE_INFINITY;
    for (let corner = 0; corner < 4; corner++) {
      least = Math.min(least, region.clearance(cornerX(box, corner), cornerY(box, corner)));
    }
    for (const segment of segments) least = Math.min(least, boxToBox(box, segment));
    return least;
  }

  function strain(at: Float64Array, growth: number, shares?: Float64Array): Strain {
    setGrowth(growth);
    placeParts(at);
    shares?.fill(0);
    let value = 0;
    let slope = 0;
    const share = (part: number, short: number) => {
      if (shares === undefined) return;
      const i = owner[part] as number;
      shares[i] = (shares[i] as number) + short * short;
    };
    for (let i = 0; i < count; i++) {
      for (let j = i + 1; j < count; j++) {
        if (owner[i] === owner[j]) continue;
        const k = i * count + j;
        const short = (pairNeed[k] as number) - partDistance(i, j);
        if (short <= 0) continue;
        value += short * short;
        share(i, short);
        share(j, short);
        if ((pairNeed[k] as number) > (pairFloor[k] as number)) {
          slope += 2 * short * (pairSlope[k] as number);
        }
      }
      const need = wallNeed[i] as number;
      const short = need - partClearance(i);
      if (short <= 0) continue;
      value += short * short;
      share(i, short);
      if (need > (wallFloor[i] as number)) slope += 2 * short * (wallSlope[i] as number);
    }
    return { value, slope };
  }

  function growthOf(at: Float64Array): number {
    placeParts(at);
    let growth = Number.POSITIVE_INFINITY;
    for (let i = 0; i < count; i++) {
      const clear = partClearance(i);
      if (clear < (wallFloor[i] as number) - PAD_MM / 2) return Number.NEGATIVE_INFINITY;
      growth = Math.min(growth, allowed(clear, wallBase[i] as number, wallSlope[i] as number));
      for (let j = i + 1; j < count; j++) {
        if (owner[i] === owner[j]) continue;
        const k = i * count + j;
        const distance = partDistance(i, j);
        if (distance < (pairFloor[k] as number) - PAD_MM / 2) return Number.NEGATIVE_INFINITY;
        growth = Math.min(growth, allowed(distance, pairBase[k] as number, pairSlope[k] as number));
      }
    }
    return growth;
  }

  function contacts(at: Float64Array, growth: number): Contact[] | null {
    if (isFlat.includes(1)) return null;
    setGrowth(growth);
    placeParts(at);
    const found: Contact[] = [];
    for (let i = 0; i < count; i++) {
      for (let j = i + 1; j < count; j++) {
        if (owner[i] === owner[j]) continue;
        const distance = partDistance(i, j);
        if (distance > 0 && distance < (pairNeed[i * count + j] as number)) {
          found.push(pairContact(i, j, distance));
        }
      }
      region.walls(px[i] as number, py[i] as number, wallNeed[i] as number, (...seen) => {
        found.push(wallContact(i, ...seen));
      });
    }
    return found;
  }

  function again(known: readonly Contact[], at: Float64Array, growth: number): Contact[] {
    setGrowth(growth);
    placeParts(at);
    return known.map((contact) => {
      const { first, second } = contact;
      if (second >= 0) return pairContact(first, second, partDistance(first, second));
      let same = contact;
      const x = px[first] as number;
      const y = py[first] as number;
      region.walls(x, y, Number.POSITIVE_INFINITY, (distance, awayX, awayY, wall) => {
        if (wall === -1 - second) same = wallContact(first, distance, awayX, awayY, wall);
      });
      return same;
    });
  }

  function pairContact(i: number, j: number, distance: number): Contact {
    const k = i * count + j;
    const need = pairNeed[k] as number;
    const slope = need <= (pairFloor[k] as number) ? 0 : (pairSlope[k] as number);
    const ux = ((px[j] as number) - (px[i] as number)) / distance;
    const uy = ((py[j] as number) - (py[i] as number)) / distance;
    const contact = { first: i, second: j, rest: distance - need, slope, unknowns: [], rates: [] };
    addMove(contact, i, -ux, -uy);
    addMove(contact, j, ux, uy);
    return contact;
  }

  function wallContact(
    i: number,
    distance: number,
    awayX: number,
    awayY: number,
    wall: number,
  ): Contact {
    const need = wallNeed[i] as number;
    const slope = need <= (wallFloor[i] as number) ? 0 : (wallSlope[i] as number);
    const rest = distance - need;
    const contact = { first: i, second: -1 - wall, rest, slope, unknowns: [], rates: [] };
    addMove(contact, i, awayX, awayY);
    return contact;
  }

  /** A part's share in a contact, by the unknowns of its piece. */
  function addMove(
    { unknowns, rates }: { readonly unknowns: number[]; readonly rates: number[] },
    part: number,
    rateX: number,
    rateY: number,
  ): void {
    const i = owner[part] as number;
    if (isFrozen[2 * i] === 1) return;
    unknowns.push(2 * i, 2 * i + 1);
    rates.push(rateX, rateY);
    const turn = layout.turnAt[i] as number;
    if (turn < 0 || isFrozen[turn] === 1) return;
    const { dx, dy } = parts[part] as Part;
    const { cosine, sine } = boxes[part] as Box;
    const rx = dx * cosine - dy * sine;
    const ry = dx * sine + dy * cosine;
    unknowns.push(turn);
    rates.push((rx * rateY - ry * rateX) / (layout.arm[i] as number));
  }

  return {
    problem,
    layout,
    settle,
    strain,
    growthOf,
    contacts,
    again,
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

/** Sides of the outline and islands as boxes without thickness. */
function wallSegments(rings: readonly (readonly Vec2[])[]): Box[] {
  return rings.flatMap((ring) =>
    ring.flatMap((from, k) => {
      const to = ring[(k + 1) % ring.length] ?? from;
      const dx = to[0] - from[0];
      const dy = to[1] - from[1];
      const length = Math.sqrt(dx * dx + dy * dy);
      if (length === 0) return [];
      return [
        {
          x: (from[0] + to[0]) / 2,
          y: (from[1] + to[1]) / 2,
          cosine: dx / length,
          sine: dy / length,
          halfX: length / 2,
          halfY: 0,
        },
      ];
    }),
  );
}

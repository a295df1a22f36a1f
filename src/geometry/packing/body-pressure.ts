import {
  addCorner,
  type Box,
  type BoxPull,
  boxShortfall,
  cornerX,
  cornerY,
  pointShortfall,
} from './box-distance.ts';
import type { GrowthNeeds } from './growth-needs.ts';
import type { Objective } from './lbfgs.ts';
import type { Neighbours } from './neighbours.ts';
import type { Layout, Part } from './pack-problem.ts';
import type { PlacedParts } from './placed-parts.ts';
import type { Region } from './region.ts';

/**
 * Squared shortfalls of a layout of any bodies, with their gradient by the unknowns: one for each
 * pair and each wall that is too close.
 */
export function bodyPressure(
  region: Region,
  layout: Layout,
  placed: PlacedParts,
  needs: GrowthNeeds,
  neighbours: Neighbours,
  frozen: Int32Array,
): Objective {
  const { count, parts, owner, isFlat, places, boxes, segments } = placed;
  const pullX = new Float64Array(count);
  const pullY = new Float64Array(count);
  const pullTurn = new Float64Array(count);
  const wallPull = new Float64Array(2);
  const a: BoxPull = { x: 0, y: 0, turn: 0 };
  const b: BoxPull = { x: 0, y: 0, turn: 0 };

  function pressure(at: Float64Array, gradient: Float64Array): number {
    placed.place(at);
    const listed = neighbours.refresh(places);
    pullX.fill(0);
    pullY.fill(0);
    pullTurn.fill(0);
    let total = 0;
    for (let k = 0; k < listed; k++) {
      const i = neighbours.pairs[2 * k] as number;
      const j = neighbours.pairs[2 * k + 1] as number;
      const need = neighbours.needs[k] as number;
      total += isFlat[i] === 1 || isFlat[j] === 1 ? flatPair(i, j, need) : roundPair(i, j, need);
    }
    for (let i = 0; i < count; i++) {
      const need = needs.wall[i] as number;
      total += isFlat[i] === 1 ? wallOfBox(i, need) : wallOfPoint(i, need);
    }
    collect(gradient);
    return total;
  }

  function roundPair(i: number, j: number, need: number): number {
    const dx = (places[2 * j] as number) - (places[2 * i] as number);
    const dy = (places[2 * j + 1] as number) - (places[2 * i + 1] as number);
    const squared = dx * dx + dy * dy;
    if (squared >= need * need || need <= 0) return 0;
    const distance = Math.sqrt(squared);
    const short = need - distance;
    const push = distance > 0 ? (2 * short) / distance : 0;
    pullX[i] = (pullX[i] as number) + push * dx;
    pullY[i] = (pullY[i] as number) + push * dy;
    pullX[j] = (pullX[j] as number) - push * dx;
    pullY[j] = (pullY[j] as number) - push * dy;
    return short * short;
  }

  /** At least one of the two is a rectangle. */
  function flatPair(i: number, j: number, need: number): number {
    a.x = a.y = a.turn = b.x = b.y = b.turn = 0;
    const boxI = boxes[i] as Box;
    const boxJ = boxes[j] as Box;
    let short: number;
    if (isFlat[i] === 0) short = pointShortfall(boxI.x, boxI.y, boxJ, need, a, b);
    else if (isFlat[j] === 0) short = pointShortfall(boxJ.x, boxJ.y, boxI, need, b, a);
    else short = boxShortfall(boxI, boxJ, need, a, b);
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

  function wallOfPoint(i: number, need: number): number {
    wallPull[0] = 0;
    wallPull[1] = 0;
    const x = places[2 * i] as number;
    const short = region.shortfall(x, places[2 * i + 1] as number, need, wallPull);
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
      const k = layout.turnAt[i] as number;
      if (k < 0) continue;
      const { dx, dy } = parts[part] as Part;
      const { cosine, sine } = boxes[part] as Box;
      const rx = dx * cosine - dy * sine;
      const ry = dx * sine + dy * cosine;
      const turn = (pullTurn[part] as number) + rx * fy - ry * fx;
      gradient[k] = (gradient[k] as number) + turn / (layout.arm[i] as number);
    }
    for (const k of frozen) gradient[k] = 0;
  }

  return pressure;
}

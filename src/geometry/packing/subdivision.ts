import type { Impossibility, Needs } from './impossibility.ts';

/** Larger sets of bodies make too many boxes for what they add. */
const MOST_BODIES = 7;
/** No proof rests on rounding: needs are taken this much smaller. */
const CAUTION = 1 - 1e-9;

/**
 * A proof by looking everywhere: the places of a few of the largest bodies are boxes of centres, cut
 * in halves again and again; a set of boxes is done with when one of them lies too close to the wall,
 * or two of them are too near each other however the centres lie in them. When none is left, the
 * bodies can't be placed. Null when `work` sets were not enough to see to the end, which proves
 * nothing.
 */
export function proveBySubdivision(needs: Needs, work: number): Impossibility | null {
  const order = needs.bodies
    .map((_, i) => i)
    .sort((a, b) => wallOf(needs, b) - wallOf(needs, a) || a - b);
  for (let count = 3; count <= Math.min(MOST_BODIES, order.length); count++) {
    const chosen = order.slice(0, count);
    const looked = lookEverywhere(needs, chosen, work);
    if (looked === null) continue;
    return {
      name: 'subdivision',
      text: `the places of ${chosen.map((i) => needs.bodies[i]?.name).join(', ')} were cut into ever smaller boxes; in each of ${looked} sets of boxes one is too close to the wall or two are too near each other.`,
    };
  }
  return null;
}

function wallOf({ bodies }: Needs, i: number): number {
  return bodies[i]?.wallMm ?? 0;
}

/** Sets of boxes looked at until none was left; null when there were too many. */
function lookEverywhere(needs: Needs, chosen: readonly number[], work: number): number | null {
  const { region } = needs;
  const count = chosen.length;
  const walls = chosen.map((i) => wallOf(needs, i) * CAUTION);
  const pair = new Float64Array(count * count);
  chosen.forEach((i, a) => {
    chosen.forEach((j, b) => {
      if (a !== b) pair[a * count + b] = needs.pairNeed(i, j) * CAUTION;
    });
  });
  const smallest = 1e-7 * (region.maxX - region.minX);
  const stack: Float64Array[] = [firstBoxes(needs, walls)];
  let looked = 0;
  while (stack.length > 0) {
    const boxes = stack.pop() as Float64Array;
    const widest = widestBox(boxes, count);
    const size = boxes[4 * widest + 1] as number;
    const from = boxes[4 * widest] as number;
    const height = (boxes[4 * widest + 3] as number) - (boxes[4 * widest + 2] as number);
    const side = size - from >= height ? 0 : 2;
    const low = boxes[4 * widest + side] as number;
    const high = boxes[4 * widest + side + 1] as number;
    if (high - low < smallest) return null;
    for (const half of [0, 1] as const) {
      if (++looked > work) return null;
      const next = boxes.slice();
      next[4 * widest + side + (half === 0 ? 1 : 0)] = (low + high) / 2;
      if (isPossible(needs, next, widest, walls, pair, count)) stack.push(next);
    }
  }
  return looked;
}

/**
 * x from, x to, y from, y to of each body's centres. By symmetry the first may stand on the axis of
 * a circle, or in one quarter of a rectangle, slot or oval.
 */
function firstBoxes({ region }: Needs, walls: readonly number[]): Float64Array {
  const boxes = new Float64Array(4 * walls.length);
  walls.forEach((wall, k) => {
    const isSymmetric = k === 0 && region.shape.type !== 'polygon';
    boxes[4 * k] = isSymmetric ? 0 : region.minX + wall;
    boxes[4 * k + 1] = region.maxX - wall;
    boxes[4 * k + 2] = isSymmetric ? 0 : region.minY + wall;
    boxes[4 * k + 3] = isSymmetric && region.shape.type === 'circle' ? 0 : region.maxY - wall;
  });
  return boxes;
}

function widestBox(boxes: Float64Array, count: number): number {
  let widest = 0;
  let most = -1;
  for (let k = 0; k < count; k++) {
    const width = (boxes[4 * k + 1] as number) - (boxes[4 * k] as number);
    const height = (boxes[4 * k + 3] as number) - (boxes[4 * k + 2] as number);
    const size = Math.max(width, height);
    if (size <= most) continue;
    most = size;
    widest = k;
  }
  return widest;
}

/** Whether the box that was cut can still hold a centre, as far as walls and pairs tell. */
function isPossible(
  { region }: Needs,
  boxes: Float64Array,
  changed: number,
  walls: readonly number[],
  pair: Float64Array,
  count: number,
): boolean {
  const x0 = boxes[4 * changed] as number;
  const x1 = boxes[4 * changed + 1] as number;
  const y0 = boxes[4 * changed + 2] as number;
  const y1 = boxes[4 * changed + 3] as number;
  const reach = Math.sqrt((x1 - x0) * (x1 - x0) + (y1 - y0) * (y1 - y0)) / 2;
  // The distance to the wall changes by no more than the way gone.
  const clear = region.clearance((x0 + x1) / 2, (y0 + y1) / 2) + reach;
  if (clear < (walls[changed] as number)) return false;
  for (let k = 0; k < count; k++) {
    if (k === changed) continue;
    const dx = Math.max(x1 - (boxes[4 * k] as number), (boxes[4 * k + 1] as number) - x0);
    const dy = Math.max(y1 - (boxes[4 * k + 2] as number), (boxes[4 * k + 3] as number) - y0);
    const need = pair[changed * count + k] as number;
    if (dx * dx + dy * dy < need * need) return false;
  }
  return true;
}

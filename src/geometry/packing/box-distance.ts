/*
 * Distances between rectangles that may be turned, and from points to them, with what the search
 * needs of them: squared shortfalls of a wanted distance and their gradients. A rectangle without
 * thickness is a segment, so that the sides of a polygon are boxes too.
 */

/** A rectangle about (x, y), its own x axis along (cosine, sine), half its sides along its axes. */
export interface Box {
  x: number;
  y: number;
  cosine: number;
  sine: number;
  halfX: number;
  halfY: number;
}

/** Gradient of a shortfall by the box's place and turn. */
export interface BoxPull {
  x: number;
  y: number;
  turn: number;
}

/** Signed distance from a point to a box: negative inside, by the nearest side. */
export function pointToBox(px: number, py: number, box: Box): number {
  const dx = px - box.x;
  const dy = py - box.y;
  const outX = Math.abs(dx * box.cosine + dy * box.sine) - box.halfX;
  const outY = Math.abs(dy * box.cosine - dx * box.sine) - box.halfY;
  if (outX <= 0 || outY <= 0) return Math.max(outX, outY);
  return Math.sqrt(outX * outX + outY * outY);
}

/**
 * Squared shortfall of a point that must keep `need` from a box; adds the gradient by the point to
 * `pull` and by the box to `boxPull`.
 */
export function pointShortfall(
  px: number,
  py: number,
  box: Box,
  need: number,
  pull: BoxPull,
  boxPull: BoxPull,
): number {
  const { cosine: c, sine: s } = box;
  const dx = px - box.x;
  const dy = py - box.y;
  const lx = dx * c + dy * s;
  const ly = dy * c - dx * s;
  const outX = Math.abs(lx) - box.halfX;
  const outY = Math.abs(ly) - box.halfY;
  let distance: number;
  let nx = 0;
  let ny = 0;
  if (outX <= 0 || outY <= 0) {
    distance = Math.max(outX, outY);
    if (outX >= outY) nx = lx < 0 ? -1 : 1;
    else ny = ly < 0 ? -1 : 1;
  } else {
    distance = Math.sqrt(outX * outX + outY * outY);
    nx = (lx < 0 ? -outX : outX) / distance;
    ny = (ly < 0 ? -outY : outY) / distance;
  }
  const short = need - distance;
  if (short <= 0) return 0;
  const wx = nx * c - ny * s;
  const wy = nx * s + ny * c;
  pull.x -= 2 * short * wx;
  pull.y -= 2 * short * wy;
  boxPull.x += 2 * short * wx;
  boxPull.y += 2 * short * wy;
  // Turning the box is turning the point the other way about its centre.
  boxPull.turn += 2 * short * (dx * wy - dy * wx);
  return short * short;
}

/** How far `b` lies beyond the most separating side of `a`, of a's own axes; and that axis. */
function separation(
  a: Box,
  b: Box,
): { readonly gap: number; readonly nx: number; readonly ny: number; readonly half: number } {
  const dx = b.x - a.x;
  const dy = b.y - a.y;
  const cos = Math.abs(a.cosine * b.cosine + a.sine * b.sine);
  const sin = Math.abs(a.cosine * b.sine - a.sine * b.cosine);
  const alongX = dx * a.cosine + dy * a.sine;
  const alongY = dy * a.cosine - dx * a.sine;
  const gapX = Math.abs(alongX) - a.halfX - b.halfX * cos - b.halfY * sin;
  const gapY = Math.abs(alongY) - a.halfY - b.halfX * sin - b.halfY * cos;
  // A segment has no side at its ends that could push: only its long one counts when inside.
  if (gapX >= gapY) {
    const sign = alongX < 0 ? -1 : 1;
    return { gap: gapX, nx: sign * a.cosine, ny: sign * a.sine, half: a.halfX };
  }
  const sign = alongY < 0 ? -1 : 1;
  return { gap: gapY, nx: -sign * a.sine, ny: sign * a.cosine, half: a.halfY };
}

/** Signed distance between boxes: true distance apart, else minus the least way out. */
export function boxToBox(a: Box, b: Box): number {
  const gap = Math.max(separation(a, b).gap, separation(b, a).gap);
  if (gap <= 0) return gap;
  let least = Number.POSITIVE_INFINITY;
  for (let corner = 0; corner < 4; corner++) {
    least = Math.min(least, pointToBox(cornerX(b, corner), cornerY(b, corner), a));
    least = Math.min(least, pointToBox(cornerX(a, corner), cornerY(a, corner), b));
  }
  return least;
}

const SIGN_X = [-1, 1, 1, -1] as const;
const SIGN_Y = [-1, -1, 1, 1] as const;

export function cornerX(box: Box, corner: number): number {
  const sx = (SIGN_X[corner] as number) * box.halfX;
  const sy = (SIGN_Y[corner] as number) * box.halfY;
  return box.x + sx * box.cosine - sy * box.sine;
}

export function cornerY(box: Box, corner: number): number {
  const sx = (SIGN_X[corner] as number) * box.halfX;
  const sy = (SIGN_Y[corner] as number) * box.halfY;
  return box.y + sx * box.sine + sy * box.cosine;
}

const cornerPull: BoxPull = { x: 0, y: 0, turn: 0 };

/**
 * Squared shortfalls of two boxes that must keep `need` apart, summed over the corners that are too
 * close, so that sides that lie along each other are turned parallel; gradients are added.
 */
export function boxShortfall(a: Box, b: Box, need: number, pullA: BoxPull, pullB: BoxPull): number {
  const fromA = separation(a, b);
  const fromB = separation(b, a);
  const gap = Math.max(fromA.gap, fromB.gap);
  if (gap >= need) return 0;
  if (gap <= 0) {
    return fromA.gap >= fromB.gap
      ? pushOut(a, b, fromA, need, pullA, pullB)
      : pushOut(b, a, fromB, need, pullB, pullA);
  }
  return cornersAgainst(b, a, need, pullB, pullA) + cornersAgainst(a, b, need, pullA, pullB);
}

/** Corners of `a` that come too close to `b`. */
function cornersAgainst(a: Box, b: Box, need: number, pullA: BoxPull, pullB: BoxPull): number {
  let total = 0;
  for (let corner = 0; corner < 4; corner++) {
    const px = cornerX(a, corner);
    const py = cornerY(a, corner);
    cornerPull.x = 0;
    cornerPull.y = 0;
    const short = pointShortfall(px, py, b, need, cornerPull, pullB);
    if (short === 0) continue;
    total += short;
    addCorner(a, px, py, cornerPull.x, cornerPull.y, pullA);
  }
  return total;
}

/** Adds the pull on a corner to the box it belongs to. */
export function addCorner(
  box: Box,
  px: number,
  py: number,
  pullX: number,
  pullY: number,
  pull: BoxPull,
): void {
  pull.x += pullX;
  pull.y += pullY;
  pull.turn += (px - box.x) * pullY - (py - box.y) * pullX;
}

/** Overlapping boxes: each corner of b not yet `need` beyond the chosen side of a is pushed out. */
function pushOut(
  a: Box,
  b: Box,
  side: { readonly nx: number; readonly ny: number; readonly half: number },
  need: number,
  pullA: BoxPull,
  pullB: BoxPull,
): number {
  const { nx, ny, half } = side;
  let total = 0;
  for (let corner = 0; corner < 4; corner++) {
    const px = cornerX(b, corner);
    const py = cornerY(b, corner);
    const short = need - ((px - a.x) * nx + (py - a.y) * ny - half);
    if (short <= 0) continue;
    total += short * short;
    addCorner(b, px, py, -2 * short * nx, -2 * short * ny, pullB);
    pullA.x += 2 * short * nx;
    pullA.y += 2 * short * ny;
    pullA.turn -= 2 * short * ((py - a.y) * nx - (px - a.x) * ny);
  }
  return total;
}

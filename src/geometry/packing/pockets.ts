import { signedPolygonAreaMm2 } from '../shape.ts';
import type { Vec2 } from '../vec.ts';
import { type Box, cornerX, cornerY, pointToBox } from './box-distance.ts';
import type { Region } from './region.ts';

/** A disc in the way of a further one: centre and the distance another centre must keep from it. */
export interface RoundObstacle {
  readonly x: number;
  readonly y: number;
  readonly reach: number;
}

/** A rectangle in the way, and the distance another centre must keep from its sides. */
export interface BoxObstacle {
  readonly box: Box;
  readonly reach: number;
}

export interface Obstacles {
  readonly rounds: readonly RoundObstacle[];
  readonly boxes: readonly BoxObstacle[];
}

/** Touching is told apart from overlap beyond this; callers ask for more than they need by more. */
const ROUNDING_MM = 1e-7;

/** Sides of the polygon an oval's wall is taken as. */
const OVAL_FACETS = 180;

/**
 * Discs of one size put into pockets one after another, each into the lowest, until none is left or
 * `most` are placed; `between` is what two of them keep between centres.
 */
export function fillPockets(
  region: Region,
  obstacles: Obstacles,
  wallNeed: number,
  between: number,
  most: number,
): Vec2[] {
  const placed: Vec2[] = [];
  const rounds = [...obstacles.rounds];
  const all = { rounds, boxes: obstacles.boxes };
  const edges = edgesOf(region, obstacles, wallNeed);
  const least = between - ROUNDING_MM;
  let open = touchingPoints(edges).filter(([x, y]) => isFree(region, all, wallNeed, x, y));
  while (placed.length < most) {
    const spot = lowest(open);
    if (spot === null) break;
    placed.push(spot);
    const ring = { x: spot[0], y: spot[1], reach: between };
    rounds.push(ring);
    open = open.filter(([x, y]) => {
      const dx = x - spot[0];
      const dy = y - spot[1];
      return dx * dx + dy * dy >= least * least;
    });
    for (const point of touchingWith(edges, ring)) {
      if (isFree(region, all, wallNeed, point[0], point[1])) open.push(point);
    }
    edges.rings.push(ring);
  }
  return placed;
}

/** Lowest, then leftmost: one fixed choice among the pockets. */
function lowest(spots: readonly Vec2[]): Vec2 | null {
  let best: Vec2 | null = null;
  for (const spot of spots) {
    if (best === null || spot[1] < best[1] || (spot[1] === best[1] && spot[0] < best[0])) {
      best = spot;
    }
  }
  return best;
}

/** Where a centre may lie that touches something: lines and circles; ends of the wall to start from. */
interface Edges {
  readonly lines: readonly Line[];
  readonly rings: RoundObstacle[];
  readonly ends: readonly Vec2[];
  /** Whether two lines can make a corner. */
  readonly hasCorners: boolean;
}

function edgesOf(region: Region, obstacles: Obstacles, wallNeed: number): Edges {
  const wall = offsetWall(region, wallNeed);
  return {
    lines: [...wall.lines, ...obstacles.boxes.flatMap(boxLines)],
    rings: [...wall.circles, ...obstacles.boxes.flatMap(boxCorners), ...obstacles.rounds],
    ends: wall.ends,
    hasCorners: region.shape.type !== 'oval' || obstacles.boxes.length > 0,
  };
}

function touchingPoints({ lines, rings, ends, hasCorners }: Edges): Vec2[] {
  const found: Vec2[] = [...ends];
  for (let i = 0; i < rings.length; i++) {
    const ring = rings[i] as RoundObstacle;
    for (let j = i + 1; j < rings.length; j++) {
      found.push(...meetCircles(ring, rings[j] as RoundObstacle));
    }
    for (const line of lines) found.push(...meetLine(ring, line));
  }
  if (!hasCorners) return found;
  for (let i = 0; i < lines.length; i++) {
    for (let j = i + 1; j < lines.length; j++) found.push(...meetLines(lines[i], lines[j]));
  }
  return found;
}

function touchingWith({ lines, rings }: Edges, ring: RoundObstacle): Vec2[] {
  return [
    ...rings.flatMap((other) => meetCircles(ring, other)),
    ...lines.flatMap((line) => meetLine(ring, line)),
  ];
}

/** Whether a centre keeps what it must from the wall and every obstacle. */
function isFree(
  region: Region,
  { rounds, boxes }: Obstacles,
  wallNeed: number,
  x: number,
  y: number,
): boolean {
  for (const { x: ox, y: oy, reach } of rounds) {
    const need = reach - ROUNDING_MM;
    const dx = x - ox;
    const dy = y - oy;
    if (need > 0 && dx * dx + dy * dy < need * need) return false;
  }
  for (const { box, reach } of boxes) {
    if (pointToBox(x, y, box) < reach - ROUNDING_MM) return false;
  }
  return region.clearance(x, y) >= wallNeed - ROUNDING_MM;
}

function boxLines({ box, reach }: BoxObstacle): Line[] {
  const { x, y, cosine, sine } = box;
  const outX = box.halfX + reach;
  const outY = box.halfY + reach;
  return [
    { x: x - sine * outY, y: y + cosine * outY, dx: cosine, dy: sine },
    { x: x + sine * outY, y: y - cosine * outY, dx: cosine, dy: sine },
    { x: x + cosine * outX, y: y + sine * outX, dx: -sine, dy: cosine },
    { x: x - cosine * outX, y: y - sine * outX, dx: -sine, dy: cosine },
  ];
}

function boxCorners({ box, reach }: BoxObstacle): RoundObstacle[] {
  return [0, 1, 2, 3].map((corner) => ({
    x: cornerX(box, corner),
    y: cornerY(box, corner),
    reach,
  }));
}

interface Line {
  readonly x: number;
  readonly y: number;
  readonly dx: number;
  readonly dy: number;
  /** Where it ends, counted from (x, y); endless when absent. */
  readonly length?: number;
}

/**
 * Where a centre may lie that touches the wall: lines (unit direction) and circles; and its lowest,
 * highest and outermost points, where a disc lies with nothing to be pushed against.
 */
function offsetWall(
  region: Region,
  need: number,
): {
  readonly lines: readonly Line[];
  readonly circles: readonly RoundObstacle[];
  readonly ends: readonly Vec2[];
} {
  const { shape } = region;
  switch (shape.type) {
    case 'circle': {
      const reach = shape.diameterMm / 2 - need;
      return { lines: [], circles: roundEnd(0, 0, reach), ends: fourEnds(reach, reach) };
    }
    case 'slot': {
      const long = Math.max(shape.lengthMm, shape.widthMm);
      const short = Math.min(shape.lengthMm, shape.widthMm);
      const half = (long - short) / 2;
      const radius = short / 2 - need;
      const alongX = shape.lengthMm >= shape.widthMm;
      const [cx, cy] = alongX ? [half, 0] : [0, half];
      const side = alongX ? { dx: 1, dy: 0 } : { dx: 0, dy: 1 };
      return {
        lines: [
          { x: -side.dy * radius, y: side.dx * radius, ...side },
          { x: side.dy * radius, y: -side.dx * radius, ...side },
        ],
        circles: [...roundEnd(cx, cy, radius), ...roundEnd(-cx, -cy, radius)],
        ends: fourEnds(cx + radius, cy + radius),
      };
    }
    case 'rectangle': {
      const x = shape.widthMm / 2 - need;
      const y = shape.heightMm / 2 - need;
      return {
        lines: [
          { x: -x, y: 0, dx: 0, dy: 1 },
          { x, y: 0, dx: 0, dy: 1 },
          { x: 0, y: -y, dx: 1, dy: 0 },
          { x: 0, y, dx: 1, dy: 0 },
        ],
        circles: [],
        ends: [],
      };
    }
    case 'oval':
      return {
        lines: offsetEdges(ovalPoints(shape.lengthMm, shape.widthMm), need),
        circles: [],
        ends: fourEnds(shape.lengthMm / 2 - need, shape.widthMm / 2 - need),
      };
    case 'polygon': {
      const islands = shape.islandsMm ?? [];
      const corners = [
        ...inwardCorners(anticlockwise(shape.pointsMm), false),
        ...islands.flatMap((island) => inwardCorners(anticlockwise(island), true)),
      ].map(([x, y]) => ({ x, y, reach: need }));
      return {
        lines: [
          ...offsetEdges(anticlockwise(shape.pointsMm), need),
          ...islands.flatMap((island) => offsetEdges(anticlockwise(island), -need)),
        ],
        circles: need > 0 ? corners : [],
        ends: [],
      };
    }
  }
}

function fourEnds(x: number, y: number): Vec2[] {
  return [
    [0, -y],
    [0, y],
    [-x, 0],
    [x, 0],
  ];
}

/** Corners of an anticlockwise ring that a disc can touch: reflex ones, or an island's others. */
function inwardCorners(ring: readonly Vec2[], isIsland: boolean): Vec2[] {
  return ring.filter((at, k) => {
    const before = ring[(k + ring.length - 1) % ring.length] ?? at;
    const after = ring[(k + 1) % ring.length] ?? at;
    const turn =
      (at[0] - before[0]) * (after[1] - at[1]) - (at[1] - before[1]) * (after[0] - at[0]);
    return isIsland ? turn > 0 : turn < 0;
  });
}

function anticlockwise(ring: readonly Vec2[]): readonly Vec2[] {
  return signedPolygonAreaMm2(ring) < 0 ? [...ring].reverse() : ring;
}

function roundEnd(x: number, y: number, reach: number): RoundObstacle[] {
  return reach >= 0 ? [{ x, y, reach }] : [];
}

/** Each edge of an anticlockwise ring moved to its left by `need`. */
function offsetEdges(ring: readonly Vec2[], need: number): Line[] {
  const lines: Line[] = [];
  ring.forEach((from, k) => {
    const to = ring[(k + 1) % ring.length] ?? from;
    const ex = to[0] - from[0];
    const ey = to[1] - from[1];
    const length = Math.sqrt(ex * ex + ey * ey);
    if (length === 0) return;
    const dx = ex / length;
    const dy = ey / length;
    lines.push({ x: from[0] - dy * need, y: from[1] + dx * need, dx, dy, length });
  });
  return lines;
}

/** Points on an ellipse without sines: the rational form (1 − t²)/(1 + t²), 2t/(1 + t²). */
function ovalPoints(length: number, width: number): Vec2[] {
  const points: Vec2[] = [];
  const quarter = OVAL_FACETS / 4;
  for (const [sx, sy] of [
    [1, 1],
    [-1, 1],
    [-1, -1],
    [1, -1],
  ] as const) {
    for (let k = 0; k < quarter; k++) {
      const t = (sx === sy ? k : quarter - k) / quarter;
      const whole = 1 + t * t;
      points.push([(((sx * length) / 2) * (1 - t * t)) / whole, (sy * width * t) / whole]);
    }
  }
  return points;
}

function meetCircles(a: RoundObstacle, b: RoundObstacle): Vec2[] {
  const dx = b.x - a.x;
  const dy = b.y - a.y;
  const squared = dx * dx + dy * dy;
  if (squared === 0) return [];
  const distance = Math.sqrt(squared);
  if (distance > a.reach + b.reach || distance < Math.abs(a.reach - b.reach)) return [];
  const along = (squared + a.reach * a.reach - b.reach * b.reach) / (2 * distance);
  const across = Math.sqrt(Math.max(0, a.reach * a.reach - along * along));
  const ux = dx / distance;
  const uy = dy / distance;
  const mx = a.x + along * ux;
  const my = a.y + along * uy;
  return [
    [mx - across * uy, my + across * ux],
    [mx + across * uy, my - across * ux],
  ];
}

function meetLine(circle: RoundObstacle, line: Line): Vec2[] {
  const ox = circle.x - line.x;
  const oy = circle.y - line.y;
  const along = ox * line.dx + oy * line.dy;
  const away = oy * line.dx - ox * line.dy;
  const squared = circle.reach * circle.reach - away * away;
  if (squared < 0) return [];
  const half = Math.sqrt(squared);
  const points: Vec2[] = [];
  for (const t of [along - half, along + half]) {
    if (isOn(line, t)) points.push([line.x + t * line.dx, line.y + t * line.dy]);
  }
  return points;
}

function meetLines(a: Line | undefined, b: Line | undefined): Vec2[] {
  if (a === undefined || b === undefined) return [];
  const cross = a.dx * b.dy - a.dy * b.dx;
  if (Math.abs(cross) < 1e-9) return [];
  const ox = b.x - a.x;
  const oy = b.y - a.y;
  const t = (ox * b.dy - oy * b.dx) / cross;
  const u = (ox * a.dy - oy * a.dx) / cross;
  if (!isOn(a, t) || !isOn(b, u)) return [];
  return [[a.x + t * a.dx, a.y + t * a.dy]];
}

function isOn({ length }: Line, t: number): boolean {
  return length === undefined || (t >= -ROUNDING_MM && t <= length + ROUNDING_MM);
}

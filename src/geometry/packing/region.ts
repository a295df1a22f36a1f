import type { Shape } from '../shape.ts';
import { shapeAreaMm2, signedPolygonAreaMm2 } from '../shape.ts';
import type { Vec2 } from '../vec.ts';
import { nearestOnEllipse } from './ellipse-distance.ts';

/**
 * The inside of an opening as the packing search sees it. Millimetres; the frame of the shape.
 */
export interface Region {
  readonly shape: Shape;
  /** Signed distance to the wall: positive inside, negative outside or in an island. */
  clearance(x: number, y: number): number;
  /**
   * Squared shortfalls of a point that must keep `need` from the wall, one for each wall too close;
   * their gradient is added to `out[0]`, `out[1]`. Zero exactly when the need is met.
   */
  shortfall(x: number, y: number, need: number, out: Float64Array): number;
  /**
   * Each wall nearer to an inside point than `within`: its distance and the direction away from it.
   */
  walls(x: number, y: number, within: number, see: SeeWall): void;
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
  readonly isConvex: boolean;
  readonly areaMm2: number;
  /** Outline and islands of a polygon; none for other shapes. */
  readonly rings: readonly (readonly Vec2[])[];
}

/** `wall` numbers the walls of a region, so that one can be found again. */
export type SeeWall = (distance: number, awayX: number, awayY: number, wall: number) => void;

export function regionOf(shape: Shape): Region {
  switch (shape.type) {
    case 'circle':
      return slotRegion(shape, 0, shape.diameterMm / 2, true);
    case 'slot': {
      const isLong = shape.lengthMm >= shape.widthMm;
      const width = isLong ? shape.widthMm : shape.lengthMm;
      const length = isLong ? shape.lengthMm : shape.widthMm;
      return slotRegion(shape, (length - width) / 2, width / 2, isLong);
    }
    case 'rectangle':
      return rectangleRegion(shape);
    case 'oval':
      return ovalRegion(shape);
    case 'polygon':
      return polygonRegion(shape);
  }
}

/** All points within `radius` of a segment of half length `half` along x (or y): a circle when 0. */
function slotRegion(shape: Shape, half: number, radius: number, alongX: boolean): Region {
  const coreX = alongX ? half : 0;
  const coreY = alongX ? 0 : half;
  const clampX = (x: number) => x - Math.max(-coreX, Math.min(coreX, x));
  const clampY = (y: number) => y - Math.max(-coreY, Math.min(coreY, y));
  return {
    shape,
    clearance: (x, y) => {
      const dx = clampX(x);
      const dy = clampY(y);
      return radius - Math.sqrt(dx * dx + dy * dy);
    },
    shortfall: (x, y, need, out) => {
      const dx = clampX(x);
      const dy = clampY(y);
      const distance = Math.sqrt(dx * dx + dy * dy);
      const short = need - radius + distance;
      if (short <= 0) return 0;
      if (distance > 0) {
        const pull = (2 * short) / distance;
        out[0] = (out[0] as number) + pull * dx;
        out[1] = (out[1] as number) + pull * dy;
      }
      return short * short;
    },
    walls: (x, y, within, see) => {
      const dx = clampX(x);
      const dy = clampY(y);
      const distance = Math.sqrt(dx * dx + dy * dy);
      if (distance === 0 || radius - distance >= within) return;
      see(radius - distance, -dx / distance, -dy / distance, 0);
    },
    minX: -coreX - radius,
    minY: -coreY - radius,
    maxX: coreX + radius,
    maxY: coreY + radius,
    isConvex: true,
    areaMm2: shapeAreaMm2(shape),
    rings: [],
  };
}

function rectangleRegion(shape: Shape & { readonly type: 'rectangle' }): Region {
  const halfX = shape.widthMm / 2;
  const halfY = shape.heightMm / 2;
  return {
    shape,
    clearance: (x, y) => {
      const cx = halfX - Math.abs(x);
      const cy = halfY - Math.abs(y);
      if (cx < 0 && cy < 0) return -Math.sqrt(cx * cx + cy * cy);
      return Math.min(cx, cy);
    },
    shortfall: (x, y, need, out) => {
      const shortX = need - halfX + Math.abs(x);
      const shortY = need - halfY + Math.abs(y);
      let total = 0;
      // A body wider than the opening is pressed by both walls: count the far one too.
      const farX = need - halfX - Math.abs(x);
      const farY = need - halfY - Math.abs(y);
      if (shortX > 0) {
        total += shortX * shortX;
        out[0] = (out[0] as number) + (x < 0 ? -2 : 2) * shortX;
      }
      if (shortY > 0) {
        total += shortY * shortY;
        out[1] = (out[1] as number) + (y < 0 ? -2 : 2) * shortY;
      }
      if (farX > 0) {
        total += farX * farX;
        out[0] = (out[0] as number) + (x < 0 ? 2 : -2) * farX;
      }
      if (farY > 0) {
        total += farY * farY;
        out[1] = (out[1] as number) + (y < 0 ? 2 : -2) * farY;
      }
      return total;
    },
    walls: (x, y, within, see) => {
      if (halfX + x < within) see(halfX + x, 1, 0, 0);
      if (halfX - x < within) see(halfX - x, -1, 0, 1);
      if (halfY + y < within) see(halfY + y, 0, 1, 2);
      if (halfY - y < within) see(halfY - y, 0, -1, 3);
    },
    minX: -halfX,
    minY: -halfY,
    maxX: halfX,
    maxY: halfY,
    isConvex: true,
    areaMm2: shapeAreaMm2(shape),
    rings: [],
  };
}

function ovalRegion(shape: Shape & { readonly type: 'oval' }): Region {
  const a = shape.lengthMm / 2;
  const b = shape.widthMm / 2;
  const signed = (x: number, y: number, nx: number, ny: number) => {
    const dx = x - nx;
    const dy = y - ny;
    const distance = Math.sqrt(dx * dx + dy * dy);
    const u = x / a;
    const v = y / b;
    return u * u + v * v <= 1 ? distance : -distance;
  };
  return {
    shape,
    clearance: (x, y) => {
      const [nx, ny] = nearestOnEllipse(a, b, x, y);
      return signed(x, y, nx, ny);
    },
    shortfall: (x, y, need, out) => {
      const [nx, ny] = nearestOnEllipse(a, b, x, y);
      const clearance = signed(x, y, nx, ny);
      const short = need - clearance;
      if (short <= 0) return 0;
      // Outward normal of the ellipse at the nearest point: stable on the wall itself.
      const gx = nx / (a * a);
      const gy = ny / (b * b);
      const pull = (2 * short) / Math.sqrt(gx * gx + gy * gy);
      out[0] = (out[0] as number) + pull * gx;
      out[1] = (out[1] as number) + pull * gy;
      return short * short;
    },
    walls: (x, y, within, see) => {
      const [nx, ny] = nearestOnEllipse(a, b, x, y);
      const clearance = signed(x, y, nx, ny);
      if (clearance >= within) return;
      const gx = nx / (a * a);
      const gy = ny / (b * b);
      const length = Math.sqrt(gx * gx + gy * gy);
      see(clearance, -gx / length, -gy / length, 0);
    },
    minX: -a,
    minY: -b,
    maxX: a,
    maxY: b,
    isConvex: true,
    areaMm2: shapeAreaMm2(shape),
    rings: [],
  };
}

/** Edges of the outline and islands as flat numbers: ax, ay, dx, dy, dx² + dy². */
function polygonRegion(shape: Shape & { readonly type: 'polygon' }): Region {
  const rings = [shape.pointsMm, ...(shape.islandsMm ?? [])];
  const edges: number[] = [];
  const inward: number[] = [];
  for (const [r, ring] of rings.entries()) {
    // Reflex corners of the outline and the other corners of islands stick into the opening.
    const sense = (signedPolygonAreaMm2(ring) > 0 ? 1 : -1) * (r === 0 ? -1 : 1);
    ring.forEach((from, k) => {
      const to = ring[(k + 1) % ring.length] ?? from;
      const before = ring[(k + ring.length - 1) % ring.length] ?? from;
      const dx = to[0] - from[0];
      const dy = to[1] - from[1];
      const squared = dx * dx + dy * dy;
      if (squared === 0) return;
      const turn = (from[0] - before[0]) * dy - (from[1] - before[1]) * dx;
      edges.push(from[0], from[1], dx, dy, squared);
      inward.push(turn * sense >= 0 ? 1 : 0);
    });
  }
  const flat = Float64Array.from(edges);
  const isInward = Uint8Array.from(inward);
  /**
   * Where along edge e (0–1) a point is nearest; −1 where the edge does not face it and its first
   * corner does not stick out. So finely faceted curves press once, not with every facet.
   */
  const facing = (e: number, ox: number, oy: number) => {
    const dx = flat[e + 2] as number;
    const dy = flat[e + 3] as number;
    const along = (ox * dx + oy * dy) / (flat[e + 4] as number);
    if (along >= -1e-9 && along <= 1 + 1e-9) return Math.max(0, Math.min(1, along));
    return along < 0 && isInward[e / 5] === 1 ? 0 : -1;
  };
  const xs = shape.pointsMm.map(([x]) => x);
  const ys = shape.pointsMm.map(([, y]) => y);
  const nearest = { distance: 0, nx: 0, ny: 0 };

  /** Even-odd over all rings, so that a point in an island is outside. */
  const isInside = (x: number, y: number) => {
    let inside = false;
    for (let e = 0; e < flat.length; e += 5) {
      const ay = flat[e + 1] as number;
      const by = ay + (flat[e + 3] as number);
      if (ay > y !== by > y) {
        const cut = (flat[e] as number) + ((y - ay) / (by - ay)) * (flat[e + 2] as number);
        if (x < cut) inside = !inside;
      }
    }
    return inside;
  };
  const findNearest = (x: number, y: number) => {
    let best = Number.POSITIVE_INFINITY;
    for (let e = 0; e < flat.length; e += 5) {
      const ox = x - (flat[e] as number);
      const oy = y - (flat[e + 1] as number);
      const dx = flat[e + 2] as number;
      const dy = flat[e + 3] as number;
      const along = Math.max(0, Math.min(1, (ox * dx + oy * dy) / (flat[e + 4] as number)));
      const rx = ox - along * dx;
      const ry = oy - along * dy;
      const squared = rx * rx + ry * ry;
      if (squared < best) {
        best = squared;
        nearest.nx = rx;
        nearest.ny = ry;
      }
    }
    nearest.distance = Math.sqrt(best);
  };

  return {
    shape,
    clearance: (x, y) => {
      findNearest(x, y);
      return isInside(x, y) ? nearest.distance : -nearest.distance;
    },
    shortfall: (x, y, need, out) => {
      if (!isInside(x, y)) {
        findNearest(x, y);
        const { distance, nx, ny } = nearest;
        const short = Math.max(0, need) + distance;
        if (distance > 0) {
          const pull = (2 * short) / distance;
          out[0] = (out[0] as number) + pull * nx;
          out[1] = (out[1] as number) + pull * ny;
        }
        return short * short;
      }
      let total = 0;
      for (let e = 0; e < flat.length; e += 5) {
        const ox = x - (flat[e] as number);
        const oy = y - (flat[e + 1] as number);
        const dx = flat[e + 2] as number;
        const dy = flat[e + 3] as number;
        const along = facing(e, ox, oy);
        if (along < 0) continue;
        const rx = ox - along * dx;
        const ry = oy - along * dy;
        const squared = rx * rx + ry * ry;
        if (squared >= need * need || need <= 0) continue;
        const distance = Math.sqrt(squared);
        const short = need - distance;
        total += short * short;
        if (distance > 0) {
          const push = (2 * short) / distance;
          out[0] = (out[0] as number) - push * rx;
          out[1] = (out[1] as number) - push * ry;
        }
      }
      return total;
    },
    walls: (x, y, within, see) => {
      for (let e = 0; e < flat.length; e += 5) {
        const ox = x - (flat[e] as number);
        const oy = y - (flat[e + 1] as number);
        const dx = flat[e + 2] as number;
        const dy = flat[e + 3] as number;
        const along = facing(e, ox, oy);
        if (along < 0) continue;
        const rx = ox - along * dx;
        const ry = oy - along * dy;
        const distance = Math.sqrt(rx * rx + ry * ry);
        if (distance > 0 && distance < within) see(distance, rx / distance, ry / distance, e);
      }
    },
    minX: Math.min(...xs),
    minY: Math.min(...ys),
    maxX: Math.max(...xs),
    maxY: Math.max(...ys),
    isConvex: rings.length === 1 && isConvexRing(shape.pointsMm),
    areaMm2: shapeAreaMm2(shape),
    rings,
  };
}

function isConvexRing(points: readonly Vec2[]): boolean {
  let sign = 0;
  for (let k = 0; k < points.length; k++) {
    const a = points[k];
    const b = points[(k + 1) % points.length];
    const c = points[(k + 2) % points.length];
    if (a === undefined || b === undefined || c === undefined) return false;
    const turn = (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]);
    if (turn === 0) continue;
    if (sign !== 0 && turn > 0 !== sign > 0) return false;
    sign = turn;
  }
  return true;
}

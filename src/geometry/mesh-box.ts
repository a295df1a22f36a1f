import { convexHull } from './convex-hull.ts';
import { recogniseOutline } from './outline-shape.ts';
import type { Shape } from './shape.ts';
import { add3, cross3, dot3, length3, scale3, sub3, unit3, type Vec2, type Vec3 } from './vec.ts';

/** Triangles over shared points, as the model's meshes have them. */
export interface TriangleMesh {
  readonly positionsMm: Float64Array;
  readonly triangles: Uint32Array;
}

/** A point of a mesh by its number. */
export function meshPoint(mesh: TriangleMesh, vertex: number): Vec3 {
  const at = vertex * 3;
  return [
    mesh.positionsMm[at] ?? Number.NaN,
    mesh.positionsMm[at + 1] ?? Number.NaN,
    mesh.positionsMm[at + 2] ?? Number.NaN,
  ];
}

/** Whether every coordinate is a number and there is a triangle. */
export function isUsableMesh(mesh: TriangleMesh): boolean {
  if (mesh.triangles.length < 3) return false;
  // A plain loop: this looks at every corner of a model.
  for (const value of mesh.positionsMm) if (!Number.isFinite(value)) return false;
  return true;
}

/** A body seen as swept straight along its longest direction. */
export interface LongBox {
  readonly startMm: Vec3;
  readonly endMm: Vec3;
  /** Unit vectors across: of the section's width and height. */
  readonly right: Vec3;
  readonly up: Vec3;
  readonly shape: Shape;
}

/**
 * The box along the principal direction of a mesh's surface, its section round where the mesh is.
 * Null for an empty or flat mesh.
 */
export function longBox(mesh: TriangleMesh): LongBox | null {
  const direction = principalDirection(mesh);
  if (direction === null) return null;
  return boxAlong(mesh, direction);
}

/** The box of a mesh along a given unit direction. */
function boxAlong(mesh: TriangleMesh, along: Vec3): LongBox | null {
  const [right, up] = bestAcross(mesh, along);
  const low: [number, number, number] = [Infinity, Infinity, Infinity];
  const high: [number, number, number] = [-Infinity, -Infinity, -Infinity];
  const vertices = new Set(mesh.triangles);
  for (const vertex of vertices) {
    const p = meshPoint(mesh, vertex);
    const local = [dot3(p, right), dot3(p, up), dot3(p, along)];
    for (let n = 0; n < 3; n += 1) {
      low[n] = Math.min(low[n] ?? 0, local[n] ?? 0);
      high[n] = Math.max(high[n] ?? 0, local[n] ?? 0);
    }
  }
  const [width, height, length] = [high[0] - low[0], high[1] - low[1], high[2] - low[2]];
  if (!(width > 1e-6 && height > 1e-6 && length > 1e-6)) return null;
  const centre: Vec2 = [(low[0] + high[0]) / 2, (low[1] + high[1]) / 2];
  const middle = add3(scale3(right, centre[0]), scale3(up, centre[1]));
  return {
    startMm: add3(middle, scale3(along, low[2])),
    endMm: add3(middle, scale3(along, high[2])),
    right,
    up,
    shape: roundShape(mesh, vertices, right, up, centre, Math.max(width, height)) ?? {
      type: 'rectangle',
      widthMm: width,
      heightMm: height,
    },
  };
}

/** A circle where no point of the mesh lies in the corners of its box. */
function roundShape(
  mesh: TriangleMesh,
  vertices: ReadonlySet<number>,
  right: Vec3,
  up: Vec3,
  centre: Vec2,
  size: number,
): Shape | null {
  const hull = convexHull(
    [...vertices].map((vertex): Vec2 => {
      const p = meshPoint(mesh, vertex);
      return [dot3(p, right) - centre[0], dot3(p, up) - centre[1]];
    }),
    size * 1e-4,
  );
  const shape = recogniseOutline(hull)?.shape;
  return shape?.type === 'circle' ? shape : null;
}

/** The direction in which the surface is spread most: first eigenvector of its second moments. */
function principalDirection(mesh: TriangleMesh): Vec3 | null {
  let weight = 0;
  let centre: Vec3 = [0, 0, 0];
  const parts: { middle: Vec3; area: number }[] = [];
  for (let n = 0; n + 2 < mesh.triangles.length; n += 3) {
    const [a, b, c] = triangleAt(mesh, n);
    const area = length3(cross3(sub3(b, a), sub3(c, a))) / 2;
    const middle = scale3(add3(add3(a, b), c), 1 / 3);
    parts.push({ middle, area });
    weight += area;
    centre = add3(centre, scale3(middle, area));
  }
  if (!(weight > 0)) return null;
  centre = scale3(centre, 1 / weight);
  const m = [0, 0, 0, 0, 0, 0];
  const addMoment = (p: Vec3, area: number): void => {
    const [x, y, z] = sub3(p, centre);
    [x * x, x * y, x * z, y * y, y * z, z * z].forEach((value, n) => {
      m[n] = (m[n] ?? 0) + value * area;
    });
  };
  for (let n = 0; n + 2 < mesh.triangles.length; n += 3) {
    const area = parts[n / 3]?.area ?? 0;
    for (const p of triangleAt(mesh, n)) addMoment(p, area / 12);
    addMoment(parts[n / 3]?.middle ?? centre, (area * 9) / 12);
  }
  return largestEigenvector(m);
}

/** Corners of the triangle whose first index stands at `at`. */
function triangleAt(mesh: TriangleMesh, at: number): readonly [Vec3, Vec3, Vec3] {
  return [
    meshPoint(mesh, mesh.triangles[at] ?? 0),
    meshPoint(mesh, mesh.triangles[at + 1] ?? 0),
    meshPoint(mesh, mesh.triangles[at + 2] ?? 0),
  ];
}

/** Largest eigenvector of a symmetric matrix xx, xy, xz, yy, yz, zz by Jacobi's rotations. */
function largestEigenvector(m: readonly number[]): Vec3 | null {
  const [xx = 0, xy = 0, xz = 0, yy = 0, yz = 0, zz = 0] = m;
  const a = [
    [xx, xy, xz],
    [xy, yy, yz],
    [xz, yz, zz],
  ];
  const v = [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ];
  const at = (rows: number[][], r: number, c: number): number => rows[r]?.[c] ?? 0;
  const put = (rows: number[][], r: number, c: number, value: number): void => {
    const row = rows[r];
    if (row !== undefined) row[c] = value;
  };
  for (let sweep = 0; sweep < 30; sweep += 1) {
    for (const [p, q] of [
      [0, 1],
      [0, 2],
      [1, 2],
    ] as const) {
      const apq = at(a, p, q);
      if (Math.abs(apq) < 1e-300) continue;
      const theta = (at(a, q, q) - at(a, p, p)) / (2 * apq);
      const t = (theta >= 0 ? 1 : -1) / (Math.abs(theta) + Math.sqrt(theta * theta + 1));
      const c = 1 / Math.sqrt(t * t + 1);
      const s = t * c;
      for (let k = 0; k < 3; k += 1) {
        const [kp, kq] = [at(a, k, p), at(a, k, q)];
        put(a, k, p, c * kp - s * kq);
        put(a, k, q, s * kp + c * kq);
      }
      for (let k = 0; k < 3; k += 1) {
        const [pk, qk] = [at(a, p, k), at(a, q, k)];
        put(a, p, k, c * pk - s * qk);
        put(a, q, k, s * pk + c * qk);
        const [vp, vq] = [at(v, k, p), at(v, k, q)];
        put(v, k, p, c * vp - s * vq);
        put(v, k, q, s * vp + c * vq);
      }
    }
  }
  const values = [at(a, 0, 0), at(a, 1, 1), at(a, 2, 2)];
  const best = values.indexOf(Math.max(...values));
  return unit3([at(v, 0, best), at(v, 1, best), at(v, 2, best)]);
}

/** Width and height directions of the smallest box across an axis, height nearer to plumb. */
function bestAcross(mesh: TriangleMesh, along: Vec3): readonly [Vec3, Vec3] {
  const hint: Vec3 = Math.abs(along[2]) > 0.9 ? [0, 1, 0] : [0, 0, 1];
  const plumb = unit3(sub3(hint, scale3(along, dot3(hint, along)))) ?? [0, 0, 1];
  let best: Vec3 = plumb;
  let least = boxArea(mesh, along, best) * (1 - 1e-6);
  const tried = new Set<string>();
  for (let n = 0; n + 2 < mesh.triangles.length && tried.size < 24; n += 3) {
    const [a, b, c] = triangleAt(mesh, n);
    const normal = unit3(cross3(sub3(b, a), sub3(c, a)));
    if (normal === null || Math.abs(dot3(normal, along)) > 0.05) continue;
    const across = unit3(sub3(normal, scale3(along, dot3(normal, along))));
    if (across === null) continue;
    const key = across.map((value) => Math.round(Math.abs(value) * 1000)).join();
    if (tried.has(key)) continue;
    tried.add(key);
    const area = boxArea(mesh, along, across);
    if (area < least) {
      least = area;
      best = across;
    }
  }
  const other = cross3(best, along);
  const up = Math.abs(dot3(best, plumb)) >= Math.abs(dot3(other, plumb)) ? best : other;
  const raised = dot3(up, plumb) < 0 ? scale3(up, -1) : up;
  return [cross3(along, raised), raised];
}

function boxArea(mesh: TriangleMesh, along: Vec3, across: Vec3): number {
  const other = cross3(across, along);
  let [lowA, highA, lowB, highB] = [Infinity, -Infinity, Infinity, -Infinity];
  for (const vertex of mesh.triangles) {
    const p = meshPoint(mesh, vertex);
    const a = dot3(p, across);
    const b = dot3(p, other);
    lowA = Math.min(lowA, a);
    highA = Math.max(highA, a);
    lowB = Math.min(lowB, b);
    highB = Math.max(highB, b);
  }
  return (highA - lowA) * (highB - lowB);
}

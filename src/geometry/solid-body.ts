import { type Box, boxOfPositions } from './box.ts';
import type { TriangleMesh } from './mesh-box.ts';
import type { Vec3 } from './vec.ts';

/** A mesh made ready to be crossed by lines: faces look outwards. */
export interface SolidBody {
  readonly box: Box;
  /** Nine numbers a triangle: its three corners. */
  readonly corners: Float64Array;
  /** Three numbers a triangle: its outward unit normal; zeros for a flat one. */
  readonly normals: Float64Array;
  readonly areas: Float64Array;
  readonly count: number;
  readonly tree: TriangleTree | null;
}

/** Where a line enters or leaves a body; the normal looks out of the body. */
export interface FaceHit {
  readonly at: number;
  readonly normal: Vec3;
}

/** A stretch of a line inside a body. */
export interface Stretch {
  readonly enter: FaceHit;
  readonly leave: FaceHit;
}

interface TriangleTree {
  readonly box: Box;
  readonly children: readonly [TriangleTree, TriangleTree] | null;
  readonly triangles: readonly number[];
}

const TREE_FROM = 64;
const LEAF_SIZE = 12;
/** Hits nearer than this along the line are one face met at an edge of two triangles, mm. */
const SAME_HIT_MM = 0.01;
/** How far beyond its edges a triangle still counts as met, in its own coordinates. */
const EDGE_SLACK = 1e-7;
const JITTERS_MM: readonly number[] = [0, 0.037, -0.053, 0.091];

/** Makes a mesh ready; a mesh turned inside out is turned back. */
export function solidBody(mesh: TriangleMesh): SolidBody {
  const count = Math.floor(mesh.triangles.length / 3);
  const corners = new Float64Array(count * 9);
  const normals = new Float64Array(count * 3);
  const areas = new Float64Array(count);
  for (let n = 0; n < count * 3; n += 1) {
    const vertex = (mesh.triangles[n] ?? 0) * 3;
    corners[n * 3] = mesh.positionsMm[vertex] ?? 0;
    corners[n * 3 + 1] = mesh.positionsMm[vertex + 1] ?? 0;
    corners[n * 3 + 2] = mesh.positionsMm[vertex + 2] ?? 0;
  }
  const box = boxOfPositions(corners);
  let volume = 0;
  for (let n = 0; n < count; n += 1) volume += addNormal(corners, normals, areas, n, box.low);
  if (volume < 0) for (let n = 0; n < normals.length; n += 1) normals[n] = -(normals[n] ?? 0);
  const body = { box, corners, normals, areas, count, tree: null };
  return count < TREE_FROM ? body : { ...body, tree: buildTree(corners, count) };
}

/** Writes the triangle's normal and area; gives six times the volume under it. */
function addNormal(
  corners: Float64Array,
  normals: Float64Array,
  areas: Float64Array,
  n: number,
  origin: Vec3,
): number {
  const c = n * 9;
  const ax = corners[c] ?? 0;
  const ay = corners[c + 1] ?? 0;
  const az = corners[c + 2] ?? 0;
  const ux = (corners[c + 3] ?? 0) - ax;
  const uy = (corners[c + 4] ?? 0) - ay;
  const uz = (corners[c + 5] ?? 0) - az;
  const wx = (corners[c + 6] ?? 0) - ax;
  const wy = (corners[c + 7] ?? 0) - ay;
  const wz = (corners[c + 8] ?? 0) - az;
  const x = uy * wz - uz * wy;
  const y = uz * wx - ux * wz;
  const z = ux * wy - uy * wx;
  const length = Math.sqrt(x * x + y * y + z * z);
  areas[n] = length / 2;
  if (length > 1e-9) {
    normals[n * 3] = x / length;
    normals[n * 3 + 1] = y / length;
    normals[n * 3 + 2] = z / length;
  }
  return x * (ax - origin[0]) + y * (ay - origin[1]) + z * (az - origin[2]);
}

export function faceNormal(body: SolidBody, n: number): Vec3 {
  return [body.normals[n * 3] ?? 0, body.normals[n * 3 + 1] ?? 0, body.normals[n * 3 + 2] ?? 0];
}

/** Middle of a triangle. */
export function faceMiddle(body: SolidBody, n: number): Vec3 {
  const c = body.corners;
  const at = n * 9;
  const mean = (k: number): number =>
    ((c[at + k] ?? 0) + (c[at + k + 3] ?? 0) + (c[at + k + 6] ?? 0)) / 3;
  return [mean(0), mean(1), mean(2)];
}

function buildTree(corners: Float64Array, count: number): TriangleTree {
  const split = (triangles: number[], depth: number): TriangleTree => {
    const box = boxOfTriangles(corners, triangles);
    if (triangles.length <= LEAF_SIZE || depth > 40) return { box, children: null, triangles };
    const sizes = [0, 1, 2].map((k) => (box.high[k] ?? 0) - (box.low[k] ?? 0));
    const axis = sizes.indexOf(Math.max(...sizes));
    const key = (n: number): number =>
      (corners[n * 9 + axis] ?? 0) +
      (corners[n * 9 + axis + 3] ?? 0) +
      (corners[n * 9 + axis + 6] ?? 0);
    triangles.sort((a, b) => key(a) - key(b) || a - b);
    const half = triangles.length >> 1;
    return {
      box,
      children: [
        split(triangles.slice(0, half), depth + 1),
        split(triangles.slice(half), depth + 1),
      ],
      triangles: [],
    };
  };
  return split(
    Array.from({ length: count }, (_, n) => n),
    0,
  );
}

function boxOfTriangles(corners: Float64Array, triangles: readonly number[]): Box {
  const low: [number, number, number] = [Infinity, Infinity, Infinity];
  const high: [number, number, number] = [-Infinity, -Infinity, -Infinity];
  for (const n of triangles) {
    for (let k = 0; k < 9; k += 1) {
      const value = corners[n * 9 + k] ?? 0;
      const axis = k % 3;
      if (value < (low[axis] ?? 0)) low[axis] = value;
      if (value > (high[axis] ?? 0)) high[axis] = value;
    }
  }
  return { low, high };
}

/**
 * Stretches of an endless line inside the body, in order along it. A line that runs along an edge
 * or through a seam of the mesh is tried again a hair beside it.
 * @param direction unit vector; `at` of the hits is measured along it from the origin, mm
 */
export function stretchesInside(
  body: SolidBody,
  origin: Vec3,
  direction: Vec3,
): readonly Stretch[] {
  let best: readonly Stretch[] = [];
  for (const jitter of JITTERS_MM) {
    const hits = lineHits(body, beside(origin, direction, jitter), direction);
    const { stretches, isSound } = pairHits(hits);
    if (isSound) return stretches;
    if (jitter === 0) best = stretches;
  }
  return best;
}

function beside(origin: Vec3, direction: Vec3, by: number): Vec3 {
  if (by === 0) return origin;
  const [x, y, z] = direction;
  // Two directions across, neither along an axis, so that the line leaves any edge it lies on.
  const across: Vec3 = Math.abs(z) < 0.9 ? [-y, x, 0.37] : [0.61, 0.43, 0];
  return [origin[0] + across[0] * by, origin[1] + across[1] * by, origin[2] + across[2] * by];
}

interface SignedHit extends FaceHit {
  readonly enters: boolean;
}

function lineHits(body: SolidBody, origin: Vec3, direction: Vec3): SignedHit[] {
  const line: CastLine = { origin, direction, hits: [] };
  if (body.tree === null) for (let n = 0; n < body.count; n += 1) meetTriangle(body, n, line);
  else visit(body, body.tree, line);
  return line.hits;
}

interface CastLine {
  readonly origin: Vec3;
  readonly direction: Vec3;
  readonly hits: SignedHit[];
}

/** Adds where a line meets a triangle, from either side. Möller and Trumbore (from memory). */
function meetTriangle({ corners, normals }: SolidBody, n: number, line: CastLine): void {
  const { origin, direction, hits } = line;
  const dx = direction[0];
  const dy = direction[1];
  const dz = direction[2];
  const nx = normals[n * 3] ?? 0;
  const ny = normals[n * 3 + 1] ?? 0;
  const nz = normals[n * 3 + 2] ?? 0;
  const facing = dx * nx + dy * ny + dz * nz;
  if (Math.abs(facing) < 1e-6) return;
  const c = n * 9;
  const ax = corners[c] ?? 0;
  const ay = corners[c + 1] ?? 0;
  const az = corners[c + 2] ?? 0;
  const ux = (corners[c + 3] ?? 0) - ax;
  const uy = (corners[c + 4] ?? 0) - ay;
  const uz = (corners[c + 5] ?? 0) - az;
  const vx = (corners[c + 6] ?? 0) - ax;
  const vy = (corners[c + 7] ?? 0) - ay;
  const vz = (corners[c + 8] ?? 0) - az;
  const px = dy * vz - dz * vy;
  const py = dz * vx - dx * vz;
  const pz = dx * vy - dy * vx;
  const determinant = ux * px + uy * py + uz * pz;
  if (determinant === 0) return;
  const tx = origin[0] - ax;
  const ty = origin[1] - ay;
  const tz = origin[2] - az;
  const u = (tx * px + ty * py + tz * pz) / determinant;
  if (u < -EDGE_SLACK || u > 1 + EDGE_SLACK) return;
  const qx = ty * uz - tz * uy;
  const qy = tz * ux - tx * uz;
  const qz = tx * uy - ty * ux;
  const v = (dx * qx + dy * qy + dz * qz) / determinant;
  if (v < -EDGE_SLACK || u + v > 1 + EDGE_SLACK) return;
  const at = (vx * qx + vy * qy + vz * qz) / determinant;
  hits.push({ at, enters: facing < 0, normal: [nx, ny, nz] });
}

function visit(body: SolidBody, tree: TriangleTree, line: CastLine): void {
  if (!lineMeetsBox(tree.box, line.origin, line.direction)) return;
  if (tree.children === null) for (const n of tree.triangles) meetTriangle(body, n, line);
  else for (const child of tree.children) visit(body, child, line);
}

/** Whether an endless line comes within a hair of a box. Slabs' method. */
function lineMeetsBox(box: Box, origin: Vec3, direction: Vec3): boolean {
  let from = -Infinity;
  let to = Infinity;
  for (let k = 0; k < 3; k += 1) {
    const d = direction[k] ?? 0;
    const low = (box.low[k] ?? 0) - 1e-3 - (origin[k] ?? 0);
    const high = (box.high[k] ?? 0) + 1e-3 - (origin[k] ?? 0);
    if (Math.abs(d) < 1e-12) {
      if (low > 0 || high < 0) return false;
      continue;
    }
    const a = low / d;
    const b = high / d;
    from = Math.max(from, Math.min(a, b));
    to = Math.min(to, Math.max(a, b));
  }
  return from <= to;
}

/** Entering and leaving hits made into stretches; sound when every way in has its way out. */
function pairHits(all: SignedHit[]): { stretches: readonly Stretch[]; isSound: boolean } {
  const hits = mergedHits(all);
  const stretches: Stretch[] = [];
  let depth = 0;
  let enter: SignedHit | null = null;
  let isSound = true;
  for (const hit of hits) {
    if (hit.enters) {
      if (depth === 0) enter = hit;
      depth += 1;
    } else {
      depth -= 1;
      if (depth < 0) {
        isSound = false;
        depth = 0;
      } else if (depth === 0 && enter !== null) {
        if (hit.at - enter.at > SAME_HIT_MM) stretches.push({ enter, leave: hit });
        enter = null;
      }
    }
  }
  if (depth === 0 && isSound) return { stretches, isSound };
  return { stretches: pairByTurns(hits), isSound: false };
}

/** Hits in order, those of one face at one place made one, ways in before ways out. */
function mergedHits(all: SignedHit[]): readonly SignedHit[] {
  const merged: SignedHit[] = [];
  for (const hit of inOrder(all)) {
    let place = merged.length;
    let isKnown = false;
    for (let n = merged.length - 1; n >= 0; n -= 1) {
      const other = merged[n];
      if (other === undefined || hit.at - other.at >= SAME_HIT_MM) break;
      if (other.enters === hit.enters) isKnown = true;
      else if (hit.enters) place = n;
    }
    if (isKnown) continue;
    if (place === merged.length) merged.push(hit);
    else merged.splice(place, 0, hit);
  }
  return merged;
}

/** A line meets a handful of faces: for so few, moving each back to its place beats sorting. */
const FEW_HITS = 16;

function inOrder(hits: SignedHit[]): readonly SignedHit[] {
  if (hits.length > FEW_HITS) return hits.sort((a, b) => a.at - b.at);
  for (let n = 1; n < hits.length; n += 1) {
    const hit = hits[n];
    if (hit === undefined) continue;
    let place = n;
    for (let before = hits[n - 1]; before !== undefined && before.at > hit.at; ) {
      hits[place] = before;
      place -= 1;
      before = hits[place - 1];
    }
    hits[place] = hit;
  }
  return hits;
}

/** For meshes whose faces look both ways: in and out by turns. */
function pairByTurns(hits: readonly SignedHit[]): readonly Stretch[] {
  const distinct: SignedHit[] = [];
  for (const hit of hits) {
    const last = distinct[distinct.length - 1];
    if (last === undefined || hit.at - last.at > SAME_HIT_MM) distinct.push(hit);
  }
  const stretches: Stretch[] = [];
  for (let n = 0; n + 1 < distinct.length; n += 2) {
    const enter = distinct[n];
    const leave = distinct[n + 1];
    if (enter && leave) stretches.push({ enter: facing(enter, true), leave: facing(leave, false) });
  }
  return stretches;
}

function facing(hit: SignedHit, enters: boolean): FaceHit {
  const [x, y, z] = hit.normal;
  return { at: hit.at, normal: hit.enters === enters ? hit.normal : [-x, -y, -z] };
}

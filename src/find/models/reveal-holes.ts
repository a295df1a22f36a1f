import { boxCentre, boxOfPoints } from '../../geometry/box.ts';
import {
  faceMiddle,
  faceNormal,
  type SolidBody,
  stretchesInside,
} from '../../geometry/solid-body.ts';
import { add3, dot3, scale3, sub3, unit3, type Vec3 } from '../../geometry/vec.ts';
import type { HostHole } from './hole-prism.ts';
import { type HostBody, isSeparatingFace } from './host-body.ts';
import { holeRound, isInHole, isShaftHole } from './host-holes.ts';
import { groupsOf, unionFind } from './union-find.ts';

/** A body of more triangles than this is no wall that anyone drew. */
const MOST_TRIANGLES = 20_000;
/** Corners this near are one, mm. */
const WELD_MM = 0.01;
/** Faces are looked for within this distance of a hole's middle, as a measure of its size, mm. */
const LARGEST_MM = 5000;

/**
 * Holes through a curved or angled host, whatever passes them: where the surfaces that look along the
 * host rather than out of it, a hole's reveal, hang together round an open middle.
 */
export function revealHoles(host: HostBody, shaftFromMm: number): readonly HostHole[] {
  const { body } = host;
  if (body.count > MOST_TRIANGLES) return [];
  const corners = weldedCorners(body);
  if (isWithoutHandles(body, corners)) return [];
  const isFace = Array.from({ length: body.count }, (_, n) =>
    isSeparatingFace(host, faceMiddle(body, n), faceNormal(body, n)),
  );
  const found: HostHole[] = [];
  for (const reveal of connected(body, corners, (n) => isFace[n] === false)) {
    const hole = holeOfReveal(host, reveal, corners, isFace);
    if (hole === null || isShaftHole(hole, host, shaftFromMm)) continue;
    if (isOpen(host, hole) && !found.some((other) => isInHole(other, hole.frame.originMm))) {
      found.push(hole);
    }
  }
  return found;
}

/** Number of each triangle's three corners, those at one place having one number. */
function weldedCorners({ corners, count }: SolidBody): Int32Array {
  const known = new Map<string, number>();
  return Int32Array.from({ length: count * 3 }, (_, n) => {
    const at = (k: number): number => Math.round((corners[n * 3 + k] ?? 0) / WELD_MM);
    const key = `${at(0)},${at(1)},${at(2)}`;
    const number = known.get(key) ?? known.size;
    known.set(key, number);
    return number;
  });
}

/**
 * Whether a closed surface has no hole through it: corners − edges + faces is 2 for each part of it
 * without one (Euler). A surface that is not closed tells nothing.
 */
function isWithoutHandles(body: SolidBody, corners: Int32Array): boolean {
  const used = new Map<number, number>();
  const most = corners.reduce((high, corner) => Math.max(high, corner), 0) + 1;
  for (let n = 0; n < body.count; n += 1) {
    for (let k = 0; k < 3; k += 1) {
      const a = corners[n * 3 + k] ?? 0;
      const b = corners[n * 3 + ((k + 1) % 3)] ?? 0;
      const edge = Math.min(a, b) * most + Math.max(a, b);
      used.set(edge, (used.get(edge) ?? 0) + 1);
    }
  }
  const isClosed = [...used.values()].every((times) => times === 2);
  const parts = connected(body, corners, () => true).length;
  return isClosed && new Set(corners).size - used.size + body.count === 2 * parts;
}

/** Triangles that share corners, group by group. */
function connected(
  body: SolidBody,
  corners: Int32Array,
  counts: (triangle: number) => boolean,
): readonly (readonly number[])[] {
  const own = Array.from({ length: body.count }, (_, n) => n).filter(counts);
  const sets = unionFind(own.length);
  const first = new Map<number, number>();
  own.forEach((triangle, n) => {
    for (let k = 0; k < 3; k += 1) {
      const corner = corners[triangle * 3 + k] ?? 0;
      const known = first.get(corner);
      if (known === undefined) first.set(corner, n);
      else sets.join(known, n);
    }
  });
  return groupsOf(own.length, sets).map((group) => group.map((n) => own[n] ?? 0));
}

/** The hole round the middle of a reveal, looked at along the faces that end at it. */
function holeOfReveal(
  host: HostBody,
  reveal: readonly number[],
  corners: Int32Array,
  isFace: readonly boolean[],
): HostHole | null {
  const { body, thicknessMm } = host;
  const edge = new Set(reveal.flatMap((n) => [0, 1, 2].map((k) => corners[n * 3 + k] ?? 0)));
  const box = boxOfPoints(reveal.flatMap((n) => trianglePoints(body, n)));
  const along = meanNormal(body, (n) => isFace[n] === true && touches(corners, n, edge));
  if (box === null || along === null) return null;
  const middle = boxCentre(box);
  const from = sub3(middle, scale3(along, 2 * thicknessMm));
  const lengthMm = 4 * thicknessMm;
  const to = add3(from, scale3(along, lengthMm));
  const line = { service: -1, number: 0, from, to, direction: along, lengthMm };
  return holeRound(host, line, LARGEST_MM);
}

const touches = (corners: Int32Array, n: number, edge: ReadonlySet<number>): boolean =>
  [0, 1, 2].some((k) => edge.has(corners[n * 3 + k] ?? -1));

function trianglePoints({ corners }: SolidBody, n: number): Vec3[] {
  return [0, 3, 6].map((k): Vec3 => {
    const at = n * 9 + k;
    return [corners[at] ?? 0, corners[at + 1] ?? 0, corners[at + 2] ?? 0];
  });
}

/** Direction of some triangles, those that look the other way turned round; null for none. */
function meanNormal(body: SolidBody, counts: (n: number) => boolean): Vec3 | null {
  let sum: Vec3 = [0, 0, 0];
  for (let n = 0; n < body.count; n += 1) {
    if (!counts(n)) continue;
    const normal = scale3(faceNormal(body, n), body.areas[n] ?? 0);
    sum = add3(sum, dot3(sum, normal) < 0 ? scale3(normal, -1) : normal);
  }
  return unit3(sum);
}

/** Whether a line through the middle of a hole meets nothing of its host from face to face. */
function isOpen({ body }: HostBody, { frame, thicknessMm }: HostHole): boolean {
  return stretchesInside(body, frame.originMm, frame.axis).every(
    ({ enter, leave }) => leave.at < -thicknessMm / 2 || enter.at > thicknessMm / 2,
  );
}

import { HOSTS } from '../dimensions/building.ts';
import { OPENINGS } from '../dimensions/openings.ts';
import type { OpeningDim, V2, WallDim } from '../dimensions/types.ts';
import type { DxfWriter } from './dxf-writer.ts';
import { wallDirection, wallLengthMm } from './host-frame.ts';
import { onSheet } from './plan-sheet.ts';

/** Walls as pairs of lines with gaps, the round well, doors and windows. */
export function drawWalls(dxf: DxfWriter): void {
  for (const wall of straightWalls) drawWall(dxf, wall);
  for (const host of HOSTS) {
    if (host.form !== 'ring') continue;
    dxf.circle('A-WALL', onSheet(host.centre), host.outerRadiusMm);
    dxf.circle('A-WALL', onSheet(host.centre), host.outerRadiusMm - host.thicknessMm);
  }
  for (const opening of OPENINGS) {
    if (opening.filledBy === 'DOOR') drawDoor(dxf, opening);
    if (opening.filledBy === 'WINDOW') drawWindow(dxf, opening);
  }
}

/** Part of a wall's length that is not drawn: a door, a window, another wall's end. */
type Gap = readonly [number, number];

/** Straight walls of the ground floor. */
const straightWalls: readonly WallDim[] = HOSTS.filter((host) => host.form === 'straight').filter(
  (wall) => wall.storey === '00',
);

function drawWall(dxf: DxfWriter, wall: WallDim): void {
  const lengthMm = wallLengthMm(wall);
  const doors = OPENINGS.filter(
    (opening) => opening.host === wall.mark && opening.filledBy !== undefined,
  ).map((opening): Gap => {
    const half = widthOf(opening) / 2;
    const at = alongWall(wall, opening.at);
    return [at - half, at + half];
  });
  for (const side of [1, -1] as const) {
    const gaps = [...doors, ...junctions(wall, side)];
    for (const [from, to] of kept(lengthMm, gaps)) {
      dxf.line(
        'A-WALL',
        onSheet(besideWall(wall, from, side)),
        onSheet(besideWall(wall, to, side)),
      );
    }
  }
  for (const at of doors.flat()) closeAcross(dxf, wall, at);
  for (const at of [0, lengthMm]) if (!endsAtAWall(wall, at)) closeAcross(dxf, wall, at);
}

function closeAcross(dxf: DxfWriter, wall: WallDim, at: number): void {
  dxf.line('A-WALL', onSheet(besideWall(wall, at, 1)), onSheet(besideWall(wall, at, -1)));
}

function widthOf(opening: OpeningDim): number {
  return opening.shape.type === 'rectangle' ? opening.shape.widthMm : 0;
}

function alongWall(wall: WallDim, point: readonly number[]): number {
  const [dx, dy] = wallDirection(wall);
  return ((point[0] ?? 0) - wall.from[0]) * dx + ((point[1] ?? 0) - wall.from[1]) * dy;
}

function asideOfWall(wall: WallDim, point: readonly number[]): number {
  const [dx, dy] = wallDirection(wall);
  return -((point[0] ?? 0) - wall.from[0]) * dy + ((point[1] ?? 0) - wall.from[1]) * dx;
}

/** Point on a face; at the cut ends of a skew wall it follows the cut. */
function besideWall(wall: WallDim, along: number, side: 1 | -1): V2 {
  const [dx, dy] = wallDirection(wall);
  const half = (side * wall.thicknessMm) / 2;
  let at = along;
  if (wall.footprint !== undefined) {
    const cut = (half * dx) / dy;
    if (along === 0 || along === wallLengthMm(wall)) at = along - cut;
  }
  return [wall.from[0] + dx * at - dy * half, wall.from[1] + dy * at + dx * half];
}

/** Where other walls end on this face. */
function junctions(wall: WallDim, side: 1 | -1): readonly Gap[] {
  const face = (side * wall.thicknessMm) / 2;
  return straightWalls
    .filter((other) => other !== wall)
    .flatMap((other) =>
      [other.from, other.to].flatMap((end): readonly Gap[] => {
        const along = alongWall(wall, end);
        const isOnFace = Math.abs(asideOfWall(wall, end) - face) < 1;
        if (!isOnFace || along < -1 || along > wallLengthMm(wall) + 1) return [];
        const [dx, dy] = wallDirection(other);
        const [wx, wy] = wallDirection(wall);
        const sine = Math.abs(dx * wy - dy * wx);
        const half = other.thicknessMm / 2 / sine;
        return [[along - half, along + half]];
      }),
    );
}

function endsAtAWall(wall: WallDim, at: number): boolean {
  const end = at === 0 ? wall.from : wall.to;
  return straightWalls.some(
    (other) =>
      other !== wall &&
      Math.abs(Math.abs(asideOfWall(other, end)) - other.thicknessMm / 2) < 1 &&
      alongWall(other, end) > -1 &&
      alongWall(other, end) < wallLengthMm(other) + 1,
  );
}

function kept(lengthMm: number, gaps: readonly Gap[]): readonly Gap[] {
  const sorted = [...gaps].sort((a, b) => a[0] - b[0]);
  const parts: Gap[] = [];
  let at = 0;
  for (const [from, to] of sorted) {
    if (from > at + 1) parts.push([at, from]);
    at = Math.max(at, to);
  }
  if (lengthMm > at + 1) parts.push([at, lengthMm]);
  return parts;
}

/** The straight wall of this floor that an opening is in, if it is in one. */
export function hostWall(opening: OpeningDim): WallDim | undefined {
  return straightWalls.find((wall) => wall.mark === opening.host);
}

function drawDoor(dxf: DxfWriter, opening: OpeningDim): void {
  const wall = hostWall(opening);
  if (wall === undefined) return;
  const width = widthOf(opening);
  const [dx, dy] = wallDirection(wall);
  const hinge = alongWall(wall, opening.at) - width / 2;
  const at = onSheet(besideWall(wall, hinge, 1));
  const leaf: V2 = [at[0] - dy * width, at[1] + dx * width];
  dxf.line('A-DOOR', at, leaf);
  const turn = (Math.atan2(dy, dx) * 180) / Math.PI;
  dxf.arc('A-DOOR', at, width, turn, turn + 90);
}

function drawWindow(dxf: DxfWriter, opening: OpeningDim): void {
  const wall = hostWall(opening);
  if (wall === undefined) return;
  const half = widthOf(opening) / 2;
  const at = alongWall(wall, opening.at);
  for (const side of [1, -1] as const) {
    dxf.line(
      'A-GLAZ',
      onSheet(besideWall(wall, at - half, side)),
      onSheet(besideWall(wall, at + half, side)),
    );
  }
  dxf.line(
    'A-GLAZ',
    onSheet(middleOfWall(wall, at - half)),
    onSheet(middleOfWall(wall, at + half)),
  );
}

function middleOfWall(wall: WallDim, along: number): V2 {
  const [dx, dy] = wallDirection(wall);
  return [wall.from[0] + dx * along, wall.from[1] + dy * along];
}

import { PAD_MM, turnOf } from '../../geometry/packing/pack-problem.ts';
import { makePackSolver, type PackSolver } from '../../geometry/packing/pack-solver.ts';
import type { Region } from '../../geometry/packing/region.ts';
import type { ArrangementProblem } from '../../model/arrangement.ts';
import type { BuiltBody, PlacedPiece } from './as-built.ts';
import { pressedRadius, type TubePlace } from './fill-tubes.ts';
import { askedProblem } from './pack-needs.ts';

/** Bodies and tubes with their places. */
export interface Filled {
  readonly placed: readonly PlacedPiece[];
  readonly tubes: readonly TubePlace[];
}

/**
 * Bodies as asked for, and tubes as free discs that touch anything. With `growing`, the growth is
 * the radius of all tubes; else they have their own.
 */
export function solverWith(
  problem: ArrangementProblem,
  bodies: readonly BuiltBody[],
  region: Region,
  tubes: readonly TubePlace[],
  growing = false,
): PackSolver {
  const asked = askedProblem(problem, bodies, region);
  const known = asked.wallFloor.length;
  const count = known + tubes.length;
  const radii = tubes.map(({ filler }) => (growing ? 0 : pressedRadius(filler, problem) + PAD_MM));
  const built = bodies.flatMap(({ members }) => members.map(({ builtRadiusMm }) => builtRadiusMm));
  const none = Number.NEGATIVE_INFINITY;
  const pairBase = new Float64Array(count * count).fill(none);
  const pairFloor = new Float64Array(count * count).fill(none);
  const pairSlope = new Float64Array(count * count);
  const wallSlope = new Float64Array(count);
  const table = growing ? pairBase : pairFloor;
  for (let i = 0; i < count; i++) {
    if (i < known) pairFloor.set(asked.pairFloor.subarray(i * known, (i + 1) * known), i * count);
    else wallSlope[i] = growing ? 1 : 0;
    const mine = built[i] ?? (radii[i - known] as number);
    for (let j = known; j < count; j++) {
      for (const k of [i * count + j, j * count + i]) {
        table[k] = mine + (radii[j - known] as number);
        pairSlope[k] = !growing ? 0 : i < known ? 1 : 2;
      }
    }
  }
  const wall = [...asked.wallFloor, ...radii];
  return makePackSolver({
    region,
    pieces: [
      ...asked.pieces,
      ...tubes.map(() => ({
        parts: [{ dx: 0, dy: 0, halfX: 0, halfY: 0 }],
        turns: 'none' as const,
        fixed: null,
      })),
    ],
    pairBase,
    pairSlope,
    pairFloor,
    wallBase: Float64Array.from(wall, (need, i) => (growing && i >= known ? need : none)),
    wallSlope,
    wallFloor: Float64Array.from(wall, (need, i) => (growing && i >= known ? none : need)),
  });
}

export function layoutWith(
  solver: PackSolver,
  placed: readonly PlacedPiece[],
  tubes: readonly TubePlace[],
): Float64Array {
  const { layout } = solver;
  const at = new Float64Array(layout.size);
  placed.forEach(({ x, y, angleRad }, i) => {
    at[2 * i] = x;
    at[2 * i + 1] = y;
    const turnAt = layout.turnAt[i] as number;
    if (turnAt >= 0) at[turnAt] = angleRad * (layout.arm[i] as number);
  });
  tubes.forEach((tube, k) => {
    const i = placed.length + k;
    at[2 * i] = tube.at[0];
    at[2 * i + 1] = tube.at[1];
  });
  return at;
}

export function readLayout(
  { layout }: PackSolver,
  bodies: readonly BuiltBody[],
  tubes: readonly TubePlace[],
  at: Float64Array,
): Filled {
  return {
    placed: bodies.map((body, i) => ({
      body,
      x: at[2 * i] as number,
      y: at[2 * i + 1] as number,
      angleRad: turnOf(layout, at, i),
    })),
    tubes: tubes.map(({ filler }, k) => {
      const i = bodies.length + k;
      return { filler, at: [at[2 * i] as number, at[2 * i + 1] as number] as const };
    }),
  };
}

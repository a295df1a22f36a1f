import type { Region } from './region.ts';

/**
 * What callers add to floors beyond the need itself, mm; the solver may use up half of it. So what
 * it calls met is met in the plainest arithmetic, rounding or not.
 */
export const PAD_MM = 1e-6;

/**
 * What is to be placed in a region: pieces, each of one or more rigid parts. A part is a point or a
 * rectangle; a disc is a point that keeps its radius more from everything. What must be kept is a
 * distance for each pair of parts of different pieces and for each part to the wall, and grows with
 * one number s, the growth: need(s) = max(base + s · slope, floor).
 */
export interface PackProblem {
  readonly region: Region;
  readonly pieces: readonly Piece[];
  /** Row by row, parts × parts, parts numbered piece by piece. */
  readonly pairBase: Float64Array;
  readonly pairSlope: Float64Array;
  readonly pairFloor: Float64Array;
  readonly wallBase: Float64Array;
  readonly wallSlope: Float64Array;
  readonly wallFloor: Float64Array;
}

export interface Piece {
  readonly parts: readonly Part[];
  /** May the search turn it (`free`), only a start by quarters (`quarter`), or neither. */
  readonly turns: 'none' | 'quarter' | 'free';
  /** Where it stands and may not be moved; null when it may. */
  readonly fixed: { readonly x: number; readonly y: number; readonly angleRad: number } | null;
}

export interface Part {
  /** Off the piece's centre, before any turn. */
  readonly dx: number;
  readonly dy: number;
  /** Half the sides; both 0 for a point. */
  readonly halfX: number;
  readonly halfY: number;
}

/**
 * Places of pieces in one array: x and y of each piece by turns, then, for the pieces that may be
 * turned, the turn times the piece's arm, a length, so that all unknowns are alike.
 */
export interface Layout {
  readonly size: number;
  /** Index of a piece's turn, −1 when it has none. */
  readonly turnAt: Int32Array;
  /** Millimetres of the unknown for a radian of turn. */
  readonly arm: Float64Array;
}

export function layoutOf(pieces: readonly Piece[]): Layout {
  const turnAt = new Int32Array(pieces.length).fill(-1);
  const arm = new Float64Array(pieces.length).fill(1);
  let size = 2 * pieces.length;
  pieces.forEach((piece, i) => {
    const reach = reachOf(piece);
    if (reach === 0) return;
    turnAt[i] = size++;
    arm[i] = reach;
  });
  return { size, turnAt, arm };
}

/** Farthest point of a piece's parts from its centre; 0 for a single disc. */
function reachOf({ parts }: Piece): number {
  let reach = 0;
  for (const { dx, dy, halfX, halfY } of parts) {
    const x = Math.abs(dx) + halfX;
    const y = Math.abs(dy) + halfY;
    reach = Math.max(reach, Math.sqrt(x * x + y * y));
  }
  return reach;
}

/** Turn of a piece in a layout's array, rad. */
export function turnOf(layout: Layout, at: Float64Array, piece: number): number {
  const k = layout.turnAt[piece] as number;
  return k < 0 ? 0 : (at[k] as number) / (layout.arm[piece] as number);
}

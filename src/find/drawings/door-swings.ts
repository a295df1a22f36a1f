import { pieceEnd, pieceStart } from '../../geometry/plane-curve.ts';
import type { Vec2 } from '../../geometry/vec.ts';
import type { DrawnEntity } from '../../model/drawing.ts';

/** A door as plans draw it: its hinge, and the two ends of the quarter circle its leaf swings over. */
export interface DoorSwing {
  readonly layer: string;
  readonly hinge: Vec2;
  readonly ends: readonly [Vec2, Vec2];
  readonly leafMm: number;
}

/** Width of a door leaf. Common practice, no source. */
const LEAF_MM = { from: 500, to: 1400 };
const QUARTER = { from: (75 * Math.PI) / 180, to: (105 * Math.PI) / 180 };

export function doorSwings(entities: readonly DrawnEntity[]): DoorSwing[] {
  const swings: DoorSwing[] = [];
  // Plain loops: this looks at every line of a drawing and finds a handful.
  for (const { layer, loops } of entities) {
    for (const { pieces } of loops) {
      for (const piece of pieces) {
        if (piece.type !== 'arc') continue;
        const sweep = Math.abs(piece.sweepRad);
        const isLeaf = piece.radiusMm >= LEAF_MM.from && piece.radiusMm <= LEAF_MM.to;
        if (!isLeaf || sweep < QUARTER.from || sweep > QUARTER.to) continue;
        const ends = [pieceStart(piece), pieceEnd(piece)] as const;
        swings.push({ layer, hinge: piece.centre, ends, leafMm: piece.radiusMm });
      }
    }
  }
  return swings;
}

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
  return entities.flatMap(({ layer, loops }) =>
    loops.flatMap(({ pieces }) =>
      pieces.flatMap((piece): DoorSwing[] => {
        if (piece.type !== 'arc') return [];
        const sweep = Math.abs(piece.sweepRad);
        const isLeaf = piece.radiusMm >= LEAF_MM.from && piece.radiusMm <= LEAF_MM.to;
        if (!isLeaf || sweep < QUARTER.from || sweep > QUARTER.to) return [];
        return [
          {
            layer,
            hinge: piece.centre,
            ends: [pieceStart(piece), pieceEnd(piece)],
            leafMm: piece.radiusMm,
          },
        ];
      }),
    ),
  );
}

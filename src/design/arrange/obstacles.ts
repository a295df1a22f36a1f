import { sineCosine } from '../../geometry/packing/exact-trigonometry.ts';
import type { Obstacles } from '../../geometry/packing/pockets.ts';
import { type Member, memberPlaces, type PlacedPiece } from './as-built.ts';

/** Placed bodies as obstacles; `reach` gives what is kept from a member's core, mm. */
export function obstaclesOf(
  placed: readonly PlacedPiece[],
  reach: (member: Member, piece: PlacedPiece) => number,
): Obstacles {
  const all = placed.flatMap((piece) => {
    const [sine, cosine] = sineCosine(piece.angleRad);
    return memberPlaces(piece).map(({ member, x, y }) => ({
      box: { x, y, cosine, sine, halfX: member.halfX, halfY: member.halfY },
      reach: reach(member, piece),
    }));
  });
  const isBox = ({ box }: (typeof all)[number]) => box.halfX > 0 || box.halfY > 0;
  return {
    rounds: all
      .filter((one) => !isBox(one))
      .map(({ box: { x, y }, reach: r }) => ({ x, y, reach: r })),
    boxes: all.filter(isBox),
  };
}

import { add3, scale3, sub3 } from '../../geometry/vec.ts';
import type { GridAxis } from '../../model/building.ts';
import type { Penetration } from '../../model/penetration.ts';
import { gridText } from '../grid-text.ts';
import type { PlanRooms } from './plan-rooms.ts';
import type { ViewFrame } from './view-frame.ts';

/** What a plan tells of places. */
export interface PlanPlaces {
  readonly frame: ViewFrame;
  readonly axes: readonly GridAxis[];
  readonly rooms: PlanRooms | null;
}

/** Penetrations of a plan with their place on its grid and the rooms on both sides. */
export function withPlaces(
  penetrations: readonly Penetration[],
  { frame, axes, rooms }: PlanPlaces,
): readonly Penetration[] {
  if (axes.length === 0 && rooms === null) return penetrations;
  return penetrations.map((penetration) => ({
    ...penetration,
    where: {
      ...penetration.where,
      grid: gridText(axes, penetration.frame.originMm),
      spaces: spacesBeside(penetration, frame, rooms),
    },
  }));
}

/** The rooms before and behind a wall; a plan does not show what lies above and below a slab. */
function spacesBeside(
  { frame: { originMm, axis }, thicknessMm }: Penetration,
  { onSheet }: ViewFrame,
  rooms: PlanRooms | null,
): Penetration['where']['spaces'] {
  if (rooms === null || Math.abs(axis[2]) > 0.5) return { near: null, far: null };
  const beside = scale3(axis, thicknessMm / 2 + rooms.besideMm);
  return {
    near: rooms.at(onSheet(sub3(originMm, beside))),
    far: rooms.at(onSheet(add3(originMm, beside))),
  };
}

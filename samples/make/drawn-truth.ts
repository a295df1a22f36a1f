import { HOSTS } from '../dimensions/building.ts';
import { BANK_PLACES, DUCT_BANK, OPENINGS } from '../dimensions/openings.ts';
import { RUNS } from '../dimensions/services.ts';
import type { HostDim, RunDim, ShapeDim, V3 } from '../dimensions/types.ts';
import { axisInHosts, between } from './crossings.ts';
import { drawnInPlan } from './plan-services.ts';

/** A hole that a person would read out of the plan or the elevation. */
export interface DrawnHole {
  readonly name: string;
  readonly view: 'plan' | 'section';
  /** Where the run's middle lies midway through the wall; a plan says nothing of the height. */
  readonly atMm: V3;
  /** Outside size of what passes, as the drawing says it. */
  readonly sizeMm: readonly number[];
  /** The hole, where the drawing shows one. */
  readonly shape: ShapeDim | null;
}

/** Holes of the plan and of the pit wall's elevation, worked out from the dimensions. */
export function drawnHoles(): readonly DrawnHole[] {
  return [...RUNS.filter(drawnInPlan).flatMap(planHoles), ...sectionHoles()];
}

const isDrawn = (host: HostDim): boolean => host.storey === '00' && host.form !== 'slab';

/** The two leaves of the north wall are one assembly: its hole lies midway through both. */
function planHoles(run: RunDim): readonly DrawnHole[] {
  const stays = axisInHosts(run, HOSTS.filter(isDrawn)).filter((stay) => stay.kind === 'through');
  const outer = stays.find((stay) => stay.host.mark === 'W-04');
  return stays
    .filter((stay) => stay.host.mark !== 'W-04')
    .map((stay) => ({
      name: `${run.ref} in ${stay.host.mark}`,
      view: 'plan' as const,
      atMm: between(
        stay.entry,
        stay.host.mark === 'W-03' && outer !== undefined ? outer.exit : stay.exit,
        0.5,
      ),
      sizeMm:
        run.section.type === 'circle'
          ? [run.section.diameterMm]
          : [run.section.widthMm, run.section.heightMm],
      shape: null,
    }));
}

function sectionHoles(): readonly DrawnHole[] {
  const bank = BANK_PLACES.map((place) => ({
    name: place.ref,
    view: 'section' as const,
    atMm: [place.xMm, 0, place.zMm] as const,
    sizeMm: [DUCT_BANK.outsideMm],
    shape: { type: 'circle', diameterMm: DUCT_BANK.openingMm } as const,
  }));
  const earth = OPENINGS.filter((opening) => opening.serves.includes('E-01')).map((opening) => ({
    name: 'E-01',
    view: 'section' as const,
    atMm: opening.at,
    sizeMm: [50],
    shape: opening.shape,
  }));
  return [...bank, ...earth];
}

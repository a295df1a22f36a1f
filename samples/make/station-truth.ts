import { HOSTS } from '../dimensions/building.ts';
import { OPENINGS } from '../dimensions/openings.ts';
import { RUNS } from '../dimensions/services.ts';
import { ARCHITECTURE_FILE } from './architecture.ts';
import { PIT_SECTION_FILE, pitServiceEntities } from './pit-section.ts';
import { PLAN_FILE, planHiddenEntities, planServiceEntities } from './plan.ts';
import { cablePlaces, SCHEDULE_FILE } from './schedule-xlsx.ts';
import { SERVICES_FILE } from './services.ts';
import { truthOf } from './truth.ts';
import type { ScheduledCable, Truth } from './truth-model.ts';

/** What the pumping station holds. */
export function stationTruth(): Truth {
  const scheduled = cablePlaces().map(({ sheet, row, cable }): ScheduledCable => {
    const route = cable.means ?? cable.route.split(/[,;]/).map((part) => part.trim());
    return {
      ref: cable.ref,
      file: SCHEDULE_FILE,
      sheet,
      row,
      route,
      outcome: cable.expect.outcome,
      why: 'why' in cable.expect ? cable.expect.why : null,
      mustAsk: cable.mustAsk ?? null,
      diameterMm: cable.diameterMm,
      bodies: cable.bodies,
    };
  });
  return truthOf(
    [
      {
        architectureFile: ARCHITECTURE_FILE,
        servicesFile: SERVICES_FILE,
        hosts: HOSTS,
        openings: OPENINGS,
        runs: RUNS,
      },
    ],
    scheduled,
    [
      { file: PLAN_FILE, services: planServiceEntities(), hidden: planHiddenEntities() },
      { file: PIT_SECTION_FILE, services: pitServiceEntities(), hidden: {} },
    ],
  );
}

import { ANNEX_CABLES, KIOSK, VALVE_CHAMBER } from '../dimensions/annex.ts';
import { ANNEX_2X3_FILE, ANNEX_4X3_FILE, ANNEX_CSV_FILE, ANNEX_HEADER_LINES } from './annex.ts';
import { truthOf } from './truth.ts';
import type { Truth } from './truth-model.ts';

/** What the valve chamber and the kiosk hold. */
export function annexTruth(): Truth {
  return truthOf(
    [
      { architectureFile: ANNEX_2X3_FILE, servicesFile: ANNEX_2X3_FILE, ...VALVE_CHAMBER },
      { architectureFile: ANNEX_4X3_FILE, servicesFile: ANNEX_4X3_FILE, ...KIOSK },
    ],
    ANNEX_CABLES.map((cable, index) => ({
      ref: cable.ref,
      file: ANNEX_CSV_FILE,
      sheet: null,
      row: ANNEX_HEADER_LINES + index + 1,
      route: [cable.route],
      outcome: cable.outcome,
      why: cable.outcome === 'queried' ? 'its route names something that does not exist' : null,
      mustAsk: null,
      diameterMm: cable.diameterMm,
      bodies: 1,
    })),
    [],
  );
}

import type { Vec3 } from '../../../src/geometry/vec.ts';
import type { Building, Service } from '../../../src/model/building.ts';
import type { Penetration } from '../../../src/model/penetration.ts';
import { between, buildingOf, crossingOf, hole, reference, room, tray } from './model.ts';

/** A made-up building and schedule whose matches are known without any matching. */
export interface TruthSet {
  readonly building: Building;
  readonly penetrations: readonly Penetration[];
  /** Heading row first. */
  readonly rows: readonly (readonly string[])[];
  /** Penetrations each row's cable passes, by row number from 1 as a sheet shows it; sorted. */
  readonly truth: ReadonlyMap<number, readonly string[]>;
}

// No two names differ by one letter or digit: one typing error makes none of another.
const ROOMS = ['Battery', 'Switchgear', 'Pump hall', 'Control', 'Workshop', 'Store', 'Boiler'];
const TRAYS = ['T-110', 'T-225', 'T-341', 'L-452', 'L-587'];
const TYPES = ['4c x 16 SWA', '3c 2.5 SWA', '4c 50 XLPE/SWA/PVC', '3x1c 185 XLPE/AWA/PVC'];
const ROOM_MM = 6000;

const HEADINGS = [
  'Cable No.',
  'Type',
  'OD (mm)',
  'From',
  'From room',
  'To',
  'To room',
  'Route',
  'Remarks',
];

/**
 * Seven rooms in a row, five trays along them, a hole in each wall for each tray. Of the cables a
 * third is named on its holes, a third lists its tray, a third does both.
 */
export function truthSet(cableCount: number): TruthSet {
  const labels = new Map<string, string[]>();
  const rows: string[][] = [HEADINGS];
  const truth = new Map<number, readonly string[]>();
  for (let at = 0; at < cableCount; at++) {
    const lane = at % TRAYS.length;
    const first = (at * 3) % (ROOMS.length - 1);
    const last = first + 1 + ((at * 5) % (ROOMS.length - 1 - first));
    const ref = `C-${String(at + 1).padStart(4, '0')}`;
    const passed: string[] = [];
    for (let wall = first + 1; wall <= last; wall++) passed.push(holeId(lane, wall));
    const isLabelled = at % 3 !== 1;
    const isRouted = at % 3 !== 0;
    if (isLabelled) for (const id of passed) labels.set(id, [...(labels.get(id) ?? []), ref]);
    rows.push([
      ref,
      TYPES[at % TYPES.length] ?? '',
      String(14 + (at % 9)),
      `Board ${Math.floor(at / 7) + 1}`,
      ROOMS[first] ?? '',
      `Motor ${at + 1}`,
      ROOMS[last] ?? '',
      isRouted ? (TRAYS[lane] ?? '') : '',
      at % 4 === 0 ? 'as drawn' : '',
    ]);
    truth.set(at + 2, passed.sort());
  }
  return { ...model(labels), rows, truth };
}

function model(labels: ReadonlyMap<string, readonly string[]>): {
  building: Building;
  penetrations: Penetration[];
} {
  const spaces = ROOMS.map((name, at) =>
    room(name, [at * ROOM_MM + 100, 0, 0], [(at + 1) * ROOM_MM - 100, 6000, 3000]),
  );
  const penetrations: Penetration[] = [];
  const services: Service[] = TRAYS.map((name, lane) => {
    const y = 500 + lane * 1000;
    const line: Vec3[] = [
      [500, y, 2500],
      [ROOMS.length * ROOM_MM - 500, y, 2500],
    ];
    const carrier = tray(`lane-${lane}`, `Tray ${name}`, line);
    for (let wall = 1; wall < ROOMS.length; wall++) {
      const at: Vec3 = [wall * ROOM_MM, y, 2500];
      const id = holeId(lane, wall);
      penetrations.push(
        hole(id, at, {
          crossings: [crossingOf(carrier, at)],
          references: (labels.get(id) ?? []).map(reference),
          ...between(ROOMS[wall - 1] ?? null, ROOMS[wall] ?? null),
        }),
      );
    }
    return carrier;
  });
  return { building: buildingOf(services, spaces), penetrations };
}

const holeId = (lane: number, wall: number) => `wall-${wall}/lane-${lane}`;

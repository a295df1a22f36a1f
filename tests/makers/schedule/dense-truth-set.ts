import type { Vec3 } from '../../../src/geometry/vec.ts';
import type { Service, Space } from '../../../src/model/building.ts';
import type { Penetration } from '../../../src/model/penetration.ts';
import { between, buildingOf, crossingOf, hole, reference, room, tray } from './model.ts';
import type { TruthSet } from './truth-set.ts';

/** Rooms along the building; the trays between them meet in the middle of each. */
const ROOM_COUNT = 13;
const ROOM_MM = 6000;
const HEADINGS = ['Cable', 'Type', 'OD (mm)', 'From', 'From room', 'To', 'To room', 'Route'];

/**
 * Names as projects have them, one digit apart: rooms 101 to 113, trays, cables from
 * P-001 on. Each tray leads through one wall. A third of the cables are named on their holes and
 * nothing else tells of them, a third list their trays, a third have only their rooms.
 */
export function denseTruthSet(cableCount: number): TruthSet {
  const labels = new Map<string, string[]>();
  const rows: string[][] = [HEADINGS];
  const truth = new Map<number, readonly string[]>();
  for (let at = 0; at < cableCount; at++) {
    const first = (at * 5) % (ROOM_COUNT - 2);
    const last = Math.min(ROOM_COUNT - 1, first + 1 + (at % 3));
    const ref = `P-${String(at + 1).padStart(3, '0')}`;
    const walls = Array.from({ length: last - first }, (_, n) => first + n + 1);
    const isLabelled = at % 3 === 0;
    const ends = isLabelled
      ? ['Board', '', 'Motor', '']
      : [`Board ${first}`, roomName(first), `Motor ${at + 1}`, roomName(last)];
    if (isLabelled) {
      for (const wall of walls)
        labels.set(holeId(wall), [...(labels.get(holeId(wall)) ?? []), ref]);
    }
    const route = at % 3 === 1 ? walls.map(trayName).join(', ') : '';
    rows.push([ref, '4c x 16 SWA', String(14 + (at % 9)), ...ends, route]);
    truth.set(at + 2, walls.map(holeId).sort());
  }
  const spaces: Space[] = Array.from({ length: ROOM_COUNT }, (_, at) =>
    room(roomName(at), [at * ROOM_MM + 100, 0, 0], [(at + 1) * ROOM_MM - 100, 6000, 3000]),
  );
  const services: Service[] = [];
  const penetrations: Penetration[] = [];
  for (let wall = 1; wall < ROOM_COUNT; wall++) {
    const at: Vec3 = [wall * ROOM_MM, 3000, 2500];
    const carrier = tray(`tray-${wall}`, trayName(wall), [
      [(wall - 0.5) * ROOM_MM, 3000, 2500],
      [(wall + 0.5) * ROOM_MM, 3000, 2500],
    ]);
    services.push(carrier);
    penetrations.push(
      hole(holeId(wall), at, {
        crossings: [crossingOf(carrier, at)],
        references: (labels.get(holeId(wall)) ?? []).map(reference),
        ...between(roomName(wall - 1), roomName(wall)),
      }),
    );
  }
  return { building: buildingOf(services, spaces), penetrations, rows, truth };
}

const roomName = (at: number) => `Room ${at + 101}`;
const trayName = (wall: number) => `R-${String(wall).padStart(2, '0')}`;
const holeId = (wall: number) => `wall-${String(wall).padStart(2, '0')}`;

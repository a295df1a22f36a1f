import type { Vec3 } from '../../../src/geometry/vec.ts';
import type { Building, Service, Space } from '../../../src/model/building.ts';
import type { Cable } from '../../../src/model/cable.ts';
import type { Penetration } from '../../../src/model/penetration.ts';
import { cable } from './cable.ts';
import { between, buildingOf, crossingOf, hole, room, tray } from './model.ts';

/** A made-up building with cables whose way is known without any matching. */
export interface RowOfRooms {
  readonly building: Building;
  readonly penetrations: readonly Penetration[];
  readonly cables: readonly Cable[];
  /** Penetrations each cable passes, by its reference. */
  readonly truth: ReadonlyMap<string, readonly string[]>;
}

const ROOM_MM = 5000;

/**
 * Rooms in a row along x with walls between, and trays along the whole row side by side, each with
 * a hole of its own in every wall. Tray `T-01` is cut into one segment a room and one more name a
 * stretch of rooms. Cables run from a room to another along one tray.
 */
export function rowOfRooms(roomCount: number, trayCount: number, cableCount: number): RowOfRooms {
  const spaces: Space[] = [];
  for (let at = 0; at < roomCount; at++) {
    const x = at * ROOM_MM;
    spaces.push(
      room(roomName(at), [x + 100, 0, 0], [x + ROOM_MM - 100, trayCount * 1000 + 1000, 3000]),
    );
  }
  const services: Service[] = [];
  const penetrations: Penetration[] = [];
  for (let lane = 0; lane < trayCount; lane++) {
    const y = 500 + lane * 1000;
    const line: Vec3[] = [
      [500, y, 2500],
      [roomCount * ROOM_MM - 500, y, 2500],
    ];
    const carrier = tray(`tray-${lane}`, trayName(lane), line);
    services.push(carrier);
    for (let wall = 1; wall < roomCount; wall++) {
      const at: Vec3 = [wall * ROOM_MM, y, 2500];
      penetrations.push(
        hole(holeId(lane, wall), at, {
          crossings: [crossingOf(carrier, at)],
          ...between(roomName(wall - 1), roomName(wall)),
        }),
      );
    }
  }
  const cables: Cable[] = [];
  const truth = new Map<string, readonly string[]>();
  for (let at = 0; at < cableCount; at++) {
    const lane = at % trayCount;
    const first = at % (roomCount - 1);
    const last = first + 1 + ((at * 7) % (roomCount - 1 - first));
    const ref = `C-${String(at + 1).padStart(3, '0')}`;
    cables.push(
      cable(ref, {
        from: `Board ${at}`,
        fromRoom: roomName(first),
        to: `Motor ${at}`,
        toRoom: roomName(last),
        route: [trayName(lane)],
      }),
    );
    const passed: string[] = [];
    for (let wall = first + 1; wall <= last; wall++) passed.push(holeId(lane, wall));
    truth.set(ref, passed.sort());
  }
  return { building: buildingOf(services, spaces), penetrations, cables, truth };
}

const roomName = (at: number) => `Room ${at + 101}`;
const trayName = (lane: number) => `T-${String(lane + 1).padStart(2, '0')}`;
export const holeId = (lane: number, wall: number) => `wall-${wall}/tray-${lane}`;

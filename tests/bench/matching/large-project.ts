import type { Vec3 } from '../../../src/geometry/vec.ts';
import type { Building, Service, Space } from '../../../src/model/building.ts';
import type { Cable, Schedule } from '../../../src/model/cable.ts';
import type { Penetration } from '../../../src/model/penetration.ts';
import { cable, scheduleOf } from '../../makers/schedule/cable.ts';
import {
  between,
  buildingOf,
  crossingOf,
  hole,
  reference,
  room,
  tray,
} from '../../makers/schedule/model.ts';

export interface LargeProject {
  readonly building: Building;
  readonly penetrations: readonly Penetration[];
  readonly schedule: Schedule;
}

const SEGMENT_MM = 1000;
const ROOM_SEGMENTS = 5;
const ROOMS = 21;
const LANES_A_HALL = 10;

/**
 * Halls of ten tray lanes through 21 rooms, a hundred segments a lane that touch end to end, cross
 * trays at both ends (so that there are rings), a hole in each wall. A third of the cables are
 * named on a hole, a third list their tray, a third have only the rooms of their ends.
 * `isJoined` ties all halls to one network by a spine.
 * 50 halls make 50,000 segments and 10,000 penetrations; 400 cables a hall.
 */
export function largeProject(halls: number, cablesAHall = 400, isJoined = false): LargeProject {
  const services: Service[] = [];
  const spaces: Space[] = [];
  const penetrations: Penetration[] = [];
  const cables: Cable[] = [];
  for (let hall = 0; hall < halls; hall++) {
    addHall(hall, services, spaces, penetrations);
    addCables(hall, cablesAHall, cables, penetrations);
  }
  if (isJoined) {
    services.push(
      tray('spine', 'SPINE', [
        [2500, 1000, 2500],
        [2500, halls * 20_000, 2500],
      ]),
    );
  }
  return { building: buildingOf(services, spaces), penetrations, schedule: scheduleOf(cables) };
}

function addHall(
  hall: number,
  services: Service[],
  spaces: Space[],
  penetrations: Penetration[],
): void {
  const y0 = hall * 20_000;
  for (let at = 0; at < ROOMS; at++) {
    const x = at * ROOM_SEGMENTS * SEGMENT_MM;
    spaces.push(
      room(
        roomName(hall, at),
        [x + 100, y0, 0],
        [x + ROOM_SEGMENTS * SEGMENT_MM - 100, y0 + 15_000, 3000],
      ),
    );
  }
  for (let lane = 0; lane < LANES_A_HALL; lane++) {
    const y = y0 + 1000 + lane * 1000;
    const segments: Service[] = [];
    for (let at = 0; at < (ROOMS - 1) * ROOM_SEGMENTS; at++) {
      const x = 2500 + at * SEGMENT_MM;
      const line: Vec3[] = [
        [x, y, 2500],
        [x + SEGMENT_MM, y, 2500],
      ];
      segments.push(tray(`${hall}-${lane}-${at}`, laneName(hall, lane), line));
    }
    services.push(...segments);
    for (let wall = 1; wall < ROOMS; wall++) {
      const at: Vec3 = [wall * ROOM_SEGMENTS * SEGMENT_MM, y, 2500];
      const crossed = segments[Math.floor((at[0] - 2500) / SEGMENT_MM)];
      if (crossed === undefined) continue;
      const id = holeId(hall, lane, wall);
      penetrations.push(
        hole(id, at, {
          crossings: [crossingOf(crossed, at)],
          references: [reference(`W${hall}.${wall}.${lane}: K-${hall}-${wall * 20 + lane}`)],
          ...between(roomName(hall, wall - 1), roomName(hall, wall)),
        }),
      );
    }
  }
  for (const x of [2500, 2500 + (ROOMS - 1) * ROOM_SEGMENTS * SEGMENT_MM]) {
    services.push(
      tray(`${hall}-cross-${x}`, `X${hall}-${x}`, [
        [x, y0 + 1000, 2500],
        [x, y0 + LANES_A_HALL * 1000, 2500],
      ]),
    );
  }
}

function addCables(
  hall: number,
  count: number,
  cables: Cable[],
  penetrations: readonly Penetration[],
): void {
  for (let at = 0; at < count; at++) {
    const first = (at * 3) % (ROOMS - 2);
    const last = first + 1 + (at % (ROOMS - 1 - first));
    const rooms = { fromRoom: roomName(hall, first), toRoom: roomName(hall, last) };
    const lane = at % LANES_A_HALL;
    if (at % 3 === 0) cables.push(cable(`K-${hall}-${at}`));
    else if (at % 3 === 1) {
      cables.push(cable(`N-${hall}-${at}`, { ...rooms, route: [laneName(hall, lane)] }));
    } else cables.push(cable(`P-${hall}-${at}`, rooms));
  }
  if (penetrations.length === 0) throw new Error('No holes to name cables on.');
}

const roomName = (hall: number, at: number) => `Hall ${hall + 1} room ${at + 1}`;
const laneName = (hall: number, lane: number) => `T${hall + 1}-${lane + 1}`;
const holeId = (hall: number, lane: number, wall: number) => `h${hall}/w${wall}/l${lane}`;

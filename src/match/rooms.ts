import { referenceKey, referenceTokens } from '../basics/reference-key.ts';
import { boxOfPositions, grownBox } from '../geometry/box.ts';
import { type BoxIndex, indexBoxes } from '../geometry/box-index.ts';
import { type SolidBody, solidBody, stretchesInside } from '../geometry/solid-body.ts';
import type { Vec3 } from '../geometry/vec.ts';
import type { Building, Space } from '../model/building.ts';
import type { Penetration } from '../model/penetration.ts';
import { roomNames } from '../model/room-names.ts';

/** The rooms that the models know, by the keys of their names. */
export interface Rooms {
  /** Key of a name, a long name, or both together, to the room's own key. */
  readonly keyOf: ReadonlyMap<string, string>;
  /** Spaces with a body, by the room's own key. */
  readonly spaces: ReadonlyMap<string, readonly Space[]>;
  /** Keys that more than one room has: they name none. */
  readonly shared: ReadonlySet<string>;
  /** What texts were found to name. */
  readonly named: Map<string, string | null>;
}

/**
 * Rooms of the building and those that penetrations lie between. A room is known by its name, its
 * long name, or both; a name that several rooms have is no use and is kept apart.
 */
export function indexRooms(building: Building | null, penetrations: readonly Penetration[]): Rooms {
  const keyOf = new Map<string, string>();
  const spaces = new Map<string, Space[]>();
  const shared = new Set<string>();
  const claim = (name: string, own: string) => {
    const key = referenceKey(name);
    if (key === '') return;
    const known = keyOf.get(key);
    if (known === undefined) keyOf.set(key, own);
    else if (known !== own) shared.add(key);
  };
  for (const space of building?.spaces ?? []) {
    const own = roomKey(space);
    const list = spaces.get(own);
    if (list === undefined) spaces.set(own, [space]);
    else list.push(space);
    claim(space.name, own);
    if (space.longName !== null) {
      claim(space.longName, own);
      claim(`${space.name} ${space.longName}`, own);
      claim(`${space.longName} ${space.name}`, own);
    }
  }
  for (const { where } of penetrations) {
    for (const name of [where.spaces.near, where.spaces.far]) {
      if (name === null) continue;
      const key = referenceKey(name);
      if (keyOf.has(key)) continue;
      for (const each of roomNames(name)) claim(each, key);
    }
  }
  return { keyOf, spaces, shared, named: new Map() };
}

function roomKey({ name, longName }: Space): string {
  return referenceKey(`${name} ${longName ?? ''}`);
}

/** The room a text names: as a whole, or as one entry of "MCC-1, switch room"; null for none. */
export function roomNamed(rooms: Rooms, text: string | null | undefined): string | null {
  if (text == null) return null;
  let room = rooms.named.get(text);
  if (room === undefined) {
    room = lookUpRoom(rooms, text);
    rooms.named.set(text, room);
  }
  return room;
}

function lookUpRoom(rooms: Rooms, text: string): string | null {
  const entries = [text, ...text.split(/[,;/()\n]|\s[-–]\s/u)];
  for (const entry of entries) {
    const key = referenceKey(entry);
    const room = rooms.shared.has(key) ? undefined : rooms.keyOf.get(key);
    if (room !== undefined) return room;
  }
  return null;
}

const LONGEST_ROOM_NAME = 4;

/** Rooms whose names stand within a text as words: "Pump hall sockets"; names of digits don't count. */
export function roomsMentioned(rooms: Rooms, text: string | null): readonly string[] {
  if (text === null) return [];
  const tokens = referenceTokens(text.slice(0, 200));
  const found = new Set<string>();
  for (let start = 0; start < tokens.length; start++) {
    for (let size = 1; size <= LONGEST_ROOM_NAME && start + size <= tokens.length; size++) {
      const key = tokens.slice(start, start + size).join(' ');
      const room =
        /\p{L}{4}/u.test(key) && !rooms.shared.has(key) ? rooms.keyOf.get(key) : undefined;
      if (room !== undefined) found.add(room);
    }
  }
  return [...found];
}

/** Rooms on both sides of a penetration, by key; null where the model does not tell. */
export function roomsBeside(
  rooms: Rooms,
  { where }: Penetration,
): { readonly near: string | null; readonly far: string | null } {
  return { near: roomNamed(rooms, where.spaces.near), far: roomNamed(rooms, where.spaces.far) };
}

/** Finds which of many points lie in a room. */
export interface PointFinder {
  inside(room: string): readonly number[];
}

/** How far outside its walls a room still holds a point: carriers end in the wall's face. */
const FACE_MM = 50;

/** Index of points for rooms; null points are never found. */
export function indexPoints(rooms: Rooms, points: readonly (Vec3 | null)[]): PointFinder {
  let index: BoxIndex | null = null;
  const cache = new Map<string, readonly number[]>();
  return {
    inside(room) {
      const known = cache.get(room);
      if (known !== undefined) return known;
      index ??= indexBoxes(points.map((at) => (at === null ? null : { low: at, high: at })));
      const found = new Set<number>();
      for (const { mesh } of rooms.spaces.get(room) ?? []) {
        if (mesh === null || mesh.triangles.length < 12) continue;
        const body = solidBody(mesh);
        for (const at of index.meeting(grownBox(boxOfPositions(mesh.positionsMm), FACE_MM))) {
          const point = points[at];
          if (point != null && holds(body, point)) found.add(at);
        }
      }
      const list = [...found].sort((a, b) => a - b);
      cache.set(room, list);
      return list;
    },
  };
}

/** Inside the body, seen along any of the three axes with a little room at the faces. */
function holds(body: SolidBody, point: Vec3): boolean {
  const directions: readonly Vec3[] = [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ];
  return directions.every((direction) =>
    stretchesInside(body, point, direction).some(
      ({ enter, leave }) => enter.at <= FACE_MM && leave.at >= -FACE_MM,
    ),
  );
}

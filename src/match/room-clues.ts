import { sortedBy } from '../basics/order.ts';
import type { Cable, CableCandidate } from '../model/cable.ts';
import type { Penetration } from '../model/penetration.ts';
import type { ClueBook } from './clue-book.ts';
import { expectsCables } from './expects-cables.ts';
import { type Rooms, roomNamed, roomsBeside } from './rooms.ts';

/** Rooms as places, penetrations as the ways between them. */
export interface RoomGraph {
  readonly rooms: Rooms;
  readonly waysFrom: ReadonlyMap<string, readonly RoomWay[]>;
}

interface RoomWay {
  readonly penetrationId: string;
  readonly to: string;
}

/** The graph of rooms that penetrations fit for cables join. */
export function buildRoomGraph(rooms: Rooms, penetrations: readonly Penetration[]): RoomGraph {
  const waysFrom = new Map<string, RoomWay[]>();
  const add = (from: string, way: RoomWay) => {
    const list = waysFrom.get(from);
    if (list === undefined) waysFrom.set(from, [way]);
    else list.push(way);
  };
  for (const penetration of penetrations) {
    if (!takesCables(penetration)) continue;
    const { near, far } = roomsBeside(rooms, penetration);
    if (near === null || far === null || near === far) continue;
    add(near, { penetrationId: penetration.id, to: far });
    add(far, { penetrationId: penetration.id, to: near });
  }
  return { rooms, waysFrom };
}

/** Empty, or crossed by something cables lie in; a hole with only pipes and air ducts takes none. */
function takesCables({ crossings }: Penetration): boolean {
  return crossings.length === 0 || crossings.some(expectsCables);
}

/** The rooms a cable begins and ends in, where the models know them. */
export function cableRooms(
  rooms: Rooms,
  cable: Cable,
): { readonly from: string | null; readonly to: string | null } {
  return {
    from: roomNamed(rooms, cable.fromRoom) ?? roomNamed(rooms, cable.from),
    to: roomNamed(rooms, cable.toRoom) ?? roomNamed(rooms, cable.to),
  };
}

/** Direct ways beyond this are not listed one by one. */
const MOST_WAYS = 12;
const BESIDE_CONFIDENCE = 0.2;

/**
 * Clues from the rooms at both ends, for a cable nothing else places. Where the two rooms are
 * joined by one penetration alone, and no way round through other rooms is known, it is that one;
 * else each that joins them directly is a candidate.
 */
export function addRoomClues(cable: Cable, graph: RoomGraph, book: ClueBook): void {
  const { from, to } = cableRooms(graph.rooms, cable);
  if (from === null || to === null || from === to) return;
  const direct = (graph.waysFrom.get(from) ?? []).filter((way) => way.to === to);
  const isOnly = direct.length === 1 && !hasWayRound(graph, from, to);
  for (const { penetrationId } of direct.slice(0, MOST_WAYS)) {
    const reason = `It lies between ${cable.fromRoom ?? cable.from} and ${cable.toRoom ?? cable.to}, the rooms of its ends`;
    book.add(penetrationId, {
      kind: 'rooms on both sides',
      directness: 1,
      doubt: isOnly ? null : 'other way',
      reason: isOnly
        ? `${reason}, and no other way joins them.`
        : `${reason}; other ways join them.`,
    });
  }
}

/** Ways out of the rooms a cable begins and ends in, to choose from where nothing else is known. */
export function besideItsRooms(cable: Cable, graph: RoomGraph): CableCandidate[] {
  const { from, to } = cableRooms(graph.rooms, cable);
  const found = new Map<string, CableCandidate>();
  for (const [room, text] of [
    [from, cable.fromRoom ?? cable.from],
    [to, cable.toRoom ?? cable.to],
  ]) {
    if (room == null) continue;
    for (const { penetrationId } of graph.waysFrom.get(room) ?? []) {
      const reasons = [`It leads out of ${text}, where the cable begins or ends.`];
      found.set(penetrationId, { penetrationId, confidence: BESIDE_CONFIDENCE, reasons });
    }
  }
  return sortedBy([...found.values()], ({ penetrationId }) => penetrationId).slice(0, MOST_WAYS);
}

/** Whether other penetrations lead from one room to the other through rooms between. */
function hasWayRound(graph: RoomGraph, from: string, to: string): boolean {
  const seen = new Set([from]);
  const open = [from];
  for (let room = open.pop(); room !== undefined; room = open.pop()) {
    for (const way of graph.waysFrom.get(room) ?? []) {
      if (room === from && way.to === to) continue;
      if (way.to === to) return true;
      if (seen.has(way.to)) continue;
      seen.add(way.to);
      open.push(way.to);
    }
  }
  return false;
}

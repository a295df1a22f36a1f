import { makeQuery, type Query } from '../basics/query.ts';
import type { Cable } from '../model/cable.ts';
import type { Penetration } from '../model/penetration.ts';
import { cableRooms } from './room-clues.ts';
import { type Rooms, roomsBeside } from './rooms.ts';

/**
 * Whether the penetrations of a cable lead from the room it begins in to the one it ends in. Null
 * where the rooms of its ends, or those beside one of its penetrations, are not known: then
 * nothing can be said.
 */
export function leadsThrough(
  cable: Cable,
  passed: readonly Penetration[],
  rooms: Rooms,
): boolean | null {
  const { from, to } = cableRooms(rooms, cable);
  if (from === null || to === null || from === to || passed.length === 0) return null;
  const joined = new Map<string, string>();
  const rootOf = (room: string): string => {
    let root = room;
    for (let next = joined.get(root); next !== undefined; next = joined.get(root)) root = next;
    return root;
  };
  for (const penetration of passed) {
    const { near, far } = roomsBeside(rooms, penetration);
    if (near === null || far === null) return null;
    const [a, b] = [rootOf(near), rootOf(far)];
    if (a !== b) joined.set(a, b);
  }
  return rootOf(from) === rootOf(to);
}

/**
 * Of penetrations that lead from a cable's one room to the other, those on a way between them: what
 * ends in a room that nothing leads on from is beyond where the cable begins or ends.
 */
export function betweenItsRooms(
  cable: Cable,
  passed: readonly Penetration[],
  rooms: Rooms,
): ReadonlySet<string> {
  const ends = cableRooms(rooms, cable);
  const left = new Map(passed.map((each) => [each.id, roomsBeside(rooms, each)]));
  for (let isDone = false; !isDone; ) {
    const uses = new Map<string | null, number>();
    for (const { near, far } of left.values()) {
      for (const side of [near, far]) uses.set(side, (uses.get(side) ?? 0) + 1);
    }
    const isDeadEnd = (side: string | null) =>
      uses.get(side) === 1 && side !== ends.from && side !== ends.to;
    const beyond = [...left].filter(([, { near, far }]) => isDeadEnd(near) || isDeadEnd(far));
    for (const [id] of beyond) left.delete(id);
    isDone = beyond.length === 0;
  }
  return new Set(left.keys());
}

/** Entries of a route that nothing is named after, for a cable that is placed by the others. */
export function unknownEntries(cable: Cable, unknown: readonly string[]): Query {
  return makeQuery('cable-route-gap', {
    about: `${cable.id}:route`,
    text: `The route of cable ${cable.ref} lists ${unknown.join(', ')}, and nothing of the models and drawings is named so.`,
    why: 'What the cable passes along there is missing from its seals.',
    settles: 'The right names, or that nothing is crossed there.',
    evidence: cable.evidence,
  });
}

/** A cable whose penetrations leave a gap between the rooms of its ends. */
export function gapBetweenRooms(cable: Cable): Query {
  return makeQuery('cable-route-gap', {
    about: `${cable.id}:rooms`,
    text: `The penetrations found for cable ${cable.ref} do not lead from ${cable.fromRoom ?? cable.from} to ${cable.toRoom ?? cable.to}: it enters or leaves a room by no penetration.`,
    why: 'Either a penetration is missing or the cable is in a wrong one.',
    settles: 'The penetrations the cable passes.',
    evidence: cable.evidence,
  });
}

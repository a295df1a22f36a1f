import type { Cable } from '../model/cable.ts';
import type { Penetration } from '../model/penetration.ts';
import type { ClueBook } from './clue-book.ts';
import { cableRooms } from './room-clues.ts';
import { type Rooms, roomsBeside, roomsMentioned } from './rooms.ts';
import { betweenItsRooms, leadsThrough } from './route-gaps.ts';
import { ALL_CLUES, CARRIER_CLUES, PATH_CLUES, REFERENCE_CLUES, ROUTE_CLUES } from './score.ts';
import type { UnusedNames } from './unused-names.ts';

/** What clues are held against, once all are gathered. */
export interface CrossChecks {
  readonly penetrations: ReadonlyMap<string, Penetration>;
  readonly rooms: Rooms;
  readonly unused: UnusedNames;
}

/** Puts in doubt what contradicts other facts of the row or of the model. */
export function crossCheck(cable: Cable, book: ClueBook, checks: CrossChecks): void {
  doubtNearlyUnused(cable, book, checks.unused);
  doubtCutShort(cable, book, checks.unused);
  doubtOwnNameOffRoute(cable, book);
  keepToRooms(cable, book, checks);
  if (book.cleanlyAt(REFERENCE_CLUES).length === 0) keepToMentionedRooms(cable, book, checks);
}

/** An entry of the route that is one slip away from a carrier without any cable. */
function doubtNearlyUnused(cable: Cable, book: ClueBook, unused: UnusedNames): void {
  for (const entry of cable.route) {
    const meant = unused.nearlyNamed(entry) ?? unused.cutShort(entry);
    if (meant === null) continue;
    const because = `${entry} may be a slip for ${meant}, which no cable uses`;
    for (const id of book.cleanlyAt(ROUTE_CLUES)) {
      const isThis = book
        .clues(id)
        .clues.some(({ reason }) => reason.startsWith(`Its route lists ${entry},`));
      if (isThis) book.putInDoubt(id, ROUTE_CLUES, 'spelling', because);
    }
  }
}

/** The cable's own reference, when it may be that of another with a digit left out. */
function doubtCutShort(cable: Cable, book: ClueBook, unused: UnusedNames): void {
  const named = book.cleanlyAt(REFERENCE_CLUES);
  const meant = named.length === 0 ? null : unused.cutShort(cable.ref);
  if (meant === null) return;
  const because = `${cable.ref} may be a slip for ${meant}, which no row names`;
  for (const id of named) book.putInDoubt(id, REFERENCE_CLUES, 'spelling', because);
}

/** A carrier with the cable's own name, off the route that the row gives, is most likely another's. */
function doubtOwnNameOffRoute(cable: Cable, book: ClueBook): void {
  const routed = new Set(book.cleanlyAt(ROUTE_CLUES));
  if (routed.size === 0) return;
  for (const id of book.cleanlyAt(REFERENCE_CLUES)) {
    const named = book.clues(id).clues.filter(({ kind }) => kind === 'reference in the model');
    if (routed.has(id) || !named.some(({ isCarrier }) => isCarrier === true)) continue;
    const because = `its route (${cable.route.join(', ')}) leads elsewhere`;
    book.putInDoubt(id, new Set(['reference in the model']), 'contradiction', because);
  }
}

/**
 * Keeps a listed carrier to the walls between the cable's own rooms. What leads out beyond them is
 * dropped; a route that does not lead from one room to the other names a wrong carrier somewhere.
 * Where the cable's own reference stands, it stays: there the name tells more than its rooms.
 */
function keepToRooms(cable: Cable, book: ClueBook, { penetrations, rooms }: CrossChecks): void {
  const clean = book.cleanlyAt(ALL_CLUES);
  const passed = clean.flatMap((id) => penetrations.get(id) ?? []);
  const leads = leadsThrough(cable, passed, rooms);
  if (leads === null) {
    doubtHalfKnown(cable, book, rooms);
    return;
  }
  if (leads) {
    const needed = betweenItsRooms(cable, passed, rooms);
    for (const id of clean) if (!needed.has(id)) book.drop(id, 'route names the carrier');
    return;
  }
  const named = new Set(book.cleanlyAt(REFERENCE_CLUES));
  const because = `what it passes does not lead from ${cable.fromRoom ?? cable.from} to ${cable.toRoom ?? cable.to}`;
  for (const id of clean) {
    if (!named.has(id)) book.putInDoubt(id, ALL_CLUES, 'contradiction', because);
  }
}

/** Of a carrier through several walls, a cable whose one end alone is known may leave at any. */
function doubtHalfKnown(cable: Cable, book: ClueBook, rooms: Rooms): void {
  const { from, to } = cableRooms(rooms, cable);
  if ((from === null) === (to === null)) return;
  const onWay = new Set(book.cleanlyAt(PATH_CLUES));
  const along = book.cleanlyAt(CARRIER_CLUES).filter((id) => !onWay.has(id));
  if (along.length < 2) return;
  const because = `it is not known how far ${cable.ref} follows it: the room of its other end was not found`;
  for (const id of along) book.putInDoubt(id, CARRIER_CLUES, 'unclear end', because);
}

/** "Pump hall sockets" stand in the pump hall: something the cable passes must border on it. */
function keepToMentionedRooms(
  cable: Cable,
  book: ClueBook,
  { penetrations, rooms }: CrossChecks,
): void {
  const clean = book.cleanlyAt(ROUTE_CLUES);
  const sides = clean.flatMap((id) => {
    const penetration = penetrations.get(id);
    return penetration === undefined ? [] : [roomsBeside(rooms, penetration)];
  });
  if (sides.length === 0 || sides.some(({ near, far }) => near === null || far === null)) return;
  const touched = new Set(sides.flatMap(({ near, far }) => [near, far]));
  for (const text of [cable.fromRoom ?? cable.from, cable.toRoom ?? cable.to]) {
    const mentioned = roomsMentioned(rooms, text);
    if (mentioned.length === 0 || mentioned.some((room) => touched.has(room))) continue;
    const because = `nothing it passes borders on the room of ${text}`;
    for (const id of clean) book.putInDoubt(id, ROUTE_CLUES, 'contradiction', because);
  }
}

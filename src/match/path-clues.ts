import type { Building } from '../model/building.ts';
import type { Cable } from '../model/cable.ts';
import type { Penetration } from '../model/penetration.ts';
import type { Settings } from '../model/settings.ts';
import { type CableEnds, EndFinder } from './cable-ends.ts';
import { buildCarrierNetwork } from './carrier-network.ts';
import type { ClueBook } from './clue-book.ts';
import { indexEquipment } from './equipment-ends.ts';
import { type CableWay, type CableWays, type EndPair, pairKey, WayFinder } from './find-paths.ts';
import type { ReferenceIndex } from './reference-index.ts';
import { indexPoints, type Rooms } from './rooms.ts';
import type { RouteFinding } from './route-clues.ts';
import { CARRIER_CLUES, type ClueKind, REFERENCE_CLUES } from './score.ts';

/** Ways of all cables whose ends were found in the network of carriers. */
export interface CablePaths {
  readonly endsOf: (cable: Cable) => CableEnds;
  /** Most cables of the schedule have both ends in the network: one that has not is unusual. */
  readonly areEndsUsual: boolean;
  readonly waysOf: (pair: EndPair) => CableWays | null;
  readonly along: (pair: EndPair, listed: ListedCarriers) => CableWay | null;
  /** Services that cross at a penetration. */
  readonly servicesAt: (penetrationId: string) => readonly string[];
}

/** Carriers a way should keep to, and a key that tells lists apart. */
export type ListedCarriers = Pick<RouteFinding, 'key' | 'serviceIds'>;

/** Share of cables with known ends from which an unknown end is taken for an error. Our choice. */
const USUAL_SHARE = 0.5;

/** Builds the network, finds the ends of all cables, and the ways between them. */
export function preparePaths(
  building: Building,
  penetrations: readonly Penetration[],
  cables: readonly Cable[],
  index: ReferenceIndex,
  rooms: Rooms,
  { rivalMargin }: Settings['match'],
): CablePaths {
  const network = buildCarrierNetwork(building, penetrations);
  const finder = new EndFinder(
    network,
    index,
    rooms,
    indexPoints(rooms, network.positionsMm),
    indexEquipment(building.equipment ?? [], network.positionsMm),
  );
  const pairs = cables.flatMap((cable) => pairOf(finder.endsOf(cable)) ?? []);
  const ways = new WayFinder(
    network,
    pairs.flatMap(({ from, to }) => [from, to]),
    1 + rivalMargin,
  );
  const found = ways.findAll(pairs);
  const cache = new Map<string, CableWay | null>();
  const servicesAt = new Map(
    penetrations.map(({ id, crossings }) => [
      id,
      crossings.flatMap(({ serviceIds }) => serviceIds),
    ]),
  );
  return {
    areEndsUsual: pairs.length >= cables.length * USUAL_SHARE,
    endsOf: (cable) => finder.endsOf(cable),
    waysOf: (pair) => found.get(pairKey(pair)) ?? null,
    servicesAt: (id) => servicesAt.get(id) ?? [],
    along: (pair, route) => {
      const key = `${pairKey(pair)}\n${route.key}`;
      let way = cache.get(key);
      if (way === undefined) {
        way = ways.findAlong(pair, new Set(route.serviceIds.flat()));
        cache.set(key, way);
      }
      return way;
    },
  };
}

/** Both ends where both are known. */
function pairOf({ from, to }: CableEnds): EndPair | null {
  return from === null || to === null ? null : { from, to };
}

/** What the path of one cable came to. */
export type PathOutcome = 'noEnds' | 'sameRoom' | 'noWay' | 'found' | 'contradicted';

/**
 * Clues from the way along the carriers between the cable's ends. A route that lists carriers
 * leads the way; references that lie elsewhere contradict it, and then neither stands alone.
 */
export function addPathClues(
  cable: Cable,
  paths: CablePaths,
  route: RouteFinding,
  book: ClueBook,
): PathOutcome {
  const ends = paths.endsOf(cable);
  const pair = pairOf(ends);
  if (pair === null) {
    const isHalfKnown = ends.from !== null || ends.to !== null;
    if (paths.areEndsUsual || isHalfKnown) doubtWholeLength(cable, book);
    return 'noEnds';
  }
  if (pair.from.key === pair.to.key) return 'sameRoom';
  const ways = paths.waysOf(pair);
  if (ways === null) return 'noWay';
  return route.serviceIds.some((ids) => ids.length > 0)
    ? followRoute(cable, pair, paths, route, book)
    : followShortest(cable, pair, paths, ways, book);
}

/**
 * How far a cable follows a carrier through several walls can't be told without both its ends. Where
 * a schedule hardly ever gives ends that the models know, a listed carrier is taken as a whole; where
 * it usually does, or gives the other end of this very cable, a missing one is an error in the row.
 */
function doubtWholeLength(cable: Cable, book: ClueBook): void {
  const along = book.cleanlyAt(CARRIER_CLUES);
  if (along.length < 2) return;
  const because = `it is not known how far ${cable.ref} follows it: where it begins or ends was not found`;
  for (const id of along) book.putInDoubt(id, CARRIER_CLUES, 'unclear end', because);
}

function followRoute(
  cable: Cable,
  pair: EndPair,
  paths: CablePaths,
  route: RouteFinding,
  book: ClueBook,
): PathOutcome {
  const way = paths.along(pair, route);
  if (way === null) return 'noWay';
  const isUsed = route.serviceIds.every(
    (ids) => ids.length === 0 || ids.some((id) => way.serviceIds.has(id)),
  );
  if (!isUsed) {
    const because = `the carriers from ${pair.from.label} to ${pair.to.label} do not lead along all that its route lists`;
    for (const id of book.cleanlyAt(CARRIER_CLUES)) {
      book.putInDoubt(id, CARRIER_CLUES, 'contradiction', because);
    }
    addWay(cable, pair, way, book, 'contradiction');
    return 'contradicted';
  }
  const passed = new Set(way.crossings.map(({ penetrationId }) => penetrationId));
  for (const id of book.cleanlyAt(CARRIER_CLUES)) {
    // It leaves the carrier before this wall.
    if (!passed.has(id)) book.drop(id, 'route names the carrier');
  }
  addWay(cable, pair, way, book, null);
  return 'found';
}

function followShortest(
  cable: Cable,
  pair: EndPair,
  paths: CablePaths,
  { best, avoidable, other }: CableWays,
  book: ClueBook,
): PathOutcome {
  const named = book.cleanlyAt(REFERENCE_CLUES);
  const holdsAll = (way: CableWay) => {
    const passed = new Set(way.crossings.map(({ penetrationId }) => penetrationId));
    return named.every((id) => passed.has(id));
  };
  if (named.length > 0) {
    const listed = { key: named.join('\n'), serviceIds: named.map(paths.servicesAt) };
    const way = holdsAll(best) ? best : paths.along(pair, listed);
    if (way !== null && holdsAll(way)) {
      addWay(cable, pair, way, book, null);
      return 'found';
    }
    const because = `the carriers from ${pair.from.label} to ${pair.to.label} lead elsewhere`;
    for (const id of named) book.putInDoubt(id, REFERENCE_CLUES, 'contradiction', because);
    addWay(cable, pair, best, book, 'contradiction');
    return 'contradicted';
  }
  const split = (way: CableWay, isTaken: (id: string) => boolean): CableWay => ({
    ...way,
    crossings: way.crossings.filter(({ penetrationId }) => isTaken(penetrationId)),
  });
  const onBest = new Set(best.crossings.map(({ penetrationId }) => penetrationId));
  addWay(
    cable,
    pair,
    split(best, (id) => !avoidable.has(id)),
    book,
    null,
  );
  addWay(
    cable,
    pair,
    split(best, (id) => avoidable.has(id)),
    book,
    'other way',
  );
  if (other !== null)
    addWay(
      cable,
      pair,
      split(other, (id) => !onBest.has(id)),
      book,
      'other way',
    );
  return 'found';
}

function addWay(
  cable: Cable,
  pair: EndPair,
  way: CableWay,
  book: ClueBook,
  doubt: 'other way' | 'contradiction' | null,
): void {
  const kind: ClueKind = 'path between its ends';
  const lengthM = (way.lengthMm / 1000).toFixed(1);
  const tail =
    doubt === 'other way'
      ? ', but there is another way hardly longer'
      : doubt === 'contradiction'
        ? ', but its references or its route say otherwise'
        : '';
  for (const { penetrationId, crossingId } of way.crossings) {
    const reason = `The carriers from ${pair.from.label} to ${pair.to.label} (${lengthM} m) lead ${cable.ref} through here${tail}.`;
    book.add(penetrationId, { kind, directness: 1, doubt, reason }, crossingId);
  }
}

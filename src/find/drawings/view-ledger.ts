import type {
  Findings,
  LedgerEntry,
  OpeningOutcome,
  Penetration,
  ServiceOutcome,
} from '../../model/penetration.ts';
import type { EndOnFind } from './build-end-on.ts';
import type { Twin } from './drawn-twice.ts';
import type { ItemFate } from './find-crossings.ts';
import type { ServiceItem, Sheet } from './sheet.ts';
import type { SheetItem } from './sheet-item.ts';

/** What became of each item on a view's layers of services and openings. */
export function viewLedger(
  sheet: Sheet,
  penetrations: readonly Penetration[],
  endOn: readonly EndOnFind[],
  fates: ReadonlyMap<string, ItemFate>,
  doors: ReadonlySet<string>,
): Findings['ledger'] {
  const byService = new Map<string, string[]>();
  const byOpening = new Map<string, string[]>();
  const note = (map: Map<string, string[]>, key: string, id: string) => {
    const known = map.get(key);
    if (known === undefined) map.set(key, [id]);
    else if (!known.includes(id)) known.push(id);
  };
  for (const { id, crossings, openings } of penetrations) {
    for (const { serviceIds } of crossings) for (const key of serviceIds) note(byService, key, id);
    for (const opening of openings) note(byOpening, opening.id, id);
  }
  // An opening inside another is its edge or frame.
  for (const { penetration, hole } of endOn) {
    for (const { point } of hole.inside) {
      if (point.service === null) note(byOpening, point.item.id, penetration.id);
    }
  }
  // A sleeve or a frame on a layer of services is an opening.
  const drawnOpenings = [
    ...sheet.openings,
    ...sheet.services.filter(({ id }) => byOpening.has(id)),
  ];
  const services = sheet.services.map((item) => serviceEntry(item, byService.get(item.id), fates));
  const openings = drawnOpenings.map((item) =>
    openingEntry(item, byOpening.get(item.id), doors.has(item.id)),
  );
  return {
    services: [
      ...services,
      ...twinEntries(sheet.twins.services, services),
      ...sheet.excluded.map((item) => ({
        ...entryOf(item),
        outcome: 'excluded' as const,
        reason: 'its layer is excluded by the project file',
        penetrationIds: [],
      })),
    ],
    openings: [...openings, ...twinEntries(sheet.twins.openings, openings)],
  };
}

/** What is drawn again on the same spot has the fate of what it lies on. */
function twinEntries<Outcome extends string>(
  twins: readonly Twin<SheetItem>[],
  entries: readonly LedgerEntry<Outcome>[],
): LedgerEntry<Outcome>[] {
  const byId = new Map(entries.map((entry) => [entry.id, entry]));
  return twins.flatMap(({ item, first }) => {
    const entry = byId.get(first.id);
    const reason = `drawn again on the same spot as ${first.ref.id}, which counts for both`;
    return entry === undefined ? [] : [{ ...entry, ...entryOf(item), reason }];
  });
}

function entryOf(item: SheetItem) {
  return {
    id: item.id,
    ref: item.ref,
    name: item.symbol?.blockName ?? `${item.type} on ${item.layer}`,
  };
}

function serviceEntry(
  item: ServiceItem,
  penetrationIds: readonly string[] | undefined,
  fates: ReadonlyMap<string, ItemFate>,
): LedgerEntry<ServiceOutcome> {
  if (penetrationIds !== undefined) {
    return { ...entryOf(item), outcome: 'through', reason: null, penetrationIds };
  }
  const fate = fates.get(item.id) ?? clearFate(item);
  return { ...entryOf(item), ...fate, penetrationIds: [] };
}

function clearFate(item: ServiceItem): ItemFate {
  const drawsNothing = item.entities.length === 0;
  return drawsNothing
    ? { outcome: 'noGeometry', reason: 'draws no line' }
    : { outcome: 'clear', reason: 'goes through no host of this view' };
}

function openingEntry(
  item: SheetItem,
  penetrationIds: readonly string[] | undefined,
  isDoor: boolean,
): LedgerEntry<OpeningOutcome> {
  if (penetrationIds !== undefined) {
    return { ...entryOf(item), outcome: 'inPenetration', reason: null, penetrationIds };
  }
  return {
    ...entryOf(item),
    outcome: isDoor ? 'doorsWindows' : 'noHost',
    reason: isDoor
      ? 'looks like a door or window: no label names it and no service goes through'
      : 'lies in no wall or slab of this view',
    penetrationIds: [],
  };
}

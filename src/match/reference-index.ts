import { lookAlikeKey, type Mention, mentionsIn, writtenForm } from '../basics/reference-key.ts';
import type { Building, Reference, Service } from '../model/building.ts';
import type { Penetration } from '../model/penetration.ts';

/** Something of the model that a text names. */
export type Target =
  | { readonly type: 'opening'; readonly penetrationId: string }
  | {
      readonly type: 'crossing';
      readonly penetrationId: string;
      readonly crossingId: string;
      /** It is a cable itself: nothing is laid in it. */
      readonly isCable: boolean;
    }
  | { readonly type: 'service'; readonly serviceId: string };

/** A target, and how a text names it. */
export interface Naming {
  readonly target: Target;
  readonly mention: Mention;
  /** The whole text, for people. */
  readonly text: string;
  readonly nearness: Nearness;
}

/**
 * Whether a text is the thing's own, or a label that stands nearest to it, or one farther off than
 * another: in a crowded drawing that one is its neighbour's.
 */
export type Nearness = 'own' | 'nearest' | 'farther';

/** What the model names, by the key of the reference. */
export interface ReferenceIndex {
  readonly byKey: ReadonlyMap<string, readonly Naming[]>;
  /** Keys that only look the same, by look-alike key; those with one key are left out. */
  readonly lookAlikes: ReadonlyMap<string, ReadonlySet<string>>;
  /** All keys by look-alike key, for suggestions. */
  readonly keysByLook: ReadonlyMap<string, ReadonlySet<string>>;
}

/** Indexes every text on openings, crossings and services. Linear in their number. */
export function indexReferences(
  penetrations: readonly Penetration[],
  building: Building | null,
): ReferenceIndex {
  const byKey = new Map<string, Naming[]>();
  const cache = new Map<string, readonly Mention[]>();
  const add = ({ text, nearness }: PlacedText, target: Target) => {
    let mentions = cache.get(text);
    if (mentions === undefined) {
      mentions = mentionsIn(text);
      cache.set(text, mentions);
    }
    for (const mention of mentions) {
      const naming = { target, mention, text, nearness };
      const namings = byKey.get(mention.key);
      if (namings === undefined) byKey.set(mention.key, [naming]);
      else namings.push(naming);
    }
  };
  const services = new Map((building?.services ?? []).map((service) => [service.id, service]));
  const inCrossings = new Set<string>();
  for (const penetration of penetrations) {
    for (const text of openingTexts(penetration)) {
      add(text, { type: 'opening', penetrationId: penetration.id });
    }
    for (const crossing of penetration.crossings) {
      const own = crossing.serviceIds.flatMap((id) => services.get(id) ?? []);
      for (const { id } of own) inCrossings.add(id);
      const texts = distinct([...own.flatMap(serviceTexts), ...placedTexts(crossing.references)]);
      for (const text of texts) {
        add(text, {
          type: 'crossing',
          penetrationId: penetration.id,
          crossingId: crossing.id,
          isCable: crossing.kind === 'cable',
        });
      }
    }
  }
  for (const service of building?.services ?? []) {
    for (const text of serviceTexts(service)) add(text, { type: 'service', serviceId: service.id });
  }
  const keysByLook = groupLookAlikes(byKey);
  const lookAlikes = new Map([...keysByLook].filter(([, keys]) => keys.size > 1));
  return { byKey, lookAlikes, keysByLook };
}

interface PlacedText {
  readonly text: string;
  readonly nearness: Nearness;
}

/** Texts that name an opening: the opening's own name, and labels on or beside it. */
function openingTexts(penetration: Penetration): readonly PlacedText[] {
  return distinct([
    ...penetration.openings.map(({ name }) => ownText(name)),
    ...placedTexts(penetration.references),
  ]);
}

/** Names, tags and marks of a service. */
function serviceTexts(service: Service): readonly PlacedText[] {
  return distinct([
    ownText(service.name),
    ...(service.tag === null ? [] : [ownText(service.tag)]),
    ...placedTexts(service.references),
  ]);
}

function ownText(text: string): PlacedText {
  return { text, nearness: 'own' };
}

/** Labels read at one place differ by less than this in their distance. */
const SAME_DISTANCE_MM = 1;

function placedTexts(references: readonly Reference[]): readonly PlacedText[] {
  const distances = references.flatMap(({ evidence }) => evidence.distanceMm ?? []);
  const nearestMm = Math.min(...distances);
  return references.map(({ text, evidence: { distanceMm } }) => {
    if (distanceMm === undefined) return ownText(text);
    const isNearest = distanceMm <= nearestMm + SAME_DISTANCE_MM;
    return { text, nearness: isNearest ? 'nearest' : 'farther' };
  });
}

const CLOSENESS: readonly Nearness[] = ['own', 'nearest', 'farther'];

/** One of each text, as its own where it is that too. */
function distinct(texts: readonly PlacedText[]): readonly PlacedText[] {
  const found = new Map<string, PlacedText>();
  for (const placed of texts) {
    const known = found.get(placed.text);
    const isCloser =
      known === undefined || CLOSENESS.indexOf(placed.nearness) < CLOSENESS.indexOf(known.nearness);
    if (placed.text.trim() !== '' && isCloser) found.set(placed.text, placed);
  }
  return [...found.values()];
}

/**
 * Whether a label beside a hole is its neighbour's: another label stands nearer, or the name is
 * that of a carrier that does not pass here.
 */
export function isNeighboursLabel(naming: Naming, namings: readonly Naming[]): boolean {
  if (naming.nearness === 'own') return false;
  if (naming.nearness === 'farther') return true;
  if (naming.target.type !== 'opening') return false;
  const { penetrationId } = naming.target;
  const owners = namings.filter(({ target, nearness }) => {
    return nearness === 'own' && target.type !== 'opening';
  });
  return (
    owners.length > 0 &&
    owners.every(
      ({ target }) => target.type === 'service' || target.penetrationId !== penetrationId,
    )
  );
}

/** Words within sentences are left out: they would make look-alikes of chance. */
function groupLookAlikes(byKey: ReadonlyMap<string, readonly Naming[]>): Map<string, Set<string>> {
  const groups = new Map<string, Set<string>>();
  for (const [key, namings] of byKey) {
    const naming = namings.find(({ mention }) => mention.kind !== 'words');
    if (naming === undefined) continue;
    const look = lookAlikeKey(naming.mention.written);
    const keys = groups.get(look);
    if (keys === undefined) groups.set(look, new Set([key]));
    else keys.add(key);
  }
  return groups;
}

/** Distinct writings of a key in the model, words within sentences left out. */
export function writtenForms(namings: readonly Naming[]): ReadonlySet<string> {
  const forms = namings.flatMap(({ mention }) =>
    mention.kind === 'words' ? [] : [writtenForm(mention.written)],
  );
  return new Set(forms);
}

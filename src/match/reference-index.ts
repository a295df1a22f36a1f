import type { Building, Reference, Service } from '../model/building.ts';
import type { Penetration } from '../model/penetration.ts';
import { lookAlikeKey, type Mention, mentionsIn, writtenForm } from './reference-key.ts';

/** Something of the model that a text names. */
export type Target =
  | { readonly type: 'opening'; readonly penetrationId: string }
  | { readonly type: 'crossing'; readonly penetrationId: string; readonly crossingId: string }
  | { readonly type: 'service'; readonly serviceId: string };

/** A target, and how a text names it. */
export interface Naming {
  readonly target: Target;
  readonly mention: Mention;
  /** The whole text, for people. */
  readonly text: string;
}

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
  const add = (text: string, target: Target) => {
    let mentions = cache.get(text);
    if (mentions === undefined) {
      mentions = mentionsIn(text);
      cache.set(text, mentions);
    }
    for (const mention of mentions) {
      const naming = { target, mention, text };
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
      const texts = unique([...texted(crossing.references), ...own.flatMap(serviceTexts)]);
      for (const text of texts) {
        add(text, { type: 'crossing', penetrationId: penetration.id, crossingId: crossing.id });
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

/** Texts that name an opening: labels on or beside it, and the opening's own name. */
function openingTexts(penetration: Penetration): readonly string[] {
  return unique([
    ...texted(penetration.references),
    ...penetration.openings.map(({ name }) => name),
  ]);
}

/** Names, tags and marks of a service. */
function serviceTexts(service: Service): readonly string[] {
  return unique([
    ...texted(service.references),
    service.name,
    ...(service.tag === null ? [] : [service.tag]),
  ]);
}

function texted(references: readonly Reference[]): readonly string[] {
  return references.map(({ text }) => text);
}

function unique(texts: readonly string[]): readonly string[] {
  return [...new Set(texts.filter((text) => text.trim() !== ''))];
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

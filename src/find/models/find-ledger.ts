import { sortedBy } from '../../basics/order.ts';
import type { Building, OtherElement } from '../../model/building.ts';
import type {
  FindLedger,
  LedgerEntry,
  OpeningOutcome,
  Penetration,
  ServiceOutcome,
} from '../../model/penetration.ts';
import type { Contact, ContactKind, HostCrossing } from './crossings.ts';
import type { OtherCrossing } from './other-elements.ts';
import type { Scene } from './scene.ts';

const OUTCOME_OF_CONTACT: Readonly<Record<ContactKind, ServiceOutcome>> = {
  endsInside: 'endsInside',
  within: 'within',
  byEdge: 'touches',
  partly: 'touches',
  sameSide: 'touches',
  touches: 'touches',
};

const REASON_OF_CONTACT: Readonly<Record<ContactKind, string>> = {
  endsInside: 'It ends inside',
  within: 'It lies within',
  byEdge: 'It leaves by an edge of',
  partly: 'Only a part of its body goes through',
  sameSide: 'It leaves by the side it came in by,',
  touches: 'It only touches',
};

/** The strongest first. */
const ORDER: readonly ContactKind[] = [
  'endsInside',
  'within',
  'byEdge',
  'sameSide',
  'partly',
  'touches',
];

export interface LedgerParts {
  readonly scene: Scene;
  readonly crossings: readonly HostCrossing[];
  readonly contacts: readonly Contact[];
  readonly swallowed: ReadonlyMap<number, number>;
  readonly penetrations: readonly Penetration[];
  readonly others: readonly OtherCrossing[];
}

/** One entry for each service and opening of the building. */
export function makeLedger(parts: LedgerParts): FindLedger {
  return { services: serviceEntries(parts), openings: openingEntries(parts) };
}

function serviceEntries(parts: LedgerParts): readonly LedgerEntry<ServiceOutcome>[] {
  const { scene, penetrations } = parts;
  const passing = new Map<string, string[]>();
  for (const { id, crossings } of penetrations) {
    for (const service of new Set(crossings.flatMap(({ serviceIds }) => serviceIds))) {
      const ids = passing.get(service);
      if (ids === undefined) passing.set(service, [id]);
      else ids.push(id);
    }
  }
  const numberOf = new Map(scene.runs.paths.map(({ service }, n) => [service.id, n]));
  const contactOf = strongestContacts(parts.contacts);
  const swallowedBy = swallowers(parts);
  const otherOf = new Map(parts.others.map(({ service, element }) => [service, element]));
  return sortedBy(
    scene.building.services.map(({ id, ref, name, ifcClass }): LedgerEntry<ServiceOutcome> => {
      const penetrationIds = (passing.get(id) ?? []).sort();
      if (penetrationIds.length > 0) {
        return { id, ref, name, outcome: 'through', reason: null, penetrationIds };
      }
      const number = numberOf.get(id);
      const fate =
        number === undefined
          ? { outcome: 'excluded' as const, reason: `${ifcClass} is left out by the settings.` }
          : fateOf(scene, number, {
              swallower: swallowedBy.get(number),
              contact: contactOf.get(number),
              other: otherOf.get(number),
            });
      return { id, ref, name, ...fate, penetrationIds: [] };
    }),
    ({ id }) => id,
  );
}

/** What became of a service that is in no penetration. */
function fateOf(
  scene: Scene,
  number: number,
  {
    swallower,
    contact,
    other,
  }: {
    readonly swallower: string | undefined;
    readonly contact: Contact | undefined;
    readonly other: OtherElement | undefined;
  },
): { outcome: ServiceOutcome; reason: string } {
  if (swallower !== undefined) {
    return { outcome: 'excluded', reason: `It passes ${swallower}, which is not sealed.` };
  }
  const path = scene.runs.paths[number];
  if (path === undefined || path.pieces.length === 0) {
    return { outcome: 'noGeometry', reason: 'It has no centre line and no usable body.' };
  }
  if (contact === undefined) {
    const reason =
      other === undefined
        ? 'It meets no host.'
        : `It goes through ${other.ifcClass} "${other.name}", which counts as no host by the settings.`;
    return { outcome: 'clear', reason };
  }
  const host = scene.hosts[contact.host]?.host;
  const hostText = host === undefined ? 'a host' : `${host.ifcClass} "${host.name}"`;
  return {
    outcome: OUTCOME_OF_CONTACT[contact.kind],
    reason: `${REASON_OF_CONTACT[contact.kind]} ${hostText}.`,
  };
}

function strongestContacts(contacts: readonly Contact[]): ReadonlyMap<number, Contact> {
  const strongest = new Map<number, Contact>();
  for (const contact of contacts) {
    const known = strongest.get(contact.service);
    if (known === undefined || ORDER.indexOf(contact.kind) < ORDER.indexOf(known.kind)) {
      strongest.set(contact.service, contact);
    }
  }
  return strongest;
}

function swallowers({ scene, crossings, swallowed }: LedgerParts): ReadonlyMap<number, string> {
  const names = new Map<number, string>();
  for (const [crossing, opening] of swallowed) {
    const body = scene.openings[opening];
    if (body == null) continue;
    const what = scene.classes[opening]?.outcome === 'shaft' ? 'a shaft' : 'a door or window';
    for (const service of crossings[crossing]?.services ?? []) {
      names.set(service, `${what} ("${body.opening.name}")`);
    }
  }
  return names;
}

function openingEntries({
  scene,
  penetrations,
}: LedgerParts): readonly LedgerEntry<OpeningOutcome>[] {
  const partOf = new Map<string, string[]>();
  for (const { id, openings } of penetrations) {
    for (const opening of openings) {
      partOf.set(opening.id, [...(partOf.get(opening.id) ?? []), id]);
    }
  }
  return sortedBy(
    scene.building.openings.map(({ id, ref, name }, n): LedgerEntry<OpeningOutcome> => {
      const penetrationIds = (partOf.get(id) ?? []).sort();
      return penetrationIds.length > 0
        ? { id, ref, name, outcome: 'inPenetration', reason: null, penetrationIds }
        : { id, ref, name, ...whyNot(scene, n), penetrationIds: [] };
    }),
    ({ id }) => id,
  );
}

function whyNot(scene: Scene, n: number): { outcome: OpeningOutcome; reason: string } {
  const kind = scene.classes[n];
  if (kind == null) return withoutGeometry(scene.building, n);
  return {
    outcome: kind.outcome === 'inPenetration' ? 'noHost' : kind.outcome,
    reason: kind.reason ?? 'Its host could not be crossed.',
  };
}

function withoutGeometry(
  building: Building,
  n: number,
): { outcome: OpeningOutcome; reason: string } {
  const fillings = building.openings[n]?.fillingClasses ?? [];
  if (fillings.some((filling) => /door|window/i.test(filling))) {
    return { outcome: 'doorsWindows', reason: `It is filled by ${fillings.join(', ')}.` };
  }
  return { outcome: 'noHost', reason: 'It has no usable geometry, so that its place is unknown.' };
}

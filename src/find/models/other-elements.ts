import type { Evidence } from '../../basics/evidence.ts';
import { groupBy } from '../../basics/order.ts';
import { makeQuery, type Query } from '../../basics/query.ts';
import type { Host, OtherElement } from '../../model/building.ts';
import { meetHosts } from './crossings.ts';
import { type HostBody, hostBody } from './host-body.ts';
import type { Scene } from './scene.ts';

/** A service that goes through an element that counts as no host. Numbers of the scene's runs. */
export interface OtherCrossing {
  readonly service: number;
  readonly element: OtherElement;
}

/**
 * Services that go from one face to the opposite one of elements that may separate but count as no
 * hosts, by the same rule as for hosts.
 */
export function crossOthers({ building, settings, runs }: Scene): readonly OtherCrossing[] {
  const others = building.others ?? [];
  if (others.length === 0 || runs.paths.length === 0) return [];
  const elementOf = new Map(others.map((element) => [element.id, element]));
  const bodies = others
    .map((element) => hostBody(asHost(element), settings.find.leafGapMm))
    .filter((body): body is HostBody => body !== null);
  const { crossings } = meetHosts(bodies, runs, settings.find.shaftFromMm);
  return crossings.flatMap(({ host, services }) => {
    const element = elementOf.get(bodies[host]?.host.id ?? '');
    return element === undefined ? [] : services.map((service) => ({ service, element }));
  });
}

function asHost({ id, ref, ifcClass, name, mesh }: OtherElement): Host {
  return {
    id,
    ref,
    kind: 'other',
    ifcClass,
    name,
    tag: null,
    storeyId: null,
    mesh,
    openingIds: [],
    thicknessMm: null,
    material: null,
    fireRating: null,
    isExternal: null,
    isLoadBearing: null,
    isCompartment: null,
  };
}

const MOST_SHOWN = 5;

/** One question a class: whether its elements are hosts is not ours to say. */
export function otherCrossingQueries(
  { runs }: Scene,
  crossings: readonly OtherCrossing[],
): readonly Query[] {
  return [...groupBy(crossings, ({ element }) => element.ifcClass)].map(([name, group]) => {
    const services = new Set(group.map(({ service }) => service));
    const elements = new Map(group.map(({ element }) => [element.id, element]));
    const isOne = services.size === 1;
    return makeQuery('service-through-other-element', {
      about: `class/${name}`,
      text: `${isOne ? 'A service goes' : `${services.size} services go`} through ${elements.size === 1 ? `an ${name} element` : `${elements.size} ${name} elements`}, which count as no hosts: nothing was sealed there.`,
      why: 'Where such an element separates two spaces, what passes it must be sealed as well.',
      settles: `hosts.classes: [${name}] in the project file, or word that these elements separate nothing.`,
      evidence: [
        ...[...elements.values()].slice(0, MOST_SHOWN).map(
          ({ ref, name: text }): Evidence => ({
            fact: 'geometry',
            text: `Passed: "${text}".`,
            place: { fileKey: ref.fileKey, id: ref.id },
          }),
        ),
        ...[...services]
          .slice(0, MOST_SHOWN)
          .flatMap((service) => runs.paths[service]?.service.evidence ?? []),
      ],
    });
  });
}

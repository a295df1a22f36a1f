import { compareText } from '../../basics/order.ts';
import { makeQuery, type Query } from '../../basics/query.ts';
import { bandThicknessMm } from '../../geometry/band.ts';
import { insideStretches, type Passage, passages, pathAt } from '../../geometry/plane-cross.ts';
import { sizeText } from '../../geometry/shape.ts';
import type { Vec2 } from '../../geometry/vec.ts';
import { elementId } from '../../model/ids.ts';
import type { PenetrationHost, ServiceOutcome } from '../../model/penetration.ts';
import type { Settings } from '../../model/settings.ts';
import type { CrossingDraft } from './crossing-draft.ts';
import type { HostBands } from './host-bands.ts';
import type { Label } from './labels.ts';
import { itemsBetween, type ServiceChain } from './service-chains.ts';
import type { ServiceItem } from './sheet.ts';

/** What became of an item besides going through: the worst that was seen, and why. */
export interface ItemFate {
  readonly outcome: Exclude<ServiceOutcome, 'through'>;
  readonly reason: string;
}

export interface FoundCrossings {
  readonly drafts: readonly CrossingDraft[];
  readonly fates: ReadonlyMap<string, ItemFate>;
  readonly queries: readonly Query[];
}

const OUTCOME_ORDER: readonly ItemFate['outcome'][] = [
  'endsInside',
  'within',
  'touches',
  'clear',
  'noGeometry',
  'excluded',
];

/** Passages of all chains through the hosts of a view. */
export function findCrossings(
  chains: readonly ServiceChain[],
  labels: readonly (readonly Label[])[],
  hosts: HostBands,
  settings: Settings,
): FoundCrossings {
  const drafts: CrossingDraft[] = [];
  const fates = new Map<string, ItemFate>();
  const queries: Query[] = [];
  chains.forEach((chain, i) => {
    const stretches = insideStretches(chain.path, hosts.index);
    let count = 0;
    for (const passage of passages(chain.path, stretches, hosts.bands, settings.find.leafGapMm)) {
      const items = itemsBetween(chain, passage.s0, passage.s1);
      if (passage.outcome === 'through') {
        const draft = draftOf(chain, passage, items, count, hosts, labels[i] ?? []);
        if (draft.thicknessMm < settings.find.shallowestHostMm) continue;
        drafts.push(draft);
        count += 1;
        continue;
      }
      const fate = fateOf(passage);
      for (const item of items) keepWorst(fates, item.id, fate);
      const query = queryOf(passage, items, chain, hosts);
      if (query !== null) queries.push(query);
    }
  });
  return { drafts, fates, queries };
}

function keepWorst(fates: Map<string, ItemFate>, id: string, fate: ItemFate): void {
  const known = fates.get(id);
  if (
    known === undefined ||
    OUTCOME_ORDER.indexOf(fate.outcome) < OUTCOME_ORDER.indexOf(known.outcome)
  ) {
    fates.set(id, fate);
  }
}

function draftOf(
  chain: ServiceChain,
  passage: Passage,
  items: readonly ServiceItem[],
  count: number,
  hosts: HostBands,
  labels: readonly Label[],
): CrossingDraft {
  const entry = pathAt(chain.path, passage.s0).point;
  const exit = pathAt(chain.path, passage.s1).point;
  const member = chain.members.find(({ s0, s1 }) => s1 > passage.s0 && s0 < passage.s1);
  return {
    items,
    count,
    entry,
    exit,
    middle: [(entry[0] + exit[0]) / 2, (entry[1] + exit[1]) / 2],
    axis: passage.axis,
    lengthMm: passage.s1 - passage.s0,
    skewRad: passage.skewRad,
    thicknessMm: passage.thicknessMm,
    hosts: hostsOf(passage, hosts),
    labels,
    drawnWidthMm: member?.path.widthMm ?? null,
  };
}

/** The leaves of a passage in order along the path; a leaf drawn in several bands counts once. */
function hostsOf(passage: Passage, hosts: HostBands): PenetrationHost[] {
  const found: PenetrationHost[] = [];
  for (const { band } of passage.stretches) {
    const host = hostOf(band, hosts);
    if (host !== null && !found.some(({ id }) => id === host.id)) found.push(host);
  }
  return found;
}

export function hostOf(band: number, hosts: HostBands): PenetrationHost | null {
  const at = hosts.bands[band];
  const entity = [...hosts.entitiesOf(band)].sort((a, b) => compareText(a.ref.id, b.ref.id))[0];
  if (at === undefined || entity === undefined) return null;
  const thicknessMm = roundMm(bandThicknessMm(at));
  return {
    id: elementId(entity.ref),
    ref: entity.ref,
    kind: hosts.kindOf(band),
    name: `${sizeText(thicknessMm)} mm ${hosts.kindOf(band)} on layer ${entity.layer}`,
    thicknessMm,
    material: null,
    fireRating: null,
    isExternal: null,
    isLoadBearing: null,
  };
}

/** Drawings carry rounding noise: a thousandth of a millimetre is none of theirs. */
export const roundMm = (value: number): number => Math.round(value * 1000) / 1000;

function fateOf(passage: Passage): ItemFate {
  switch (passage.outcome) {
    case 'endsInside':
      return { outcome: 'endsInside', reason: 'ends inside the host' };
    case 'within':
      return { outcome: 'within', reason: 'lies within the host' };
    case 'edge':
      return {
        outcome: 'touches',
        reason: 'comes in or out by the end of a wall, not by its face',
      };
    default:
      return { outcome: 'touches', reason: 'comes in and out by the same face' };
  }
}

function queryOf(
  passage: Passage,
  items: readonly ServiceItem[],
  chain: ServiceChain,
  hosts: HostBands,
): Query | null {
  const [item] = items;
  const band = passage.stretches[0]?.band;
  const host = band === undefined ? null : hostOf(band, hosts);
  if (item === undefined || host === null) return null;
  const at = pathAt(chain.path, (passage.s0 + passage.s1) / 2).point;
  const common = {
    about: `${item.id}/${host.id}`,
    evidence: [
      { fact: 'service', text: `${item.type} on layer ${item.layer}`, place: item.ref },
      { fact: 'host', text: host.name, place: host.ref },
    ].map(({ fact, text, place }) => ({
      fact,
      text,
      place: { fileKey: place.fileKey, id: place.id },
    })),
  };
  const where = `near ${placeText(at)}`;
  switch (passage.outcome) {
    case 'endsInside':
      return makeQuery('service-ends-inside', {
        ...common,
        text: `A service on layer ${item.layer} ends inside a ${host.name}, ${where}.`,
        why: 'If it goes on, the wall has a hole that is missing from the schedule.',
        settles: 'Does it go through? If so, draw it to the other face.',
      });
    case 'within':
      return makeQuery('service-within-host', {
        ...common,
        text: `A service on layer ${item.layer} lies within a ${host.name}, ${where}.`,
        why: 'What runs in a wall needs no seal, unless it comes out of both faces.',
        settles: 'Word that it is cast or chased in.',
      });
    default:
      return makeQuery('service-leaves-by-edge', {
        ...common,
        text: `A service on layer ${item.layer} ${fateOf(passage).reason}: ${host.name}, ${where}.`,
        why: 'It is not clear that it goes through the wall.',
        settles: 'The route of this service, or the outline of the wall, put right.',
      });
  }
}

const placeText = ([x, y]: Vec2): string => `x ${Math.round(x)}, y ${Math.round(y)} mm`;

import { groupBy } from '../basics/order.ts';
import { makeQuery, type Query } from '../basics/query.ts';
import { writtenForm } from '../basics/reference-key.ts';
import type { Cable, CableMatch, CircuitKind } from '../model/cable.ts';
import type { Crossing, Penetration } from '../model/penetration.ts';

/**
 * Kinds of circuit that are not laid together without a partition or distance. Fibre and earth
 * conductors go with any of them.
 * @source BS 7671 528.1 (bands I and II, and above low voltage), EN 50174-2 (data beside power), BS 5839-1
 * clause 26 (fire alarm beside others); from memory.
 */
const APART: readonly (readonly [CircuitKind, CircuitKind, source: string])[] = [
  ['HV', 'LV', 'BS 7671 528.1, from memory'],
  ['HV', 'control', 'BS 7671 528.1, from memory'],
  ['HV', 'data', 'BS 7671 528.1, from memory'],
  ['HV', 'fire alarm', 'BS 7671 528.1, from memory'],
  ['LV', 'data', 'EN 50174-2, from memory'],
  ['LV', 'fire alarm', 'BS 5839-1 clause 26, from memory'],
  ['control', 'fire alarm', 'BS 5839-1 clause 26, from memory'],
];

const MOST_LISTED = 6;

interface Inside {
  readonly crossing: Crossing;
  readonly penetrationId: string;
  readonly cable: Cable;
}

/**
 * One question for each carrier (tray, conduit, duct) in which cables lie together that codes keep
 * apart, however many walls it passes. A partition is not seen by models, so it is asked for.
 */
export function mixedCircuits(
  penetrations: readonly Penetration[],
  matches: readonly CableMatch[],
  cables: ReadonlyMap<string, Cable>,
): readonly Query[] {
  const crossings = new Map(
    penetrations.flatMap((penetration) => penetration.crossings.map((each) => [each.id, each])),
  );
  const inside = matches.flatMap(({ crossingId, cableId, penetrationId }): Inside[] => {
    const crossing = crossings.get(crossingId ?? '');
    const cable = cables.get(cableId);
    const isLaid = cable !== undefined && cable.status !== 'to be removed';
    return crossing === undefined || !isLaid ? [] : [{ crossing, penetrationId, cable }];
  });
  return [...groupBy(inside, ({ crossing }) => carrierKey(crossing))].flatMap(([key, here]) =>
    questionOf(key, here),
  );
}

/** Pieces of one carrier bear one reference; without one each piece is by itself. */
function carrierKey({ references, id }: Crossing): string {
  const named = references.find(({ text }) => /\d/u.test(text));
  return named === undefined ? id : writtenForm(named.text);
}

function questionOf(key: string, here: readonly Inside[]): Query[] {
  const byKind = new Map<CircuitKind, Set<string>>();
  for (const { cable } of here) {
    if (cable.circuit === null) continue;
    byKind.set(cable.circuit, (byKind.get(cable.circuit) ?? new Set()).add(cable.ref));
  }
  const met = APART.filter(([a, b]) => byKind.has(a) && byKind.has(b));
  const [first] = here;
  if (met.length === 0 || first === undefined) return [];
  const kinds = [...byKind.keys()].filter((kind) => met.some(([a, b]) => kind === a || kind === b));
  const list = kinds.map((kind) => `${kind}: ${listed([...(byKind.get(kind) ?? [])])}`);
  const places = new Set(here.map(({ penetrationId }) => penetrationId));
  return [
    makeQuery('circuits-mixed', {
      about: key,
      ...(places.size === 1 ? { penetrationId: first.penetrationId } : {}),
      text: `Cables lie together in ${nameOf(first.crossing)} that codes keep apart. ${list.join('; ')}.`,
      why: `Heat, faults and interference pass from one to the other (${[...new Set(met.map(([, , source]) => source))].join('; ')}); they also go through the same seal.`,
      settles:
        'A partition or a distance between them, another way for some, or the kind of circuit corrected.',
      evidence: first.crossing.evidence,
    }),
  ];
}

function nameOf({ references, carrierForm, kind }: Crossing): string {
  const named = references.find(({ text }) => /\d/u.test(text)) ?? references[0];
  return [carrierForm ?? kind, named?.text].filter((part) => part !== undefined).join(' ');
}

function listed(refs: readonly string[]): string {
  const more = refs.length > MOST_LISTED ? ` and ${refs.length - MOST_LISTED} more` : '';
  return `${refs.slice(0, MOST_LISTED).join(', ')}${more}`;
}

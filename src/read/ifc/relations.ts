import type { ModelRecords } from './records.ts';
import { refOf, refsOf } from './values.ts';

/** Who belongs to whom, by record number. */
export interface Relations {
  /** Opening to the elements it voids. */
  readonly hostsOfOpening: ReadonlyMap<number, readonly number[]>;
  readonly openingsOfHost: ReadonlyMap<number, readonly number[]>;
  readonly fillingsOfOpening: ReadonlyMap<number, readonly number[]>;
  /** Element to the spatial element that contains it. */
  readonly containerOf: ReadonlyMap<number, number>;
  /** Part to its whole (aggregated or nested). */
  readonly wholeOf: ReadonlyMap<number, number>;
  readonly partsOf: ReadonlyMap<number, readonly number[]>;
  readonly typeOf: ReadonlyMap<number, number>;
  readonly setsOf: ReadonlyMap<number, readonly number[]>;
  readonly materialOf: ReadonlyMap<number, number>;
  readonly groupsOf: ReadonlyMap<number, readonly number[]>;
  /** Element to the spatial structures and zones that refer to it beside the one that holds it. */
  readonly referencedIn: ReadonlyMap<number, readonly number[]>;
  /** Port to the element that owns it. */
  readonly elementOfPort: ReadonlyMap<number, number>;
  readonly connectedPorts: readonly (readonly [number, number])[];
  /** Elements joined without ports. */
  readonly connectedElements: readonly (readonly [number, number])[];
  /** Covering to what it covers, for insulation. */
  readonly coveringsOf: ReadonlyMap<number, readonly number[]>;
  /** References to records that the file does not hold, with the record that makes them. */
  readonly dangling: readonly { readonly from: number; readonly to: number }[];
}

const MOST_DANGLING = 1000;

/** Reads the relations that finding needs. */
export function readRelations(step: ModelRecords): Relations {
  const dangling: { from: number; to: number }[] = [];
  const present = (from: number, to: number | null): to is number => {
    if (to === null) return false;
    if (step.has(to)) return true;
    if (dangling.length < MOST_DANGLING) dangling.push({ from, to });
    return false;
  };
  const pairs = (type: string, oneAt: number, manyAt: number): (readonly [number, number])[] => {
    const found: (readonly [number, number])[] = [];
    for (const id of step.idsOf(type)) {
      const attributes = step.attributes(id);
      const one = refOf(attributes[oneAt]);
      if (!present(id, one)) continue;
      const single = refOf(attributes[manyAt]);
      const many = single === null ? refsOf(attributes[manyAt]) : [single];
      for (const each of many) if (present(id, each)) found.push([one, each]);
    }
    return found;
  };
  const voids = pairs('IFCRELVOIDSELEMENT', 4, 5);
  const aggregates = pairs('IFCRELAGGREGATES', 4, 5);
  const nests = pairs('IFCRELNESTS', 4, 5);
  const isPort = (id: number): boolean => step.typeOf(id).endsWith('PORT');
  const wholes = [...aggregates, ...nests].filter(([, part]) => !isPort(part));
  const types = pairs('IFCRELDEFINESBYTYPE', 5, 4);
  return {
    hostsOfOpening: multiMap(voids.map(([host, opening]) => [opening, host])),
    openingsOfHost: multiMap(voids),
    fillingsOfOpening: multiMap(pairs('IFCRELFILLSELEMENT', 4, 5)),
    containerOf: singleMap(pairs('IFCRELCONTAINEDINSPATIALSTRUCTURE', 5, 4)),
    wholeOf: singleMap(wholes),
    partsOf: multiMap(wholes),
    typeOf: singleMap(types),
    setsOf: multiMap(
      pairs('IFCRELDEFINESBYPROPERTIES', 5, 4).map(([set, element]) => [element, set]),
    ),
    materialOf: singleMap(pairs('IFCRELASSOCIATESMATERIAL', 5, 4)),
    groupsOf: multiMap(
      pairs('IFCRELASSIGNSTOGROUP', 6, 4)
        .concat(pairs('IFCRELASSIGNSTOGROUPBYFACTOR', 6, 4))
        .map(([group, member]) => [member, group]),
    ),
    referencedIn: multiMap(
      pairs('IFCRELREFERENCEDINSPATIALSTRUCTURE', 5, 4).map(([zone, member]) => [member, zone]),
    ),
    elementOfPort: new Map([
      ...pairs('IFCRELCONNECTSPORTTOELEMENT', 4, 5).map(
        ([port, element]) => [port, element] as const,
      ),
      ...nests
        .filter(([, part]) => isPort(part))
        .map(([element, port]) => [port, element] as const),
    ]),
    connectedPorts: pairs('IFCRELCONNECTSPORTS', 4, 5),
    connectedElements: pairs('IFCRELCONNECTSELEMENTS', 5, 6),
    coveringsOf: multiMap(pairs('IFCRELCOVERSBLDGELEMENTS', 4, 5)),
    dangling,
  };
}

/** Later pairs don't replace earlier ones. */
function singleMap(pairs: readonly (readonly [number, number])[]): ReadonlyMap<number, number> {
  const map = new Map<number, number>();
  for (const [one, each] of pairs) if (!map.has(each)) map.set(each, one);
  return map;
}

function multiMap(
  pairs: readonly (readonly [number, number])[],
): ReadonlyMap<number, readonly number[]> {
  const map = new Map<number, number[]>();
  for (const [key, value] of pairs) {
    const values = map.get(key);
    if (values === undefined) map.set(key, [value]);
    else if (!values.includes(value)) values.push(value);
  }
  return map;
}

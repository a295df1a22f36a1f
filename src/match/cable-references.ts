import { lookAlikeKey, referenceKey, writtenForm } from '../basics/reference-key.ts';
import type { Cable } from '../model/cable.ts';

/** What the schedule's own references say of each other. */
export interface CableReferences {
  readonly keyOf: ReadonlyMap<string, string>;
  /** Distinct writings by key. */
  readonly forms: ReadonlyMap<string, ReadonlySet<string>>;
  /** Cables by key, in order. */
  readonly cables: ReadonlyMap<string, readonly Cable[]>;
  /** Keys that differ only in characters people mistake, by look-alike key. */
  readonly keysByLook: ReadonlyMap<string, ReadonlySet<string>>;
  /** Keys that routes use: such a name means a carrier or an opening first. */
  readonly routeKeys: ReadonlySet<string>;
  /** Ids of cables whose reference another row has too, phases of one circuit left out. */
  readonly repeated: ReadonlySet<string>;
}

/** Indexes the references of a schedule. */
export function indexCables(cables: readonly Cable[]): CableReferences {
  const keyOf = new Map<string, string>();
  const forms = new Map<string, Set<string>>();
  const byKey = new Map<string, Cable[]>();
  const keysByLook = new Map<string, Set<string>>();
  const byForm = new Map<string, Cable[]>();
  const routeKeys = new Set<string>();
  for (const cable of cables) {
    const key = referenceKey(cable.ref);
    keyOf.set(cable.id, key);
    addTo(forms, key, writtenForm(cable.ref));
    addTo(keysByLook, lookAlikeKey(cable.ref), key);
    push(byKey, key, cable);
    push(byForm, writtenForm(cable.ref), cable);
    for (const entry of cable.route) routeKeys.add(referenceKey(entry));
  }
  const repeated = new Set(
    [...byForm.values()].filter(isRepeat).flatMap((same) => same.map(({ id }) => id)),
  );
  return { keyOf, forms, cables: byKey, keysByLook, routeKeys, repeated };
}

/** Rows of one reference, each with a phase of its own, are one circuit written line by line. */
function isRepeat(same: readonly Cable[]): boolean {
  if (same.length < 2) return false;
  const phases = same.flatMap(({ phase }) => (phase === null ? [] : [phase.toUpperCase()]));
  return phases.length < same.length || new Set(phases).size < same.length;
}

function addTo(sets: Map<string, Set<string>>, key: string, value: string): void {
  const set = sets.get(key);
  if (set === undefined) sets.set(key, new Set([value]));
  else set.add(value);
}

function push(lists: Map<string, Cable[]>, key: string, cable: Cable): void {
  const list = lists.get(key);
  if (list === undefined) lists.set(key, [cable]);
  else list.push(cable);
}

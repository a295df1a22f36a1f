import { assign } from '../basics/assignment.ts';
import { compareText } from '../basics/order.ts';
import { distance3, type Vec3 } from '../geometry/vec.ts';
import type { Penetration } from '../model/penetration.ts';
import type { RegisterRecord } from '../model/register.ts';

/** How far a hole may have moved and still be the same one when its ids were re-made. */
const SAME_PLACE_MM = 50;

/** Costs of pairing: each kind of evidence always beats the ones below it. */
const COST = { opening: 0, hostAndService: 1_000, place: 100_000, none: 10_000_000 } as const;

/** Why a penetration was taken for one of the register, or not. */
export interface Recognition {
  /** The record, or null for a new penetration. */
  readonly record: RegisterRecord | null;
  readonly because: string;
}

/**
 * Finds each penetration's record: by the same opening; else by the same host and services; else,
 * for re-made ids, by the same place within 50 mm and the same kind (rules §7). All pairs are
 * weighed together, so that two neighbours never swap their tags. Retired records are found again
 * by ids only. Gives penetration id to recognition.
 */
export function recognise(
  penetrations: readonly Penetration[],
  records: readonly RegisterRecord[],
): ReadonlyMap<string, Recognition> {
  const pairs = candidatePairs(penetrations, records);
  const found = new Map<string, Recognition>();
  for (const group of independentGroups(pairs)) {
    const costs = group.penetrations.map((penetration) =>
      group.records.map((record) => pairCost(penetration, record)),
    );
    assign(costs, COST.none).forEach((column, row) => {
      const penetration = group.penetrations[row];
      const record = column === null ? undefined : group.records[column];
      if (penetration === undefined || record === undefined) return;
      found.set(penetration.id, { record, because: reason(penetration, record) });
    });
  }
  for (const { id } of penetrations) {
    if (!found.has(id)) found.set(id, { record: null, because: 'nothing like it in the register' });
  }
  return found;
}

function pairCost(penetration: Penetration, record: RegisterRecord): number {
  const evidence = evidenceOf(penetration, record);
  if (evidence === 'none') return Number.POSITIVE_INFINITY;
  const distance = Math.min(distanceTo(penetration, record), COST.hostAndService / 4);
  const otherKind = penetration.kind === record.issued.facts.kind ? 0 : COST.hostAndService / 8;
  const otherId = penetration.id === record.id ? 0 : COST.hostAndService / 8;
  return COST[evidence] + distance + otherKind + otherId;
}

type Evidence = 'opening' | 'hostAndService' | 'place' | 'none';

function evidenceOf(penetration: Penetration, record: RegisterRecord): Evidence {
  if (overlap(openingIds(penetration), record.openingIds)) return 'opening';
  if (
    overlap(hostIds(penetration), record.hostIds) &&
    overlap(serviceIds(penetration), record.serviceIds)
  ) {
    return 'hostAndService';
  }
  if (record.state === 'retired') return 'none';
  const near = distanceTo(penetration, record) <= SAME_PLACE_MM;
  return near && penetration.kind === record.issued.facts.kind ? 'place' : 'none';
}

function reason(penetration: Penetration, record: RegisterRecord): string {
  switch (evidenceOf(penetration, record)) {
    case 'opening':
      return 'same opening in the model';
    case 'hostAndService':
      return 'same host and services';
    default:
      return `same place within ${Math.round(distanceTo(penetration, record))} mm and same kind; its ids are new`;
  }
}

export const openingIds = (penetration: Penetration): string[] =>
  penetration.openings.map((opening) => opening.id).sort(compareText);
export const hostIds = (penetration: Penetration): string[] =>
  penetration.hosts.map((host) => host.id).sort(compareText);
export const serviceIds = (penetration: Penetration): string[] =>
  penetration.crossings.flatMap((crossing) => crossing.serviceIds).sort(compareText);

function distanceTo(penetration: Penetration, record: RegisterRecord): number {
  return distance3(penetration.frame.originMm, record.issued.facts.centreMm);
}

function overlap(a: readonly string[], b: readonly string[]): boolean {
  const inB = new Set(b);
  return a.some((each) => inB.has(each));
}

type Pair = readonly [penetration: Penetration, record: RegisterRecord];

/** Pairs that share an id or a place; found through an index, never by trying all with all. */
function candidatePairs(
  penetrations: readonly Penetration[],
  records: readonly RegisterRecord[],
): Pair[] {
  const index = new Map<string, RegisterRecord[]>();
  const add = (key: string, record: RegisterRecord) => {
    const list = index.get(key);
    if (list === undefined) index.set(key, [record]);
    else list.push(record);
  };
  for (const record of records) {
    for (const id of [...record.openingIds, ...record.serviceIds]) add(`id ${id}`, record);
    add(cellKey(record.issued.facts.centreMm, [0, 0, 0]), record);
  }
  return penetrations.flatMap((penetration) => {
    const keys = [
      ...openingIds(penetration).map((id) => `id ${id}`),
      ...serviceIds(penetration).map((id) => `id ${id}`),
      ...NEIGHBOURS.map((step) => cellKey(penetration.frame.originMm, step)),
    ];
    const candidates = new Set(keys.flatMap((key) => index.get(key) ?? []));
    return [...candidates]
      .filter((record) => evidenceOf(penetration, record) !== 'none')
      .map((record): Pair => [penetration, record]);
  });
}

const STEPS = [-1, 0, 1] as const;
const NEIGHBOURS: readonly Vec3[] = STEPS.flatMap((x) =>
  STEPS.flatMap((y) => STEPS.map((z): Vec3 => [x, y, z])),
);

function cellKey(point: Vec3, step: Vec3): string {
  const cell = (axis: 0 | 1 | 2) => Math.floor(point[axis] / SAME_PLACE_MM) + step[axis];
  return `cell ${cell(0)} ${cell(1)} ${cell(2)}`;
}

interface Group {
  readonly penetrations: Penetration[];
  readonly records: RegisterRecord[];
}

/** Splits the pairs into parts that have nothing in common; each is a small assignment of its own. */
function independentGroups(pairs: readonly Pair[]): Group[] {
  const parent = new Map<Penetration | RegisterRecord, Penetration | RegisterRecord>();
  const root = (item: Penetration | RegisterRecord): Penetration | RegisterRecord => {
    let top = item;
    for (let up = parent.get(top); up !== undefined && up !== top; up = parent.get(top)) top = up;
    parent.set(item, top);
    return top;
  };
  for (const [penetration, record] of pairs) parent.set(root(penetration), root(record));
  const groups = new Map<Penetration | RegisterRecord, Group>();
  const seen = new Set<Penetration | RegisterRecord>();
  for (const [penetration, record] of pairs) {
    const key = root(penetration);
    const group = groups.get(key) ?? { penetrations: [], records: [] };
    groups.set(key, group);
    if (!seen.has(penetration)) group.penetrations.push(penetration);
    if (!seen.has(record)) group.records.push(record);
    seen.add(penetration).add(record);
  }
  return [...groups.values()].map((group) => ({
    penetrations: group.penetrations.sort((a, b) => compareText(a.id, b.id)),
    records: group.records.sort((a, b) => compareText(a.tag, b.tag)),
  }));
}

import { greatestOf } from '../basics/extremes.ts';
import { compareText, groupBy, sum } from '../basics/order.ts';
import type { Penetration } from '../model/penetration.ts';
import type { Range, Sealant } from '../model/range.ts';
import type { ContainerCount, FillerQuantity, Seal } from '../model/seal.ts';
import type { Settings } from '../model/settings.ts';
import type {
  ConsumableTakeOff,
  FillerTakeOff,
  LabourTakeOff,
  SealantTakeOff,
  TakeOff,
  ToolTakeOff,
} from '../model/take-off.ts';
import { addContainers, ceilCount, smallestWasteMix } from './containers.ts';
import { costsOf } from './costs.ts';
import { bodiesNow, labourHours } from './labour.ts';

/** Area of penetrations on no level. */
const NO_LEVEL = 'no level';

const MINUTES_PER_HOUR = 60;

/** A seal that counts, with the hole it closes. */
interface Counted {
  readonly seal: Seal;
  readonly penetration: Penetration | null;
}

/**
 * Materials to order by area (the level of the penetration), for the seals that are designed: a
 * seal with an open query is not counted. Volumes are added before they are rounded up, with a
 * tolerance of 1e-9. Sorted by area, then material.
 */
export function takeOff(
  seals: readonly Seal[],
  penetrations: readonly Penetration[],
  range: Range,
  _settings: Settings,
): TakeOff {
  const holes = new Map(penetrations.map((penetration) => [penetration.id, penetration]));
  const counted = seals
    .filter(({ state }) => state === 'designed')
    .map((seal): Counted => ({ seal, penetration: holes.get(seal.penetrationId) ?? null }));
  const areas = [
    ...groupBy(counted, ({ penetration }) => penetration?.where.level ?? NO_LEVEL),
  ].sort(([a], [b]) => compareText(a, b));
  const materials = {
    sealants: areas.flatMap(([area, group]) => sealantsOf(area, group, range)),
    fillers: areas.flatMap(([area, group]) => fillersOf(area, group, range)),
    consumables: areas.flatMap(([area, group]) => consumablesOf(area, group, range)),
    tools: areas.flatMap(([area, group]) => toolsOf(area, group, range)),
    labour: areas.flatMap(([area, group]) => labourOf(area, group, range)),
    notCounted: seals.filter(({ state }) => state === 'query').length,
  };
  return { ...materials, costs: costsOf(materials, range) };
}

function sealantsOf(area: string, group: readonly Counted[], range: Range): SealantTakeOff[] {
  const used = group.filter(({ seal }) => seal.sealant !== null);
  return [...groupBy(used, ({ seal }) => seal.sealant?.name ?? '')]
    .sort(([a], [b]) => compareText(a, b))
    .map(([name, users]) => {
      const quantities = users.flatMap(({ seal }) => seal.sealant ?? []);
      const netMl = sum(quantities.map((one) => one.netMl));
      const grossMl = sum(quantities.map((one) => one.withAllowancesMl));
      const sealant = range.sealants.find((one) => one.name === name);
      const batches = batchesOf(users, sealant, range);
      return {
        area,
        sealant: name,
        seals: users.length,
        netMl,
        allowancesMl: grossMl - netMl,
        perOpening: addContainers(quantities.map(({ containers }) => containers)),
        pooled: sealant === undefined ? [] : pooledContainers(batches, sealant),
        batches: batches.length,
      };
    });
}

/** Containers of volumes that are rounded up batch by batch. */
function pooledContainers(batchesMl: readonly number[], sealant: Sealant): ContainerCount[] {
  return addContainers(batchesMl.map((ml) => smallestWasteMix(ml, sealant)));
}

/**
 * Volumes that a container can be shared within, ml: the seals in order, as many as are made
 * within the sealant's open time by the hours of the range. All in one where either is not given.
 */
function batchesOf(
  group: readonly Counted[],
  sealant: Sealant | undefined,
  range: Range,
): readonly number[] {
  const openMin = sealant?.openTimeMin;
  const volumes = group.map(({ seal }) => seal.sealant?.withAllowancesMl ?? 0);
  if (openMin === undefined || range.labour.length === 0) return [sum(volumes)];
  const batches: number[] = [];
  let usedMin = Infinity;
  group.forEach(({ seal, penetration }, at) => {
    const minutes =
      sum(range.labour.map((rate) => labourHours(rate, seal, penetration))) * MINUTES_PER_HOUR;
    const last = batches.length - 1;
    const volumeMl = volumes[at] ?? 0;
    if (usedMin + minutes > openMin) {
      batches.push(volumeMl);
      usedMin = minutes;
    } else {
      batches[last] = (batches[last] ?? 0) + volumeMl;
      usedMin += minutes;
    }
  });
  return batches;
}

function fillersOf(area: string, group: readonly Counted[], range: Range): FillerTakeOff[] {
  const used = group.flatMap(({ seal }) => seal.fillerQuantities);
  return [...groupBy(used, ({ name }) => name)]
    .sort(([a], [b]) => compareText(a, b))
    .flatMap(([name, alike]) => fillerRows(area, name, alike, range));
}

/**
 * A row a length, shortest first. Pieces are cut from whole tubes, several from one where the
 * length allows, and rows share packs: only the sum over the rows is rounded up.
 */
function fillerRows(
  area: string,
  filler: string,
  used: readonly FillerQuantity[],
  range: Range,
): FillerTakeOff[] {
  const tube = range.fillers.find(({ name }) => name === filler);
  const byLength = [...groupBy(used, ({ lengthMm }) => lengthMm.toFixed(1)).values()].sort(
    (a, b) => (a[0]?.lengthMm ?? 0) - (b[0]?.lengthMm ?? 0),
  );
  let packsSoFar = 0;
  return byLength.map((alike) => {
    const lengthMm = alike[0]?.lengthMm ?? 0;
    const whole = sum(alike.map((one) => one.whole * one.sets));
    const split = sum(alike.map((one) => one.split * one.sets));
    const fromOne = lengthMm > 0 ? Math.floor((tube?.lengthMm ?? lengthMm) / lengthMm + 1e-9) : 1;
    const before = ceilCount(packsSoFar);
    packsSoFar += ceilCount((whole + split) / Math.max(1, fromOne)) / (tube?.perPack ?? 1);
    return { area, filler, lengthMm, whole, split, packs: ceilCount(packsSoFar) - before };
  });
}

function consumablesOf(area: string, group: readonly Counted[], range: Range): ConsumableTakeOff[] {
  const faces = sum(group.map(({ seal }) => seal.faces));
  const cables = sum(group.map(({ seal }) => bodiesNow(seal)));
  const containers = sum(
    group.flatMap(({ seal }) => (seal.sealant?.containers ?? []).map(({ count }) => count)),
  );
  return [...range.consumables]
    .sort((a, b) => compareText(a.name, b.name))
    .map(({ name, unit, perSeal, perFace, perCable, perContainer }) => ({
      area,
      name,
      unit,
      quantity:
        perSeal * group.length + perFace * faces + perCable * cables + perContainer * containers,
    }))
    .filter(({ quantity }) => quantity > 0);
}

/**
 * Tools for one visit to the area, by the user's norms: those for a kind of container only where
 * it is used, those for heights only where a hole lies that high.
 */
function toolsOf(area: string, group: readonly Counted[], range: Range): ToolTakeOff[] {
  const kinds = new Set(
    group.flatMap(({ seal }) => {
      const sealant = range.sealants.find(({ name }) => name === seal.sealant?.name);
      return sealant?.containers[0]?.kind ?? [];
    }),
  );
  const highestMm = greatestOf(
    group.map(({ penetration }) => penetration?.where.heightAboveLevelMm ?? 0),
    0,
  );
  return [...range.tools]
    .sort((a, b) => compareText(a.name, b.name))
    .filter(({ forContainers }) => forContainers === undefined || kinds.has(forContainers))
    .filter(({ aboveMm }) => aboveMm === undefined || highestMm > aboveMm)
    .map(({ name, perVisit }) => ({ area, name, quantity: perVisit }));
}

function labourOf(area: string, group: readonly Counted[], range: Range): LabourTakeOff[] {
  return [...range.labour]
    .sort((a, b) => compareText(a.name, b.name))
    .map((rate) => ({
      area,
      name: rate.name,
      hours: sum(group.map(({ seal, penetration }) => labourHours(rate, seal, penetration))),
    }))
    .filter(({ hours }) => hours > 0);
}

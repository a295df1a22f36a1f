import { compareText, groupBy, sum } from '../basics/order.ts';
import type { Penetration } from '../model/penetration.ts';
import type { Range, Sealant } from '../model/range.ts';
import type { Seal } from '../model/seal.ts';
import type { Settings } from '../model/settings.ts';
import type {
  ConsumableTakeOff,
  FillerTakeOff,
  SealantTakeOff,
  TakeOff,
} from '../model/take-off.ts';
import { addContainers, ceilCount, smallestWasteMix } from './containers.ts';

/** Area of penetrations on no level. */
export const NO_LEVEL = 'no level';

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
  const levels = new Map(penetrations.map(({ id, where }) => [id, where.level ?? NO_LEVEL]));
  const counted = seals.filter(({ state }) => state === 'designed');
  const areas = [...groupBy(counted, (seal) => levels.get(seal.penetrationId) ?? NO_LEVEL)].sort(
    ([a], [b]) => compareText(a, b),
  );
  return {
    sealants: areas.flatMap(([area, group]) => sealantsOf(area, group, range)),
    fillers: areas.flatMap(([area, group]) => fillersOf(area, group, range)),
    consumables: areas.flatMap(([area, group]) => consumablesOf(area, group, range)),
  };
}

function sealantsOf(area: string, seals: readonly Seal[], range: Range): SealantTakeOff[] {
  const used = seals.flatMap(({ sealant }) => (sealant === null ? [] : [sealant]));
  return [...groupBy(used, ({ name }) => name)]
    .sort(([a], [b]) => compareText(a, b))
    .map(([name, group]) => {
      const netMl = sum(group.map((one) => one.netMl));
      const grossMl = sum(group.map((one) => one.withAllowancesMl));
      const sealant = range.sealants.find((one) => one.name === name);
      return {
        area,
        sealant: name,
        seals: group.length,
        netMl,
        allowancesMl: grossMl - netMl,
        perOpening: addContainers(group.map(({ containers }) => containers)),
        pooled: sealant === undefined ? [] : pooledContainers(grossMl, sealant),
      };
    });
}

/** Containers of a whole area: its volume rounded up once. */
export function pooledContainers(grossMl: number, sealant: Sealant) {
  return smallestWasteMix(grossMl, sealant);
}

function fillersOf(area: string, seals: readonly Seal[], range: Range): FillerTakeOff[] {
  const used = seals.flatMap(({ fillerQuantities }) => fillerQuantities);
  const perPack = new Map(range.fillers.map((tube) => [tube.name, tube.perPack]));
  const byLength = groupBy(used, ({ name, lengthMm }) => JSON.stringify([name, lengthMm]));
  const rows = [...byLength.values()].flatMap((group) => {
    const [first] = group;
    if (first === undefined) return [];
    const whole = sum(group.map((one) => one.whole * one.sets));
    const split = sum(group.map((one) => one.split * one.sets));
    const packs = ceilCount((whole + split) / (perPack.get(first.name) ?? 1));
    return [{ area, filler: first.name, lengthMm: first.lengthMm, whole, split, packs }];
  });
  return rows.sort((a, b) => compareText(a.filler, b.filler) || a.lengthMm - b.lengthMm);
}

function consumablesOf(area: string, seals: readonly Seal[], range: Range): ConsumableTakeOff[] {
  const faces = sum(seals.map((seal) => seal.faces));
  const cables = sum(seals.map(({ bodies }) => bodies.length));
  const containers = sum(
    seals.flatMap(({ sealant }) => (sealant?.containers ?? []).map(({ count }) => count)),
  );
  return [...range.consumables]
    .sort((a, b) => compareText(a.name, b.name))
    .map(({ name, unit, perSeal, perFace, perCable, perContainer }) => ({
      area,
      name,
      unit,
      quantity:
        perSeal * seals.length + perFace * faces + perCable * cables + perContainer * containers,
    }))
    .filter(({ quantity }) => quantity > 0);
}

import type { Range } from '../model/range.ts';
import type { ContainerCount } from '../model/seal.ts';
import type { CostTakeOff, TakeOff } from '../model/take-off.ts';

/**
 * What each line of a take-off costs, for the lines whose price the range gives: containers as
 * pooled, fillers by the pack, consumables by their unit, labour by the hour.
 */
export function costsOf(takeOff: Omit<TakeOff, 'costs'>, range: Range): CostTakeOff[] {
  return [
    ...takeOff.sealants.flatMap(({ area, sealant, pooled }) =>
      pooled.flatMap((count) => containerCost(area, sealant, count, range)),
    ),
    ...takeOff.fillers.flatMap(({ area, filler, packs }) => {
      const price = range.fillers.find(({ name }) => name === filler)?.price;
      return line(area, filler, 'filler', packs, 'pack', price);
    }),
    ...takeOff.consumables.flatMap(({ area, name, unit, quantity }) => {
      const price = range.consumables.find((one) => one.name === name)?.price;
      return line(area, name, 'consumable', quantity, unit, price);
    }),
    ...(takeOff.labour ?? []).flatMap(({ area, name, hours }) => {
      const price = range.labour.find((one) => one.name === name)?.pricePerHour;
      return line(area, name, 'labour', hours, 'h', price);
    }),
  ];
}

function containerCost(
  area: string,
  sealant: string,
  { sizeMl, count }: ContainerCount,
  range: Range,
): CostTakeOff[] {
  const containers = range.sealants.find(({ name }) => name === sealant)?.containers ?? [];
  const price = containers.find((one) => one.sizeMl === sizeMl)?.price;
  return line(area, `${sealant}, ${sizeMl} ml`, 'sealant', count, 'pc', price);
}

function line(
  area: string,
  item: string,
  kind: CostTakeOff['kind'],
  quantity: number,
  unit: string,
  price: number | undefined,
): CostTakeOff[] {
  if (price === undefined) return [];
  return [{ area, item, kind, quantity, unit, price, amount: quantity * price }];
}

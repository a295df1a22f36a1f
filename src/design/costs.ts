import type { Range } from '../model/range.ts';
import type { ContainerCount } from '../model/seal.ts';
import type { CostTakeOff, TakeOff } from '../model/take-off.ts';

/**
 * What each line of a take-off costs, for the lines whose price the range gives: containers as
 * pooled, fillers by the pack, consumables by their unit, labour by the hour. Amounts of different
 * currencies are never added.
 */
export function costsOf(takeOff: Omit<TakeOff, 'costs'>, range: Range): CostTakeOff[] {
  return [
    ...takeOff.sealants.flatMap(({ area, sealant, pooled }) =>
      pooled.flatMap((count) => containerCost(area, sealant, count, range)),
    ),
    ...takeOff.fillers.flatMap(({ area, filler, packs }) => {
      const priced = range.fillers.find(({ name }) => name === filler);
      return line(
        { area, item: filler, kind: 'filler', quantity: packs, unit: 'pack' },
        priced,
        range,
      );
    }),
    ...takeOff.consumables.flatMap(({ area, name, unit, quantity }) => {
      const priced = range.consumables.find((one) => one.name === name);
      return line({ area, item: name, kind: 'consumable', quantity, unit }, priced, range);
    }),
    ...(takeOff.labour ?? []).flatMap(({ area, name, hours }) => {
      const rate = range.labour.find((one) => one.name === name);
      const priced = { price: rate?.pricePerHour, currency: rate?.currency };
      return line({ area, item: name, kind: 'labour', quantity: hours, unit: 'h' }, priced, range);
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
  const priced = containers.find((one) => one.sizeMl === sizeMl);
  const item = `${sealant}, ${sizeMl} ml`;
  return line({ area, item, kind: 'sealant', quantity: count, unit: 'pc' }, priced, range);
}

interface Priced {
  readonly price?: number | undefined;
  readonly currency?: string | undefined;
}

/** One line in the currency of its own price, else in that of the range; none without a price. */
function line(
  what: Pick<CostTakeOff, 'area' | 'item' | 'kind' | 'quantity' | 'unit'>,
  priced: Priced | undefined,
  range: Range,
): CostTakeOff[] {
  const price = priced?.price;
  if (price === undefined) return [];
  const currency = priced?.currency ?? range.currency ?? null;
  return [{ ...what, price, amount: what.quantity * price, currency }];
}

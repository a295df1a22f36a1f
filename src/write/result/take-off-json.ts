import type { TakeOff } from '../../model/take-off.ts';
import { rounded } from './seal-json.ts';

/** Millilitres, hours and money to 0.01; lengths to 0.1 mm. */
const AMOUNT_PLACES = 2;
const LENGTH_PLACES = 1;

const amount = (value: number) => rounded(value, AMOUNT_PLACES);

/** Materials, hours and costs of an issue by area, as result.json holds them. */
export function takeOffJson(takeOff: TakeOff): object {
  return {
    sealants: takeOff.sealants.map((item) => ({
      ...item,
      netMl: amount(item.netMl),
      allowancesMl: amount(item.allowancesMl),
    })),
    fillers: takeOff.fillers.map((item) => ({
      ...item,
      lengthMm: rounded(item.lengthMm, LENGTH_PLACES),
    })),
    consumables: takeOff.consumables.map((item) => ({ ...item, quantity: amount(item.quantity) })),
    tools: (takeOff.tools ?? []).map((item) => ({ ...item })),
    labour: (takeOff.labour ?? []).map((item) => ({ ...item, hours: amount(item.hours) })),
    costs: (takeOff.costs ?? []).map((item) => ({
      ...item,
      quantity: amount(item.quantity),
      amount: amount(item.amount),
    })),
    sealsNotCounted: takeOff.notCounted ?? 0,
  };
}

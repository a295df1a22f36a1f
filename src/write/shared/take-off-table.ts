import { groupBy, sum } from '../../basics/order.ts';
import { sizeText } from '../../geometry/shape.ts';
import type { ContainerCount } from '../../model/seal.ts';
import type { SealantTakeOff } from '../../model/take-off.ts';
import type { IssueIndex } from './issue-index.ts';
import type { Column } from './table.ts';

/** One material in one area. */
export interface TakeOffRow {
  readonly area: string;
  readonly kind: 'sealant' | 'container' | 'filler' | 'consumable' | 'labour';
  readonly material: string;
  readonly unit: string;
  readonly net: number | null;
  readonly allowances: number | null;
  readonly packSizeMl: number | null;
  readonly packsAlone: number | null;
  readonly packsPooled: number | null;
  readonly note: string;
  readonly price: number | null;
}

export type TakeOffColumn = Column<TakeOffRow>;

/** Columns that are summed over the areas. */
export const AMOUNT_TITLES: ReadonlySet<string> = new Set([
  'Net',
  'Allowances',
  'With allowances',
  'Packs, each opening alone',
  'Packs, pooled',
  'Saved by pooling',
  'Cost, pooled',
]);

/** Materials by area: sealants with their containers, fillers, consumables, in the take-off's order. */
export function takeOffRows(index: IssueIndex): readonly TakeOffRow[] {
  const { takeOff } = index.issue;
  return [
    ...takeOff.sealants.flatMap((item) => sealantRows(index, item)),
    ...fillerRows(index),
    ...consumableRows(index),
    ...labourRows(index),
  ];
}

const NOTHING = {
  net: null,
  allowances: null,
  packSizeMl: null,
  packsAlone: null,
  packsPooled: null,
  note: '',
  price: null,
} as const;

/** Lengths that differ by less than what can be cut are one line. */
function fillerRows({ issue }: IssueIndex): TakeOffRow[] {
  const alike = groupBy(issue.takeOff.fillers, ({ area, filler, lengthMm }) =>
    [area, filler, sizeText(lengthMm)].join('\u0000'),
  );
  return [...alike.values()].flatMap((items): TakeOffRow[] => {
    const [first] = items;
    if (first === undefined) return [];
    const whole = sum(items.map((item) => item.whole));
    const split = sum(items.map((item) => item.split));
    return [
      {
        ...NOTHING,
        area: first.area,
        kind: 'filler',
        material: first.filler,
        unit: 'no.',
        net: whole + split,
        packsPooled: sum(items.map((item) => item.packs)),
        note: `${whole} whole, ${split} split over a cable; ${sizeText(first.lengthMm)} mm long`,
        price: issue.range.fillers.find(({ name }) => name === first.filler)?.price ?? null,
      },
    ];
  });
}

function consumableRows({ issue }: IssueIndex): TakeOffRow[] {
  return issue.takeOff.consumables.map(({ area, name, unit, quantity }) => ({
    ...NOTHING,
    area,
    kind: 'consumable',
    material: name,
    unit,
    net: quantity,
    price: issue.range.consumables.find((each) => each.name === name)?.price ?? null,
  }));
}

function labourRows({ issue }: IssueIndex): TakeOffRow[] {
  return (issue.takeOff.labour ?? []).map(({ area, name, hours }) => ({
    ...NOTHING,
    area,
    kind: 'labour',
    material: name,
    unit: 'h',
    net: hours,
    price: issue.range.labour.find((each) => each.name === name)?.pricePerHour ?? null,
  }));
}

function sealantRows(index: IssueIndex, item: SealantTakeOff): TakeOffRow[] {
  const sealant = index.issue.range.sealants.find((each) => each.name === item.sealant);
  const sizes = [...new Set([...item.perOpening, ...item.pooled].map((each) => each.sizeMl))];
  const containers = sizes
    .sort((a, b) => b - a)
    .map(
      (sizeMl): TakeOffRow => ({
        area: item.area,
        kind: 'container',
        material: `${item.sealant}, ${sizeMl} ml`,
        unit: 'no.',
        net: null,
        allowances: null,
        packSizeMl: sizeMl,
        packsAlone: countOf(item.perOpening, sizeMl),
        packsPooled: countOf(item.pooled, sizeMl),
        note: '',
        price: sealant?.containers.find((each) => each.sizeMl === sizeMl)?.price ?? null,
      }),
    );
  return [
    {
      area: item.area,
      kind: 'sealant',
      material: item.sealant,
      unit: 'ml',
      net: item.netMl,
      allowances: item.allowancesMl,
      packSizeMl: null,
      packsAlone: null,
      packsPooled: null,
      note: `in ${item.seals} ${item.seals === 1 ? 'seal' : 'seals'}`,
      price: null,
    },
    ...containers,
  ];
}

function countOf(counts: readonly ContainerCount[], sizeMl: number): number {
  return counts
    .filter((each) => each.sizeMl === sizeMl)
    .reduce((total, each) => total + each.count, 0);
}

function times(price: number | null, count: number | null): number | null {
  return price === null || count === null ? null : price * count;
}

/** Price columns are there only where the range gives a price. */
export function takeOffColumns(index: IssueIndex): readonly TakeOffColumn[] {
  const { range } = index.issue;
  const hasPrices = takeOffRows(index).some(({ price }) => price !== null);
  return hasPrices ? [...COLUMNS, ...priceColumns(range.currency), NOTE] : [...COLUMNS, NOTE];
}

const COLUMNS: readonly TakeOffColumn[] = [
  { title: 'Area', group: 'Material', width: 20, kind: 'text', value: (row) => row.area },
  { title: 'Kind', group: 'Material', width: 13, kind: 'text', value: (row) => row.kind },
  { title: 'Material', group: 'Material', width: 38, kind: 'long', value: (row) => row.material },
  { title: 'Unit', group: 'Material', width: 9, kind: 'text', value: (row) => row.unit },
  { title: 'Net', group: 'Quantity', width: 13, kind: 'tenth', value: (row) => row.net },
  {
    title: 'Allowances',
    group: 'Quantity',
    width: 13,
    kind: 'tenth',
    value: (row) => row.allowances,
  },
  {
    title: 'With allowances',
    group: 'Quantity',
    width: 13,
    kind: 'tenth',
    value: (row) => (row.net === null ? null : row.net + (row.allowances ?? 0)),
    formula: (address) => `${address('Net')}+${address('Allowances')}`,
  },
  {
    title: 'Pack size',
    unit: 'ml',
    group: 'Packs',
    width: 11,
    kind: 'whole',
    value: (row) => row.packSizeMl,
  },
  {
    title: 'Packs, each opening alone',
    unit: 'no.',
    group: 'Packs',
    width: 14,
    kind: 'whole',
    value: (row) => row.packsAlone,
  },
  {
    title: 'Packs, pooled',
    unit: 'no.',
    group: 'Packs',
    width: 12,
    kind: 'whole',
    value: (row) => row.packsPooled,
  },
  {
    title: 'Saved by pooling',
    unit: 'no.',
    group: 'Packs',
    width: 12,
    kind: 'whole',
    value: (row) =>
      row.packsAlone === null || row.packsPooled === null ? null : row.packsAlone - row.packsPooled,
    formula: (address) => `${address('Packs, each opening alone')}-${address('Packs, pooled')}`,
  },
];

const NOTE: TakeOffColumn = {
  title: 'Note',
  group: 'Note',
  width: 44,
  kind: 'long',
  value: (row) => row.note,
};

function priceColumns(currency: string | undefined): readonly TakeOffColumn[] {
  const unit = currency === undefined ? {} : { unit: currency };
  return [
    {
      title: 'Price each',
      ...unit,
      group: 'Price',
      width: 12,
      kind: 'hundredth',
      value: (row) => row.price,
    },
    {
      title: 'Cost, pooled',
      ...unit,
      group: 'Price',
      width: 13,
      kind: 'hundredth',
      value: (row) => times(row.price, row.packsPooled ?? row.net),
      formula: (address) =>
        `${address('Price each')}*IF(${address('Packs, pooled')}="",${address('Net')},${address('Packs, pooled')})`,
    },
  ];
}

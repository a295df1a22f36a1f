import { type Shape, shapeAreaMm2, shapeText } from '../../geometry/shape.ts';
import type { Seal } from '../../model/seal.ts';
import { areaOf, type IssueIndex, tagOf } from './issue-index.ts';
import { pathText } from './phrases.ts';
import type { Column, Table } from './table.ts';

/** How the sealant of one designed seal is measured. */
export interface QuantityRow {
  readonly seal: Seal;
  readonly tag: string;
  readonly path: string;
  readonly area: string;
  readonly sealant: string;
  readonly opening: Shape;
  readonly openingAreaMm2: number;
  readonly passingAreaMm2: number;
  readonly freeAreaMm2: number;
  readonly netMl: number;
  readonly withAllowancesMl: number;
  readonly overfillMm: number;
  readonly wasteRatio: number;
  /** For sloped or irregular faces; 1 for plain ones. */
  readonly faceFactor: number;
}

/** Seal quantities: from opening to sealant, one row a designed seal, each step to be followed. */
export function quantitiesTable(index: IssueIndex): Table<QuantityRow> {
  return { name: 'quantities', columns: COLUMNS, rows: quantityRows(index) };
}

export function quantityRows(index: IssueIndex): readonly QuantityRow[] {
  const { overfillMm, wasteRatio, faceFactor } = index.issue.settings.design;
  return index.issue.seals.flatMap((seal): QuantityRow[] => {
    const { opening, sealant, freeAreaMm2, state } = seal;
    if (state !== 'designed' || opening === null || sealant === null || freeAreaMm2 === null) {
      return [];
    }
    const openingAreaMm2 = shapeAreaMm2(opening);
    return [
      {
        seal,
        tag: tagOf(index, seal.penetrationId),
        path: pathText(seal, index.crossings),
        area: areaOf(index.penetrations.get(seal.penetrationId)),
        sealant: sealant.name,
        opening,
        openingAreaMm2,
        passingAreaMm2: openingAreaMm2 - freeAreaMm2,
        freeAreaMm2,
        netMl: sealant.netMl,
        withAllowancesMl: sealant.withAllowancesMl,
        overfillMm,
        wasteRatio,
        faceFactor,
      },
    ];
  });
}

/** Titles that the take-off's formulas refer to. */
export const QUANTITY_TITLES = {
  area: 'Area',
  sealant: 'Sealant',
  net: 'Net',
  withAllowances: 'With allowances',
} as const;

const FREE = 'Free area';
const SET_BACK = 'Set-back';
const FACES = 'Faces';
const OVERFILL = 'Overfill';
const WASTE = 'Waste';
const FACE_FACTOR = 'Face factor';

const COLUMNS: readonly Column<QuantityRow>[] = [
  {
    title: 'Tag',
    group: 'Seal',
    width: 13,
    kind: 'text',
    value: (row) => row.tag,
    link: (row) => ({ to: 'register', penetrationId: row.seal.penetrationId }),
  },
  { title: 'Path', group: 'Seal', width: 24, kind: 'long', value: (row) => row.path },
  {
    title: QUANTITY_TITLES.area,
    group: 'Seal',
    width: 16,
    kind: 'text',
    value: (row) => row.area,
  },
  {
    title: QUANTITY_TITLES.sealant,
    group: 'Seal',
    width: 20,
    kind: 'long',
    value: (row) => row.sealant,
  },
  {
    title: 'Opening',
    unit: 'mm',
    group: 'Clear area',
    width: 16,
    kind: 'text',
    value: (row) => shapeText(row.opening),
  },
  {
    title: 'Opening area',
    unit: 'mm²',
    group: 'Clear area',
    width: 13,
    kind: 'tenth',
    value: (row) => row.openingAreaMm2,
    formula: (_, row) => areaFormula(row.opening),
  },
  {
    title: 'What passes',
    unit: 'mm²',
    group: 'Clear area',
    width: 13,
    kind: 'tenth',
    value: (row) => row.passingAreaMm2,
  },
  {
    title: FREE,
    unit: 'mm²',
    group: 'Clear area',
    width: 13,
    kind: 'tenth',
    value: (row) => row.freeAreaMm2,
    formula: (address) => `${address('Opening area')}-${address('What passes')}`,
  },
  {
    title: SET_BACK,
    unit: 'mm',
    group: 'Layer',
    width: 10,
    kind: 'tenth',
    value: (row) => row.seal.setBackMm,
  },
  {
    title: FACES,
    unit: 'no.',
    group: 'Layer',
    width: 8,
    kind: 'whole',
    value: (row) => row.seal.faces,
  },
  {
    title: QUANTITY_TITLES.net,
    unit: 'ml',
    group: 'Sealant',
    width: 12,
    kind: 'tenth',
    value: (row) => row.netMl,
    formula: (address, row) =>
      sameAs(row.netMl, (row.freeAreaMm2 * row.seal.setBackMm * row.seal.faces) / 1000)
        ? `${address(FREE)}*${address(SET_BACK)}*${address(FACES)}/1000`
        : null,
  },
  {
    title: OVERFILL,
    unit: 'mm',
    group: 'Allowances',
    width: 10,
    kind: 'tenth',
    value: (row) => row.overfillMm,
  },
  {
    title: WASTE,
    unit: '%',
    group: 'Allowances',
    width: 9,
    kind: 'percent',
    value: (row) => row.wasteRatio,
  },
  {
    title: FACE_FACTOR,
    group: 'Allowances',
    width: 8,
    kind: 'hundredth',
    value: (row) => row.faceFactor,
  },
  {
    title: QUANTITY_TITLES.withAllowances,
    unit: 'ml',
    group: 'Allowances',
    width: 12,
    kind: 'tenth',
    value: (row) => row.withAllowancesMl,
    formula: (address, row) =>
      sameAs(row.withAllowancesMl, grossMl(row))
        ? `${address(FREE)}*(${address(SET_BACK)}+${address(OVERFILL)})*(1+${address(WASTE)})*${address(FACE_FACTOR)}*${address(FACES)}/1000`
        : null,
  },
  {
    title: 'Fillers',
    group: 'Fillers, whole and split',
    width: 36,
    kind: 'long',
    value: (row) =>
      row.seal.fillerQuantities
        .map(({ name, whole, split, sets }) => {
          const total = (whole + split) * sets;
          return sets === 1 ? `${total} × ${name}` : `${total} × ${name} in ${sets} sets`;
        })
        .join('; '),
  },
  { title: 'Seal id', group: 'Source', width: 56, kind: 'id', value: (row) => row.seal.id },
];

/** With overfill over the free area, waste, and the factor for the faces. */
function grossMl(row: QuantityRow): number {
  const { freeAreaMm2, seal, overfillMm, wasteRatio, faceFactor } = row;
  const layerMm = seal.setBackMm + overfillMm;
  return (freeAreaMm2 * layerMm * (1 + wasteRatio) * faceFactor * seal.faces) / 1000;
}

/** A formula is written only where it gives what the design found; else its number stands alone. */
function sameAs(found: number, worked: number): boolean {
  return Math.abs(found - worked) <= 1e-9 * Math.max(1, Math.abs(found));
}

/** Area of the outlines that have a simple formula. */
function areaFormula(opening: Shape): string | null {
  switch (opening.type) {
    case 'circle':
      return `PI()*${opening.diameterMm}^2/4`;
    case 'rectangle':
      return `${opening.widthMm}*${opening.heightMm}`;
    case 'oval':
      return `PI()*${opening.lengthMm}*${opening.widthMm}/4`;
    case 'slot':
      return `(${opening.lengthMm}-${opening.widthMm})*${opening.widthMm}+PI()*${opening.widthMm}^2/4`;
    case 'polygon':
      return null;
  }
}

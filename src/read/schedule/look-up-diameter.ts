import type { CableTable, CableTableRow } from './cable-table.ts';
import { type ConstructionFeatures, constructionFeatures } from './construction-features.ts';
import type { Designation } from './designation.ts';

export type DiameterAnswer =
  /** Every row that fits the construction, cores and size agrees well enough. */
  | {
      readonly found: 'row';
      readonly row: CableTableRow;
      readonly smallestMm: number;
      readonly largestMm: number;
      readonly reason: string;
    }
  /** Nothing fits as a whole; the range is what cables of like cores and size measure. */
  | {
      readonly found: 'range';
      readonly smallestMm: number;
      readonly largestMm: number;
      readonly reason: string;
    }
  | { readonly found: 'nothing'; readonly reason: string };

/** Rows that differ by more than this are different cables, not two tables of one. Our choice. */
const LARGEST_SPREAD_RATIO = 0.15;
/** Added to both ends of a range taken from cables of other constructions. Our choice. */
const OTHER_CONSTRUCTION_RATIO = 0.15;
/** AWG sizes are printed rounded. */
const SIZE_TOLERANCE_RATIO = 0.015;

export interface TableIndex {
  readonly rows: readonly IndexedRow[];
  readonly bySize: ReadonlyMap<number, readonly IndexedRow[]>;
}

interface IndexedRow {
  readonly row: CableTableRow;
  readonly features: ConstructionFeatures;
}

/** Tables made ready for many look-ups; earlier tables are preferred. */
export function indexTables(tables: readonly CableTable[]): TableIndex {
  const rows = tables.flatMap((table) =>
    table.rows.map((row) => ({ row, features: rowFeatures(row) })),
  );
  const bySize = new Map<number, IndexedRow[]>();
  for (const indexed of rows) {
    const key = sizeKey(indexed.row.sizeMm2);
    const group = bySize.get(key);
    if (group === undefined) bySize.set(key, [indexed]);
    else group.push(indexed);
  }
  return { rows, bySize };
}

/**
 * The outside diameter of a designation by construction, cores and size together. A size alone, or
 * cores and size alone, give only a range: construction can double a diameter.
 */
export function lookUpDiameter(designation: Designation, index: TableIndex): DiameterAnswer {
  const sized = rowsOfSize(designation, index).filter(({ row }) => hasCores(row, designation));
  const wanted = wantedFeatures(designation);
  const fitting =
    designation.otherConductor === null && isEnough(wanted, designation)
      ? sized.filter(({ features, row }) => fits(row, features, wanted, designation))
      : [];
  const own = fitting.filter(({ row }) => row.kind === 'own');
  const chosen = own.length > 0 ? own : fitting;
  const [first] = chosen;
  if (first !== undefined) {
    const { smallestMm, largestMm } = bounds(chosen);
    if (largestMm - smallestMm <= first.row.diameterMm * LARGEST_SPREAD_RATIO) {
      return { found: 'row', row: first.row, smallestMm, largestMm, reason: rowReason(chosen) };
    }
    return { found: 'range', smallestMm, largestMm, reason: 'Tables that fit it differ widely.' };
  }
  return estimate(designation, sized, wanted);
}

function estimate(
  designation: Designation,
  sized: readonly IndexedRow[],
  wanted: ConstructionFeatures,
): DiameterAnswer {
  const reason =
    designation.construction === null
      ? 'The construction is not given; a size alone gives no diameter.'
      : `No table row is known for ${designation.construction} of these cores and size.`;
  const likely = sized.filter(
    ({ features }) =>
      features.isOptical === wanted.isOptical &&
      (features.highKv === null) === (wanted.highKv === null),
  );
  if (likely.length === 0) return { found: 'nothing', reason };
  const { smallestMm, largestMm } = bounds(likely);
  return {
    found: 'range',
    smallestMm: smallestMm * (1 - OTHER_CONSTRUCTION_RATIO),
    largestMm: largestMm * (1 + OTHER_CONSTRUCTION_RATIO),
    reason,
  };
}

function rowReason(rows: readonly IndexedRow[]): string {
  const [first, ...others] = rows;
  if (first === undefined) return '';
  const { row } = first;
  const name = [row.construction, row.standard].filter((part) => part !== null).join(', ');
  const more = others.map(({ row: { diameterMm, standard } }) => {
    return `${diameterMm} mm (${standard ?? 'standard not stated'})`;
  });
  const tail = more.length === 0 ? '' : `; other rows that fit give ${more.join(', ')}`;
  const memory = row.kind === 'memory' ? ', from memory' : '';
  return `${row.diameterMm} mm from the table of ${name} (${row.source}${memory})${tail}.`;
}

function bounds(rows: readonly IndexedRow[]): { smallestMm: number; largestMm: number } {
  return {
    smallestMm: Math.min(...rows.map(({ row }) => row.smallestDiameterMm ?? row.diameterMm)),
    largestMm: Math.max(...rows.map(({ row }) => row.largestDiameterMm ?? row.diameterMm)),
  };
}

function sizeKey(sizeMm2: number | null): number {
  return sizeMm2 === null ? -1 : Math.round(Math.log(sizeMm2) / SIZE_TOLERANCE_RATIO);
}

function rowsOfSize(designation: Designation, index: TableIndex): readonly IndexedRow[] {
  const { sizeMm2 } = designation;
  if (sizeMm2 === null) return index.bySize.get(-1) ?? [];
  const key = sizeKey(sizeMm2);
  return [key - 1, key, key + 1]
    .flatMap((near) => index.bySize.get(near) ?? [])
    .filter(({ row }) => Math.abs((row.sizeMm2 ?? 0) / sizeMm2 - 1) <= SIZE_TOLERANCE_RATIO);
}

function hasCores(row: CableTableRow, designation: Designation): boolean {
  const cores = designation.cores ?? usualCores(designation);
  if (cores === null || row.cores === null) return false;
  return cores <= row.cores && cores >= (row.fewestCores ?? row.cores);
}

/** Twisted-pair data cables have four pairs (ISO/IEC 11801, from memory); THHN is one conductor. */
function usualCores({ construction }: Designation): number | null {
  if (construction === null) return null;
  if (/(?<![\p{L}\d])cat(?:egory)?[-. ]{0,2}[5-8]/iu.test(construction)) return 8;
  return /(?<![\p{L}\d])(?:THHN|THWN|6491[XB])/iu.test(construction) ? 1 : null;
}

function wantedFeatures(designation: Designation): ConstructionFeatures {
  return constructionFeatures(designation.construction ?? '', designation.voltage);
}

function rowFeatures(row: CableTableRow): ConstructionFeatures {
  const words = constructionFeatures(`${row.construction} ${row.standard ?? ''}`, null);
  const armour = row.armour === null ? null : constructionFeatures(row.armour, null).armour;
  return { ...words, armour: row.armour === 'none' ? 'none' : (armour ?? words.armour) };
}

/** A code, a standard or a known armour: less than that is no construction. */
function isEnough(wanted: ConstructionFeatures, designation: Designation): boolean {
  if (wanted.codes.length > 0 || designation.standard !== null) return true;
  return wanted.armour !== null || (designation.isFibre && designation.construction !== null);
}

function fits(
  row: CableTableRow,
  has: ConstructionFeatures,
  wanted: ConstructionFeatures,
  designation: Designation,
): boolean {
  if (row.kind === 'own' && sameWords(row.construction, designation.construction)) return true;
  const isSame = <T>(a: T | null, b: T | null) => a === null || b === null || a === b;
  return (
    wanted.codes.every((code) => has.codes.includes(code)) &&
    (wanted.highKv === null ? has.highKv === null : wanted.highKv === has.highKv) &&
    has.isOptical === (wanted.isOptical || designation.isFibre) &&
    isSame(wanted.conductor, has.conductor) &&
    isSame(wanted.insulation, has.insulation) &&
    isSame(wanted.sheath, has.sheath) &&
    isSame(wanted.screen, has.screen) &&
    fitsArmour(has.armour, wanted.armour, wanted.codes.length > 0) &&
    isSame(standardKey(designation.standard), standardKey(row.standard))
  );
}

/** Armour that is not named is not there only where a code stands for the whole cable. */
function fitsArmour(
  has: ConstructionFeatures['armour'],
  wanted: ConstructionFeatures['armour'],
  isCode: boolean,
): boolean {
  if (wanted === null) return isCode || has === null;
  if (wanted === has) return true;
  const isWire = (armour: typeof has) => armour !== null && armour !== 'none';
  return (wanted === 'some' && isWire(has)) || (has === 'some' && isWire(wanted));
}

function standardKey(standard: string | null): string | null {
  return standard === null ? null : standard.toUpperCase().replace(/[^A-Z\d]/gu, '');
}

function sameWords(a: string, b: string | null): boolean {
  const plain = (text: string) => text.toUpperCase().replace(/[^\p{L}\d]/gu, '');
  return b !== null && plain(a) === plain(b);
}

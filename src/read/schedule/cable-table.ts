import { CABLE_TABLE_BLOCKS, type CableTableBlock } from './cable-table-data.ts';

/** One row of a table of cable diameters. */
export interface CableTableRow {
  /** Construction or designation as the table writes it. */
  readonly construction: string;
  readonly standard: string | null;
  /** Armour in words; `none` where the table says there is none; null where it does not say. */
  readonly armour: string | null;
  /** Conductors, or fibres of an optical cable; a data cable's conductors are two a pair. */
  readonly cores: number | null;
  /** The row holds from this many cores on, where one figure stands for a range. */
  readonly fewestCores: number | null;
  readonly sizeMm2: number | null;
  readonly diameterMm: number;
  readonly smallestDiameterMm: number | null;
  readonly largestDiameterMm: number | null;
  readonly massKgPerM: number | null;
  /** Where the figure comes from, for people. */
  readonly source: string;
  /** `own` is the user's table; the rest tell how the shipped figure was come by. */
  readonly kind: 'own' | CableTableBlock['kind'];
  readonly note: string | null;
}

/** Rows in order of preference. */
export interface CableTable {
  readonly rows: readonly CableTableRow[];
}

/** The table that is shipped: common constructions, each row with its source. */
export function builtInCableTable(): CableTable {
  return { rows: CABLE_TABLE_BLOCKS.flatMap(blockRows) };
}

function blockRows(block: CableTableBlock): CableTableRow[] {
  return block.rows.map(([cores, sizeMm2, diameterMm, massKgPerM, extra]) => ({
    construction: block.construction,
    standard: block.standard,
    armour: block.armour,
    cores,
    fewestCores: extra?.fewestCores ?? null,
    sizeMm2,
    diameterMm,
    smallestDiameterMm: extra?.toleranceMm === undefined ? null : diameterMm - extra.toleranceMm,
    largestDiameterMm: extra?.toleranceMm === undefined ? null : diameterMm + extra.toleranceMm,
    massKgPerM,
    source: block.source,
    kind: block.kind,
    note: extra?.note ?? null,
  }));
}

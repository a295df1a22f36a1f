import type { SheetCell, SheetRow, SheetTable } from '../../formats/shared/sheet-table.ts';
import { circuitOf } from './cable-words.ts';
import { looksLikeReference, readsAsDesignation } from './cell-kinds.ts';
import { type Column, headingUnit, plainHeading, UNUSED_COLUMNS } from './column-names.ts';
import { typeByValues, withReference } from './columns-by-values.ts';
import type { FoundColumn, UnknownHeading } from './found-column.ts';
import { type HeadingReading, readHeading } from './heading-parts.ts';

export interface Header {
  /** Place in the sheet's list of rows, from 0; the header takes `depth` rows. */
  readonly start: number;
  readonly depth: number;
  readonly columns: readonly FoundColumn[];
  /** Headings that were not understood. */
  readonly unknown: readonly UnknownHeading[];
}

const ROWS_LOOKED_AT = 80;
const DEEPEST = 3;
const UNIT_ROW =
  /^[[(]?(?:mm2|mm²|mm|cm|in|m|kg\/m|kg\/km|-|–|no\.?|n[°o]|v|kv|a|kw|sq\.? ?mm|awg)[\])]?$/iu;

/**
 * The header of a sheet: the rows, up to three deep, whose headings name most columns; with the
 * reference worth most. Null where no row names a reference.
 */
export function findHeader(sheet: SheetTable, headerRow?: number): Header | null {
  const rows = sheet.rows.slice(0, headerRow === undefined ? ROWS_LOOKED_AT : undefined);
  let best: Header | null = null;
  let bestScore = 0;
  rows.forEach((row, start) => {
    if (headerRow !== undefined && row.row !== headerRow) return;
    for (let depth = 1; depth <= DEEPEST; depth++) {
      const header = readHeader(sheet, start, depth);
      if (header === null) break;
      const score = headerScore(header);
      if (score > bestScore) {
        best = header;
        bestScore = score;
      }
    }
  });
  return best === null ? null : withType(best, sheet);
}

/** Only for the header chosen: a title over designations must not outdo the headings below it. */
function withType(header: Header, sheet: SheetTable): Header {
  const { start, depth, columns, unknown } = header;
  const type = typeByValues(columns, unknown, sheet.rows.slice(start + depth, start + depth + 60));
  if (type === null) return header;
  return {
    ...header,
    columns: [...columns, type].sort((a, b) => a.at - b.at),
    unknown: unknown.filter(({ at }) => at !== type.at),
  };
}

/** A header read at a given place; null where the rows can't be one. */
export function readHeader(sheet: SheetTable, start: number, depth: number): Header | null {
  const rows = sheet.rows.slice(start, start + depth);
  if (rows.length < depth || rows.some(holdsNumbers)) return null;
  const width = Math.max(...rows.map((row) => row.cells.length));
  const headings = Array.from({ length: Math.min(width, 400) }, (_, at) => headingsAt(rows, at));
  const samples = sheet.rows.slice(start + depth, start + depth + 60);
  const claims = headings.flatMap((written, at) => claimsOf(written, at, samples));
  const columns = withReference(settle(claims), samples);
  const unitRow = sheet.rows[start + depth];
  const isUnits = unitRow !== undefined && isUnitRow(unitRow);
  return {
    start,
    depth: depth + (isUnits ? 1 : 0),
    columns: isUnits ? columns.map((column) => withUnit(column, unitRow)) : columns,
    unknown: unknownHeadings(headings, columns),
  };
}

function unknownHeadings(
  headings: readonly HeadingTexts[],
  columns: readonly FoundColumn[],
): UnknownHeading[] {
  const known = new Set(columns.map(({ at }) => at));
  return headings.flatMap(({ full }, at) =>
    known.has(at) || full === '' ? [] : [{ at, heading: full }],
  );
}

/** How much a header names; the reference counts most, since without it nothing can be placed. */
export function headerScore(header: Header): number {
  const ref = header.columns.find(({ column }) => column === 'ref');
  if (ref === undefined) return 0;
  const kinds = new Set(header.columns.map(({ column }) => column));
  const helpful = [...kinds].filter((kind) => !UNUSED_COLUMNS.has(kind));
  const worth = ref.insteadOf === undefined ? 3 : 2;
  return worth + helpful.length - header.depth * 0.1;
}

interface HeadingTexts {
  /** All rows joined. */
  readonly full: string;
  /** Readings to try, best first. */
  readonly readings: readonly string[];
  /** How many of them hold the lowest row; those after are what stands above alone. */
  readonly ownCount: number;
}

function headingsAt(rows: readonly SheetRow[], at: number): HeadingTexts {
  const cells = rows.map((row) => row.cells[at] ?? null);
  const texts = cells.map((cell) => (cell === null || cell.copyOf === 'above' ? '' : cell.text));
  const deepest = texts[texts.length - 1] ?? '';
  // A parent written once over several columns, without a merge.
  const parent = rows.length > 1 ? spreadParent(rows[0], at) : '';
  const full = texts.filter((text) => text !== '').join(' ');
  const joined = parent !== '' && deepest !== '' ? `${parent} ${deepest}` : '';
  const own = [full, joined, deepest].filter((text) => text !== '');
  const above = texts.slice(0, -1).filter((text) => text !== '');
  return { full, readings: [...own, ...above.reverse()], ownCount: own.length };
}

function spreadParent(row: SheetRow | undefined, at: number): string {
  if (row === undefined || (row.cells[at] ?? null) !== null) return '';
  for (let left = at - 1; left >= Math.max(0, at - 4); left--) {
    const cell = row.cells[left] ?? null;
    if (cell !== null) return cell.text;
  }
  return '';
}

interface Claim extends FoundColumn {
  /** Higher wins where two columns claim the same. */
  readonly strength: number;
  /** The heading is known as a whole, and most of what stands below are names with a digit. */
  readonly holdsNames: boolean;
}

function claimsOf(written: HeadingTexts, at: number, samples: readonly SheetRow[]): Claim[] {
  const best = bestReading(written);
  if (best === null) return [];
  const { reading, columns, loss } = best;
  const values = samples.flatMap((row) => row.cells[at] ?? []);
  const names = values.filter((cell) => /\d/u.test(cell.text) && !readsAsDesignation(cell));
  const holdsNames = best.by === 'whole' && names.length > values.length / 2;
  return columns.map((column, rank) => ({
    at,
    holdsNames,
    column,
    heading: written.full,
    unit: headingUnit(written.full),
    how: 'name' as const,
    strength: claimStrength(column, reading, values) - loss - rank * 0.3,
  }));
}

interface BestReading {
  readonly by: HeadingReading['by'];
  readonly reading: string;
  readonly columns: readonly Column[];
  /** What it is weaker by than a whole heading in one row. */
  readonly loss: number;
}

/** Whole headings before those understood by their parts; none where the parts contradict. */
function bestReading(written: HeadingTexts): BestReading | null {
  const readings = written.readings.map((reading, order) => {
    const { columns, by } = readHeading(reading);
    return { reading, columns, by, loss: order * 0.2 + (by === 'parts' ? 0.4 : 0) };
  });
  const own = readings.slice(0, written.ownCount);
  const whole = own.find(({ by }) => by === 'whole');
  if (whole !== undefined) return whole;
  if (readings.some(({ by }) => by === 'conflict')) return null;
  return readings.find(({ columns }) => columns.length > 0) ?? null;
}

/** A claim counts for more when the heading is explicit and the values under it are of the kind. */
function claimStrength(column: Column, reading: string, values: readonly SheetCell[]): number {
  let strength = 1;
  const plain = plainHeading(reading);
  if (column === 'ref' && /cable|kabel|cavo|cabo|kabl/u.test(plain) && plain.includes(' ')) {
    strength += 0.5;
  }
  if (column === 'ref' && /^kabel[a-z]/u.test(plain)) strength += 0.5;
  if (values.length === 0) return strength;
  const share = (test: (cell: SheetCell) => boolean) => values.filter(test).length / values.length;
  if (column === 'ref') {
    strength += share(looksLikeReference) - share(readsAsDesignation) - repeats(values);
  }
  if (column === 'type') strength += share(readsAsDesignation);
  if (column === 'circuit') strength += share(({ text }) => circuitOf(text) !== null);
  if (column === 'circuitRef') strength += 0.5;
  return strength;
}

function repeats(values: readonly SheetCell[]): number {
  return 1 - new Set(values.map(({ text }) => text)).size / values.length;
}

/**
 * Each kind goes to its strongest claim; ties to the left. Kinds of use to no one may repeat, and so
 * may columns of a route that hold names: "Route 1" and "Route 2", or tray and conduit.
 */
function settle(claims: readonly Claim[]): FoundColumn[] {
  const sorted = [...claims].sort((a, b) => b.strength - a.strength || a.at - b.at);
  const taken = new Set<Column>();
  const placed = new Set<number>();
  const found: FoundColumn[] = [];
  for (const { strength: _, holdsNames, ...claim } of sorted) {
    const mayRepeat = claim.column === 'other' || (claim.column === 'route' && holdsNames);
    if (placed.has(claim.at) || (taken.has(claim.column) && !mayRepeat)) continue;
    taken.add(claim.column);
    placed.add(claim.at);
    found.push(claim);
  }
  return found.sort((a, b) => a.at - b.at);
}

function holdsNumbers(row: SheetRow): boolean {
  return row.cells.some(
    (cell) => cell !== null && (cell.number !== null || cell.oddity === 'date'),
  );
}

function isUnitRow(row: SheetRow): boolean {
  const cells = row.cells.filter((cell) => cell !== null && cell.copyOf === null);
  return cells.length > 0 && cells.every((cell) => cell !== null && UNIT_ROW.test(cell.text));
}

function withUnit(column: FoundColumn, row: SheetRow): FoundColumn {
  const cell = row.cells[column.at] ?? null;
  const unit = cell === null ? null : headingUnit(cell.text);
  return unit === null ? column : { ...column, unit };
}

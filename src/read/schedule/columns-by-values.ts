import type { SheetRow } from '../../formats/shared/sheet-table.ts';
import { looksLikeReference, readsAsDesignation } from './cell-kinds.ts';
import type { Column } from './column-names.ts';
import type { FoundColumn, UnknownHeading } from './found-column.ts';

/** Columns a list of cables has beside its references; a list of circuits in a board has few. */
const BESIDE: ReadonlySet<Column> = new Set<Column>([
  'type',
  'construction',
  'cores',
  'size',
  'diameter',
  'smallestDiameter',
  'largestDiameter',
  'from',
  'to',
  'fromRoom',
  'toRoom',
  'route',
]);
const FEWEST_BESIDE = 2;

/**
 * Where no heading names the cable's reference, the circuit's does, and failing that "no." over
 * references; over 1, 2, 3 … it counts rows.
 */
export function withReference(
  columns: readonly FoundColumn[],
  samples: readonly SheetRow[],
): readonly FoundColumn[] {
  if (columns.some(({ column }) => column === 'ref')) return columns;
  if (columns.filter(({ column }) => BESIDE.has(column)).length < FEWEST_BESIDE) return columns;
  const standIn =
    columns.find(({ column, at }) => column === 'circuitRef' && refersUnder(samples, at, /\d/u)) ??
    columns.find(({ column, at }) => column === 'item' && refersUnder(samples, at, /\p{L}/u));
  if (standIn === undefined) return columns;
  return columns.map((column) =>
    column === standIn
      ? { ...column, column: 'ref', how: 'values', insteadOf: column.column }
      : column,
  );
}

function refersUnder(samples: readonly SheetRow[], at: number, sign: RegExp): boolean {
  const values = valuesUnder(samples, at);
  const named = values.filter((cell) => looksLikeReference(cell) && sign.test(cell.text));
  return named.length > 0 && named.length >= values.length / 2;
}

/** Where no heading names the type, a column of designations ("description": 4c x 16 SWA) does. */
export function typeByValues(
  columns: readonly FoundColumn[],
  unknown: readonly UnknownHeading[],
  samples: readonly SheetRow[],
): FoundColumn | null {
  const isTold = columns.some(({ column }) =>
    ['type', 'construction', 'cores', 'size'].includes(column),
  );
  if (isTold) return null;
  const found = unknown.find(({ at }) => {
    const numbered = valuesUnder(samples, at).filter(({ text }) => /\d/u.test(text));
    const telling = numbered.filter(readsAsDesignation).length;
    return telling >= 2 && telling >= numbered.length / 2;
  });
  return found === undefined ? null : { ...found, column: 'type', unit: null, how: 'values' };
}

function valuesUnder(samples: readonly SheetRow[], at: number) {
  return samples.flatMap((row) => {
    const cell = row.cells[at] ?? null;
    return cell === null || cell.copyOf === 'left' ? [] : [cell];
  });
}

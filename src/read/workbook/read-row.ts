import type { SheetCell, SheetRow } from '../../formats/shared/sheet-table.ts';
import { RowAsIssued } from '../../model/workbook-form.ts';
import { readOpenCell } from './cell-values.ts';
import type { PlacedForm } from './sheet-forms.ts';

/** An open cell that is no longer as it was issued. */
export interface ChangedCell {
  readonly field: string;
  readonly value: string;
  /** What it held when issued; empty for nothing, or where the row does not say. */
  readonly was: string;
}

/** What can't be used of a row, and what was typed. */
export interface RowFault {
  readonly field: string;
  readonly why: string;
  readonly quoted: string;
}

export interface ReadRow {
  /** What the row is about; null where it does not say. */
  readonly of: readonly string[] | null;
  readonly said: Readonly<Record<string, string>>;
  readonly changes: readonly ChangedCell[];
  readonly faults: readonly RowFault[];
}

/** What a person changed in a row; null where nothing. */
export function readRow(placed: PlacedForm, row: SheetRow): ReadRow | null {
  const issued = asIssued(placed, row);
  const filled = issued?.filled ?? {};
  const changes: ChangedCell[] = [];
  const faults: RowFault[] = [];
  for (const { field, column } of placed.openColumns) {
    const read = readOpenCell(row.cells[column], field);
    const was = filled[field] ?? '';
    if ('fault' in read) faults.push({ field, why: read.fault, quoted: read.quoted });
    else if (read.value !== was) changes.push({ field, value: read.value, was });
  }
  if (changes.length === 0 && faults.length === 0) return null;
  const said = issued?.said ?? {};
  const visible = visibleKey(placed, row);
  const of = issued?.of ?? visible;
  const trouble = of === null ? NAMELESS : issued !== null && isTorn(issued.of, placed, row);
  if (trouble === false) return { of, said, changes, faults };
  const torn = changes.map(({ field, value }) => ({ field, why: trouble, quoted: value }));
  return { of: null, said, changes: [], faults: [...faults, ...torn] };
}

const NAMELESS = 'the row does not say what it is about';

function asIssued({ asIssuedColumn }: PlacedForm, row: SheetRow): RowAsIssued | null {
  if (asIssuedColumn === null) return null;
  try {
    const parsed = RowAsIssued.safeParse(JSON.parse(row.cells[asIssuedColumn]?.text ?? ''));
    return parsed.success ? parsed.data : null;
  } catch {
    // Overwritten by hand: the row's visible columns have to do.
    return null;
  }
}

/** What the row's own columns say it is about; null where one that is needed is empty or gone. */
function visibleKey({ form, keyColumns }: PlacedForm, row: SheetRow): readonly string[] | null {
  const texts = keyColumns.map((column) => textAt(row.cells, column));
  switch (form.name) {
    case 'cables':
      // A cable that passes nothing has no tag.
      return texts[0] === '' || texts[0] === undefined ? null : [texts[0], texts[1] ?? ''];
    case 'site record': {
      const key = sealKeyIn(texts[1] ?? '');
      return texts[0] === '' || texts[0] === undefined || key === null ? null : [texts[0], key];
    }
    default:
      return texts[0] === '' || texts[0] === undefined ? null : [texts[0]];
  }
}

/** The part of a seal's id that names it within its penetration. */
function sealKeyIn(id: string): string | null {
  if (id.endsWith('/annulus')) return 'annulus';
  const bore = id.indexOf('/bore/');
  return bore < 0 ? null : id.slice(bore + 1);
}

/**
 * Why a row can't be trusted whose visible columns speak of something else than it was issued for:
 * some columns were sorted and others not. False where they agree.
 */
function isTorn(issued: readonly string[], placed: PlacedForm, row: SheetRow): string | false {
  for (const [at, column] of placed.keyColumns.entries()) {
    const seen = textAt(row.cells, column);
    const own = placed.form.name === 'site record' && at === 1 ? sealKeyIn(seen) : seen;
    if (seen === '' || own === null || own === (issued[at] ?? '')) continue;
    return `the row says ${seen} but was issued for ${issued.join(' ')}: were some columns sorted without the others`;
  }
  return false;
}

function textAt(cells: readonly (SheetCell | null)[], column: number | null): string {
  return column === null ? '' : (cells[column]?.text ?? '');
}

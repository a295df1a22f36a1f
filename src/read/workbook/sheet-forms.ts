import type { SheetRow } from '../../formats/shared/sheet-table.ts';
import {
  AS_ISSUED_HEADING,
  CABLE_HEADING,
  CABLES_OPEN,
  type Heading,
  type OpenHeading,
  QUERIES_OPEN,
  QUERY_ID_HEADING,
  REGISTER_OPEN,
  SEAL_ID_HEADING,
  SITE_OPEN,
  TAG_HEADING,
} from '../../model/workbook-form.ts';

export type FormName = 'register' | 'cables' | 'queries' | 'site record';

/** A sheet that people fill in, as it is recognised: by headings, wherever they stand. */
export interface SheetForm {
  readonly name: FormName;
  /** Headings of what its rows are about. */
  readonly keys: readonly string[];
  readonly open: readonly OpenHeading<string>[];
}

const SHEET_FORMS: readonly SheetForm[] = [
  { name: 'register', keys: [TAG_HEADING], open: REGISTER_OPEN },
  { name: 'cables', keys: [CABLE_HEADING, TAG_HEADING], open: CABLES_OPEN },
  { name: 'queries', keys: [QUERY_ID_HEADING], open: QUERIES_OPEN },
  { name: 'site record', keys: [TAG_HEADING, SEAL_ID_HEADING], open: SITE_OPEN },
];

/** A form found on a sheet, with the columns its headings stand in, counted from 0. */
export interface PlacedForm {
  readonly form: SheetForm;
  /** One a key of the form; null where its heading is gone. */
  readonly keyColumns: readonly (number | null)[];
  readonly openColumns: readonly { readonly field: string; readonly column: number }[];
  readonly asIssuedColumn: number | null;
  /** Every heading of the row, by column. */
  readonly headings: ReadonlyMap<number, string>;
}

/**
 * The form whose headings a row holds; null for a row of anything else. With the column that ties
 * rows to their issue one open heading is enough, without it the keys and two of them must be there.
 */
export function formOfHeadings(row: SheetRow): PlacedForm | null {
  const headings = new Map<number, string>();
  const columns = new Map<string, number>();
  for (const [column, cell] of row.cells.entries()) {
    if (cell === null) continue;
    headings.set(column, cell.text);
    const key = plain(cell.text);
    if (!columns.has(key)) columns.set(key, column);
  }
  const asIssuedColumn = columns.get(plain(AS_ISSUED_HEADING)) ?? null;
  const placed = SHEET_FORMS.map((form): PlacedForm => {
    const openColumns = form.open.flatMap((open) => {
      const column = columns.get(plain(headingText(open)));
      return column === undefined ? [] : [{ field: open.field, column }];
    });
    const keyColumns = form.keys.map((key) => columns.get(plain(key)) ?? null);
    return { form, keyColumns, openColumns, asIssuedColumn, headings };
  }).filter(isRecognised);
  return placed.sort((a, b) => b.openColumns.length - a.openColumns.length)[0] ?? null;
}

function isRecognised({ form, keyColumns, openColumns, asIssuedColumn }: PlacedForm): boolean {
  const hasKeys = keyColumns.every((column) => column !== null);
  const isTied = asIssuedColumn !== null;
  if (form.name === 'queries' && !hasKeys && !isTied) return false;
  return isTied ? openColumns.length > 0 : hasKeys && openColumns.length > 1;
}

function headingText({ title, unit }: Heading): string {
  return unit === undefined ? title : `${title} ${unit}`;
}

/** Headings are compared without case and with single blanks. */
function plain(text: string): string {
  return text.toLowerCase().replace(/\s+/g, ' ').trim();
}

/** A cell of a table before any format: text, a number, or nothing. */
export type TableValue = string | number | null;

/** How a column is shown; the CSV takes the values alone. An `id` is for programs: small, on one line. */
export type ColumnKind =
  | 'text'
  | 'long'
  | 'whole'
  | 'tenth'
  | 'hundredth'
  | 'percent'
  | 'verdict'
  | 'id';

/** Group of the columns that tie a row to its source; they are not printed. */
export const SOURCE_GROUP = 'Source';

export interface Column<Row> {
  /** Heading without its unit; unique within a table together with the unit. */
  readonly title: string;
  readonly unit?: string;
  /** Columns that belong together, side by side, share a heading above. */
  readonly group: string;
  readonly width: number;
  readonly kind: ColumnKind;
  readonly value: (row: Row) => TableValue;
  /**
   * The value as a formula on other cells of its row, by their titles; null where there is none. It
   * must give what `value` gives.
   */
  readonly formula?: (address: (title: string) => string, row: Row) => string | null;
  /** A place in the workbook that the cell leads to. */
  readonly link?: (row: Row) => TableLink | null;
  /** Left for people to fill in; the next run reads it back. */
  readonly open?: { readonly choices?: readonly string[]; readonly prompt?: string };
}

/** Where a link leads, by what the row there is about. */
export type TableLink =
  | { readonly to: 'register'; readonly penetrationId: string }
  | { readonly to: 'drawing'; readonly typeKey: string };

/** A table of the issue: the same in the workbook and as CSV. */
export interface Table<Row = unknown> {
  readonly name: string;
  readonly columns: readonly Column<Row>[];
  readonly rows: readonly Row[];
}

/** Heading of a column with its unit: "thickness mm". */
export function headingOf(column: { readonly title: string; readonly unit?: string }): string {
  return column.unit === undefined ? column.title : `${column.title} ${column.unit}`;
}

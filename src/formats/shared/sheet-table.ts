/** A cell as a sheet or a delimited file holds it. */
export interface SheetCell {
  /** As a person would read it, trimmed; numbers with a point. */
  readonly text: string;
  /** The number where the cell holds one, not where a text looks like one. */
  readonly number: number | null;
  /**
   * What makes the content doubtful: a date (a reference such as 1-11 turns into one), an error
   * value, or a formula whose result the file does not hold.
   */
  readonly oddity: 'date' | 'error' | 'uncalculated' | null;
  /** Set where the content belongs to a cell to the left or above that is merged over this one. */
  readonly copyOf: 'left' | 'above' | null;
}

export interface SheetRow {
  /** From 1, as the sheet shows it. */
  readonly row: number;
  readonly isHidden: boolean;
  /** By column from 0; null where empty. */
  readonly cells: readonly (SheetCell | null)[];
}

/** A sheet of a workbook, or a whole delimited file. Rows without content are left out. */
export interface SheetTable {
  readonly name: string;
  readonly isHidden: boolean;
  readonly rows: readonly SheetRow[];
}

/** A cell that holds plain text, or null where it is empty. */
export function textCell(raw: string): SheetCell | null {
  const text = raw.trim();
  return text === '' ? null : { text, number: null, oddity: null, copyOf: null };
}

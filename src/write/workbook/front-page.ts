import type { CellRange } from '../../formats/xlsx/write-address.ts';
import type { CellValue } from '../../formats/xlsx/write-sheet.ts';
import { type BookCell, type BookRow, band, cell } from './book-context.ts';
import type { StyleName } from './book-styles.ts';
import { textHeightPt } from './row-height.ts';

/** Three pairs of columns, a wide and a narrow one each: 96 characters, the width of A4. */
export const FRONT_WIDTHS = [20, 12, 20, 12, 20, 12] as const;
const COLUMNS = FRONT_WIDTHS.length;

function widthOf(firstColumn: number, lastColumn: number): number {
  return FRONT_WIDTHS.slice(firstColumn - 1, lastColumn).reduce<number>(
    (total, width) => total + width,
    0,
  );
}

/** A cell, or cells joined, with the columns they take. */
export interface Field {
  readonly value: CellValue;
  readonly style: StyleName;
  /** Columns it spans; 1 unless given. */
  readonly span?: number;
}

/** The front sheet's rows as they are laid down one under the other. */
export class FrontPage {
  readonly rows: BookRow[] = [];
  readonly merges: CellRange[] = [];

  /** Number of the next row. */
  get next(): number {
    return this.rows.length + 1;
  }

  /** Fields side by side, high enough for the longest text among them. */
  fields(fields: readonly Field[], leastPt = 14): void {
    const cells: BookCell[] = [];
    let heightPt = leastPt;
    for (const { value, style, span = 1 } of fields) {
      const firstColumn = cells.length + 1;
      const lastColumn = firstColumn + span - 1;
      if (span > 1) this.join(firstColumn, lastColumn);
      const height = textHeightPt(cell(value, style), widthOf(firstColumn, lastColumn));
      heightPt = Math.max(heightPt, Math.ceil(height + 3));
      cells.push(...band(value, style, span));
    }
    this.rows.push({ cells, heightPt, isFixed: true });
  }

  /** One text across all columns. */
  wide(value: CellValue, style: StyleName, leastPt = 14): void {
    this.fields([{ value, style, span: COLUMNS }], leastPt);
  }

  /** A label, and a value across the columns left. */
  pair(label: string, value: CellValue, style: StyleName): void {
    this.fields([
      { value: label, style: 'label' },
      { value, style, span: COLUMNS - 1 },
    ]);
  }

  section(title: string): void {
    this.space(8);
    this.rows.push({ cells: band(title, 'section', COLUMNS), heightPt: 19, isFixed: true });
  }

  space(heightPt: number): void {
    this.rows.push({ cells: [], heightPt, isFixed: true });
  }

  private join(firstColumn: number, lastColumn: number): void {
    this.merges.push({ firstColumn, firstRow: this.next, lastColumn, lastRow: this.next });
  }
}

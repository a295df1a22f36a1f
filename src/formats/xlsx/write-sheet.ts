import type { CellRange } from './write-address.ts';

/** A cell's value. A formula carries the value it has now; a link goes to a cell of this book. */
export type CellValue =
  | string
  | number
  | null
  | { readonly formula: string; readonly result: string | number }
  | { readonly text: string; readonly link: SheetLink };

export interface SheetLink {
  readonly sheet: string;
  readonly row: number;
}

export interface Cell<Style extends string = string> {
  readonly value: CellValue;
  /** Key into the book's styles. */
  readonly style: Style;
}

export interface SheetRow<Style extends string = string> {
  /** Null where nothing is drawn. */
  readonly cells: readonly (Cell<Style> | null)[];
  /** Absent: the reading program's usual height. */
  readonly heightPt?: number;
  /** Whether the height stays when a cell of the row grows by editing. */
  readonly isFixed?: boolean;
}

export interface CellStyle {
  readonly sizePt?: number;
  readonly bold?: boolean;
  readonly italic?: boolean;
  readonly underline?: boolean;
  /** Six hexadecimal digits, red green blue. */
  readonly colour?: string;
  readonly fill?: string;
  readonly format?: string;
  readonly across?: 'left' | 'center' | 'right';
  readonly down?: 'top' | 'middle' | 'bottom';
  readonly wrap?: boolean;
  readonly indent?: number;
  readonly lines?: {
    readonly top?: LineStyle;
    readonly bottom?: LineStyle;
    readonly left?: LineStyle;
    readonly right?: LineStyle;
  };
}

export interface LineStyle {
  readonly weight: 'hair' | 'thin' | 'medium' | 'dotted';
  readonly colour: string;
}

/** Choices a cell offers; people may type something else, which is warned about, not refused. */
export interface Choices {
  readonly range: CellRange;
  readonly values: readonly string[];
  readonly prompt: string;
}

/**
 * A PNG of a fixed size whose upper left corner lies in a cell. Fixed, because column widths depend
 * on the fonts of the machine: a picture stretched from cell to cell would not be to scale.
 */
export interface SheetPicture {
  /** Asked for once, when the file is put together. */
  readonly png: () => Uint8Array | Promise<Uint8Array>;
  readonly column: number;
  readonly row: number;
  readonly widthMm: number;
  readonly heightMm: number;
}

export interface SheetPrint {
  readonly paper: 'A3' | 'A4';
  readonly landscape: boolean;
  /** Pages side by side that the columns are fitted to; `full size` prints at 100 %. */
  readonly fit: { readonly pagesWide: number; readonly pagesHigh?: number } | 'full size';
  /** In the middle of the page from side to side. */
  readonly isCentred?: boolean;
  /** Rows repeated on each page. */
  readonly titleRows?: readonly [number, number];
  /** Columns repeated on each page. */
  readonly titleColumns?: readonly [number, number];
  /** Columns after this one are not printed. */
  readonly lastColumn?: number;
  readonly footerLeft: string;
  readonly footerCentre: string;
  /** Page breaks after these rows; programs heed them at full size only. */
  readonly breakAfterRows?: readonly number[];
}

export interface Sheet<Style extends string = string> {
  readonly name: string;
  /** Widths in characters of the standard font. */
  readonly columnWidths: readonly number[];
  /** Asked for once, in order, so that a long sheet need not stand in memory. */
  readonly rows: Iterable<SheetRow<Style>>;
  readonly rowCount: number;
  readonly merges?: readonly CellRange[];
  /** Rows and columns that stay in sight. */
  readonly frozen?: { readonly rows: number; readonly columns: number };
  readonly filter?: CellRange;
  readonly choices?: readonly Choices[];
  readonly pictures?: readonly SheetPicture[];
  readonly print: SheetPrint;
}

/** A name for cells, usable in formulas. */
export interface DefinedName {
  readonly name: string;
  readonly sheet: string;
  readonly range: CellRange;
}

/** A whole workbook as plain data. */
export interface Book<Style extends string = string> {
  readonly properties: {
    readonly title: string;
    readonly subject: string;
    readonly creator: string;
    readonly description: string;
    readonly keywords: string;
    /** ISO date; the same in every run. */
    readonly date: string;
  };
  readonly fontName: string;
  readonly styles: Readonly<Record<Style, CellStyle>>;
  readonly sheets: readonly Sheet<Style>[];
  readonly names: readonly DefinedName[];
  /** Names that stand for a text, hidden from people. */
  readonly texts?: readonly { readonly name: string; readonly text: string }[];
}

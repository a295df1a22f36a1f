import { drawSection, SECTION_HEIGHT_MM, SECTION_WIDTH_MM } from '../../draw/draw-section.ts';
import type { CellRange } from '../../formats/xlsx/write-address.ts';
import type { Sheet, SheetPicture } from '../../formats/xlsx/write-sheet.ts';
import type { IssueIndex, SealDrawing } from '../shared/issue-index.ts';
import { CAUTION_SHORT } from '../shared/phrases.ts';
import {
  type BookCell,
  type BookContext,
  type BookRow,
  band,
  cell,
  SHEETS,
} from './book-context.ts';
import type { StyleName } from './book-styles.ts';

// One drawing a page of A4, at full size, so that its scale is true in print.
const COLUMNS = 10;
/** Ten columns are 198 mm wide with the usual font, and still within A4 with a wide one. */
const COLUMN_CHARACTERS = 10;
const PICTURE_ROWS = 12;
const POINTS_PER_MM = 72 / 25.4;
const PICTURE_ROW_PT = Math.ceil(((SECTION_HEIGHT_MM + 1) / PICTURE_ROWS) * POINTS_PER_MM * 4) / 4;
const TITLE_ROWS = 3;
/** Beyond this many, tags are counted: the Register's filter on the drawing's number lists them. */
const MOST_TAGS = 19;
/**
 * Pixels across a drawing, by how many there are: 174, 137 or 124 dots an inch at full size. A
 * picture costs time by its letters and its pixels; two hundred are to be drawn in seconds.
 */
const PICTURE_WIDTHS_PX = [
  { upTo: 40, widthPx: 1400 },
  { upTo: 120, widthPx: 1100 },
  { upTo: Number.POSITIVE_INFINITY, widthPx: 1000 },
] as const;

export interface DrawingOptions {
  /**
   * Picture of a drawing. May be asynchronous: in Node the renderer's memory is given back only
   * between turns of the event loop, so hundreds of pictures want a turn each.
   */
  readonly svgToPng: (svg: string, widthPx: number) => Uint8Array | Promise<Uint8Array>;
}

interface Placed {
  readonly drawing: SealDrawing;
  readonly firstRow: number;
  readonly tagRows: number;
}

/** Row of each drawing's caption, by seal type. */
export function drawingRows(index: IssueIndex): ReadonlyMap<string, number> {
  return new Map(place(index).map(({ drawing, firstRow }) => [drawing.typeKey, firstRow]));
}

/** Drawings of the seals, one a page, each under its number and the tags that share it. */
export function drawingsSheet(context: BookContext, options: DrawingOptions): Sheet<StyleName> {
  const placed = place(context.index);
  const widthPx = PICTURE_WIDTHS_PX.find(({ upTo }) => placed.length <= upTo)?.widthPx ?? 1000;
  const idOfTag = new Map([...context.index.issue.tags].map(([id, tag]) => [tag, id]));
  const rows = [
    ...titleRows(context),
    ...placed.flatMap((each) => drawingBlock(context, idOfTag, each)),
    ...(placed.length === 0 ? [{ cells: [cell('There is no seal to draw.', 'note')] }] : []),
  ];
  return {
    name: SHEETS.drawings,
    columnWidths: Array<number>(COLUMNS).fill(COLUMN_CHARACTERS),
    rows,
    rowCount: rows.length,
    merges: placed.flatMap(tagMerges),
    pictures: placed.map((each) => pictureOf(each, widthPx, options)),
    frozen: { rows: TITLE_ROWS, columns: 0 },
    print: {
      paper: 'A4',
      landscape: true,
      fit: 'full size',
      breakAfterRows: placed.slice(1).map((each) => each.firstRow - 1),
      footerLeft: context.footerLeft,
      footerCentre: context.footerCentre,
    },
  };
}

function place(index: IssueIndex): readonly Placed[] {
  let firstRow = TITLE_ROWS + 1;
  return index.drawings.map((drawing) => {
    const placed = { drawing, firstRow, tagRows: Math.ceil(tagCellCount(drawing) / COLUMNS) };
    firstRow += 1 + placed.tagRows + PICTURE_ROWS;
    return placed;
  });
}

/** Tags take two columns each; the last place says how many are left out. */
function tagCellCount({ tags }: SealDrawing): number {
  return 2 * Math.min(tags.length, MOST_TAGS + 1);
}

function titleRows(context: BookContext): BookRow[] {
  const intro = `Seals built the same share one drawing. ${CAUTION_SHORT} Measure by the scale bar.`;
  return [
    { cells: [cell('Drawings', 'title')], heightPt: 26, isFixed: true },
    { cells: [cell(context.projectLine, 'project')], heightPt: 14, isFixed: true },
    { cells: [cell(intro, 'caution')], heightPt: 15, isFixed: true },
  ];
}

function drawingBlock(
  context: BookContext,
  idOfTag: ReadonlyMap<string, string>,
  { drawing, tagRows }: Placed,
): BookRow[] {
  const tags = tagCells(context, idOfTag, drawing);
  return [
    { cells: band(captionOf(drawing), 'section', COLUMNS), heightPt: 20, isFixed: true },
    ...Array.from({ length: tagRows }, (_, at) => ({
      cells: tags.slice(at * COLUMNS, (at + 1) * COLUMNS),
      heightPt: 14,
      isFixed: true,
    })),
    ...Array.from({ length: PICTURE_ROWS }, () => ({
      cells: [],
      heightPt: PICTURE_ROW_PT,
      isFixed: true,
    })),
  ];
}

function captionOf({ number, tags }: SealDrawing): string {
  const count = tags.length === 1 ? 'one penetration' : `${tags.length} penetrations`;
  return `${number}  ·  ${count}`;
}

/** Tags lead back to their rows of the Register. */
function tagCells(
  context: BookContext,
  idOfTag: ReadonlyMap<string, string>,
  { tags }: SealDrawing,
): (BookCell | null)[] {
  const shown = tags.length > MOST_TAGS + 1 ? tags.slice(0, MOST_TAGS) : tags;
  const cells = shown.flatMap((tag): (BookCell | null)[] => {
    const row = context.registerRows.get(idOfTag.get(tag) ?? '');
    const value = row === undefined ? tag : { text: tag, link: { sheet: SHEETS.register, row } };
    return [cell(value, row === undefined ? 'project' : 'plainLink'), null];
  });
  const left = tags.length - shown.length;
  return left === 0 ? cells : [...cells, cell(`and ${left} more`, 'project'), null];
}

function tagMerges({ drawing, firstRow }: Placed): CellRange[] {
  return Array.from({ length: tagCellCount(drawing) / 2 }, (_, at) => {
    const row = firstRow + 1 + Math.floor((2 * at) / COLUMNS);
    const column = 1 + ((2 * at) % COLUMNS);
    return { firstColumn: column, firstRow: row, lastColumn: column + 1, lastRow: row };
  });
}

function pictureOf(
  { drawing, firstRow, tagRows }: Placed,
  widthPx: number,
  options: DrawingOptions,
): SheetPicture {
  return {
    png: () => options.svgToPng(drawingSvg(drawing), widthPx),
    column: 1,
    row: firstRow + 1 + tagRows,
    widthMm: SECTION_WIDTH_MM,
    heightMm: SECTION_HEIGHT_MM,
  };
}

/** A drawing under its number, as SVG. */
function drawingSvg(drawing: SealDrawing): string {
  const [tag] = drawing.tags;
  return drawSection(drawing.seal, {
    tag: tag ?? drawing.number,
    tags: drawing.tags,
    number: drawing.number,
    ...(drawing.penetration === null ? {} : { penetration: drawing.penetration }),
  });
}

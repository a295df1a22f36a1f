import { drawSection, SECTION_HEIGHT_MM, SECTION_WIDTH_MM } from '../../draw/draw-section.ts';
import type { CellRange } from '../../formats/xlsx/write-address.ts';
import type { Sheet, SheetPicture } from '../../formats/xlsx/write-sheet.ts';
import type { IssueIndex, SealDrawing } from '../shared/issue-index.ts';
import { CAUTION_SHORT } from '../shared/phrases.ts';
import { type BookCell, type BookContext, type BookRow, cell, SHEETS } from './book-context.ts';
import type { StyleName } from './book-styles.ts';

// Two drawings side by side on a sheet of A3. A column is 10 characters, 19.84 mm wide.
const TAG_COLUMNS = 10;
const GAP_COLUMNS = 1;
const COLUMN_CHARACTERS = 10;
const COLUMN_MM = 19.84;
const GAP_CHARACTERS = 2;
const PICTURE_ROWS = 12;
const POINTS_PER_MM = 72 / 25.4;
const EMU_PER_MM = 36_000;
const PICTURE_ROW_PT = Math.round((SECTION_HEIGHT_MM / PICTURE_ROWS) * POINTS_PER_MM * 4) / 4;
const TITLE_ROWS = 3;
/** Beyond this many, tags are counted: the Register's filter on the drawing's number lists them. */
const MOST_TAGS = 40;
/** 170 dots an inch at the printed size. */
const PICTURE_WIDTH_PX = 1280;

export interface DrawingOptions {
  readonly svgToPng: (svg: string, widthPx: number) => Uint8Array;
}

interface Placed {
  readonly drawing: SealDrawing;
  readonly firstColumn: number;
  readonly tagRows: number;
}

interface Strip {
  readonly firstRow: number;
  readonly tagRows: number;
  readonly placed: readonly Placed[];
}

/** Row of each drawing's caption, by seal type. */
export function drawingRows(index: IssueIndex): ReadonlyMap<string, number> {
  const rows = new Map<string, number>();
  for (const strip of layStrips(index.drawings)) {
    for (const { drawing } of strip.placed) rows.set(drawing.typeKey, strip.firstRow);
  }
  return rows;
}

/** Drawings of the seals, two abreast, each under its number and the tags that share it. */
export function drawingsSheet(context: BookContext, options: DrawingOptions): Sheet<StyleName> {
  const strips = layStrips(context.index.drawings);
  const rows: BookRow[] = [
    { cells: [cell('Drawings', 'title')], heightPt: 26 },
    { cells: [cell(context.projectLine, 'project')], heightPt: 15 },
    {
      cells: [
        cell(
          `Seals built the same share one drawing. ${CAUTION_SHORT} Measure by the scale bar, not by the paper.`,
          'caution',
        ),
      ],
      heightPt: 18,
    },
  ];
  const merges: CellRange[] = [];
  const pictures: SheetPicture[] = [];
  for (const strip of strips) {
    rows.push(...stripRows(context, strip));
    for (const placed of strip.placed) {
      merges.push(...placedMerges(strip, placed));
      pictures.push(pictureOf(strip, placed, options));
    }
  }
  if (strips.length === 0) rows.push({ cells: [cell('There is no seal to draw.', 'note')] });
  return {
    name: SHEETS.drawings,
    columnWidths: [
      ...Array<number>(TAG_COLUMNS).fill(COLUMN_CHARACTERS),
      GAP_CHARACTERS,
      ...Array<number>(TAG_COLUMNS).fill(COLUMN_CHARACTERS),
    ],
    rows,
    merges,
    pictures,
    frozen: { rows: TITLE_ROWS, columns: 0 },
    print: {
      paper: 'A3',
      landscape: true,
      titleRows: [1, TITLE_ROWS],
      breakAfterRows: pageEnds(strips),
      footerLeft: context.footerLeft,
      footerCentre: context.footerCentre,
    },
  };
}

function layStrips(drawings: readonly SealDrawing[]): readonly Strip[] {
  const strips: Strip[] = [];
  let firstRow = TITLE_ROWS + 1;
  for (let at = 0; at < drawings.length; at += 2) {
    const placed = drawings.slice(at, at + 2).map(
      (drawing, side): Placed => ({
        drawing,
        firstColumn: 1 + side * (TAG_COLUMNS + GAP_COLUMNS),
        tagRows: tagRows(drawing),
      }),
    );
    const highest = Math.max(...placed.map((each) => each.tagRows));
    strips.push({ firstRow, tagRows: highest, placed });
    // Caption, tags, picture, and an empty row.
    firstRow += 1 + highest + PICTURE_ROWS + 1;
  }
  return strips;
}

function shownTags({ tags }: SealDrawing): number {
  return Math.min(tags.length, MOST_TAGS);
}

function tagRows(drawing: SealDrawing): number {
  const cells = shownTags(drawing) + (drawing.tags.length > MOST_TAGS ? 1 : 0);
  return Math.max(1, Math.ceil(cells / (TAG_COLUMNS / 2)));
}

/** Two strips a page: a page ends before every other strip. */
function pageEnds(strips: readonly Strip[]): number[] {
  return strips.flatMap((strip, at) => (at > 0 && at % 2 === 0 ? [strip.firstRow - 1] : []));
}

function stripRows(context: BookContext, strip: Strip): BookRow[] {
  const width = 2 * TAG_COLUMNS + GAP_COLUMNS;
  const grid: (BookCell | null)[][] = Array.from({ length: 1 + strip.tagRows }, () =>
    Array<BookCell | null>(width).fill(null),
  );
  const put = (row: number, column: number, value: BookCell) => {
    const cells = grid[row];
    if (cells !== undefined) cells[column - 1] = value;
  };
  for (const placed of strip.placed) {
    for (let at = 0; at < TAG_COLUMNS; at += 1) {
      put(0, placed.firstColumn + at, cell(at === 0 ? captionOf(placed.drawing) : null, 'section'));
    }
    for (const { row, column, value } of tagCells(context, placed)) put(row, column, value);
  }
  return [
    { cells: grid[0] ?? [], heightPt: 20 },
    ...grid.slice(1).map((cells) => ({ cells, heightPt: 14 })),
    ...Array.from({ length: PICTURE_ROWS }, () => ({ cells: [], heightPt: PICTURE_ROW_PT })),
    { cells: [], heightPt: 12 },
  ];
}

function captionOf({ number, tags }: SealDrawing): string {
  const count = tags.length === 1 ? 'one penetration' : `${tags.length} penetrations`;
  return `${number}  ·  ${count}`;
}

/** Tags lead back to their rows of the Register; a tag takes two columns. */
function tagCells(context: BookContext, placed: Placed) {
  const { drawing } = placed;
  const ids = new Map([...context.index.issue.tags].map(([id, tag]) => [tag, id]));
  const perRow = TAG_COLUMNS / 2;
  const place = (at: number) => ({
    row: 1 + Math.floor(at / perRow),
    column: placed.firstColumn + 2 * (at % perRow),
  });
  const cells = drawing.tags.slice(0, MOST_TAGS).map((tag, at) => {
    const row = context.registerRows.get(ids.get(tag) ?? '');
    const value =
      row === undefined
        ? cell(tag, 'text')
        : cell({ text: tag, link: { sheet: SHEETS.register, row } }, 'plainLink');
    return { ...place(at), value };
  });
  const left = drawing.tags.length - MOST_TAGS;
  if (left > 0) {
    cells.push({ ...place(MOST_TAGS), value: cell(`and ${left} more`, 'project') });
  }
  return cells;
}

function placedMerges(strip: Strip, { drawing, firstColumn }: Placed): CellRange[] {
  const perRow = TAG_COLUMNS / 2;
  const cells = shownTags(drawing) + (drawing.tags.length > MOST_TAGS ? 1 : 0);
  return Array.from({ length: cells }, (_, at) => {
    const row = strip.firstRow + 1 + Math.floor(at / perRow);
    const column = firstColumn + 2 * (at % perRow);
    return { firstColumn: column, firstRow: row, lastColumn: column + 1, lastRow: row };
  });
}

function pictureOf(
  strip: Strip,
  { drawing, firstColumn }: Placed,
  options: DrawingOptions,
): SheetPicture {
  const [tag] = drawing.tags;
  const svg = drawSection(drawing.seal, {
    tag: tag ?? drawing.number,
    tags: drawing.tags,
    number: drawing.number,
    ...(drawing.penetration === null ? {} : { penetration: drawing.penetration }),
  });
  const fullColumns = Math.floor(SECTION_WIDTH_MM / COLUMN_MM);
  const firstRow = strip.firstRow + 1 + strip.tagRows;
  return {
    png: options.svgToPng(svg, PICTURE_WIDTH_PX),
    from: { column: firstColumn, row: firstRow, columnOffsetEmu: 0, rowOffsetEmu: 0 },
    to: {
      column: firstColumn + fullColumns,
      row: firstRow + PICTURE_ROWS,
      columnOffsetEmu: (SECTION_WIDTH_MM - fullColumns * COLUMN_MM) * EMU_PER_MM,
      rowOffsetEmu: 0,
    },
  };
}

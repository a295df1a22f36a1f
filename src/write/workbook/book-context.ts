import type { Cell, CellValue, SheetRow } from '../../formats/xlsx/write-sheet.ts';
import type { IssueIndex } from '../shared/issue-index.ts';
import { CAUTION_SHORT } from '../shared/phrases.ts';
import type { TableLink } from '../shared/table.ts';
import type { StyleName } from './book-styles.ts';

export type BookCell = Cell<StyleName>;
export type BookRow = SheetRow<StyleName>;

/** Names of the sheets, in order. */
export const SHEETS = {
  front: 'Front',
  register: 'Register',
  cables: 'Cables',
  drawings: 'Drawings',
  takeOff: 'Take-off',
  quantities: 'Quantities',
  checks: 'Checks',
  queries: 'Queries',
  site: 'Site record',
  changes: 'Changes',
  requirements: 'Requirements',
  basis: 'Basis',
} as const;

/** Title, project line, sums, group headings, headings: data begin in the row after. */
export const FIRST_DATA_ROW = 6;

/** What a sheet with a table needs to know of its book. */
export interface SheetContext {
  readonly registerRows: ReadonlyMap<string, number>;
  readonly drawingRows: ReadonlyMap<string, number>;
  /** "Project · number · document · revision A · 2026-01-31 · for review". */
  readonly projectLine: string;
  readonly footerLeft: string;
  readonly footerCentre: string;
}

/** What every sheet of an issue needs to know of the book. */
export interface BookContext extends SheetContext {
  readonly index: IssueIndex;
  /** The one area this book is about; null for the whole issue. */
  readonly area: string | null;
}

export function makeContext(
  index: IssueIndex,
  drawingRows: ReadonlyMap<string, number>,
  area: string | null,
): BookContext {
  const { project, issue } = index.issue.settings;
  const parts = [
    project.name,
    project.number,
    project.documentNumber,
    `revision ${issue.revision}`,
    issue.date ?? 'date not given',
    issue.purpose,
    area === null ? '' : `only: ${area}`,
  ];
  const shown = parts.filter((part) => part !== '');
  return {
    index,
    registerRows: new Map(index.issue.penetrations.map(({ id }, at) => [id, FIRST_DATA_ROW + at])),
    drawingRows,
    area,
    projectLine: shown.join('  ·  '),
    footerLeft: [project.documentNumber || project.name, `revision ${issue.revision}`].join(' · '),
    footerCentre: CAUTION_SHORT,
  };
}

export function cell(value: CellValue, style: StyleName): BookCell {
  return { value, style };
}

/** A text that leads to the row a link speaks of; plain text where there is none. */
export function linkCell(context: SheetContext, text: string, link: TableLink): BookCell {
  const place =
    link.to === 'register'
      ? { sheet: SHEETS.register, row: context.registerRows.get(link.penetrationId) }
      : { sheet: SHEETS.drawings, row: context.drawingRows.get(link.typeKey) };
  if (place.row === undefined) return cell(text, 'text');
  return cell({ text, link: { sheet: place.sheet, row: place.row } }, 'link');
}

/** Cells of one style across a number of columns, the first with a value. */
export function band(value: CellValue, style: StyleName, columns: number): BookCell[] {
  return Array.from({ length: columns }, (_, at) => cell(at === 0 ? value : null, style));
}

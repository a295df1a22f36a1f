import { stableUuid } from '../../basics/stable-uuid.ts';
import type { CellRange } from '../../formats/xlsx/write-address.ts';
import { writeBook } from '../../formats/xlsx/write-book.ts';
import type { DefinedName, Sheet } from '../../formats/xlsx/write-sheet.ts';
import type { Issue } from '../../model/issue.ts';
import {
  MARK_NAME,
  markText,
  projectNameOf,
  WORKBOOK_VERSION,
  type WorkbookMark,
} from '../../model/workbook-form.ts';
import { cablesTable } from '../shared/cables-table.ts';
import { checksTable } from '../shared/checks-table.ts';
import { indexIssue } from '../shared/issue-index.ts';
import { issueOfAreas } from '../shared/issue-of-area.ts';
import { CAUTION_SHORT } from '../shared/phrases.ts';
import { queriesTable } from '../shared/queries-table.ts';
import { registerTable } from '../shared/register-table.ts';
import { requirementsTable } from '../shared/requirements-table.ts';
import { siteTable } from '../shared/site-table.ts';
import { basisSheet } from './basis-sheet.ts';
import { type BookContext, makeContext, SHEETS } from './book-context.ts';
import { BOOK_STYLES, type StyleName } from './book-styles.ts';
import { changesSheet } from './changes-sheet.ts';
import { type DrawingOptions, drawingRows, drawingsSheet } from './drawings-sheet.ts';
import { frontSheet } from './front-sheet.ts';
import { quantitiesSheet } from './quantities-sheet.ts';
import { tableSheet } from './table-sheet.ts';
import { takeOffSheet } from './take-off-sheet.ts';

export interface WorkbookOptions extends DrawingOptions {
  /** Only what lies in these areas (levels, as the Register has them), under this name; absent: all. */
  readonly part?: { readonly name: string; readonly areas: ReadonlySet<string> };
}

/** Stands for "no date given" in the file's properties; the Front sheet says "not given". */
const NO_DATE = '2000-01-01';

/**
 * The workbook of an issue as the bytes of an .xlsx file; the same issue gives the same bytes.
 * `svgToPng` turns a drawing into a picture of the given width in pixels. An area that has nothing
 * gives a workbook that says so.
 */
export async function writeWorkbook(issue: Issue, options: WorkbookOptions): Promise<Uint8Array> {
  const { part } = options;
  const index = indexIssue(part === undefined ? issue : issueOfAreas(issue, part.areas));
  const context = makeContext(index, drawingRows(index), part?.name ?? null);
  const sheets = [
    frontSheet(context),
    registerSheet(context),
    cablesSheet(context),
    drawingsSheet(context, options),
    takeOffSheet(context),
    quantitiesSheet(context),
    checksSheet(context),
    queriesSheet(context),
    siteSheet(context),
    changesSheet(context),
    ...(issue.requirements === undefined || part !== undefined ? [] : [requirementsSheet(context)]),
    basisSheet(context),
  ];
  const mark = markText(markOf(issue));
  return await writeBook({
    properties: {
      title: `Seal schedule: ${issue.settings.project.name}`,
      subject: context.projectLine,
      creator: issue.settings.issue.preparedBy,
      description: CAUTION_SHORT,
      keywords: mark,
      date: issue.settings.issue.date ?? NO_DATE,
    },
    fontName: 'Arial',
    styles: BOOK_STYLES,
    sheets,
    names: definedNames(sheets),
    texts: [{ name: MARK_NAME, text: mark }],
  });
}

/** Which issue this is: its files, settings and decisions tell it from others of the same revision. */
function markOf({ settings, sources, decisions, records }: Issue): WorkbookMark {
  const seen = [
    settings,
    sources.map(({ key, sha256 }) => [key, sha256]),
    decisions ?? [],
    [...(records ?? [])].map(([tag, { asBuilt }]) => [tag, asBuilt]),
  ];
  return {
    version: WORKBOOK_VERSION,
    project: projectNameOf(settings.project),
    revision: settings.issue.revision,
    issue: stableUuid(JSON.stringify(seen)).slice(0, 8),
  };
}

function registerSheet(context: BookContext): Sheet<StyleName> {
  return tableSheet(context, registerTable(context.index), {
    name: SHEETS.register,
    title: 'Register of penetrations',
    intro: CAUTION_SHORT,
    sums: [
      'Services',
      'Cables',
      'Sealant net',
      'Sealant with allowances',
      'Spare tubes',
      'Not assessed',
      'Queries',
    ],
    pagesWide: 3,
    whenEmpty:
      'No penetration was found. The Front sheet says where everything that was read ended up.',
  });
}

function requirementsSheet(context: BookContext): Sheet<StyleName> {
  return tableSheet(context, requirementsTable(context.index), {
    name: SHEETS.requirements,
    title: 'Requirements on the models',
    intro: 'Each model against the IDS files of the project, a row a requirement.',
    sums: ['Not met'],
    whenEmpty: 'The IDS files hold no specification.',
  });
}

function cablesSheet(context: BookContext): Sheet<StyleName> {
  return tableSheet(context, cablesTable(context.index), {
    name: SHEETS.cables,
    title: 'Cables',
    intro: 'A row for each cable in each penetration. A match is a proposal with its reasons.',
    frozenColumns: 2,
    whenEmpty: 'No cable schedule was read.',
  });
}

function checksSheet(context: BookContext): Sheet<StyleName> {
  return tableSheet(context, checksTable(context.index), {
    name: SHEETS.checks,
    title: 'Checks',
    intro: CAUTION_SHORT,
    whenEmpty: 'No check was made.',
  });
}

function queriesSheet(context: BookContext): Sheet<StyleName> {
  return tableSheet(context, queriesTable(context.index), {
    name: SHEETS.queries,
    title: 'Queries',
    intro:
      'What people must answer before the seals can be made; the columns on the right are theirs.',
    whenEmpty: 'There are no queries.',
  });
}

function siteSheet(context: BookContext): Sheet<StyleName> {
  return tableSheet(context, siteTable(context.index), {
    name: SHEETS.site,
    title: 'Site record',
    intro: 'To fill in as seals are made. What is not recorded counts as unverified.',
    leastHeightPt: 30,
    whenEmpty: 'There is no seal to make.',
  });
}

/** A name for each table, headings included: `register`, `take_off` … */
function definedNames(sheets: readonly Sheet<StyleName>[]): DefinedName[] {
  return sheets.flatMap((sheet) => {
    const range: CellRange | undefined = sheet.filter;
    if (range === undefined) return [];
    return [{ name: sheet.name.toLowerCase().replace(/[^a-z]+/g, '_'), sheet: sheet.name, range }];
  });
}

import { sum } from '../../basics/order.ts';
import { writeBook } from '../../formats/xlsx/write-book.ts';
import type { Sheet } from '../../formats/xlsx/write-sheet.ts';
import type { AreaMaterial, PortfolioProject } from '../../model/portfolio.ts';
import { CAUTION_SHORT, CAUTIONS } from '../shared/phrases.ts';
import type { Column, Table } from '../shared/table.ts';
import type { SheetContext } from './book-context.ts';
import { BOOK_STYLES, type StyleName } from './book-styles.ts';
import { FRONT_WIDTHS, FrontPage } from './front-page.ts';
import { tableSheet } from './table-sheet.ts';

/** Workbooks of the same content have the same bytes, so their properties carry no clock. */
const NO_DATE = '2000-01-01';

/** The workbook of many projects: what became of each, and materials in all and by area. */
export async function portfolioBook(projects: readonly PortfolioProject[]): Promise<Uint8Array> {
  const done = projects.filter(({ state }) => state === 'done').length;
  const context: SheetContext = {
    projectLine: `${projects.length} projects  ·  ${done} done`,
    footerLeft: 'Portfolio',
    footerCentre: CAUTION_SHORT,
    registerRows: new Map(),
    drawingRows: new Map(),
  };
  return await writeBook({
    properties: {
      title: 'Seal schedules of many projects',
      subject: context.projectLine,
      creator: 'sealbook',
      description: CAUTION_SHORT,
      keywords: '',
      date: NO_DATE,
    },
    fontName: 'Arial',
    styles: BOOK_STYLES,
    sheets: [
      front(projects, context),
      tableSheet(context, projectsTable(projects), {
        name: 'Projects',
        title: 'Projects',
        intro: `What became of each project of the list. ${CAUTION_SHORT}`,
        sums: SUMMED,
        whenEmpty: 'The list names no project.',
      }),
      tableSheet(context, totalsTable(projects), {
        name: 'Totals',
        title: 'Materials of all projects',
        intro: 'Each area of each project is rounded up for itself, then added.',
        whenEmpty: 'No project that is done takes any material.',
      }),
      tableSheet(context, areasTable(projects), {
        name: 'By area',
        title: 'Materials by project and area',
        intro: 'As the take-off of each project has them.',
        frozenColumns: 2,
        whenEmpty: 'No project that is done takes any material.',
      }),
    ],
    names: [],
    texts: [],
  });
}

function front(
  projects: readonly PortfolioProject[],
  { projectLine, footerLeft, footerCentre }: SheetContext,
): Sheet<StyleName> {
  const page = new FrontPage();
  page.wide('Seal schedules of many projects', 'frontTitle', 38);
  page.wide(projectLine, 'frontSubtitle', 20);
  page.section('Read this first');
  const samples = projects.filter(({ summary }) => summary?.isSample === true);
  if (samples.length > 0) {
    page.wide(
      `${samples.length} of the projects use a SAMPLE range with invented figures. Nothing may be bought or built from them.`,
      'warning',
    );
  }
  for (const [subject, caution] of CAUTIONS) page.pair(subject, caution, 'text');
  page.section('What became of the projects');
  for (const state of ['done', 'dead', 'waiting'] as const) {
    page.pair(STATES[state], projects.filter((each) => each.state === state).length, 'whole');
  }
  page.section('Sheets');
  page.pair('Projects', 'what each came to, or why it came to nothing', 'text');
  page.pair('Totals', 'materials of all projects that are done', 'text');
  page.pair('By area', 'the same by project and area', 'text');
  return {
    name: 'Front',
    columnWidths: FRONT_WIDTHS,
    rows: page.rows,
    rowCount: page.rows.length,
    merges: page.merges,
    print: {
      paper: 'A4',
      landscape: false,
      isCentred: true,
      fit: { pagesWide: 1, pagesHigh: 1 },
      footerLeft,
      footerCentre,
    },
  };
}

const STATES = {
  done: 'done',
  dead: 'given up, see reason',
  waiting: 'not worked on yet',
} as const;

type Summary = NonNullable<PortfolioProject['summary']>;

function countOf(
  title: string,
  group: string,
  value: (summary: Summary) => number,
): Column<PortfolioProject> {
  return {
    title,
    group,
    width: 9,
    kind: 'whole',
    value: ({ summary }) => (summary === null ? null : value(summary)),
  };
}

const PROJECT_COLUMNS: readonly Column<PortfolioProject>[] = [
  {
    ...{ title: 'Project', group: 'Project', width: 28, kind: 'long' },
    value: ({ summary, path }) => summary?.name ?? path,
  },
  { title: 'File', group: 'Project', width: 24, kind: 'long', value: ({ path }) => path },
  { title: 'Outputs in', group: 'Project', width: 18, kind: 'long', value: ({ folder }) => folder },
  {
    ...{ title: 'Revision', group: 'Project', width: 9, kind: 'text' },
    value: ({ summary }) => summary?.revision ?? null,
  },
  {
    title: 'State',
    group: 'Project',
    width: 14,
    kind: 'text',
    value: ({ state }) => STATES[state],
  },
  countOf('Penetrations', 'Found', ({ penetrations }) => penetrations),
  countOf('Services read', 'Found', ({ counted }) => counted.services),
  countOf('Openings read', 'Found', ({ counted }) => counted.openings),
  countOf('Cables read', 'Found', ({ counted }) => counted.cables),
  countOf('Seals designed', 'Seals', ({ seals }) => seals.designed),
  countOf('Seals that wait', 'Seals', ({ seals }) => seals.query),
  countOf('No seal, reasoned', 'Seals', ({ seals }) => seals.none),
  countOf('Checks met', 'Checks, within the evidence supplied', ({ checks }) => checks.met),
  countOf('Checks not met', 'Checks, within the evidence supplied', ({ checks }) => checks.notMet),
  countOf(
    'Checks not assessed',
    'Checks, within the evidence supplied',
    ({ checks }) => checks.notAssessed,
  ),
  countOf('Queries that stop', 'Queries', ({ queries }) => queries.stop),
  countOf('Queries to answer', 'Queries', ({ queries }) => queries.ask),
  countOf('Queries to know', 'Queries', ({ queries }) => queries.note),
  {
    ...{ title: 'Attempts', group: 'Work', width: 10, kind: 'whole' },
    value: ({ attempts }) => attempts,
  },
  { title: 'Reason', group: 'Work', width: 36, kind: 'long', value: ({ reason }) => reason },
];

const SUMMED = PROJECT_COLUMNS.filter(({ kind }) => kind === 'whole').map(({ title }) => title);

function projectsTable(rows: readonly PortfolioProject[]): Table<PortfolioProject> {
  return { name: 'projects', columns: PROJECT_COLUMNS, rows };
}

interface AreaRow extends AreaMaterial {
  readonly path: string;
  readonly project: string;
}

function areaRows(projects: readonly PortfolioProject[]): AreaRow[] {
  return projects.flatMap(({ path, summary }) =>
    (summary?.materials ?? []).map((item) => ({ ...item, path, project: summary?.name ?? path })),
  );
}

function areasTable(projects: readonly PortfolioProject[]): Table<AreaRow> {
  return {
    name: 'areas',
    columns: [
      {
        title: 'Project',
        group: 'Where',
        width: 34,
        kind: 'long',
        value: ({ project }) => project,
      },
      { title: 'Area', group: 'Where', width: 26, kind: 'long', value: ({ area }) => area },
      ...materialColumns<AreaRow>(),
    ],
    rows: areaRows(projects),
  };
}

/** A material over all projects. */
export interface MaterialTotal extends Omit<AreaMaterial, 'area'> {
  readonly projects: number;
}

/** Materials of all projects that are done, in order of kind and name as they come first. */
export function materialTotals(projects: readonly PortfolioProject[]): MaterialTotal[] {
  const byKey = new Map<string, AreaRow[]>();
  for (const row of areaRows(projects)) {
    const key = JSON.stringify([row.kind, row.material]);
    byKey.set(key, [...(byKey.get(key) ?? []), row]);
  }
  return [...byKey.values()].flatMap((rows): MaterialTotal[] => {
    const [first] = rows;
    if (first === undefined) return [];
    const { kind, material, unit } = first;
    const quantity = sum(rows.map((row) => row.quantity));
    const projectCount = new Set(rows.map(({ path }) => path)).size;
    return [{ kind, material, unit, quantity, projects: projectCount }];
  });
}

function totalsTable(projects: readonly PortfolioProject[]): Table<MaterialTotal> {
  return {
    name: 'totals',
    columns: [
      ...materialColumns<MaterialTotal>(),
      {
        ...{ title: 'Projects that take it', group: 'Material', width: 14, kind: 'whole' },
        value: (row) => row.projects,
      },
    ],
    rows: materialTotals(projects),
  };
}

function materialColumns<Row extends Omit<AreaMaterial, 'area'>>(): Column<Row>[] {
  return [
    { title: 'Material', group: 'Material', width: 40, kind: 'long', value: (row) => row.material },
    { title: 'Kind', group: 'Material', width: 12, kind: 'text', value: (row) => row.kind },
    {
      ...{ title: 'Quantity', group: 'Material', width: 14, kind: 'tenth' },
      value: (row) => row.quantity,
    },
    { title: 'Unit', group: 'Material', width: 9, kind: 'text', value: (row) => row.unit },
  ];
}

import { columnLetters } from '../../formats/xlsx/write-address.ts';
import type { Sheet } from '../../formats/xlsx/write-sheet.ts';
import { ledgerTotals, OUTCOME_TEXT } from '../shared/ledger-table.ts';
import { CAUTIONS } from '../shared/phrases.ts';
import { type BookContext, SHEETS } from './book-context.ts';
import type { StyleName } from './book-styles.ts';
import { type Field, FRONT_WIDTHS, FrontPage } from './front-page.ts';

/** With more files than this the front runs over to a second page. */
const MOST_ON_ONE_PAGE = 12;
const ONE_PAGE = { pagesWide: 1, pagesHigh: 1 } as const;

/** The front sheet: what this is, the cautions, what went in, what came out, how to use it. */
export function frontSheet(context: BookContext): Sheet<StyleName> {
  const page = new FrontPage();
  titleBlock(page, context);
  cautions(page, context);
  cameOut(page, context);
  account(page, context);
  wasRead(page, context);
  agreement(page, context);
  howToRead(page);
  return {
    name: SHEETS.front,
    columnWidths: FRONT_WIDTHS,
    rows: page.rows,
    rowCount: page.rows.length,
    merges: page.merges,
    print: {
      paper: 'A4',
      landscape: false,
      isCentred: true,
      fit: context.index.issue.sources.length <= MOST_ON_ONE_PAGE ? ONE_PAGE : { pagesWide: 1 },
      footerLeft: context.footerLeft,
      footerCentre: context.footerCentre,
    },
  };
}

function titleBlock(page: FrontPage, { index, area }: BookContext): void {
  const { project, issue } = index.issue.settings;
  page.wide(project.name, 'frontTitle', 38);
  const part = area === null ? '' : `  ·  only: ${area}`;
  page.wide(`Seal schedule  ·  ${issue.purpose}${part}`, 'frontSubtitle', 20);
  page.space(6);
  const given = (text: string) => (text === '' ? 'not given' : text);
  const pairs: readonly (readonly [string, string, string, string])[] = [
    ['Project number', given(project.number), 'Prepared by', issue.preparedBy],
    ['Document number', given(project.documentNumber), 'Checked by', issue.checkedBy],
    ['Revision', issue.revision, 'Approved by', issue.approvedBy],
    ['Date', issue.date ?? 'not given', 'Status', issue.status],
  ];
  for (const [label, value, otherLabel, otherValue] of pairs) {
    page.fields([
      { value: label, style: 'label' },
      { value, style: 'strong', span: 2 },
      { value: otherLabel, style: 'label' },
      { value: otherValue, style: 'strong', span: 2 },
    ]);
  }
}

function cautions(page: FrontPage, { index }: BookContext): void {
  page.section('Read this first');
  if (index.issue.range.sample) {
    page.wide(
      `The range of fillers and sealants used here (${index.issue.range.name}) is a SAMPLE with invented figures. Nothing may be bought or built from it. Name your own range in the project file.`,
      'warning',
    );
  }
  for (const [subject, caution] of CAUTIONS) page.pair(subject, caution, 'text');
}

/** A sum and its parts, as one column of an account. */
interface Account {
  readonly title: string;
  readonly parts: readonly (readonly [string, number])[];
  /** The inputs' own count, where there is one to hold the sum against. */
  readonly counted?: number;
}

function cameOut(page: FrontPage, { index }: BookContext): void {
  const { penetrations, seals, queries } = index.issue;
  const count = <T>(items: readonly T[], holds: (item: T) => boolean) => items.filter(holds).length;
  page.section('What came out');
  accounts(page, [
    {
      title: `Penetrations (${SHEETS.register})`,
      parts: [
        ['with an opening', count(penetrations, ({ kind }) => kind === 'opening')],
        ['with a provision', count(penetrations, ({ kind }) => kind === 'provision')],
        ['with a hole in the host', count(penetrations, ({ kind }) => kind === 'hole')],
        ['nothing provided', count(penetrations, ({ kind }) => kind === 'unopened')],
      ],
    },
    {
      title: `Seals (${SHEETS.checks})`,
      parts: [
        ['designed', count(seals, ({ state }) => state === 'designed')],
        ['wait for an answer', count(seals, ({ state }) => state === 'query')],
        ['none, with a reason', count(seals, ({ state }) => state === 'none')],
      ],
    },
    {
      title: `Queries (${SHEETS.queries})`,
      parts: [
        ['stop a seal', count(queries, ({ severity }) => severity === 'stop')],
        ['need an answer', count(queries, ({ severity }) => severity === 'ask')],
        ['to know', count(queries, ({ severity }) => severity === 'note')],
      ],
    },
  ]);
}

function account(page: FrontPage, { index, area }: BookContext): void {
  if (area !== null) {
    page.wide(
      'The account of everything that was read stands in the workbook of the whole issue.',
      'note',
    );
    return;
  }
  const ledger = ledgerTotals(index.issue);
  const accountOf = (title: string, totals: Readonly<Record<string, number>>): Account => {
    const { total, ...outcomes } = totals;
    return {
      title,
      parts: Object.entries(outcomes).map(([key, number]) => [OUTCOME_TEXT[key] ?? key, number]),
      counted: total ?? 0,
    };
  };
  page.section('The account: where everything that was read ended up');
  accounts(page, [
    accountOf('Services', { ...ledger.services }),
    accountOf('Openings', { ...ledger.openings }),
    accountOf('Cables', { ...ledger.cables }),
  ]);
}

/**
 * Accounts side by side: parts, their live sum, and beneath it the inputs' own count with what the
 * comparison says, so that something lost on the way shows.
 */
function accounts(page: FrontPage, all: readonly Account[]): void {
  const headings = all.flatMap(({ title }): Field[] => [
    { value: title, style: 'heading' },
    { value: 'no.', style: 'headingRight' },
  ]);
  page.fields(headings);
  const first = page.next;
  const deepest = Math.max(...all.map(({ parts }) => parts.length));
  for (let at = 0; at < deepest; at += 1) {
    page.fields(
      all.flatMap(({ parts }): Field[] => {
        const part = parts[at];
        return part === undefined
          ? [
              { value: null, style: 'label' },
              { value: null, style: 'whole' },
            ]
          : [
              { value: part[0], style: 'label' },
              { value: part[1], style: 'whole' },
            ];
      }),
    );
  }
  const last = page.next - 1;
  const sumRow = page.next;
  page.fields(
    all.flatMap(({ parts }, at): Field[] => {
      const letter = columnLetters(2 * at + 2);
      const formula = `SUM(${letter}${first}:${letter}${last})`;
      const result = parts.reduce((total, [, number]) => total + number, 0);
      return [
        { value: 'sum', style: 'strong' },
        { value: { formula, result }, style: 'strongWhole' },
      ];
    }),
  );
  if (all.some(({ counted }) => counted !== undefined)) countedRows(page, all, sumRow);
}

function countedRows(page: FrontPage, all: readonly Account[], sumRow: number): void {
  const countedRow = page.next;
  page.fields(
    all.flatMap(({ counted }): Field[] => [
      { value: 'counted in the inputs', style: 'label' },
      { value: counted ?? null, style: 'whole' },
    ]),
  );
  page.fields(
    all.flatMap(({ parts, counted }, at): Field[] => {
      const letter = columnLetters(2 * at + 2);
      const agrees = parts.reduce((total, [, number]) => total + number, 0) === counted;
      return [
        {
          value: {
            formula: `IF(${letter}${sumRow}=${letter}${countedRow},"adds up","DOES NOT ADD UP")`,
            result: agrees ? 'adds up' : 'DOES NOT ADD UP',
          },
          style: 'strong',
          span: 2,
        },
      ];
    }),
  );
}

function wasRead(page: FrontPage, { index }: BookContext): void {
  page.section('What was read');
  page.fields([
    { value: 'File', style: 'heading', span: 2 },
    { value: 'Kind, schema; key in the project', style: 'heading' },
    { value: 'Size kB', style: 'headingRight' },
    { value: 'SHA-256', style: 'heading', span: 2 },
  ]);
  for (const source of index.issue.sources) {
    page.fields([
      { value: source.name, style: 'text', span: 2 },
      { value: `${source.kind}, ${source.schema}; ${source.key}`, style: 'text' },
      { value: source.sizeBytes / 1000, style: 'tenth' },
      { value: halves(source.sha256), style: 'small', span: 2 },
    ]);
  }
  if (index.issue.sources.length === 0) page.wide('Nothing was read.', 'text');
}

/** A hash on two lines of the same length. */
function halves(hash: string): string {
  const middle = Math.ceil(hash.length / 2);
  return `${hash.slice(0, middle)}\n${hash.slice(middle)}`;
}

function agreement(page: FrontPage, { index }: BookContext): void {
  const { find, design } = index.issue.settings;
  const left = [
    find.sealRecesses ? '' : 'recesses that do not go through',
    find.sealShafts ? '' : 'voids of stairs, lifts and risers',
    'doors and windows',
    'supports of the services',
    'tests on site',
  ];
  page.section('Scope, measurement and who does what');
  page.pair('Not included', left.filter((part) => part !== '').join('; '), 'text');
  page.pair(
    'Rules of measurement',
    `A seal is counted for each leak path: round the services and, where cables pass a hollow body, through it. Sealant is net: clear area of the opening less what passes, times the set-back, for each face. Overfill of ${design.overfillMm} mm and waste of ${design.wasteRatio * 100} % stand apart. Containers are rounded up for each opening alone, and pooled by level.`,
    'text',
  );
  for (const label of ['Openings formed by', 'Seals made by', 'Making good by']) {
    page.pair(label, null, 'open');
  }
}

const GUIDE: readonly (readonly [string, string])[] = [
  [SHEETS.register, 'one row a penetration; a tag stays with its hole through revisions'],
  [SHEETS.cables, 'which cable passes which penetration, and why that is believed'],
  [SHEETS.drawings, 'cross-sections to scale; seals built the same share one drawing'],
  [SHEETS.takeOff, 'materials by level, net and with allowances, alone and pooled'],
  [SHEETS.quantities, 'how the sealant of each seal is measured, worked by formula'],
  [SHEETS.checks, 'each check with value, limit, source, and verdict within the evidence supplied'],
  [SHEETS.queries, 'what people must answer, with what would settle it'],
  [SHEETS.site, 'to fill in as seals are made and inspected'],
  [SHEETS.changes, 'what is different from the last issue'],
  [SHEETS.basis, 'every value the design rests on, and what was not read'],
];

function howToRead(page: FrontPage): void {
  page.section('How to read and edit this workbook');
  for (const [sheet, text] of GUIDE) {
    page.fields([
      { value: { text: sheet, link: { sheet, row: 1 } }, style: 'link' },
      { value: text, style: 'text', span: FRONT_WIDTHS.length - 1 },
    ]);
  }
  page.wide(
    'Type only into cells with a dotted frame. Rows may be sorted and filtered, columns hidden or added. Keep the columns headed Source: they tie a row to its hole.',
    'note',
  );
}

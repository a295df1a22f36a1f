import type { CellRange } from '../../formats/xlsx/write-address.ts';
import type { CellValue, Sheet } from '../../formats/xlsx/write-sheet.ts';
import { ledgerTotals, OUTCOME_TEXT } from '../shared/ledger-table.ts';
import { CAUTIONS } from '../shared/phrases.ts';
import { type BookContext, type BookRow, band, cell, SHEETS } from './book-context.ts';
import type { StyleName } from './book-styles.ts';

const WIDTHS = [25, 20, 13, 13, 13, 26];
const COLUMNS = WIDTHS.length;
const TOTAL_WIDTH = WIDTHS.reduce((total, width) => total + width, 0);
const LINE_PT = 12.5;

/** The front sheet: what this is, what went in, what came out, how to use it, and the cautions. */
export function frontSheet(context: BookContext): Sheet<StyleName> {
  const page = new Page();
  titleBand(page, context);
  titleBlock(page, context);
  cautions(page, context);
  cameOut(page, context);
  account(page, context);
  wasRead(page, context);
  agreement(page, context);
  howToRead(page);
  return {
    name: SHEETS.front,
    columnWidths: WIDTHS,
    rows: page.rows,
    merges: page.merges,
    print: {
      paper: 'A4',
      landscape: false,
      footerLeft: context.footerLeft,
      footerCentre: context.footerCentre,
    },
  };
}

/** Rows as they are laid down one under the other. */
class Page {
  readonly rows: BookRow[] = [];
  readonly merges: CellRange[] = [];

  /** Number of the next row. */
  get next(): number {
    return this.rows.length + 1;
  }

  row(values: readonly (readonly [CellValue, StyleName])[], heightPt?: number): void {
    const cells = values.map(([value, style]) => cell(value, style));
    this.rows.push(heightPt === undefined ? { cells } : { cells, heightPt });
  }

  /** One text across the columns from `first` to the last. */
  wide(value: CellValue, style: StyleName, heightPt: number): void {
    this.merges.push(across(this.next, 1, COLUMNS));
    this.rows.push({ cells: band(value, style, COLUMNS), heightPt });
  }

  /** A long text across all columns, high enough for its lines. */
  paragraph(text: string, style: StyleName = 'note'): void {
    this.wide(text, style, linesOf(text, TOTAL_WIDTH) * LINE_PT + 2);
  }

  section(title: string): void {
    this.rows.push({ cells: [], heightPt: 9 });
    this.rows.push({ cells: band(title, 'section', COLUMNS), heightPt: 20 });
  }

  /** A label, and a value across the other columns. */
  pair(label: string, value: string | number, style: StyleName = 'strong'): void {
    this.merges.push(across(this.next, 2, COLUMNS));
    const lines = linesOf(String(value), TOTAL_WIDTH - (WIDTHS[0] ?? 0));
    this.rows.push({
      cells: [cell(label, 'label'), ...band(value, style, COLUMNS - 1)],
      heightPt: lines * LINE_PT + 2,
    });
  }
}

function across(row: number, firstColumn: number, lastColumn: number): CellRange {
  return { firstColumn, firstRow: row, lastColumn, lastRow: row };
}

/** Lines a text needs in a width of characters: words are kept whole, so a tenth is lost. */
function linesOf(text: string, widthCharacters: number): number {
  const usable = widthCharacters * 1.08;
  const lines = text.split('\n').map((line) => Math.max(1, Math.ceil(line.length / usable)));
  return lines.reduce((total, count) => total + count, 0);
}

function titleBand(page: Page, { index }: BookContext): void {
  const { project, issue } = index.issue.settings;
  page.wide(project.name, 'frontTitle', 40);
  page.wide(`Seal schedule  ·  ${issue.purpose}`, 'frontSubtitle', 22);
}

function titleBlock(page: Page, { index }: BookContext): void {
  const { project, issue } = index.issue.settings;
  const given = (text: string) => (text === '' ? 'not given' : text);
  const pairs: readonly (readonly [string, string, string, string])[] = [
    ['Project number', given(project.number), 'Prepared by', issue.preparedBy],
    ['Document number', given(project.documentNumber), 'Checked by', issue.checkedBy],
    ['Revision', issue.revision, 'Approved by', issue.approvedBy],
    ['Date', issue.date ?? 'not given', 'Status', issue.status],
  ];
  page.rows.push({ cells: [], heightPt: 6 });
  for (const [label, value, otherLabel, otherValue] of pairs) {
    page.merges.push(across(page.next, 2, 3), across(page.next, 5, 6));
    page.row(
      [
        [label, 'label'],
        [value, 'strong'],
        [null, 'strong'],
        [otherLabel, 'label'],
        [otherValue, 'strong'],
        [null, 'strong'],
      ],
      15,
    );
  }
}

function cautions(page: Page, { index }: BookContext): void {
  page.section('Read this first');
  if (index.issue.range.sample) {
    page.paragraph(
      `The range of fillers and sealants used here (${index.issue.range.name}) is a SAMPLE with invented figures. Nothing may be bought or built from it. Name your own range in the project file.`,
      'warning',
    );
  }
  for (const caution of CAUTIONS) page.paragraph(caution);
}

function cameOut(page: Page, { index }: BookContext): void {
  const { penetrations, seals, queries } = index.issue;
  page.section('What came out');
  const count = <T>(items: readonly T[], holds: (item: T) => boolean) => items.filter(holds).length;
  const kinds = [
    ['with an opening', count(penetrations, ({ kind }) => kind === 'opening')],
    ['with a provision', count(penetrations, ({ kind }) => kind === 'provision')],
    ['with a hole in the host', count(penetrations, ({ kind }) => kind === 'hole')],
    ['nothing provided', count(penetrations, ({ kind }) => kind === 'unopened')],
  ] as const;
  const states = [
    ['designed', count(seals, ({ state }) => state === 'designed')],
    ['waiting for an answer', count(seals, ({ state }) => state === 'query')],
    ['no seal, with reason', count(seals, ({ state }) => state === 'none')],
  ] as const;
  const weights = [
    ['stop a seal', count(queries, ({ severity }) => severity === 'stop')],
    ['need an answer', count(queries, ({ severity }) => severity === 'ask')],
    ['to know', count(queries, ({ severity }) => severity === 'note')],
  ] as const;
  summed(page, `Penetrations (${SHEETS.register})`, kinds);
  summed(page, `Seals (${SHEETS.drawings}, ${SHEETS.checks})`, states);
  summed(page, `Queries (${SHEETS.queries})`, weights);
}

function account(page: Page, { index }: BookContext): void {
  page.section('The account: where everything that was read ended up');
  const ledger = ledgerTotals(index.issue);
  const names = {
    services: 'Services in the inputs',
    openings: 'Openings in the inputs',
    cables: 'Cables in the inputs',
  } as const;
  for (const key of ['services', 'openings', 'cables'] as const) {
    const { total, ...outcomes }: Readonly<Record<string, number>> = ledger[key];
    const parts = Object.entries(outcomes).map(
      ([outcome, number]) => [OUTCOME_TEXT[outcome] ?? outcome, number] as const,
    );
    summed(page, names[key], parts, total ?? 0);
  }
}

/**
 * A total as a live sum of its parts, parts beneath. Where the inputs' own count is known it stands
 * beside, so that a part lost on the way shows as a difference.
 */
function summed(
  page: Page,
  label: string,
  parts: readonly (readonly [string, number])[],
  counted?: number,
): void {
  const first = page.next + 1;
  const last = page.next + parts.length;
  const total = parts.reduce((all, [, number]) => all + number, 0);
  const check: readonly (readonly [CellValue, StyleName])[] =
    counted === undefined
      ? []
      : [
          [counted, 'strongWhole'],
          [null, 'text'],
          [
            {
              formula: `IF(C${page.next}=D${page.next},"adds up","DOES NOT ADD UP")`,
              result: total === counted ? 'adds up' : 'DOES NOT ADD UP',
            },
            'strong',
          ],
        ];
  page.row(
    [
      [label, 'strong'],
      [counted === undefined ? 'sum' : 'sum, and counted in the inputs', 'label'],
      [{ formula: `SUM(C${first}:C${last})`, result: total }, 'strongWhole'],
      ...check,
    ],
    15,
  );
  for (const [text, number] of parts) {
    page.row([
      [null, 'label'],
      [text, 'label'],
      [number, 'whole'],
    ]);
  }
}

function wasRead(page: Page, { index }: BookContext): void {
  page.section('What was read');
  page.merges.push(across(page.next, 5, 6));
  page.row([
    ['File', 'heading'],
    ['Kind and schema', 'heading'],
    ['Size kB', 'headingRight'],
    ['Key', 'heading'],
    ['SHA-256', 'heading'],
    [null, 'heading'],
  ]);
  for (const source of index.issue.sources) {
    page.merges.push(across(page.next, 5, 6));
    const lines = Math.max(
      linesOf(source.name, WIDTHS[0] ?? 1),
      linesOf(`${source.kind}, ${source.schema}`, WIDTHS[1] ?? 1),
      2,
    );
    page.row(
      [
        [source.name, 'text'],
        [`${source.kind}, ${source.schema}`, 'text'],
        [source.sizeBytes / 1000, 'tenth'],
        [source.key, 'text'],
        [source.sha256, 'small'],
        [null, 'small'],
      ],
      lines * LINE_PT,
    );
  }
  if (index.issue.sources.length === 0) page.paragraph('Nothing was read.');
}

function agreement(page: Page, { index }: BookContext): void {
  const { find, design } = index.issue.settings;
  page.section('Scope, measurement and who does what');
  page.pair(
    'Not included',
    [
      find.sealRecesses ? '' : 'recesses that do not go through',
      find.sealShafts ? '' : 'stairs, lifts, risers and other shafts',
      'doors and windows; forming and making good of openings unless agreed below; supports of the services; testing on site',
    ]
      .filter((part) => part !== '')
      .join('; '),
    'text',
  );
  page.pair(
    'Rules of measurement',
    `A seal is counted for each leak path: round the services and, where cables pass a hollow body, through it. Sealant is net (clear area of the opening less what passes, times set-back, for each face); overfill ${design.overfillMm} mm and waste ${design.wasteRatio * 100} % are shown apart. Containers are rounded up for each opening alone, and pooled by level. Lengths in mm, volumes in ml.`,
    'text',
  );
  for (const label of ['Openings formed by', 'Seals made by', 'Making good by']) {
    page.pair(label, '', 'open');
  }
}

const GUIDE: readonly (readonly [string, string])[] = [
  [SHEETS.register, 'one row a penetration; tags stay with their hole through revisions'],
  [SHEETS.cables, 'which cable passes which penetration, and why that is believed'],
  [SHEETS.drawings, 'cross-sections to scale; seals built the same share one drawing'],
  [SHEETS.takeOff, 'materials by level, net and with allowances, alone and pooled'],
  [SHEETS.checks, 'each check with value, limit, verdict within the evidence supplied, and source'],
  [SHEETS.queries, 'what people must answer, with what would settle it'],
  [SHEETS.site, 'to fill in as seals are made and inspected'],
  [SHEETS.changes, 'what is different from the last issue'],
  [SHEETS.basis, 'every value the design rests on, and what was not read'],
];

function howToRead(page: Page): void {
  page.section('How to read and edit this workbook');
  for (const [sheet, text] of GUIDE) {
    page.merges.push(across(page.next, 2, COLUMNS));
    page.rows.push({
      cells: [
        cell({ text: sheet, link: { sheet, row: 1 } }, 'link'),
        ...band(text, 'text', COLUMNS - 1),
      ],
      heightPt: 14,
    });
  }
  page.paragraph(
    'Type only into cells with a dotted frame, headed “Yours to fill in”, “As built” or “Record”. Rows may be sorted and filtered, columns hidden or added. Keep the columns headed Source: they tie a row to its hole.',
  );
}

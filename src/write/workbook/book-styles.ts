import type { CellStyle, LineStyle } from '../../formats/xlsx/write-sheet.ts';

// One ink, one grey, one quiet tint, and paper. What a colour says is also said in words, so that
// nothing is lost in grey. Cells to be filled in are told by their dotted frame and their heading.
const INK = '1D2733';
const SLATE = '55606B';
const BAND = '2E4A52';
const TINT = 'E9EEEE';
const PAPER_LINE = 'C3CBD0';
const OPEN_FILL = 'FBF7EA';
const WARN_FILL = 'F3E3DC';

const hair: LineStyle = { weight: 'hair', colour: SLATE };
const thin: LineStyle = { weight: 'thin', colour: PAPER_LINE };
const ink: LineStyle = { weight: 'medium', colour: INK };
const dotted: LineStyle = { weight: 'dotted', colour: SLATE };

const row = { bottom: hair } as const;
const frame = { top: dotted, bottom: dotted, left: dotted, right: dotted } as const;
const cell = { colour: INK, down: 'top', lines: row } as const;
const number = { ...cell, across: 'right' } as const;

/** Every style of the workbook, by what it is for. */
export const BOOK_STYLES = {
  blank: {},
  title: { sizePt: 16, bold: true, colour: INK, down: 'middle' },
  frontTitle: { sizePt: 22, bold: true, colour: 'FFFFFF', fill: BAND, down: 'middle', indent: 1 },
  frontSubtitle: { sizePt: 11, colour: 'FFFFFF', fill: BAND, down: 'middle', indent: 1 },
  project: { sizePt: 9, colour: SLATE, down: 'middle' },
  caution: { sizePt: 9, italic: true, colour: INK, down: 'middle' },
  section: { sizePt: 11, bold: true, colour: INK, down: 'bottom', lines: { bottom: ink } },
  group: {
    sizePt: 9,
    bold: true,
    colour: 'FFFFFF',
    fill: BAND,
    down: 'middle',
    lines: { left: { weight: 'thin', colour: 'FFFFFF' } },
  },
  groupRest: { fill: BAND },
  heading: {
    sizePt: 9,
    bold: true,
    colour: INK,
    fill: TINT,
    down: 'bottom',
    wrap: true,
    lines: { bottom: ink, left: thin },
  },
  headingRight: {
    sizePt: 9,
    bold: true,
    colour: INK,
    fill: TINT,
    down: 'bottom',
    across: 'right',
    wrap: true,
    lines: { bottom: ink, left: thin },
  },
  openHeading: {
    sizePt: 9,
    bold: true,
    italic: true,
    colour: INK,
    fill: OPEN_FILL,
    down: 'bottom',
    wrap: true,
    lines: { bottom: ink, left: dotted, right: dotted },
  },
  sumLabel: { sizePt: 8, italic: true, colour: SLATE, across: 'left', down: 'middle' },
  sumWhole: {
    sizePt: 8,
    bold: true,
    colour: INK,
    across: 'right',
    down: 'middle',
    format: '"Σ "#,##0_)',
  },
  sumTenth: {
    sizePt: 8,
    bold: true,
    colour: INK,
    across: 'right',
    down: 'middle',
    format: '"Σ "#,##0.0_)',
  },
  text: { ...cell, wrap: true },
  strong: { ...cell, bold: true, wrap: true },
  link: { ...cell, wrap: true, underline: true },
  plainLink: { colour: INK, down: 'middle', underline: true },
  rowTitle: { ...cell, bold: true },
  whole: { ...number, format: '#,##0_)' },
  tenth: { ...number, format: '#,##0.0_)' },
  hundredth: { ...number, format: '#,##0.00_)' },
  percent: { ...number, format: '0.0%_)' },
  money: { ...number, format: '#,##0.00_)' },
  strongWhole: { ...number, bold: true, format: '#,##0_)' },
  strongTenth: { ...number, bold: true, format: '#,##0.0_)' },
  strongMoney: { ...number, bold: true, format: '#,##0.00_)' },
  met: { ...cell },
  notMet: { ...cell, bold: true, fill: WARN_FILL },
  notAssessed: { ...cell, italic: true, colour: SLATE },
  open: { colour: INK, fill: OPEN_FILL, down: 'top', wrap: true, lines: frame },
  label: { colour: SLATE, down: 'top', lines: row },
  note: { colour: INK, down: 'top', wrap: true },
  warning: {
    bold: true,
    colour: INK,
    fill: WARN_FILL,
    down: 'middle',
    wrap: true,
    lines: { top: ink, bottom: ink },
    indent: 1,
  },
  id: { sizePt: 7, colour: SLATE, down: 'top', lines: row },
  small: { sizePt: 7, colour: SLATE, down: 'top', wrap: true, lines: row },
} as const satisfies Record<string, CellStyle>;

export type StyleName = keyof typeof BOOK_STYLES;

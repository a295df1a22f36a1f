import type { BasisValue, UnreadContent } from '../../model/issue.ts';
import { fileName, type IssueIndex } from './issue-index.ts';
import type { Column, Table } from './table.ts';

/** Basis: every value the design rests on, as the pipeline listed them. */
export function basisTable(index: IssueIndex): Table<BasisValue> {
  return { name: 'basis', columns: BASIS_COLUMNS, rows: index.issue.basis };
}

const BASIS_COLUMNS: readonly Column<BasisValue>[] = [
  { title: 'Setting', group: 'Value', width: 40, kind: 'long', value: (row) => row.setting },
  {
    title: 'Value',
    group: 'Value',
    width: 26,
    kind: 'long',
    value: (row) => numberOr(row.value),
  },
  { title: 'Unit', group: 'Value', width: 12, kind: 'text', value: (row) => row.unit },
  { title: 'Source', group: 'Grounds', width: 60, kind: 'long', value: (row) => row.source },
  { title: 'Used for', group: 'Grounds', width: 28, kind: 'long', value: (row) => row.usedFor },
];

/** A value that is a plain decimal number is written as one. */
function numberOr(text: string): string | number {
  return /^-?\d{1,12}(\.\d{1,9})?$/.test(text) ? Number(text) : text;
}

export interface UnreadRow extends UnreadContent {
  readonly file: string;
}

/** What was not read or not used of the inputs, counted. */
export function unreadTable(index: IssueIndex): Table<UnreadRow> {
  return {
    name: 'unread',
    columns: UNREAD_COLUMNS,
    rows: index.issue.unread.map((item) => ({ ...item, file: fileName(index, item.fileKey) })),
  };
}

const UNREAD_COLUMNS: readonly Column<UnreadRow>[] = [
  { title: 'File', group: 'Content', width: 40, kind: 'long', value: (row) => row.file },
  { title: 'Type', group: 'Content', width: 26, kind: 'long', value: (row) => row.type },
  {
    title: 'Count',
    unit: 'no.',
    group: 'Content',
    width: 12,
    kind: 'whole',
    value: (row) => row.count,
  },
  { title: 'Why', group: 'Reason', width: 60, kind: 'long', value: (row) => row.reason },
  { title: 'Layer', group: 'Reason', width: 28, kind: 'long', value: (row) => row.layer },
];

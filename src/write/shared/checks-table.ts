import type { Check, Seal } from '../../model/seal.ts';
import { type IssueIndex, tagOf } from './issue-index.ts';
import { pathText } from './phrases.ts';
import type { Column, Table } from './table.ts';

/** One check of one seal. */
export interface CheckRow {
  readonly tag: string;
  readonly seal: Seal;
  readonly path: string;
  readonly check: Check;
}

/** Checks: in order of tag, then seal, as the design made them. */
export function checksTable(index: IssueIndex): Table<CheckRow> {
  return {
    name: 'checks',
    columns: COLUMNS,
    rows: index.issue.seals.flatMap((seal) => {
      const tag = tagOf(index, seal.penetrationId);
      const path = pathText(seal, index.crossings);
      return seal.checks.map((check) => ({ tag, seal, path, check }));
    }),
  };
}

const COLUMNS: readonly Column<CheckRow>[] = [
  {
    title: 'Tag',
    group: 'Seal',
    width: 13,
    kind: 'text',
    value: (row) => row.tag,
    link: (row) => ({ to: 'register', penetrationId: row.seal.penetrationId }),
  },
  { title: 'Path', group: 'Seal', width: 20, kind: 'long', value: (row) => row.path },
  { title: 'Subject', group: 'Check', width: 11, kind: 'text', value: (row) => row.check.subject },
  { title: 'Check', group: 'Check', width: 30, kind: 'long', value: (row) => row.check.name },
  {
    title: 'Value',
    group: 'Result',
    width: 11,
    kind: 'hundredth',
    value: (row) => row.check.value,
  },
  {
    title: 'Limit',
    group: 'Result',
    width: 11,
    kind: 'hundredth',
    value: (row) => row.check.limit,
  },
  { title: 'Unit', group: 'Result', width: 9, kind: 'text', value: (row) => row.check.unit },
  { title: 'Ratio', group: 'Result', width: 8, kind: 'hundredth', value: (row) => row.check.ratio },
  {
    title: 'Verdict, within the evidence supplied',
    group: 'Result',
    width: 15,
    kind: 'verdict',
    value: (row) => row.check.verdict,
  },
  {
    title: 'Missing to assess it',
    group: 'Grounds',
    width: 34,
    kind: 'long',
    value: (row) => row.check.missing.join('; '),
  },
  { title: 'Note', group: 'Grounds', width: 36, kind: 'long', value: (row) => row.check.note },
  { title: 'Source', group: 'Grounds', width: 34, kind: 'long', value: (row) => row.check.source },
];

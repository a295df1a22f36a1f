import { placeText } from '../../basics/evidence.ts';
import { compareText } from '../../basics/order.ts';
import type { Query } from '../../basics/query.ts';
import { QUERIES_OPEN } from '../../model/workbook-form.ts';
import {
  areaOf,
  decidedOf,
  fileName,
  type IssueIndex,
  NOTHING_DECIDED,
  tagOf,
  tagOrNull,
} from './issue-index.ts';
import { asIssuedColumn, openColumns } from './open-columns.ts';
import type { Column, Table } from './table.ts';

/** One query with its number in this issue. */
export interface QueryRow {
  readonly number: string;
  readonly query: Query;
  readonly tag: string | null;
  readonly level: string | null;
  readonly evidence: string;
  /** "00-0012 (62 %), 00-0013 (40 %)"; empty where there is nothing to choose. */
  readonly choices: string;
  /** What people filled in, by field. */
  readonly decided: ReadonlyMap<string, string>;
}

const SEVERITY_ORDER = { stop: 0, ask: 1, note: 2 } as const;
/** Evidence beyond this many items is counted, not listed. */
const EVIDENCE_SHOWN = 4;

const QUERY_STATES = ['open', 'answered', 'closed'] as const;

/** Queries: what stops a seal first, then by role and id, so that a role reads its own together. */
export function queriesTable(index: IssueIndex): Table<QueryRow> {
  const sorted = [...index.issue.queries].sort(
    (a, b) =>
      SEVERITY_ORDER[a.severity] - SEVERITY_ORDER[b.severity] ||
      compareText(a.to, b.to) ||
      compareText(a.id, b.id),
  );
  const decided = decidedOf(index.issue.decisions ?? [], 'query');
  return {
    name: 'queries',
    columns: QUERIES_COLUMNS,
    rows: sorted.map((query, at) => ({
      number: `Q-${String(at + 1).padStart(3, '0')}`,
      query,
      tag: tagOrNull(index, query.penetrationId),
      level: levelOf(index, query),
      evidence: evidenceText(index, query),
      choices: (query.candidates ?? [])
        .map(
          ({ penetrationId, confidence }) =>
            `${tagOf(index, penetrationId)} (${Math.round(confidence * 100)} %)`,
        )
        .join(', '),
      decided: decided.get(query.id) ?? NOTHING_DECIDED,
    })),
  };
}

function levelOf(index: IssueIndex, { penetrationId }: Query): string | null {
  const penetration = index.penetrations.get(penetrationId ?? '');
  return penetration === undefined ? null : areaOf(penetration);
}

function evidenceText(index: IssueIndex, query: Query): string {
  const shown = query.evidence.slice(0, EVIDENCE_SHOWN).map(({ text, place }) => {
    const named = { ...place, fileKey: fileName(index, place.fileKey) };
    return `${text} (${placeText(named)})`;
  });
  const left = query.evidence.length - shown.length;
  return [...shown, ...(left > 0 ? [`and ${left} more: see result.json`] : [])].join('\n');
}

const SEVERITY_WORDS = {
  stop: 'stops the seal',
  ask: 'needs an answer',
  note: 'to know',
} as const;

const OPEN = openColumns<QueryRow, (typeof QUERIES_OPEN)[number]['field']>(QUERIES_OPEN, {
  answer: { width: 26, kind: 'long', value: (row) => row.decided.get('answer') ?? null },
  state: {
    width: 11,
    value: (row) => row.decided.get('state') ?? null,
    choices: QUERY_STATES,
    prompt: 'open, answered or closed',
  },
});

export const QUERIES_COLUMNS: readonly Column<QueryRow>[] = [
  { title: 'No.', group: 'Query', width: 8, kind: 'text', value: (row) => row.number },
  {
    title: 'Weight',
    group: 'Query',
    width: 12,
    kind: 'text',
    value: (row) => SEVERITY_WORDS[row.query.severity],
  },
  { title: 'To', group: 'Query', width: 17, kind: 'long', value: (row) => row.query.to },
  {
    title: 'Tag',
    group: 'Where',
    width: 13,
    kind: 'text',
    value: (row) => row.tag,
    link: (row) =>
      row.query.penetrationId === null
        ? null
        : { to: 'register', penetrationId: row.query.penetrationId },
  },
  { title: 'Level', group: 'Where', width: 12, kind: 'text', value: (row) => row.level },
  {
    title: 'What was found',
    group: 'Question',
    width: 36,
    kind: 'long',
    value: (row) => row.query.text,
  },
  {
    title: 'Why it matters',
    group: 'Question',
    width: 28,
    kind: 'long',
    value: (row) => row.query.why,
  },
  {
    title: 'What would settle it',
    group: 'Question',
    width: 28,
    kind: 'long',
    value: (row) =>
      row.choices === '' ? row.query.settles : `${row.query.settles}\n${row.choices}`,
  },
  { title: 'Evidence', group: 'Question', width: 30, kind: 'long', value: (row) => row.evidence },
  {
    title: 'Said so far',
    group: 'Question',
    width: 22,
    kind: 'long',
    value: (row) => row.query.answer?.text ?? null,
  },
  ...OPEN,
  { title: 'Code', group: 'Source', width: 26, kind: 'id', value: (row) => row.query.code },
  { title: 'Query id', group: 'Source', width: 60, kind: 'id', value: (row) => row.query.id },
  asIssuedColumn(OPEN, ({ query }) => ({ of: [query.id] })),
];

import { isInstalled } from '../../model/as-built.ts';
import type { Change } from '../../model/register.ts';
import type { IssueIndex } from './issue-index.ts';
import type { Column, Table } from './table.ts';

/** One difference, with the penetration it is of where that is still there. */
export interface ChangeRow {
  readonly change: Change;
  readonly penetrationId: string | null;
  /** Seals of it that were recorded as made on site. */
  readonly installed: readonly string[];
}

/** Changes: what is different from the last issue, in order of tag. */
export function changesTable(index: IssueIndex): Table<ChangeRow> {
  const ids = new Map([...index.issue.tags].map(([id, tag]) => [tag, id]));
  return {
    name: 'changes',
    columns: COLUMNS,
    rows: (index.issue.changes ?? []).map((change) => ({
      change,
      penetrationId: ids.get(change.tag) ?? null,
      installed: Object.entries(index.issue.records?.get(change.tag)?.asBuilt ?? {})
        .filter(([, asBuilt]) => isInstalled(asBuilt))
        .map(([seal, { fields }]) =>
          [seal === 'annulus' ? 'annulus' : 'bore', fields.date].filter(Boolean).join(', sealed '),
        ),
    })),
  };
}

const KIND_WORDS: Readonly<Record<Change['kind'], string>> = {
  added: 'added',
  removed: 'removed',
  moved: 'moved',
  resized: 'opening resized',
  contents: 'contents changed',
  duty: 'duty changed',
  design: 'design changed',
  'not seen': 'not seen in this run',
};

const COLUMNS: readonly Column<ChangeRow>[] = [
  {
    title: 'Tag',
    group: 'Penetration',
    width: 14,
    kind: 'text',
    value: (row) => row.change.tag,
    link: ({ penetrationId }) =>
      penetrationId === null ? null : { to: 'register', penetrationId },
  },
  {
    title: 'Change',
    group: 'Penetration',
    width: 18,
    kind: 'long',
    value: (row) => KIND_WORDS[row.change.kind],
  },
  {
    title: 'Before',
    group: 'What changed',
    width: 44,
    kind: 'long',
    value: (row) => row.change.before,
  },
  {
    title: 'Now',
    group: 'What changed',
    width: 44,
    kind: 'long',
    value: (row) => row.change.after,
  },
  {
    title: 'Recognised by',
    group: 'What changed',
    width: 34,
    kind: 'long',
    value: (row) => row.change.because,
  },
  {
    title: 'Sealant more or less',
    unit: 'ml',
    group: 'Difference in quantity',
    width: 13,
    kind: 'tenth',
    value: (row) => row.change.sealantDifferenceMl,
  },
  {
    title: 'Fillers more or less',
    unit: 'no.',
    group: 'Difference in quantity',
    width: 28,
    kind: 'long',
    value: (row) =>
      Object.entries(row.change.fillerDifference)
        .map(([name, count]) => `${name}: ${count > 0 ? `${count} more` : `${-count} less`}`)
        .join('; '),
  },
  {
    title: 'Installed work it opens',
    group: 'On site',
    width: 26,
    kind: 'long',
    value: ({ change, installed }) =>
      installed.length === 0 ? null : `${installed.join('; ')}: ${ON_SITE_WORDS[change.kind]}`,
  },
];

/** What a change means for a seal that stands. */
const ON_SITE_WORDS: Readonly<Record<Change['kind'], string>> = {
  added: 'recorded before it was designed: look at what stands there',
  removed: 'stands where none is asked for now: remove it or say that it stays',
  moved: 'stands elsewhere than drawn now: look at the place',
  resized: 'to be opened and made anew',
  contents: 'to be opened for what comes and goes',
  duty: 'its evidence to be looked at again, opened where that asks for it',
  design: 'to be opened and made as designed now',
  'not seen': 'nothing is said of it in this run',
};

import type { Seal } from '../../model/seal.ts';
import { areaOf, type IssueIndex, tagOf } from './issue-index.ts';
import { pathText } from './phrases.ts';
import type { Column, Table } from './table.ts';

/** One seal to be built and recorded. */
export interface SiteRow {
  readonly seal: Seal;
  readonly tag: string;
  readonly level: string;
  readonly path: string;
  readonly drawing: string | null;
  readonly fillers: string;
}

const YES_NO = ['yes', 'no', 'not applicable'] as const;

/** Site record: every seal that is designed or still queried, in order of tag. */
export function siteTable(index: IssueIndex): Table<SiteRow> {
  return {
    name: 'site-record',
    columns: COLUMNS,
    rows: index.issue.seals
      .filter((seal) => seal.state !== 'none')
      .map((seal) => ({
        seal,
        tag: tagOf(index, seal.penetrationId),
        level: areaOf(index.penetrations.get(seal.penetrationId)),
        path: pathText(seal, index.crossings),
        drawing: seal.opening === null ? null : (index.drawingOf.get(seal.typeKey)?.number ?? null),
        fillers: seal.fillers
          .map((filler) => `${filler.count + filler.split} × ${filler.name}`)
          .join(', '),
      })),
  };
}

const blank = (
  title: string,
  group: string,
  width: number,
  choices?: readonly string[],
): Column<SiteRow> => ({
  title,
  group,
  width,
  kind: 'text',
  value: () => null,
  open: choices === undefined ? {} : { choices, prompt: choices.join(', ') },
});

const COLUMNS: readonly Column<SiteRow>[] = [
  {
    title: 'Tag',
    group: 'Seal',
    width: 13,
    kind: 'text',
    value: (row) => row.tag,
    link: (row) => ({ to: 'register', penetrationId: row.seal.penetrationId }),
  },
  { title: 'Level', group: 'Seal', width: 12, kind: 'text', value: (row) => row.level },
  { title: 'Path', group: 'Seal', width: 19, kind: 'long', value: (row) => row.path },
  {
    title: 'Drawing',
    group: 'Seal',
    width: 9,
    kind: 'text',
    value: (row) => row.drawing,
    link: (row) => (row.drawing === null ? null : { to: 'drawing', typeKey: row.seal.typeKey }),
  },
  { title: 'Fillers', group: 'As designed', width: 22, kind: 'long', value: (row) => row.fillers },
  {
    title: 'Depth',
    unit: 'mm',
    group: 'As designed',
    width: 8,
    kind: 'tenth',
    value: (row) => (row.seal.state === 'designed' ? row.seal.setBackMm : null),
  },
  {
    title: 'Faces',
    unit: 'no.',
    group: 'As designed',
    width: 7,
    kind: 'whole',
    value: (row) => (row.seal.state === 'designed' ? row.seal.faces : null),
  },
  blank('Prepared', 'As built', 11, YES_NO),
  blank('Cables apart', 'As built', 11, YES_NO),
  blank('Fillers set', 'As built', 11, YES_NO),
  { ...blank('Depth measured', 'As built', 11), unit: 'mm' },
  blank('Sealed', 'As built', 11, YES_NO),
  blank('Inspected', 'As built', 11, ['passed', 'to be put right', 'not applicable']),
  blank('By', 'Record', 16),
  blank('Date', 'Record', 12),
  blank('Photograph no.', 'Record', 14),
  { ...blank('Defects', 'Record', 30), kind: 'long' },
  { title: 'Seal id', group: 'Source', width: 56, kind: 'id', value: (row) => row.seal.id },
];

import { type SiteField, sealKeyOf } from '../../model/as-built.ts';
import type { Seal } from '../../model/seal.ts';
import { SITE_OPEN } from '../../model/workbook-form.ts';
import { areaOf, type IssueIndex, tagOf } from './issue-index.ts';
import { asIssuedColumn, openColumns } from './open-columns.ts';
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
  /** What was recorded on site. */
  readonly asBuilt: Readonly<Partial<Record<SiteField, string>>>;
}

const YES_NO = ['yes', 'no', 'not applicable'] as const;

/** Site record: every seal that is designed or still queried, in order of tag. */
export function siteTable(index: IssueIndex): Table<SiteRow> {
  return {
    name: 'site-record',
    columns: SITE_COLUMNS,
    rows: index.issue.seals
      .filter((seal) => seal.state !== 'none')
      .map((seal) => ({
        seal,
        tag: tagOf(index, seal.penetrationId),
        asBuilt: recordedOf(index, seal),
        level: areaOf(index.penetrations.get(seal.penetrationId)),
        path: pathText(seal, index.crossings),
        drawing: seal.opening === null ? null : (index.drawingOf.get(seal.typeKey)?.number ?? null),
        fillers: seal.fillers
          .map((filler) => `${filler.count + filler.split} × ${filler.name}`)
          .join(', '),
      })),
  };
}

function recordedOf(index: IssueIndex, seal: Seal): SiteRow['asBuilt'] {
  const record = index.issue.records?.get(tagOf(index, seal.penetrationId));
  return record?.asBuilt[sealKeyOf(seal)]?.fields ?? {};
}

const recorded = (field: SiteField) => (row: SiteRow) => row.asBuilt[field] ?? null;
const BUILT = 'As built';
const RECORD = 'Record';

const yesNo = (field: SiteField) => ({
  group: BUILT,
  width: 11,
  value: recorded(field),
  choices: YES_NO,
  prompt: YES_NO.join(', '),
});
const typed = (field: SiteField, group: string, width: number) => ({
  group,
  width,
  value: recorded(field),
});

const INSPECTED = ['passed', 'to be put right', 'not applicable'] as const;

const OPEN = openColumns<SiteRow, SiteField>(SITE_OPEN, {
  prepared: yesNo('prepared'),
  substrate: typed('substrate', BUILT, 12),
  openingMm: typed('openingMm', BUILT, 10),
  cablesApart: yesNo('cablesApart'),
  asDrawn: yesNo('asDrawn'),
  fillersNear: yesNo('fillersNear'),
  fillersFar: yesNo('fillersFar'),
  depthNearMm: typed('depthNearMm', BUILT, 9),
  depthFarMm: typed('depthFarMm', BUILT, 9),
  batch: typed('batch', BUILT, 11),
  expiry: typed('expiry', BUILT, 11),
  sealed: yesNo('sealed'),
  inspected: {
    group: RECORD,
    width: 11,
    value: recorded('inspected'),
    choices: INSPECTED,
    prompt: INSPECTED.join(', '),
  },
  by: typed('by', RECORD, 14),
  date: typed('date', RECORD, 11),
  photograph: { ...typed('photograph', RECORD, 18), kind: 'long' },
  defects: { ...typed('defects', RECORD, 26), kind: 'long' },
});

export const SITE_COLUMNS: readonly Column<SiteRow>[] = [
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
  ...OPEN,
  {
    title: 'Unverified',
    group: 'State of the record',
    width: 24,
    kind: 'long',
    value: (row) => unverifiedText(row),
  },
  { title: 'Seal id', group: 'Source', width: 56, kind: 'id', value: (row) => row.seal.id },
  asIssuedColumn(OPEN, ({ tag, seal }) => ({ of: [tag, sealKeyOf(seal)] })),
];

/** What must be known before anyone may lean on a seal, and is not recorded. */
const NEEDED: readonly (readonly [field: SiteField, words: string])[] = [
  ['sealed', 'sealed'],
  ['asDrawn', 'cables and tubes as drawn'],
  ['openingMm', 'opening'],
  ['depthNearMm', 'depth'],
  ['inspected', 'inspected'],
];

function unverifiedText({ asBuilt, seal }: SiteRow): string {
  const far: typeof NEEDED = seal.faces > 1 ? [['depthFarMm', 'depth, far face']] : [];
  const missing = [...NEEDED, ...far].filter(([field]) => asBuilt[field] === undefined);
  if (missing.length === NEEDED.length + far.length) return 'everything';
  return missing.map(([, words]) => words).join(', ');
}

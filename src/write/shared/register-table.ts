import { sum } from '../../basics/order.ts';
import { shapeText } from '../../geometry/shape.ts';
import type { Penetration } from '../../model/penetration.ts';
import type { IssuedFacts } from '../../model/register.ts';
import { saidOf } from '../../model/said-of.ts';
import type { Check, Seal } from '../../model/seal.ts';
import { REGISTER_OPEN } from '../../model/workbook-form.ts';
import { areaOf, type IssueIndex, NOTHING_DECIDED, tagOf } from './issue-index.ts';
import { asIssuedColumn, openColumns } from './open-columns.ts';
import {
  depthText,
  dutyText,
  kindText,
  largestSideMm,
  nameOf,
  outOfReachText,
  sectionText,
  servicesText,
  sideText,
  worstCheck,
} from './phrases.ts';
import type { Column, Table } from './table.ts';

/** A penetration with all that its row of the Register says of it. */
export interface RegisterRow {
  readonly penetration: Penetration;
  readonly tag: string;
  readonly seals: readonly Seal[];
  readonly cableRefs: readonly string[];
  readonly largestCableMm: number | null;
  readonly checks: readonly Check[];
  readonly worst: Check | null;
  readonly queries: number;
  readonly drawing: { readonly number: string; readonly typeKey: string } | null;
  readonly otherDrawings: readonly string[];
  readonly status: string;
  /** Revision it last changed in, and why. */
  readonly lastChange: { readonly revision: string; readonly why: string };
  /** What people decided of it, by field. */
  readonly decided: ReadonlyMap<string, string>;
  /** As the register keeps it; null where there is no record. */
  readonly facts: IssuedFacts | null;
}

const DECISIONS = ['accept', 'change', 'exclude', 'hold'] as const;
const STATUSES = ['tender', 'construction', 'hold'] as const;

/** The Register: one row a penetration, in order of tag. */
export function registerTable(index: IssueIndex): Table<RegisterRow> {
  return {
    name: 'register',
    columns: REGISTER_COLUMNS,
    rows: index.issue.penetrations.map((penetration) => registerRow(index, penetration)),
  };
}

function registerRow(index: IssueIndex, penetration: Penetration): RegisterRow {
  const seals = index.sealsOf.get(penetration.id) ?? [];
  const cables = (index.matchesOf.get(penetration.id) ?? []).flatMap((match) => {
    const cable = index.cables.get(match.cableId);
    return cable === undefined ? [] : [cable];
  });
  const checks = seals.flatMap((seal) => seal.checks);
  const drawings = seals.flatMap((seal) => {
    const drawing = seal.opening === null ? undefined : index.drawingOf.get(seal.typeKey);
    return drawing === undefined ? [] : [drawing];
  });
  const [drawing, ...others] = drawings;
  const tag = tagOf(index, penetration.id);
  const decided = index.decisionsOf.get(tag) ?? NOTHING_DECIDED;
  return {
    penetration,
    tag,
    seals,
    cableRefs: cables.map((cable) => cable.ref),
    largestCableMm: largest(cables.map((cable) => cable.largestDiameterMm ?? cable.diameterMm)),
    checks,
    worst: worstCheck(checks),
    queries: index.queriesOf.get(penetration.id)?.length ?? 0,
    drawing: drawing ?? null,
    otherDrawings: [...new Set(others.map((other) => other.number))],
    status: decided.get('status') ?? index.issue.settings.issue.status,
    lastChange: lastChange(index, tag),
    decided,
    facts: index.issue.records?.get(tag)?.issued.facts ?? null,
  };
}

/** From the changes of this issue, else from the record's history. */
function lastChange(index: IssueIndex, tag: string): RegisterRow['lastChange'] {
  const { changes, records, settings } = index.issue;
  const now = (changes ?? []).filter((change) => change.tag === tag);
  if (now.length > 0) {
    const kinds = now.map(({ kind }) => kind);
    return { revision: settings.issue.revision, why: [...new Set(kinds)].join(', ') };
  }
  const record = records?.get(tag);
  const last = record?.history.at(-1);
  return last === undefined
    ? { revision: record?.firstIn ?? settings.issue.revision, why: 'first issue' }
    : { revision: last.revision, why: last.text };
}

function largest(values: readonly (number | null)[]): number | null {
  const known = values.filter((value) => value !== null);
  return known.length === 0 ? null : Math.max(...known);
}

type RegisterColumn = Column<RegisterRow>;

const PLACE: readonly RegisterColumn[] = [
  {
    title: 'Tag',
    group: 'Penetration',
    width: 13,
    kind: 'text',
    value: (row) => row.tag,
  },
  {
    title: 'Provided',
    group: 'Penetration',
    width: 12,
    kind: 'text',
    value: (row) => kindText(row.penetration),
  },
  {
    title: 'Level',
    group: 'Where',
    width: 12,
    kind: 'text',
    value: (row) => areaOf(row.penetration),
  },
  {
    title: 'Grid',
    group: 'Where',
    width: 14,
    kind: 'text',
    value: (row) => row.penetration.where.grid,
  },
  {
    title: 'Space, near side',
    group: 'Where',
    width: 13,
    kind: 'text',
    value: (row) => sideText(row.penetration.where, 'near'),
  },
  {
    title: 'Space, far side',
    group: 'Where',
    width: 13,
    kind: 'text',
    value: (row) => sideText(row.penetration.where, 'far'),
  },
  {
    title: 'Centre above level',
    unit: 'mm',
    group: 'Where',
    width: 9,
    kind: 'whole',
    value: (row) => row.penetration.where.heightAboveLevelMm,
  },
  {
    title: 'Depth of lowest point',
    group: 'Where',
    width: 22,
    kind: 'text',
    value: (row) => depthText(row.penetration.where),
  },
  {
    title: 'Out of reach',
    group: 'Where',
    width: 13,
    kind: 'text',
    value: (row) => outOfReachText(row.penetration.where),
  },
];

const HOST: readonly RegisterColumn[] = [
  {
    title: 'Host',
    group: 'Host',
    width: 20,
    kind: 'long',
    value: (row) =>
      row.penetration.hosts
        .map((host) => (host.name === '' ? host.kind : `${host.kind} ${host.name}`))
        .join(' + '),
  },
  {
    title: 'Thickness',
    unit: 'mm',
    group: 'Host',
    width: 9,
    kind: 'whole',
    value: (row) => row.penetration.thicknessMm,
  },
  {
    title: 'Fire rating',
    group: 'Host',
    width: 10,
    kind: 'text',
    value: (row) =>
      [...new Set(row.penetration.hosts.flatMap((host) => host.fireRating ?? []))].join(' + '),
  },
  {
    title: 'As found',
    unit: 'mm',
    group: 'Opening',
    width: 13,
    kind: 'text',
    value: (row) => (row.penetration.shape === null ? null : shapeText(row.penetration.shape)),
  },
  {
    title: 'As needed',
    unit: 'mm',
    group: 'Opening',
    width: 13,
    kind: 'text',
    value: (row) => {
      const needed = row.seals.find((seal) => seal.openingBasis === 'needed')?.opening;
      return needed === undefined || needed === null ? null : shapeText(needed);
    },
  },
];

const CONTENTS: readonly RegisterColumn[] = [
  {
    title: 'Services',
    unit: 'no.',
    group: 'What passes',
    width: 8,
    kind: 'whole',
    value: (row) => row.penetration.crossings.length,
  },
  {
    title: 'Largest service',
    unit: 'mm',
    group: 'What passes',
    width: 9,
    kind: 'tenth',
    value: (row) => largest(row.penetration.crossings.map((item) => largestSideMm(item.section))),
  },
  {
    title: 'Service list',
    unit: 'mm',
    group: 'What passes',
    width: 22,
    kind: 'long',
    value: (row) => servicesText(row.penetration.crossings),
  },
  {
    title: 'Cables',
    unit: 'no.',
    group: 'What passes',
    width: 8,
    kind: 'whole',
    value: (row) => row.cableRefs.length,
  },
  {
    title: 'Largest cable',
    unit: 'mm',
    group: 'What passes',
    width: 9,
    kind: 'tenth',
    value: (row) => row.largestCableMm,
  },
  {
    title: 'Cable list',
    group: 'What passes',
    width: 26,
    kind: 'long',
    value: (row) => row.cableRefs.join(', '),
  },
];

const SEAL: readonly RegisterColumn[] = [
  {
    title: 'Duties',
    group: 'Duty',
    width: 22,
    kind: 'long',
    value: (row) => [...new Set(row.seals.flatMap((seal) => seal.duties.map(dutyText)))].join('; '),
  },
  {
    title: 'State',
    group: 'Seal',
    width: 16,
    kind: 'long',
    value: (row) => stateText(row.seals),
  },
  {
    title: 'Faces',
    unit: 'no.',
    group: 'Seal',
    width: 7,
    kind: 'whole',
    value: (row) => largest(designed(row).map((seal) => seal.faces)),
  },
  {
    title: 'Set-back',
    unit: 'mm',
    group: 'Seal',
    width: 9,
    kind: 'tenth',
    value: (row) => largest(designed(row).map((seal) => seal.setBackMm)),
  },
  {
    title: 'Separation achieved',
    unit: 'mm',
    group: 'Seal',
    width: 11,
    kind: 'tenth',
    value: (row) => {
      const gaps = designed(row).flatMap((seal) => seal.arrangement?.gapMm ?? []);
      return gaps.length === 0 ? null : Math.min(...gaps);
    },
  },
  {
    title: 'Fillers by size',
    group: 'Seal',
    width: 22,
    kind: 'long',
    value: (row) => fillersText(designed(row)),
  },
  {
    title: 'Sealant net',
    unit: 'ml',
    group: 'Seal',
    width: 12,
    kind: 'tenth',
    value: (row) => sealantMl(row, (sealant) => sealant.netMl),
  },
  {
    title: 'Sealant with allowances',
    unit: 'ml',
    group: 'Seal',
    width: 12,
    kind: 'tenth',
    value: (row) => sealantMl(row, (sealant) => sealant.withAllowancesMl),
  },
  {
    title: 'Fill, largest',
    unit: '%',
    group: 'Seal',
    width: 8,
    kind: 'percent',
    value: (row) => largest(row.seals.map((seal) => seal.fillRatio)),
  },
  {
    title: 'Spare tubes',
    unit: 'no.',
    group: 'Room for later',
    width: 8,
    kind: 'whole',
    value: (row) => {
      const spares = row.seals.flatMap((seal) => seal.spare?.emptyTubes ?? []);
      return spares.length === 0 ? null : sum(spares);
    },
  },
  {
    title: 'Largest through a tube',
    unit: 'mm',
    group: 'Room for later',
    width: 10,
    kind: 'tenth',
    value: (row) => largest(row.seals.map((seal) => seal.spare?.largestThroughTubeMm ?? null)),
  },
  {
    title: 'Largest, tubes out',
    unit: 'mm',
    group: 'Room for later',
    width: 10,
    kind: 'tenth',
    value: (row) => largest(row.seals.map((seal) => seal.spare?.largestExtraFixedMm ?? null)),
  },
];

const RESULT: readonly RegisterColumn[] = [
  {
    title: 'Worst check',
    group: 'Checks',
    width: 18,
    kind: 'long',
    value: (row) => row.worst?.name ?? null,
  },
  {
    title: 'Verdict, within the evidence',
    group: 'Checks',
    width: 11,
    kind: 'verdict',
    value: (row) => row.worst?.verdict ?? (row.checks.length === 0 ? null : 'not assessed'),
  },
  {
    title: 'Ratio',
    group: 'Checks',
    width: 7,
    kind: 'hundredth',
    value: (row) => row.worst?.ratio ?? null,
  },
  {
    title: 'Not assessed',
    unit: 'no.',
    group: 'Checks',
    width: 9,
    kind: 'whole',
    value: (row) => row.checks.filter((check) => check.verdict === 'not assessed').length,
  },
  {
    title: 'Queries',
    unit: 'no.',
    group: 'Issue',
    width: 8,
    kind: 'whole',
    value: (row) => row.queries,
  },
  {
    title: 'Drawing',
    group: 'Issue',
    width: 9,
    kind: 'text',
    value: (row) => row.drawing?.number ?? null,
    link: (row) => (row.drawing === null ? null : { to: 'drawing', typeKey: row.drawing.typeKey }),
  },
  {
    title: 'Other drawings',
    group: 'Issue',
    width: 11,
    kind: 'long',
    value: (row) => row.otherDrawings.join(', '),
  },
  {
    title: 'Status',
    group: 'Issue',
    width: 12,
    kind: 'text',
    value: (row) => row.status,
  },
  {
    title: 'Changed in revision',
    group: 'Issue',
    width: 9,
    kind: 'text',
    value: (row) => row.lastChange.revision,
  },
  {
    title: 'Why changed',
    group: 'Issue',
    width: 11,
    kind: 'long',
    value: (row) => row.lastChange.why,
  },
];

const decided = (field: string) => (row: RegisterRow) => row.decided.get(field) ?? null;

const OPEN = openColumns<RegisterRow, (typeof REGISTER_OPEN)[number]['field']>(REGISTER_OPEN, {
  review: {
    width: 11,
    value: decided('review'),
    choices: DECISIONS,
    prompt: 'accept, change (say what in the columns beside), exclude or hold',
  },
  status: {
    width: 12,
    value: decided('status'),
    choices: STATUSES,
    prompt: 'Status of this seal from now on',
  },
  opening: { width: 10, value: decided('opening') },
  separationMm: { width: 11, value: decided('separationMm') },
  edgeMm: { width: 10, value: decided('edgeMm') },
  setBackMm: { width: 10, value: decided('setBackMm') },
  faces: { width: 9, value: decided('faces'), choices: ['1', '2'], prompt: '1 or 2' },
  sealant: { width: 14, kind: 'long', value: decided('sealant') },
  remarks: { width: 26, kind: 'long', value: decided('remarks') },
});

const SOURCE: readonly RegisterColumn[] = [
  {
    title: 'Own mark in the source',
    group: 'Named in the source',
    width: 14,
    kind: 'long',
    value: (row) => [...new Set(row.penetration.references.map((item) => item.text))].join(', '),
  },
  {
    title: 'Runs',
    group: 'Named in the source',
    width: 24,
    kind: 'long',
    value: (row) =>
      row.penetration.crossings
        .map((crossing) => `${nameOf(crossing)} (${sectionText(crossing.section)})`)
        .join(', '),
  },
  {
    title: 'Penetration id',
    group: 'Source',
    width: 46,
    kind: 'id',
    value: (row) => row.penetration.id,
  },
];

const AS_ISSUED = asIssuedColumn(OPEN, ({ tag, facts }) => ({
  of: [tag],
  ...(facts === null
    ? {}
    : {
        said: {
          accept: saidOf('review', 'accept', facts) ?? '',
          review: saidOf('review', '', facts) ?? '',
          opening: saidOf('opening', '', facts) ?? '',
        },
      }),
}));

export const REGISTER_COLUMNS: readonly RegisterColumn[] = [
  ...PLACE,
  ...HOST,
  ...CONTENTS,
  ...SEAL,
  ...RESULT,
  ...OPEN,
  ...SOURCE,
  AS_ISSUED,
];

function designed(row: RegisterRow): readonly Seal[] {
  return row.seals.filter((seal) => seal.state === 'designed');
}

/** "designed", or counts where the paths of one hole differ, with the reasons of those not designed. */
function stateText(seals: readonly Seal[]): string {
  const lines = new Map<string, number>();
  for (const seal of seals) {
    const text =
      seal.state === 'designed'
        ? 'designed'
        : `${seal.state === 'none' ? 'no seal' : 'query'}: ${seal.reason ?? 'see Queries'}`;
    lines.set(text, (lines.get(text) ?? 0) + 1);
  }
  return [...lines].map(([text, count]) => (count > 1 ? `${count} × ${text}` : text)).join('; ');
}

/** "25/17: 11 whole + 3 split; 15/9: 4 whole", outside over bore, for one set of tubes. */
function fillersText(seals: readonly Seal[]): string {
  const totals = new Map<string, { count: number; split: number }>();
  for (const filler of seals.flatMap((seal) => seal.fillers)) {
    const key = filler.name;
    const total = totals.get(key) ?? { count: 0, split: 0 };
    totals.set(key, { count: total.count + filler.count, split: total.split + filler.split });
  }
  return [...totals]
    .map(([name, { count, split }]) => {
      const parts = [count > 0 ? `${count} whole` : '', split > 0 ? `${split} split` : ''];
      return `${name}: ${parts.filter((part) => part !== '').join(' + ') || 'none'}`;
    })
    .join('; ');
}

function sealantMl(
  row: RegisterRow,
  amount: (sealant: NonNullable<Seal['sealant']>) => number,
): number | null {
  const amounts = row.seals.flatMap((seal) =>
    seal.sealant === null ? [] : [amount(seal.sealant)],
  );
  return amounts.length === 0 ? null : sum(amounts);
}

import { placeText } from '../../basics/evidence.ts';
import { groupBy } from '../../basics/order.ts';
import type { Cable, CableMatch, CableOutcome } from '../../model/cable.ts';
import type { Decision } from '../../model/decision.ts';
import { saidOfCable } from '../../model/said-of.ts';
import { CABLES_OPEN } from '../../model/workbook-form.ts';
import { fileName, type IssueIndex, tagOf } from './issue-index.ts';
import { asIssuedColumn, openColumns } from './open-columns.ts';
import { kindAndName } from './phrases.ts';
import type { Column, Table } from './table.ts';

/** A cable through a penetration, or a cable that was placed in none. */
export interface CableRow {
  readonly cable: Cable;
  readonly match: CableMatch | null;
  readonly outcome: CableOutcome | null;
  readonly tag: string | null;
  readonly inside: string | null;
  readonly rivals: string;
  readonly place: string;
  /** What people answered about where it runs, in the words it is read back in. */
  readonly answer: string | null;
  readonly diameter: Decision | null;
}

/** Cables: a row for each cable and penetration, in order of cable; unplaced ones keep a row. */
export function cablesTable(index: IssueIndex): Table<CableRow> {
  const { issue } = index;
  const outcomes = new Map(issue.matches.outcomes.map((outcome) => [outcome.cableId, outcome]));
  const matches = new Map<string, CableMatch[]>();
  for (const match of issue.matches.matches) {
    const list = matches.get(match.cableId);
    if (list === undefined) matches.set(match.cableId, [match]);
    else list.push(match);
  }
  const decisions = groupBy(
    (issue.decisions ?? []).filter(({ about }) => about === 'cable'),
    ({ subject }) => subject,
  );
  return {
    name: 'cables',
    columns: CABLES_COLUMNS,
    rows: issue.schedule.cables.flatMap((cable) => {
      const outcome = outcomes.get(cable.id) ?? null;
      const own = matches.get(cable.id) ?? [null];
      const rows = own.map((match) => cableRow(index, cable, match, outcome));
      const decided = decisions.get(cable.ref);
      return decided === undefined ? rows : withDecisions(rows, decided);
    }),
  };
}

function cableRow(
  index: IssueIndex,
  cable: Cable,
  match: CableMatch | null,
  outcome: CableOutcome | null,
): CableRow {
  const crossing =
    match === null || match.crossingId === null ? undefined : index.crossings.get(match.crossingId);
  const rivals = (outcome?.candidates ?? [])
    .filter((candidate) => candidate.penetrationId !== match?.penetrationId)
    .slice(0, 3)
    .map(
      (candidate) =>
        `${tagOf(index, candidate.penetrationId)} (${Math.round(candidate.confidence * 100)} %)`,
    );
  return {
    cable,
    match,
    outcome,
    tag: match === null ? null : tagOf(index, match.penetrationId),
    inside: crossing === undefined ? null : kindAndName(crossing),
    rivals: rivals.join(', '),
    answer: null,
    diameter: null,
    place: placeText({ ...cable.place, fileKey: fileName(index, cable.place.fileKey) }),
  };
}

/**
 * Rows of a cable with what people decided of it: of the tag of a row in that row; of tags it has
 * no row for, and that it passes nothing, in its first row.
 */
function withDecisions(rows: readonly CableRow[], decided: readonly Decision[]): CableRow[] {
  const own = new Set(rows.map(({ tag }) => tag));
  const diameter = decided.find(({ field }) => field === 'diameterMm') ?? null;
  return rows.map((row, at) => {
    const here = decided.flatMap(({ field, tag, value }) => {
      if (field === 'passes' && tag === row.tag) return [value];
      if (at > 0) return [];
      if (field === 'passesNothing') return ['nothing'];
      if (field !== 'passes' || own.has(tag)) return [];
      return [value === 'no' ? `not ${tag}` : `passes ${tag}`];
    });
    return { ...row, diameter, answer: here.length === 0 ? null : here.join('; ') };
  });
}

/** Reasons one after the other, whether or not they end as sentences do. */
function sentences(reasons: readonly string[]): string {
  return reasons
    .map((reason) => (/[.;]$/.test(reason) ? reason : `${reason};`))
    .join(' ')
    .replace(/;$/, '');
}

const OUTCOME_WORDS = {
  matched: 'matched',
  queried: 'query',
  noPenetration: 'passes none',
} as const;

const OPEN = openColumns<CableRow, (typeof CABLES_OPEN)[number]['field']>(CABLES_OPEN, {
  answer: {
    width: 18,
    kind: 'long',
    value: (row) => row.answer,
    prompt: 'yes or no for the tag of this row; else "passes TAG", "not TAG" or "nothing"',
  },
  diameterMm: { width: 10, value: (row) => row.diameter?.value ?? null },
});

export const CABLES_COLUMNS: readonly Column<CableRow>[] = [
  { title: 'Cable', group: 'Reference', width: 16, kind: 'text', value: (row) => row.cable.ref },
  {
    title: 'Tag',
    group: 'Penetration',
    width: 13,
    kind: 'text',
    value: (row) => row.tag,
    link: (row) =>
      row.match === null ? null : { to: 'register', penetrationId: row.match.penetrationId },
  },
  {
    title: 'Inside',
    group: 'Penetration',
    width: 14,
    kind: 'long',
    value: (row) => row.inside,
  },
  {
    title: 'Result',
    group: 'How it was matched',
    width: 11,
    kind: 'text',
    value: (row) => (row.outcome === null ? 'not looked for' : OUTCOME_WORDS[row.outcome.outcome]),
  },
  {
    title: 'Confidence',
    unit: '%',
    group: 'How it was matched',
    width: 10,
    kind: 'percent',
    value: (row) => row.match?.confidence ?? null,
  },
  {
    title: 'Reasons',
    group: 'How it was matched',
    width: 30,
    kind: 'long',
    value: (row) =>
      (row.match === null ? null : sentences(row.match.reasons)) ?? row.outcome?.reason ?? null,
  },
  {
    title: 'Rivals',
    group: 'How it was matched',
    width: 20,
    kind: 'long',
    value: (row) => row.rivals,
  },
  ...OPEN,
  { title: 'Type', group: 'Cable', width: 18, kind: 'long', value: (row) => row.cable.type },
  {
    title: 'Bodies',
    unit: 'no.',
    group: 'Cable',
    width: 8,
    kind: 'whole',
    value: (row) => row.cable.bodies,
  },
  {
    title: 'Diameter',
    unit: 'mm',
    group: 'Cable',
    width: 9,
    kind: 'tenth',
    value: (row) => row.cable.diameterMm,
  },
  {
    title: 'Mass',
    unit: 'kg/m',
    group: 'Cable',
    width: 8,
    kind: 'hundredth',
    value: (row) => row.cable.massKgPerM,
  },
  { title: 'Circuit', group: 'Cable', width: 10, kind: 'text', value: (row) => row.cable.circuit },
  { title: 'Status', group: 'Cable', width: 11, kind: 'text', value: (row) => row.cable.status },
  { title: 'From', group: 'Route', width: 15, kind: 'long', value: (row) => row.cable.from },
  { title: 'To', group: 'Route', width: 15, kind: 'long', value: (row) => row.cable.to },
  {
    title: 'Route',
    group: 'Route',
    width: 20,
    kind: 'long',
    value: (row) => row.cable.route.join(' > '),
  },
  { title: 'Remarks', group: 'Route', width: 20, kind: 'long', value: (row) => row.cable.remarks },
  {
    title: 'Read from',
    group: 'Row of the schedule',
    width: 24,
    kind: 'long',
    value: (row) => row.place,
  },
  { title: 'Cable id', group: 'Source', width: 30, kind: 'id', value: (row) => row.cable.id },
  asIssuedColumn(OPEN, ({ cable, tag, diameter }) => {
    const way = saidOfCable('passes', cable);
    return {
      of: [cable.ref, tag ?? ''],
      said: {
        passes: way,
        passesNothing: way,
        diameterMm: diameter?.against ?? saidOfCable('diameterMm', cable),
      },
    };
  }),
];

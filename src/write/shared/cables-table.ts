import { placeText } from '../../basics/evidence.ts';
import type { Cable, CableMatch, CableOutcome } from '../../model/cable.ts';
import { fileName, type IssueIndex, tagOf } from './issue-index.ts';
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
  return {
    name: 'cables',
    columns: COLUMNS,
    rows: issue.schedule.cables.flatMap((cable) => {
      const outcome = outcomes.get(cable.id) ?? null;
      const own = matches.get(cable.id) ?? [null];
      return own.map((match) => cableRow(index, cable, match, outcome));
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
    place: placeText({ ...cable.place, fileKey: fileName(index, cable.place.fileKey) }),
  };
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

const COLUMNS: readonly Column<CableRow>[] = [
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
];

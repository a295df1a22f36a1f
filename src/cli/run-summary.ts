import type { QuerySeverity } from '../basics/query-codes.ts';
import type { Issue } from '../model/issue.ts';
import type { PenetrationKind } from '../model/penetration.ts';
import type { SealbookResult } from '../model/result.ts';
import { printable, strong } from './terminal.ts';

/** What came out of a run, in counts. */
export interface RunSummary {
  readonly project: string;
  readonly penetrations: Readonly<Record<PenetrationKind, number>> & { readonly total: number };
  readonly seals: { readonly designed: number; readonly query: number; readonly none: number };
  readonly ledger: SealbookResult['ledger'];
  readonly queries: Readonly<Record<QuerySeverity, number>>;
  readonly materials: readonly string[];
  readonly sampleRange: boolean;
}

export function runSummary(issue: Issue, result: SealbookResult): RunSummary {
  const count = <T>(items: readonly T[], test: (item: T) => boolean) => items.filter(test).length;
  const ofKind = (kind: PenetrationKind) => count(issue.penetrations, (each) => each.kind === kind);
  const inState = (state: 'designed' | 'query' | 'none') =>
    count(issue.seals, (seal) => seal.state === state);
  const ofSeverity = (severity: QuerySeverity) =>
    count(issue.queries, (query) => query.severity === severity);
  return {
    project: issue.settings.project.name,
    penetrations: {
      total: issue.penetrations.length,
      opening: ofKind('opening'),
      provision: ofKind('provision'),
      hole: ofKind('hole'),
      unopened: ofKind('unopened'),
    },
    seals: { designed: inState('designed'), query: inState('query'), none: inState('none') },
    ledger: result.ledger,
    queries: { note: ofSeverity('note'), ask: ofSeverity('ask'), stop: ofSeverity('stop') },
    materials: materialLines(issue),
    sampleRange: issue.range.sample,
  };
}

/** Sealant containers, pooled by area, and fillers: what to order at a glance. */
function materialLines(issue: Issue): string[] {
  const totals = new Map<string, number>();
  const add = (name: string, count: number) => totals.set(name, (totals.get(name) ?? 0) + count);
  for (const row of issue.takeOff.sealants) {
    for (const { sizeMl, count } of row.pooled) add(`${row.sealant}, ${sizeMl} ml`, count);
  }
  for (const row of issue.takeOff.fillers) add(row.filler, row.whole + row.split);
  return [...totals].map(([name, count]) => `${count} × ${name}`);
}

/** The summary for people, ending with where the outputs are. */
export function summaryText(
  summary: RunSummary,
  files: readonly string[],
  dryRun: boolean,
): string {
  const { penetrations, seals, queries, ledger } = summary;
  const parts = (record: object, skip: readonly string[] = ['total']) =>
    Object.entries(record)
      .filter(([name, count]) => !skip.includes(name) && count > 0)
      .map(([name, count]) => `${count} ${WORDS[name] ?? name}`)
      .join(', ');
  const row = (name: string, total: number, rest: string) =>
    `  ${name.padEnd(14)}${String(total).padStart(6)}   ${rest}`;
  const totalQueries = queries.note + queries.ask + queries.stop;
  const totalSeals = seals.designed + seals.query + seals.none;
  return [
    strong(printable(summary.project)),
    row('penetrations', penetrations.total, parts(penetrations)),
    row('seals', totalSeals, parts(seals)),
    row('services', ledger.services.total, parts(ledger.services)),
    row('openings', ledger.openings.total, parts(ledger.openings)),
    row('cables', ledger.cables.total, parts(ledger.cables)),
    row('queries', totalQueries, parts(queries)),
    '',
    ...(summary.materials.length > 0 ? ['  To order, pooled by area:'] : []),
    ...summary.materials.map((line) => `    ${printable(line)}`),
    ...(summary.sampleRange
      ? ['', '  The range is a SAMPLE with invented figures: nothing may be built from it.']
      : []),
    '',
    '  Design aid, not a certificate: local code, tested evidence and licensed people decide.',
    '',
    dryRun ? strong('Would be written:') : strong('Written:'),
    ...files.map((file) => `  ${printable(file)}`),
  ].join('\n');
}

const WORDS: Readonly<Record<string, string>> = {
  opening: 'with an opening',
  provision: 'asked for, not yet cut',
  hole: 'modelled into the host',
  unopened: 'without an opening',
  designed: 'designed',
  query: 'waiting for an answer',
  none: 'no seal',
  through: 'go through',
  endsInside: 'end inside a host',
  within: 'lie within a host',
  touches: 'touch a host',
  clear: 'clear of hosts',
  noGeometry: 'without geometry',
  inPenetration: 'in a penetration',
  recess: 'recesses',
  shaft: 'shafts',
  doorsWindows: 'doors and windows',
  noHost: 'without host',
  matched: 'matched',
  queried: 'asked about',
  noPenetration: 'pass nothing',
  note: 'to know',
  ask: 'to answer',
  stop: 'that stop a seal',
};

import type { Issue } from '../../model/issue.ts';
import type { OpeningOutcome, ServiceOutcome } from '../../model/penetration.ts';

const SERVICE_OUTCOMES: readonly ServiceOutcome[] = [
  'through',
  'endsInside',
  'within',
  'touches',
  'clear',
  'noGeometry',
  'excluded',
];
const OPENING_OUTCOMES: readonly OpeningOutcome[] = [
  'inPenetration',
  'recess',
  'shaft',
  'doorsWindows',
  'noHost',
  'excluded',
];
const CABLE_OUTCOMES = ['matched', 'queried', 'noPenetration'] as const;

type Totals<Outcome extends string> = Readonly<Record<Outcome | 'total', number>>;

/** How many services, openings and cables came in, and where each ended up. */
export interface LedgerTotals {
  readonly services: Totals<ServiceOutcome>;
  readonly openings: Totals<OpeningOutcome>;
  readonly cables: Totals<(typeof CABLE_OUTCOMES)[number]>;
}

/** Totals by outcome. `total` counts the entries, so that a sum that misses it shows. */
export function ledgerTotals(issue: Issue): LedgerTotals {
  return {
    services: totals(SERVICE_OUTCOMES, issue.ledger.services),
    openings: totals(OPENING_OUTCOMES, issue.ledger.openings),
    cables: {
      ...totals(CABLE_OUTCOMES, issue.matches.outcomes),
      total: issue.schedule.cables.length,
    },
  };
}

function totals<Outcome extends string>(
  outcomes: readonly Outcome[],
  entries: readonly { readonly outcome: Outcome }[],
): Totals<Outcome> {
  const counts = new Map<Outcome, number>(outcomes.map((outcome) => [outcome, 0]));
  for (const { outcome } of entries) counts.set(outcome, (counts.get(outcome) ?? 0) + 1);
  return Object.fromEntries([['total', entries.length], ...counts]) as Totals<Outcome>;
}

/** Outcomes in words, in the order of the account. */
export const OUTCOME_TEXT: Readonly<Record<string, string>> = {
  through: 'goes through a host',
  endsInside: 'ends inside a host',
  within: 'lies within a host',
  touches: 'touches a host',
  clear: 'clear of all hosts',
  noGeometry: 'without geometry',
  excluded: 'excluded by setting',
  inPenetration: 'in a penetration',
  recess: 'recess',
  shaft: 'shaft',
  doorsWindows: 'door or window',
  noHost: 'without host',
  matched: 'placed in a penetration',
  queried: 'asked about',
  noPenetration: 'passes no penetration',
};

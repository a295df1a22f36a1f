import { makeQuery, type Query } from '../basics/query.ts';
import type { Findings, LedgerEntry } from '../model/penetration.ts';
import type { Inputs } from './read-inputs.ts';

/** Where no penetration was found at all: what there was, so that nobody takes silence for a result. */
export function explainNothing(inputs: Inputs, { penetrations, ledger }: Findings): Query[] {
  if (penetrations.length > 0) return [];
  const hosts = inputs.building?.hosts.length ?? 0;
  const counts = [
    ...(inputs.building === null ? [] : [`${hosts} walls, floors and other hosts in the models`]),
    `${inputs.drawings.length} drawings`,
    `${ledger.services.length} services${outcomes(ledger.services)}`,
    `${ledger.openings.length} openings${outcomes(ledger.openings)}`,
  ];
  return [
    makeQuery('nothing-found', {
      about: 'project',
      text: `No penetration was found. There were ${counts.join('; ')}.`,
      why: 'An empty schedule says that nothing needs closing, which is seldom so.',
      settles:
        hosts === 0 && inputs.building !== null
          ? 'The model that holds the walls and floors, given together with these files.'
          : 'The files that hold services and openings, or classes and layers named under hosts: and services:.',
    }),
  ];
}

function outcomes(entries: readonly LedgerEntry<string>[]): string {
  const counts = new Map<string, number>();
  for (const { outcome } of entries) counts.set(outcome, (counts.get(outcome) ?? 0) + 1);
  const words = [...counts].map(([outcome, count]) => `${count} ${OUTCOMES[outcome] ?? outcome}`);
  return words.length === 0 ? '' : ` (${words.join(', ')})`;
}

const OUTCOMES: Readonly<Record<string, string>> = {
  endsInside: 'end inside a host',
  within: 'lie within a host',
  touches: 'touch a host',
  clear: 'clear of all hosts',
  noGeometry: 'without geometry',
  excluded: 'left out',
  recess: 'recesses',
  shaft: 'shafts',
  doorsWindows: 'doors and windows',
  noHost: 'without a host',
};

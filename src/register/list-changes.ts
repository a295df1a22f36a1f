import { distance3 } from '../geometry/vec.ts';
import type { Change, ChangeKind, IssuedFacts, RegisterRecord } from '../model/register.ts';

/** Smaller moves are noise of re-export, not a change of design. */
const MOVED_FROM_MM = 5;

/**
 * What changed since the issue before: a row for each kind of change of each penetration, by tag.
 * Empty for a first issue, where everything would be "added".
 */
export function listChanges(
  records: readonly RegisterRecord[],
  revision: string,
  because: ReadonlyMap<string, string>,
): Change[] {
  const isFirstIssue = records.every(
    (record) => record.before === null && record.firstIn === revision,
  );
  if (isFirstIssue) return [];
  return records.flatMap((record) => changesOf(record, revision, because.get(record.tag) ?? ''));
}

function changesOf(record: RegisterRecord, revision: string, because: string): Change[] {
  const now = record.issued.facts;
  if (record.state === 'retired') {
    if (record.retiredIn !== revision) return [];
    return [change(record.tag, 'removed', summary(now), '', 'gone from its model', now, null)];
  }
  if (record.state === 'not seen') {
    return [
      change(
        record.tag,
        'not seen',
        summary(now),
        '',
        'its files were not read in this run',
        null,
        null,
      ),
    ];
  }
  if (record.before === null) {
    if (record.firstIn !== revision) return [];
    return [change(record.tag, 'added', '', summary(now), because, null, now)];
  }
  const was = record.before.facts;
  const rows = COMPARED.filter(({ differs }) => differs(was, now));
  return rows.map(({ kind, text }, index) =>
    // Quantities on the first row only, so that a sum over the sheet is the sum over penetrations.
    change(
      record.tag,
      kind,
      text(was),
      text(now),
      because,
      index === 0 ? was : null,
      index === 0 ? now : null,
    ),
  );
}

interface Comparison {
  readonly kind: ChangeKind;
  readonly differs: (was: IssuedFacts, now: IssuedFacts) => boolean;
  readonly text: (facts: IssuedFacts) => string;
}

const byText = (kind: ChangeKind, text: (facts: IssuedFacts) => string): Comparison => ({
  kind,
  text,
  differs: (was, now) => text(was) !== text(now),
});

const COMPARED: readonly Comparison[] = [
  {
    kind: 'moved',
    differs: (was, now) => distance3(was.centreMm, now.centreMm) > MOVED_FROM_MM,
    text: ({ centreMm }) => centreMm.map(Math.round).join(', '),
  },
  byText(
    'resized',
    ({ kind, shape, thicknessMm }) =>
      `${kind}, ${shape ?? 'nothing provided'}, ${thicknessMm} thick`,
  ),
  byText('contents', ({ services, cables }) => [...services, ...cables].join('; ')),
  byText('duty', ({ duties }) => duties.join('; ')),
  byText('design', ({ design }) => design.join('; ')),
];

function summary(facts: IssuedFacts): string {
  return [facts.kind, facts.shape ?? 'nothing provided', ...facts.services].join('; ');
}

function change(
  tag: string,
  kind: ChangeKind,
  before: string,
  after: string,
  because: string,
  was: IssuedFacts | null,
  now: IssuedFacts | null,
): Change {
  const names = [...Object.keys(was?.fillers ?? {}), ...Object.keys(now?.fillers ?? {})];
  const differences = [...new Set(names)]
    .map((name) => [name, count(now, name) - count(was, name)] as const)
    .filter(([, difference]) => difference !== 0);
  const sealant = (now?.sealantMl ?? 0) - (was?.sealantMl ?? 0);
  return {
    tag,
    kind,
    before,
    after,
    because,
    sealantDifferenceMl: Math.round(sealant * 10) / 10 + 0,
    fillerDifference: Object.fromEntries(differences),
  };
}

function count(facts: IssuedFacts | null, name: string): number {
  return facts !== null && Object.hasOwn(facts.fillers, name) ? (facts.fillers[name] ?? 0) : 0;
}

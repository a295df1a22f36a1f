import { tenth } from '../basics/tenth.ts';
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
  const { tag } = record;
  const now = record.issued.facts;
  if (record.state === 'retired') {
    return record.retiredIn === revision ? compareFacts(tag, now, null, 'gone from its model') : [];
  }
  if (record.state === 'not seen') {
    const notSeen = { because: 'its files were not read in this run', was: null, now: null };
    return [change(tag, 'not seen', summary(now), '', notSeen)];
  }
  if (record.before !== null) return compareFacts(tag, record.before.facts, now, because);
  return record.firstIn === revision ? compareFacts(tag, null, now, because) : [];
}

/** What differs in one penetration between two issues; null where it is not in one of them. */
export function compareFacts(
  tag: string,
  was: IssuedFacts | null,
  now: IssuedFacts | null,
  because: string,
): Change[] {
  const whole = { because, was, now };
  if (was === null) return now === null ? [] : [change(tag, 'added', '', summary(now), whole)];
  if (now === null) return [change(tag, 'removed', summary(was), '', whole)];
  const without = { because, was: null, now: null };
  return COMPARED.filter(({ differs }) => differs(was, now)).map(({ kind, text }, index) =>
    // Quantities on the first row only, so that a sum over the sheet is the sum over penetrations.
    change(tag, kind, text(was), text(now), index === 0 ? whole : without),
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

/** Facts whose quantities are compared, and why the two are the same hole. */
interface Compared {
  readonly because: string;
  readonly was: IssuedFacts | null;
  readonly now: IssuedFacts | null;
}

function change(
  tag: string,
  kind: ChangeKind,
  before: string,
  after: string,
  { because, was, now }: Compared,
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
    sealantDifferenceMl: tenth(sealant),
    fillerDifference: Object.fromEntries(differences),
  };
}

function count(facts: IssuedFacts | null, name: string): number {
  return facts !== null && Object.hasOwn(facts.fillers, name) ? (facts.fillers[name] ?? 0) : 0;
}

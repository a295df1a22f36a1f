import { compareText } from '../basics/order.ts';
import type { Decision } from '../model/decision.ts';
import type { Penetration } from '../model/penetration.ts';
import type { Change, IssuedFacts, Register, RegisterRecord } from '../model/register.ts';
import type { Seal } from '../model/seal.ts';
import { givenNumbers, nextTag } from './assign-tags.ts';
import { listChanges } from './list-changes.ts';
import { hostIds, openingIds, type Recognition, recognise, serviceIds } from './recognise.ts';

/** Tags for what was found: the old ones where a hole is recognised, new ones in order of place. */
export interface Tagging {
  /** Penetration id to tag, in order of level and place. */
  readonly tags: ReadonlyMap<string, string>;
  readonly recognitions: ReadonlyMap<string, Recognition>;
  readonly numbers: Readonly<Record<string, number>>;
}

/** Gives every penetration its tag. `before` is null for the first run. */
export function tagPenetrations(
  penetrations: readonly Penetration[],
  before: Register | null,
  pattern: string,
): Tagging {
  const recognitions = recognise(penetrations, before?.records ?? []);
  const kept = new Map<string, string>();
  for (const [id, { record }] of recognitions) if (record !== null) kept.set(id, record.tag);
  const taken = new Set((before?.records ?? []).map((record) => record.tag));
  const { tags, numbers } = nextTag(penetrations, pattern, kept, taken, givenNumbers(before));
  return { tags, recognitions, numbers };
}

export interface RegisterUpdate {
  readonly register: Register;
  readonly changes: readonly Change[];
}

export interface RegisterInput {
  readonly tagging: Tagging;
  readonly penetrations: readonly Penetration[];
  /** Facts by penetration id. */
  readonly facts: ReadonlyMap<string, IssuedFacts>;
  /** Seals by penetration id. */
  readonly seals: ReadonlyMap<string, readonly Seal[]>;
  readonly basis: Register['basis'];
  readonly before: Register | null;
  /** In force after this run. */
  readonly decisions: readonly Decision[];
  /** Files whose edits have been taken in, this run's among them. */
  readonly taken: readonly string[];
  readonly revision: string;
  /** Keys of the files that were read; what lies in others is "not seen", never retired. */
  readonly filesRead: ReadonlySet<string>;
}

/** The register after this run, and what changed since the revision before. */
export function updateRegister(input: RegisterInput): RegisterUpdate {
  const { tagging, penetrations, before, revision } = input;
  const found = penetrations.map((penetration) => recordOf(penetration, input));
  const foundTags = new Set(found.map((record) => record.tag));
  const gone = (before?.records ?? [])
    .filter((record) => !foundTags.has(record.tag))
    .map((record) => goneRecord(record, input));
  const records = [...found, ...gone].sort((a, b) => compareText(a.tag, b.tag));
  const because = new Map(
    found.flatMap(({ tag, issued }) =>
      issued.because === undefined ? [] : [[tag, issued.because] as const],
    ),
  );
  return {
    register: {
      revision,
      basis: input.basis,
      numbers: { ...tagging.numbers },
      taken: [...input.taken],
      decisions: [...input.decisions],
      records,
    },
    changes: listChanges(records, revision, because),
  };
}

function recordOf(penetration: Penetration, input: RegisterInput): RegisterRecord {
  const { revision, tagging, facts } = input;
  const now = facts.get(penetration.id);
  const tag = tagging.tags.get(penetration.id);
  if (now === undefined || tag === undefined) {
    throw new Error(`No facts or tag were made for ${penetration.id}.`);
  }
  const recognition = tagging.recognitions.get(penetration.id);
  const record = recognition?.record ?? null;
  const because = becauseOf(record, revision) ?? recognition?.because;
  const identity = {
    tag,
    state: 'live' as const,
    id: penetration.id,
    hostIds: hostIds(penetration),
    openingIds: openingIds(penetration),
    serviceIds: serviceIds(penetration),
    issued: { revision, facts: now, ...(because === undefined ? {} : { because }) },
    seals: [...(input.seals.get(penetration.id) ?? [])],
  };
  if (record === null) {
    return {
      ...identity,
      firstIn: revision,
      retiredIn: null,
      before: null,
      asBuilt: {},
      history: [{ revision, text: 'first found' }],
    };
  }
  const cameBack = record.state === 'retired' ? [{ revision, text: 'found again' }] : [];
  return {
    ...identity,
    firstIn: record.firstIn,
    retiredIn: null,
    before: issuedBefore(record, revision),
    asBuilt: record.asBuilt,
    history: [...record.history, ...cameBack],
  };
}

/** A rerun of the same revision replaces it; the comparison stays with the revision before. */
function issuedBefore(record: RegisterRecord, revision: string): RegisterRecord['before'] {
  if (record.issued.revision === revision) return record.before;
  const { revision: last, facts } = record.issued;
  return { revision: last, facts };
}

/** How it was told in the run that this one replaces: by now it has the ids of that run. */
function becauseOf(record: RegisterRecord | null, revision: string): string | undefined {
  return record?.issued.revision === revision ? record.issued.because : undefined;
}

function goneRecord(record: RegisterRecord, input: RegisterInput): RegisterRecord {
  if (record.state === 'retired') return record;
  const sources = [...record.hostIds, ...record.openingIds, ...record.serviceIds].map(fileKeyOf);
  const wasRead = sources.every((key) => input.filesRead.has(key));
  if (!wasRead) return { ...record, state: 'not seen' };
  const { revision } = input;
  return {
    ...record,
    state: 'retired',
    retiredIn: revision,
    before: issuedBefore(record, revision),
    history: [...record.history, { revision, text: 'gone from its model' }],
  };
}

function fileKeyOf(id: string): string {
  return id.slice(0, Math.max(id.indexOf(':'), 0));
}

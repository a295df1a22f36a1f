import { groupBy } from '../basics/order.ts';
import { makeQuery, type Query } from '../basics/query.ts';
import { type AsBuilt, sealKeyOf } from '../model/as-built.ts';
import { type Decision, decisionKey } from '../model/decision.ts';
import type { RegisterRecord } from '../model/register.ts';
import type { SiteEdit, WorkbookEdit } from '../model/workbook-edit.ts';

/** An edit of any sheet as far as it may contradict another. */
interface Edit {
  readonly key: string;
  readonly what: string;
  readonly value: string;
  readonly was: string;
  readonly from: string;
  readonly book: string;
}

/** What stands in the register for the same question. */
interface Standing {
  readonly value: string;
  readonly from: string;
}

/**
 * Decisions out of workbooks that came back, less those that say nothing new. Where two cells say
 * different things, or somebody decided otherwise since the workbook was issued, nothing is taken
 * over one's head: a query gives both values.
 */
export function takeEdits(
  edits: readonly WorkbookEdit[],
  inForce: readonly Decision[],
): { readonly decisions: readonly Decision[]; readonly queries: readonly Query[] } {
  const standing = new Map(inForce.map((decision) => [decisionKey(decision), decision]));
  const { taken, queries } = take(
    edits.map((edit) => ({
      edit,
      key: decisionKey(edit.decision),
      what: `${edit.decision.field} of ${edit.decision.about} ${edit.decision.subject}${edit.decision.tag === null ? '' : ` at ${edit.decision.tag}`}`,
      value: edit.decision.value,
      was: edit.was,
      from: edit.decision.from,
      book: edit.book,
    })),
    (key) => standing.get(key),
  );
  return { decisions: taken.map(({ edit }) => edit.decision), queries };
}

/** Records with what was recorded on site since, and what can't be placed. */
export function takeSiteEdits(
  edits: readonly SiteEdit[],
  records: readonly RegisterRecord[],
): { readonly records: readonly RegisterRecord[]; readonly queries: readonly Query[] } {
  const byTag = new Map(records.map((record) => [record.tag, record]));
  const { taken, queries } = take(
    edits.map((edit) => ({
      ...edit,
      edit,
      key: JSON.stringify(['site', edit.tag, edit.seal, edit.field]),
      what: `${edit.field} of the site record of ${edit.tag}, ${edit.seal}`,
    })),
    (_, { tag, seal, field }) => {
      const known = byTag.get(tag)?.asBuilt[seal];
      const value = known?.fields[field];
      return known === undefined || value === undefined ? undefined : { value, from: known.from };
    },
  );
  const unknown = taken.filter(({ tag }) => !byTag.has(tag));
  const ofTag = groupBy(taken, ({ tag }) => tag);
  return {
    records: records.map((record) => ({
      ...record,
      asBuilt: withEdits(
        record.asBuilt,
        (ofTag.get(record.tag) ?? []).map(({ edit }) => edit),
      ),
    })),
    queries: [...queries, ...unknown.map(({ edit }) => noSuchTag(edit))],
  };
}

function withEdits(asBuilt: AsBuilt, edits: readonly SiteEdit[]): AsBuilt {
  if (edits.length === 0) return asBuilt;
  const after: AsBuilt = { ...asBuilt };
  for (const { seal, field, value, revision, from } of edits) {
    const { [field]: _, ...rest } = after[seal]?.fields ?? {};
    after[seal] = { fields: value === '' ? rest : { ...rest, [field]: value }, revision, from };
  }
  return after;
}

/** Each question's one answer that is new, and queries for those that contradict. */
function take<E extends Edit>(
  edits: readonly E[],
  standingOf: (key: string, edit: E) => Standing | undefined,
): { taken: E[]; queries: Query[] } {
  const taken: E[] = [];
  const queries: Query[] = [];
  for (const group of groupBy(edits, ({ key }) => key).values()) {
    const [first] = group;
    if (first === undefined) continue;
    const others = group.filter(({ value }) => value !== first.value);
    if (others.length > 0) {
      queries.push(contradiction(first, [first, ...others]));
      continue;
    }
    const standing = standingOf(first.key, first);
    if (standing?.value === first.value || (standing === undefined && first.value === '')) continue;
    const isOwn = standing?.from.startsWith(`${first.book},`) ?? false;
    if (standing !== undefined && standing.value !== first.was && !isOwn) {
      queries.push(contradiction(first, [standing, first]));
      continue;
    }
    taken.push(first);
  }
  return { taken, queries };
}

function contradiction({ key, what }: Edit, values: readonly Standing[]): Query {
  const said = values.map(({ value, from }) => `"${value}" (${from})`).join('; ');
  return makeQuery('edits-contradict', {
    about: key,
    text: `Different things were filled in for ${what}: ${said}. What held before holds on.`,
    why: 'Neither person is overruled without being asked.',
    settles: 'The one that holds, filled into the newest workbook.',
    evidence: values.map(({ value, from }) => ({
      fact: 'edit',
      text: `${value} (${from})`,
      place: { fileKey: 'register' },
    })),
  });
}

function noSuchTag({ tag, seal, field, value, from }: SiteEdit): Query {
  return makeQuery('edit-unusable', {
    about: JSON.stringify(['site', tag, seal, field]),
    text: `"${value}" was recorded for ${field} of ${tag}, ${seal} (${from}): there is no such tag.`,
    why: 'What was recorded on site must not get lost.',
    settles: 'The record given again under the right tag.',
  });
}

/** Defects that are open, and records of seals that are no longer there. `live`: by penetration id. */
export function asBuiltQueries(records: readonly RegisterRecord[]): Query[] {
  return records
    .filter(({ state }) => state === 'live')
    .flatMap((record) => {
      const keys = new Set(record.seals.map(sealKeyOf));
      return Object.entries(record.asBuilt).flatMap(([seal, { fields, from }]) => [
        ...(fields.defects === undefined ? [] : [defect(record, seal, fields.defects, from)]),
        ...(keys.has(seal) || Object.keys(fields).length === 0
          ? []
          : [withoutSeal(record, seal, fields, from)]),
      ]);
    });
}

function defect(record: RegisterRecord, seal: string, text: string, from: string): Query {
  return makeQuery('defect-open', {
    about: `${record.tag}/${seal}`,
    penetrationId: record.id,
    text: `A defect was recorded at ${record.tag}, ${seal}: ${text} (${from}).`,
    why: 'The seal is not as designed until it is put right.',
    settles: 'The defect put right and its cell in the Site record emptied.',
  });
}

function withoutSeal(
  record: RegisterRecord,
  seal: string,
  fields: Readonly<Record<string, string>>,
  from: string,
): Query {
  const said = Object.entries(fields).map(([field, value]) => `${field} = ${value}`);
  return makeQuery('as-built-without-seal', {
    about: `${record.tag}/${seal}`,
    penetrationId: record.id,
    text: `The site record of ${record.tag} speaks of ${seal}, which this issue does not have: ${said.join('; ')} (${from}).`,
    why: 'What was built there has no place in the new design.',
    settles: 'A look on site at what stands there, recorded for the seals of this issue.',
  });
}

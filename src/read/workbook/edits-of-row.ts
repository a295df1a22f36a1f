import type { SourcePlace } from '../../basics/evidence.ts';
import { SITE_FIELDS, type SiteField } from '../../model/as-built.ts';
import type { Decision } from '../../model/decision.ts';
import type { SiteEdit, WorkbookEdit } from '../../model/workbook-edit.ts';
import { type CableAnswer, readCableAnswer } from './read-cable-answer.ts';
import type { ChangedCell, ReadRow, RowFault } from './read-row.ts';
import type { FormName } from './sheet-forms.ts';

/** Where an edit comes from. */
export interface EditSource {
  readonly fileKey: string;
  readonly book: string;
  readonly revision: string;
  /** A tag as the register writes it; null where it has none like it. */
  readonly tagIn: (text: string) => string | null;
}

export interface RowEdits {
  readonly edits: readonly WorkbookEdit[];
  readonly site: readonly SiteEdit[];
  readonly faults: readonly RowFault[];
}

/** The changed cells of a row as decisions and records. */
export function editsOfRow(
  form: FormName,
  row: ReadRow,
  place: SourcePlace,
  source: EditSource,
): RowEdits {
  const [first, second = ''] = row.of ?? [];
  if (first === undefined) return { edits: [], site: [], faults: [] };
  const from = `${source.book}, ${place.sheet ?? ''} row ${place.row ?? ''}`;
  const make = (
    about: Decision['about'],
    { field, value, was }: ChangedCell,
    tag: string | null = null,
  ): WorkbookEdit => ({
    decision: {
      about,
      subject: first,
      field,
      tag,
      value,
      against: row.said[field === 'review' && value === 'accept' ? 'accept' : field] ?? null,
      revision: source.revision,
      from,
    },
    was,
    book: source.book,
  });
  switch (form) {
    case 'register':
      return onlyEdits(row.changes.map((change) => make('penetration', change)));
    case 'queries':
      return onlyEdits(row.changes.map((change) => make('query', change)));
    case 'cables':
      return cableEdits(row, second === '' ? null : second, source, make);
    case 'site record':
      return {
        edits: [],
        faults: [],
        site: row.changes.flatMap(({ field, value, was }): SiteEdit[] =>
          isSiteField(field)
            ? [
                {
                  ...{ tag: first, seal: second, field, value, was, from },
                  revision: source.revision,
                  book: source.book,
                },
              ]
            : [],
        ),
      };
  }
}

function onlyEdits(edits: readonly WorkbookEdit[]): RowEdits {
  return { edits, site: [], faults: [] };
}

function isSiteField(field: string): field is SiteField {
  return SITE_FIELDS.some((each) => each === field);
}

function cableEdits(
  row: ReadRow,
  ownTag: string | null,
  { tagIn }: EditSource,
  make: (about: 'cable', change: ChangedCell, tag?: string | null) => WorkbookEdit,
): RowEdits {
  const edits: WorkbookEdit[] = [];
  const faults: RowFault[] = [];
  for (const change of row.changes) {
    if (change.field !== 'answer') {
      edits.push(make('cable', change));
      continue;
    }
    const now = readCableAnswer(change.value, ownTag, tagIn);
    if (now === null) {
      const why =
        'write yes or no for the tag of the row, else "passes TAG", "not TAG" or "nothing"';
      faults.push({ field: 'answer', why, quoted: change.value });
      continue;
    }
    const before = readCableAnswer(change.was, ownTag, tagIn) ?? [];
    edits.push(...differences(before, now).map(({ tag, ...each }) => make('cable', each, tag)));
  }
  return { edits, site: [], faults };
}

/** What was said anew, differently, or is no longer said. */
function differences(
  before: readonly CableAnswer[],
  now: readonly CableAnswer[],
): (ChangedCell & { readonly tag: string | null })[] {
  const valueIn = (answers: readonly CableAnswer[], { field, tag }: CableAnswer) =>
    answers.find((each) => each.field === field && each.tag === tag)?.value ?? '';
  const gone = before.filter((each) => valueIn(now, each) === '');
  return [...now, ...gone]
    .map((each) => ({
      field: each.field,
      tag: each.tag,
      value: valueIn(now, each),
      was: valueIn(before, each),
    }))
    .filter(({ value, was }) => value !== was);
}

import type { Evidence } from '../../basics/evidence.ts';
import { type ReadLimits, USUAL_LIMITS } from '../../basics/limits.ts';
import { makeQuery, type Query, type WithQueries } from '../../basics/query.ts';
import type { SheetRow } from '../../formats/shared/sheet-table.ts';
import { type OpenBook, type OpenSheet, openBook } from '../../formats/xlsx/open-book.ts';
import type { InputFile } from '../../model/input.ts';
import type { SiteEdit, WorkbookEdit, WorkbookEdits } from '../../model/workbook-edit.ts';
import {
  isOfProject,
  MARK_NAME,
  markIn,
  WORKBOOK_VERSION,
  type WorkbookMark,
} from '../../model/workbook-form.ts';
import { type EditSource, editsOfRow } from './edits-of-row.ts';
import { readRow } from './read-row.ts';
import { type FormName, formOfHeadings, type PlacedForm } from './sheet-forms.ts';

/** What the project knows that a workbook is read for. */
export interface WorkbookFacts {
  /** See `projectNameOf`. */
  readonly project: string;
  /** Revision of this run: decisions come in with it. */
  readonly revision: string;
  /** Revision issued last; null before the first issue. */
  readonly lastRevision: string | null;
  /** Every tag of the register. */
  readonly tags: ReadonlySet<string>;
  /** Headings that our sheets have, in lower case, so that columns of others are told apart. */
  readonly headings: ReadonlyMap<FormName, ReadonlySet<string>>;
}

/** A heading stands within so many rows from the top, or the sheet is another's. */
const HEADING_WITHIN = 60;
/** Of a column that others added, so many cells are quoted. */
const MOST_QUOTED = 200;

/** What was found on the sheets, before it is known whose workbook it is. */
interface Found {
  readonly edits: WorkbookEdit[];
  readonly site: SiteEdit[];
  readonly queries: Query[];
  sheets: number;
}

/**
 * What people did in a workbook of ours that came back: cells they filled in, changed or emptied,
 * told by what each row says it held. Sheets are known by their headings, so they may be sorted,
 * filtered, renamed and saved by another program; columns may be hidden, moved and added. What
 * can't be used is a query that quotes it.
 * @throws SealbookError `input-unreadable`, `input-too-large`.
 */
export function readWorkbook(
  file: InputFile,
  facts: WorkbookFacts,
  limits: ReadLimits = USUAL_LIMITS,
): WithQueries<WorkbookEdits> {
  const book = openBook(file.bytes, limits);
  const mark = markOf(book);
  const source = {
    fileKey: file.key,
    book: bookName(file, mark),
    revision: facts.revision,
    tagIn: tagFinder(facts.tags),
  };
  const found: Found = { edits: [], site: [], queries: [], sheets: 0 };
  for (const sheet of book.sheets) readSheet(sheet, source, facts, found);
  if (found.sheets === 0) {
    return { result: { edits: [], site: [], revision: null }, queries: [noneOfOurs(file)] };
  }
  if (mark !== null && !isOfProject(mark, facts.project)) {
    const query = otherProject(file, mark, facts.project, found);
    return { result: { edits: [], site: [], revision: mark.revision }, queries: [query] };
  }
  return {
    result: { edits: found.edits, site: found.site, revision: mark?.revision ?? null },
    queries: [...aboutTheBook(file, mark, facts, found), ...found.queries],
  };
}

function bookName(file: InputFile, mark: WorkbookMark | null): string {
  const issue = mark === null ? 'unmarked' : `revision ${mark.revision}, issue ${mark.issue}`;
  return `workbook ${file.name} (${issue})`;
}

/** The mark, from the document's keywords or from the name that stands for it. */
function markOf(book: OpenBook): WorkbookMark | null {
  return markIn(book.properties.get('keywords') ?? '') ?? markIn(book.names.get(MARK_NAME) ?? '');
}

function tagFinder(tags: ReadonlySet<string>): (text: string) => string | null {
  const byKey = new Map([...tags].map((tag) => [tag.toLowerCase(), tag]));
  return (text) => (tags.has(text) ? text : (byKey.get(text.toLowerCase()) ?? null));
}

function readSheet(sheet: OpenSheet, source: EditSource, facts: WorkbookFacts, found: Found): void {
  let placed: PlacedForm | null = null;
  let seen = 0;
  const added = new Map<number, AddedColumn>();
  for (const row of sheet.rows()) {
    if (placed === null) {
      seen += 1;
      if (seen > HEADING_WITHIN) return;
      placed = formOfHeadings(row);
      if (placed === null) continue;
      found.sheets += 1;
      for (const each of columnsOfOthers(placed, facts)) added.set(each.column, each);
      continue;
    }
    for (const column of added.values()) column.take(row);
    takeRow(placed, sheet, row, source, found);
  }
  for (const column of added.values()) found.queries.push(...column.queries(sheet, source));
}

function takeRow(
  placed: PlacedForm,
  sheet: OpenSheet,
  row: SheetRow,
  source: EditSource,
  found: Found,
): void {
  const read = readRow(placed, row);
  if (read === null) return;
  const place = { fileKey: source.fileKey, sheet: sheet.name, row: row.row };
  const { edits, site, faults } = editsOfRow(placed.form.name, read, place, source);
  found.edits.push(...edits);
  found.site.push(...site);
  for (const { field, why, quoted } of [...read.faults, ...faults]) {
    const titles = placed.form.open.find((open) => open.field === field);
    found.queries.push(
      makeQuery('edit-unusable', {
        about: `${source.book}/${sheet.name}/${row.row}/${field}`,
        text: `"${quoted}" under ${titles?.title ?? field} (${sheet.name}, row ${row.row}) can't be used: ${why}.`,
        why: 'What a person typed must not get lost.',
        settles:
          'The same typed again where and how it can be read, or a word that it may be left.',
        evidence: [{ fact: 'edit', text: quoted, place }],
      }),
    );
  }
}

/** A column that is none of ours: what stands in it is quoted, since the next workbook has no place for it. */
class AddedColumn {
  readonly column: number;
  private readonly heading: string;
  private readonly cells: { readonly text: string; readonly row: number }[] = [];

  constructor(column: number, heading: string) {
    this.column = column;
    this.heading = heading;
  }

  take(row: SheetRow): void {
    const cell = row.cells[this.column];
    if (cell) this.cells.push({ text: cell.text, row: row.row });
  }

  queries(sheet: OpenSheet, { fileKey, book }: EditSource): Query[] {
    if (this.cells.length === 0) return [];
    return [
      makeQuery('column-added', {
        about: `${book}/${sheet.name}/${this.heading}`,
        text: `Column "${this.heading}" of ${sheet.name} was added by someone: its ${this.cells.length} ${this.cells.length === 1 ? 'cell is' : 'cells are'} not carried into the next workbook.`,
        why: 'What a person typed must not get lost.',
        settles: 'Its content moved under Remarks or Answer where it is to be kept.',
        evidence: this.cells.slice(0, MOST_QUOTED).map(
          ({ text, row }): Evidence => ({
            fact: 'edit',
            text,
            place: { fileKey, sheet: sheet.name, row },
          }),
        ),
      }),
    ];
  }
}

function columnsOfOthers({ form, headings }: PlacedForm, facts: WorkbookFacts): AddedColumn[] {
  const ours = facts.headings.get(form.name);
  if (ours === undefined) return [];
  return [...headings]
    .filter(([, heading]) => !ours.has(heading.toLowerCase().replace(/\s+/g, ' ').trim()))
    .map(([column, heading]) => new AddedColumn(column, heading));
}

function noneOfOurs(file: InputFile): Query {
  return makeQuery('workbook-foreign', {
    about: file.key,
    text: `${file.name} is named as a workbook that came back, but no sheet has the headings of one of ours.`,
    why: 'Nothing was read from it.',
    settles: 'The workbook that was issued, with what people filled in.',
    evidence: [{ fact: 'file', text: file.name, place: { fileKey: file.key } }],
  });
}

function otherProject(file: InputFile, mark: WorkbookMark, project: string, found: Found): Query {
  const place = { fileKey: file.key };
  return makeQuery('workbook-foreign', {
    about: file.key,
    text: `${file.name} is a workbook of another project: "${mark.project}", revision ${mark.revision}. This is "${project}". None of its ${found.edits.length + found.site.length} edits was used.`,
    why: 'The same tag means another hole there.',
    settles:
      'The workbook of this project, or the name it was issued under put back into the project file.',
    evidence: [
      ...found.edits.map(
        ({ decision: { subject, field, value, from } }): Evidence => ({
          fact: 'edit',
          text: `${subject} ${field} = "${value}" (${from})`,
          place,
        }),
      ),
      ...found.site.map(
        ({ tag, field, value, from }): Evidence => ({
          fact: 'edit',
          text: `${tag} ${field} = "${value}" (${from})`,
          place,
        }),
      ),
    ],
  });
}

function aboutTheBook(
  file: InputFile,
  mark: WorkbookMark | null,
  { lastRevision }: WorkbookFacts,
  found: Found,
): Query[] {
  const count = found.edits.length + found.site.length;
  const evidence = [{ fact: 'file', text: file.name, place: { fileKey: file.key } }];
  if (mark === null) {
    return [
      makeQuery('workbook-unmarked', {
        about: file.key,
        text: `${file.name} does not say which issue it is. It was read by its headings: ${count} edits.`,
        why: 'A workbook of another project or an older issue would look the same.',
        settles: 'Nothing, if it is of this project.',
        evidence,
      }),
    ];
  }
  if (mark.version > WORKBOOK_VERSION) {
    return [
      makeQuery('workbook-newer', {
        about: file.key,
        text: `${file.name} was issued by a newer version of this tool. It was read by its headings: ${count} edits.`,
        why: 'What the newer version added is not understood here.',
        settles: 'A run with the newer version.',
        evidence,
      }),
    ];
  }
  if (count === 0 || lastRevision === null || mark.revision === lastRevision) return [];
  return [
    makeQuery('workbook-older', {
      about: file.key,
      text: `${file.name} is of revision ${mark.revision}; revision ${lastRevision} was issued since. Its ${count} edits were taken in where nobody decided otherwise meanwhile.`,
      why: 'Who filled it in did not see the later issue.',
      settles: 'A look at the decisions it brought; those taken on other facts are asked about.',
      evidence,
    }),
  ];
}

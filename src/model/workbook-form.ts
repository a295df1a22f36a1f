import { z } from 'zod';
import type { SiteField } from './as-built.ts';

// What the writer of the workbook and its reader agree on. A sheet is known by its headings, a row
// by what its last column says of it: people rename, sort, hide and add at will.

/** A heading as people see it: title and unit. */
export interface Heading {
  readonly title: string;
  readonly unit?: string;
}

/** A column left for people to fill in, and what it decides or records. */
export interface OpenHeading<Field extends string> extends Heading {
  readonly field: Field;
}

export const REGISTER_OPEN = [
  { field: 'review', title: 'Decision' },
  { field: 'status', title: 'Status decided' },
  { field: 'opening', title: 'Opening decided', unit: 'mm' },
  { field: 'separationMm', title: 'Separation decided', unit: 'mm' },
  { field: 'edgeMm', title: 'To the wall decided', unit: 'mm' },
  { field: 'setBackMm', title: 'Set-back decided', unit: 'mm' },
  { field: 'faces', title: 'Faces decided', unit: 'no.' },
  { field: 'sealant', title: 'Sealant decided' },
  { field: 'remarks', title: 'Remarks' },
] as const satisfies readonly OpenHeading<string>[];

/** `answer` holds several decisions in words: see `read-cable-answer.ts`. */
export const CABLES_OPEN = [
  { field: 'answer', title: 'Does it pass here?' },
  { field: 'diameterMm', title: 'Diameter decided', unit: 'mm' },
] as const satisfies readonly OpenHeading<string>[];

export const QUERIES_OPEN = [
  { field: 'answer', title: 'Answer' },
  { field: 'state', title: 'State' },
] as const satisfies readonly OpenHeading<string>[];

export const SITE_OPEN = [
  { field: 'prepared', title: 'Prepared' },
  { field: 'substrate', title: 'Substrate' },
  { field: 'openingMm', title: 'Opening measured', unit: 'mm' },
  { field: 'cablesApart', title: 'Cables apart' },
  { field: 'asDrawn', title: 'Cables and tubes as drawn' },
  { field: 'fillersNear', title: 'Fillers set, near face' },
  { field: 'fillersFar', title: 'Fillers set, far face' },
  { field: 'depthNearMm', title: 'Depth, near face', unit: 'mm' },
  { field: 'depthFarMm', title: 'Depth, far face', unit: 'mm' },
  { field: 'batch', title: 'Batch' },
  { field: 'expiry', title: 'Expiry' },
  { field: 'sealed', title: 'Sealed' },
  { field: 'inspected', title: 'Inspected' },
  { field: 'by', title: 'By (role)' },
  { field: 'date', title: 'Date' },
  { field: 'photograph', title: 'Photograph no. or SHA-256' },
  { field: 'defects', title: 'Defects' },
] as const satisfies readonly OpenHeading<SiteField>[];

/** Headings of the columns that tell which thing a row is about. */
export const TAG_HEADING = 'Tag';
export const CABLE_HEADING = 'Cable';
export const QUERY_ID_HEADING = 'Query id';
export const SEAL_ID_HEADING = 'Seal id';

/** The column that says for the next run what a row was when it was issued. */
export const AS_ISSUED_HEADING = 'As issued';

/** What a row was when the workbook was issued. */
export const RowAsIssued = z.strictObject({
  /** What the row is about: a tag · a cable and a tag ("" for none) · a query id · a tag and a seal key. */
  of: z.array(z.string()).min(1).max(2),
  /** What the tool said of it, by the field that a decision may be on. */
  said: z.record(z.string(), z.string()).optional(),
  /** What stood in the open cells, by field; empty ones left out. */
  filled: z.record(z.string(), z.string()).optional(),
});

export type RowAsIssued = z.infer<typeof RowAsIssued>;

/** Which issue a workbook is. */
export interface WorkbookMark {
  readonly version: number;
  readonly project: string;
  readonly revision: string;
  /** Differs between two issues that differ, also of one revision. */
  readonly issue: string;
}

/** Version of the sheets' form; readers know older ones. */
export const WORKBOOK_VERSION = 2;

/** Name in the workbook that stands for its mark; the same text is among the document's keywords. */
export const MARK_NAME = 'sealbook_issue';

const FORMAT = 'sealbook-workbook';
/** A text inside a formula holds no more than 255 characters, all parts together. */
const LONGEST = { project: 130, revision: 40 };

/** The mark as one word list that programs keep: "sealbook-workbook 2 project:… revision:B issue:…". */
export function markText({ version, project, revision, issue }: WorkbookMark): string {
  const parts = [
    `project:${encoded(project, LONGEST.project)}`,
    `revision:${encoded(revision, LONGEST.revision)}`,
    `issue:${issue}`,
  ];
  return `${FORMAT} ${version} ${parts.join(' ')}`;
}

/** As many whole characters as fit in the length when written for a word list. */
function encoded(text: string, longest: number): string {
  let all = '';
  for (const character of text.replace(/\p{Surrogate}/gu, '\ufffd')) {
    const next = all + encodeURIComponent(character);
    if (next.length > longest) break;
    all = next;
  }
  return all;
}

/** The mark in a text; null where it holds none. */
export function markIn(text: string): WorkbookMark | null {
  const found = /sealbook-workbook (\d{1,4}) project:(\S*) revision:(\S*) issue:([0-9a-f]*)/.exec(
    text,
  );
  if (found === null) return null;
  const [, version, project, revision, issue] = found;
  try {
    return {
      version: Number(version),
      project: decodeURIComponent(project ?? ''),
      revision: decodeURIComponent(revision ?? ''),
      issue: issue ?? '',
    };
  } catch {
    // Cut or changed on its way: it tells nothing.
    return null;
  }
}

/** Whether a workbook's mark names this project. Long names are cut in marks. */
export function isOfProject(mark: WorkbookMark, project: string): boolean {
  return encoded(project, LONGEST.project) === encoded(mark.project, LONGEST.project);
}

/** Name that a project is known by in its workbooks. */
export function projectNameOf(project: { readonly name: string; readonly number: string }): string {
  return [project.number, project.name].filter((part) => part !== '').join(' ');
}

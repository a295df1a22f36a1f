import type { Query } from '../basics/query.ts';
import type { Decision } from '../model/decision.ts';
import type { InputFile } from '../model/input.ts';
import type { Register } from '../model/register.ts';
import type { Settings } from '../model/settings.ts';
import type { SiteEdit, WorkbookEdit } from '../model/workbook-edit.ts';
import { projectNameOf } from '../model/workbook-form.ts';
import { readWorkbook } from '../read/workbook/read-workbook.ts';
import { takeEdits } from '../register/take-edits.ts';
import { formHeadings } from '../write/shared/form-headings.ts';
import type { Platform } from './platform.ts';
import { readWatched } from './read-inputs.ts';

/** What came back in workbooks. */
export interface TakenWorkbooks {
  readonly decisions: readonly Decision[];
  readonly site: readonly SiteEdit[];
  /** SHA-256 of every workbook taken in, now or before, sorted. */
  readonly taken: readonly string[];
  readonly queries: readonly Query[];
}

/** Reads the workbooks that came back. One whose very bytes were taken in before says nothing new. */
export async function takeWorkbooks(
  files: readonly InputFile[],
  settings: Settings,
  before: Register | null,
  keepGoing: boolean,
  platform: Platform,
): Promise<TakenWorkbooks> {
  const taken = new Set(before?.taken ?? []);
  const edits: WorkbookEdit[] = [];
  const site: SiteEdit[] = [];
  const queries: Query[] = [];
  const facts = {
    project: projectNameOf(settings.project),
    revision: settings.issue.revision,
    lastRevision: before?.revision ?? null,
    tags: new Set((before?.records ?? []).map(({ tag }) => tag)),
    headings: formHeadings(),
  };
  for (const file of files) {
    if (settings.files[file.key]?.kind !== 'workbook') continue;
    const hash = await platform.sha256(file.bytes);
    if (taken.has(hash)) continue;
    const unread = await readWatched(file, { settings, keepGoing }, platform, (limits) => {
      const read = readWorkbook(file, facts, limits);
      edits.push(...read.result.edits);
      site.push(...read.result.site);
      queries.push(...read.queries);
      // What must be asked about is asked again until it is settled.
      if (read.queries.length === 0) taken.add(hash);
    });
    queries.push(...unread);
  }
  const { decisions, queries: contradictions } = takeEdits(edits, before?.decisions ?? []);
  return { decisions, site, taken: [...taken].sort(), queries: [...queries, ...contradictions] };
}

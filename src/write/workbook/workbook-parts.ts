import type { Issue } from '../../model/issue.ts';
import { areasOf } from '../shared/issue-of-area.ts';
import { plainFileName } from '../shared/plain-file-name.ts';

/** A part of an issue that gets a workbook of its own. */
export interface WorkbookPart {
  readonly name: string;
  readonly areas: ReadonlySet<string>;
  /** Plain name of its file; differs for each part. */
  readonly file: string;
}

/** The packages of work named in the settings, then the levels where each is to have its own. */
export function workbookParts(issue: Issue): WorkbookPart[] {
  const { packages, workbookPerLevel } = issue.settings.outputs;
  const areas = areasOf(issue);
  const parts = Object.entries(packages).map(([name, patterns]) => ({
    name,
    areas: new Set(areas.filter((area) => patterns.some((pattern) => matches(pattern, area)))),
  }));
  const levels = workbookPerLevel ? areas : [];
  const all = [...parts, ...levels.map((name) => ({ name, areas: new Set([name]) }))];
  const used = new Set<string>();
  return all.map((part) => ({ ...part, file: plainFileName('sealbook', part.name, 'xlsx', used) }));
}

/** As settings write patterns: without case, `*` for any text. */
function matches(pattern: string, area: string): boolean {
  const pieces = pattern.split('*').map((piece) => piece.replace(/[.+?^${}()|[\]\\]/g, '\\$&'));
  return new RegExp(`^${pieces.join('.*')}$`, 'iu').test(area);
}

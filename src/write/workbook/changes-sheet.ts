import type { Sheet } from '../../formats/xlsx/write-sheet.ts';
import { changesTable } from '../shared/changes-table.ts';
import { type BookContext, SHEETS } from './book-context.ts';
import type { StyleName } from './book-styles.ts';
import { tableSheet } from './table-sheet.ts';

/** What is different from the last issue; a first issue, or one without changes, says so. */
export function changesSheet(context: BookContext): Sheet<StyleName> {
  return tableSheet(context, changesTable(context.index), {
    name: SHEETS.changes,
    title: 'Changes',
    intro:
      'Since the last issue, with what each adds or saves. Installed seals may have to be opened.',
    sums: ['Sealant more or less'],
    whenEmpty: whenNone(context),
  });
}

function whenNone({ index }: BookContext): string {
  const { settings, records } = index.issue;
  const earlier = [...(records?.values() ?? [])].flatMap(({ before }) => before?.revision ?? []);
  const [revision] = earlier;
  return revision === undefined
    ? `First issue (revision ${settings.issue.revision}): there is no earlier one to compare with.`
    : `Nothing has changed since revision ${revision}.`;
}

import type { Sheet } from '../../formats/xlsx/write-sheet.ts';
import type { Column } from '../shared/table.ts';
import { type BookContext, SHEETS } from './book-context.ts';
import type { StyleName } from './book-styles.ts';
import { tableSheet } from './table-sheet.ts';

interface ChangeRow {
  readonly tag: string;
  readonly change: string;
  readonly before: string;
  readonly after: string;
}

const COLUMNS: readonly Column<ChangeRow>[] = [
  { title: 'Tag', group: 'Penetration', width: 16, kind: 'text', value: (row) => row.tag },
  { title: 'Change', group: 'Change', width: 40, kind: 'long', value: (row) => row.change },
  { title: 'Before', group: 'Change', width: 50, kind: 'long', value: (row) => row.before },
  { title: 'Now', group: 'Change', width: 50, kind: 'long', value: (row) => row.after },
];

/** What is different from the last issue. An issue holds no earlier one yet: it says that it is the first. */
export function changesSheet(context: BookContext): Sheet<StyleName> {
  const { revision } = context.index.issue.settings.issue;
  return tableSheet(
    context,
    { name: 'changes', columns: COLUMNS, rows: [] },
    {
      name: SHEETS.changes,
      title: 'Changes',
      intro: 'Since the last issue, with what it adds or saves.',
      whenEmpty: `First issue (revision ${revision}): no earlier register was given, so there is nothing to compare with.`,
    },
  );
}

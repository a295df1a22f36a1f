import { CABLES_COLUMNS } from './cables-table.ts';
import { QUERIES_COLUMNS } from './queries-table.ts';
import { REGISTER_COLUMNS } from './register-table.ts';
import { SITE_COLUMNS } from './site-table.ts';
import { headingOf } from './table.ts';

type Headings = readonly { readonly title: string; readonly unit?: string }[];

/** Headings of the sheets that people fill in, in lower case, for telling columns of others apart. */
export function formHeadings() {
  const set = (columns: Headings) =>
    new Set(columns.map((column) => headingOf(column).toLowerCase()));
  return new Map([
    ['register', set(REGISTER_COLUMNS)],
    ['cables', set(CABLES_COLUMNS)],
    ['queries', set(QUERIES_COLUMNS)],
    ['site record', set(SITE_COLUMNS)],
  ] as const);
}

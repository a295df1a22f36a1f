import { cellText, looksLikeFormula } from '../../formats/xlsx/write-text.ts';
import type { Issue } from '../../model/issue.ts';
import { AS_ISSUED_HEADING } from '../../model/workbook-form.ts';
import { basisTable, unreadTable } from '../shared/basis-table.ts';
import { cablesTable } from '../shared/cables-table.ts';
import { changesTable } from '../shared/changes-table.ts';
import { checksTable } from '../shared/checks-table.ts';
import { indexIssue } from '../shared/issue-index.ts';
import { quantitiesTable } from '../shared/quantities-table.ts';
import { queriesTable } from '../shared/queries-table.ts';
import { registerTable } from '../shared/register-table.ts';
import { requirementsTable } from '../shared/requirements-table.ts';
import { type Column, headingOf, type Table, type TableValue } from '../shared/table.ts';
import { takeOffColumns, takeOffRows } from '../shared/take-off-table.ts';

/** A table as CSV text: UTF-8 without a mark, comma, CRLF. @source RFC 4180. */
export interface TableFile {
  readonly name: string;
  readonly text: string;
}

/**
 * The workbook's tables as CSV. Columns that people fill in are left out. A text that a spreadsheet
 * would take for a formula gets an apostrophe before it, control characters become U+FFFD; numbers are plain, with a decimal point.
 */
export function writeTables(issue: Issue): readonly TableFile[] {
  const index = indexIssue(issue);
  return [
    csvFile(registerTable(index)),
    csvFile(cablesTable(index)),
    csvFile({ name: 'take-off', columns: takeOffColumns(index), rows: takeOffRows(index) }),
    csvFile(quantitiesTable(index)),
    csvFile(checksTable(index)),
    csvFile(queriesTable(index)),
    csvFile(changesTable(index)),
    ...(issue.requirements === undefined ? [] : [csvFile(requirementsTable(index))]),
    csvFile(basisTable(index)),
    csvFile(unreadTable(index)),
  ];
}

function csvFile<Row>(table: Table<Row>): TableFile {
  const columns = table.columns.filter(
    ({ open, title }) => open === undefined && title !== AS_ISSUED_HEADING,
  );
  const lines = [
    columns.map((column) => field(headingOf(column))),
    ...table.rows.map((row) => columns.map((column) => field(plainValue(column, row)))),
  ];
  return {
    name: `${table.name}.csv`,
    text: lines.map((line) => `${line.join(',')}\r\n`).join(''),
  };
}

/** Percent columns hold ratios, which the workbook's format multiplies; here it is done by hand. */
function plainValue<Row>(column: Column<Row>, row: Row): TableValue {
  const value = column.value(row);
  return column.kind === 'percent' && typeof value === 'number' ? value * 100 : value;
}

function field(value: TableValue): string {
  if (value === null) return '';
  if (typeof value === 'number') return Number.isFinite(value) ? String(tidy(value)) : '';
  const text = cellText(value);
  const safe = looksLikeFormula(text) ? `'${text}` : text;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}

/** Without the noise of binary fractions: 0.1 + 0.2 is written 0.3. */
function tidy(value: number): number {
  return Number(value.toPrecision(12));
}

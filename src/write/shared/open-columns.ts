import {
  AS_ISSUED_HEADING,
  type OpenHeading,
  type RowAsIssued,
} from '../../model/workbook-form.ts';
import { type Column, SOURCE_GROUP } from './table.ts';

interface OpenColumnParts<Row> {
  readonly group?: string;
  readonly width: number;
  readonly kind?: 'text' | 'long';
  readonly choices?: readonly string[];
  readonly prompt?: string;
  /** What people filled in before. */
  readonly value: (row: Row) => string | null;
}

/** A column to fill in that the reader of the workbook knows by its field. */
export interface OpenColumn<Row> extends Column<Row> {
  readonly field: string;
}

/** The columns to fill in of a sheet, in the order of its form. */
export function openColumns<Row, Field extends string>(
  form: readonly OpenHeading<Field>[],
  parts: Readonly<Record<Field, OpenColumnParts<Row>>>,
): OpenColumn<Row>[] {
  return form.map(({ field, title, unit }) => {
    const {
      group = 'Yours to fill in',
      width,
      kind = 'text',
      choices,
      prompt,
      value,
    } = parts[field];
    return {
      field,
      title,
      ...(unit === undefined ? {} : { unit }),
      group,
      width,
      kind,
      value,
      open: {
        ...(choices === undefined ? {} : { choices }),
        ...(prompt === undefined ? {} : { prompt }),
      },
    };
  });
}

/** What a row is about and what the tool says of it, for the reader. */
type RowMark = Pick<RowAsIssued, 'of' | 'said'>;

/** The column that ties a row to its issue: what it is about, what it said, what was filled in. */
export function asIssuedColumn<Row>(
  open: readonly OpenColumn<Row>[],
  markOf: (row: Row) => RowMark,
): Column<Row> {
  return {
    title: AS_ISSUED_HEADING,
    group: SOURCE_GROUP,
    width: 30,
    kind: 'id',
    value: (row) => {
      const filled = open.flatMap(({ field, value }) => {
        const text = value(row);
        return text === null || text === '' ? [] : [[field, String(text).trim()] as const];
      });
      const issued: RowAsIssued = {
        ...markOf(row),
        ...(filled.length === 0 ? {} : { filled: Object.fromEntries(filled) }),
      };
      return JSON.stringify(issued);
    },
  };
}

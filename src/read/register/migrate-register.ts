import { isRecord } from '../../basics/is-record.ts';

/** Columns of the workbook whose edits version 1 kept inside the records, and their fields now. */
const FIELD_OF_COLUMN: Readonly<Record<string, string>> = {
  Decision: 'review',
  'Status decided': 'status',
  Remarks: 'remarks',
};

/** The head of version 1 in the form of version 2, which lists the files whose edits were taken in. */
export function headFromVersion1(head: Readonly<Record<string, unknown>>): unknown {
  return { ...head, version: 2, taken: [] };
}

/** A record of version 1 as lines of version 2: its decisions stand on lines of their own there. */
export function linesFromVersion1(line: unknown): unknown[] {
  if (!isRecord(line)) return [line];
  const { decisions, ...record } = line;
  const moved = (Array.isArray(decisions) ? decisions : []).map((decision: unknown) => ({
    decision: isRecord(decision) ? decisionFrom(decision, record['tag']) : decision,
  }));
  return [...moved, record];
}

function decisionFrom(decision: Readonly<Record<string, unknown>>, tag: unknown): unknown {
  const { field, ...rest } = decision;
  const column = String(field);
  return {
    ...rest,
    about: 'penetration',
    subject: tag,
    field: FIELD_OF_COLUMN[column] ?? column,
    tag: null,
    from: 'an older register',
  };
}

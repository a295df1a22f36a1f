import type { InputFile } from '../../../src/model/input.ts';

/** A delimited schedule from its rows; cells are quoted where they must be. */
export function csvFile(rows: readonly (readonly string[])[], delimiter = ','): InputFile {
  const quoted = (cell: string) =>
    /["\n\r]/.test(cell) || cell.includes(delimiter) ? `"${cell.replaceAll('"', '""')}"` : cell;
  const text = rows.map((row) => row.map(quoted).join(delimiter)).join('\r\n');
  return { key: 'cables', name: 'cables.csv', bytes: new TextEncoder().encode(text) };
}

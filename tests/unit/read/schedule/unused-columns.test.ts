import { describe, expect, test } from 'vitest';
import { readSchedule } from '../../../../src/read/schedule/read-schedule.ts';
import { csvFile } from '../../../makers/schedule/csv-file.ts';

async function unusedOf(rows: readonly (readonly string[])[]) {
  const { result, queries } = await readSchedule(csvFile(rows, ';'), {}, []);
  const found = queries.filter(({ code }) => code === 'schedule-column-unused');
  return { cables: result.cables, found, query: found[0] };
}

const HEADINGS = ['Cable ref', 'OD mm', 'From', 'To'];
const CELLS = ['A-1', '21.5', 'Panel P', 'Pump Q'];

describe('a column that is not understood', () => {
  test('is asked about with sheet, heading, letter and samples', async () => {
    const { found, query, cables } = await unusedOf([
      [...HEADINGS, 'Wibble'],
      ...['C-01', 'C-02', 'C-02', 'C-03', 'C-04'].map((value) => [...CELLS, value]),
    ]);
    expect(found).toHaveLength(1);
    expect(query?.severity).toBe('ask');
    expect(query?.text).toContain('sheet CSV');
    expect(query?.text).toContain('“Wibble” (column E: C-01 | C-02 | C-03)');
    expect(query?.settles).toContain('columns');
    expect(query?.settles).toContain('"Wibble"');
    expect(cables[0]?.noRouteColumn).toEqual({ unused: ['“Wibble”'] });
  });

  test.each([
    ['Cable corridor route', 'along the north'],
    ['Diámetro aprox.', 'small'],
    ['Wibble', '4c 16 SWA'],
    ['', 'T-01'],
  ])('“%s” over “%s” is a question', async (heading, value) => {
    const { query } = await unusedOf([
      [...HEADINGS, heading],
      [...CELLS, value],
    ]);
    expect(query?.severity).toBe('ask');
  });

  test.each([
    ['Colour', 'black'],
    ['Wibble', '20 A'],
    ['Owner', 'as agreed'],
  ])('“%s” over “%s” is a note', async (heading, value) => {
    const { query } = await unusedOf([
      [...HEADINGS, 'Rev', heading],
      [...CELLS, 'B', value],
    ]);
    expect(query?.severity).toBe('note');
    expect(query?.text).toContain('Known and not needed: “Rev”');
  });

  test('one question for all of a sheet, those that matter first', async () => {
    const { found, query } = await unusedOf([
      [...HEADINGS, 'Colour', 'Wibble'],
      [...CELLS, 'black', 'C-01'],
    ]);
    expect(found).toHaveLength(1);
    expect(query?.text).toMatch(/“Wibble”.*“Colour”/u);
  });

  test.each([
    ['no values', ['', '-']],
    ['remarks and revisions', ['Remarks', 'by others']],
  ])('nothing is said of a column with %s', async (_, [heading, value]) => {
    const { found } = await unusedOf([
      [...HEADINGS, heading ?? '', 'Rev'],
      [...CELLS, value ?? '', 'B'],
      ['Total', '', '', '', '', ''],
    ]);
    expect(found).toEqual([]);
  });

  test('with a route column there is nothing to say of a missing one', async () => {
    const { cables } = await unusedOf([
      [...HEADINGS, 'Route', 'Wibble'],
      [...CELLS, '', 'C-01'],
    ]);
    expect(cables[0]?.noRouteColumn).toBeUndefined();
  });
});

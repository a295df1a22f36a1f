import { describe, expect, test } from 'vitest';
import { builtInCableTable } from '../../../../src/read/schedule/cable-table.ts';
import { readSchedule } from '../../../../src/read/schedule/read-schedule.ts';
import { csvFile } from '../../../makers/schedule/csv-file.ts';

const TABLES = [builtInCableTable()];

describe('a schedule as people keep them', () => {
  const rows = [
    ['Project', 'Pump house', '', '', '', '', '', ''],
    ['Cable', '', '', 'Ø', 'From', '', 'To', ''],
    ['No.', 'Type', 'Cores', 'mm', 'Equipment', 'Room', 'Equipment', 'Route'],
    ['POWER', '', '', '', '', '', '', ''],
    ['P-101', 'XLPE/SWA/PVC', '4c x 16', '23,4', 'MCC-1', 'Switch room', 'Pump 1', 'T-01, T-02'],
    ['Note: all cables LSZH unless noted', '', '', '', '', '', '', ''],
    ['', '4c 16', '', '', 'MCC', '', 'Pump', ''],
    ['P-103', '', '4c 16', 'fred', 'MCC-1', '', 'Pump 3', 'T-09'],
    ['Total', '', '', '', '', '', '', '3'],
  ];

  test('each row ends as a cable, a heading or a query', async () => {
    const { result } = await readSchedule(csvFile(rows, ';'), {}, TABLES);
    expect(result.rows.map(({ place, outcome }) => [place.row, outcome])).toEqual([
      [1, 'heading'],
      [2, 'heading'],
      [3, 'heading'],
      [4, 'heading'],
      [5, 'cable'],
      [6, 'heading'],
      [7, 'query'],
      [8, 'cable'],
      [9, 'heading'],
    ]);
  });

  test('a header of two rows names its columns', async () => {
    const { result } = await readSchedule(csvFile(rows, ';'), {}, TABLES);
    expect(result.cables[0]).toMatchObject({
      ref: 'P-101',
      cores: 4,
      sizeMm2: 16,
      diameterMm: 23.4,
      from: 'MCC-1',
      fromRoom: 'Switch room',
      to: 'Pump 1',
      route: ['T-01', 'T-02'],
    });
  });

  test('a cell that is no diameter is asked about, never guessed', async () => {
    const { result, queries } = await readSchedule(csvFile(rows, ';'), {}, TABLES);
    expect(result.cables[1]?.diameterMm).toBeNull();
    expect(queries.map(({ code }) => code)).toContain('cable-diameter-unknown');
  });
});

test('without a reference the error names the headings seen and what to set', async () => {
  const file = csvFile([
    ['Colour', 'Taste'],
    ['red', 'sweet'],
  ]);
  await expect(readSchedule(file, {}, TABLES)).rejects.toMatchObject({
    code: 'input-unreadable',
    message: expect.stringContaining('Colour | Taste'),
    todo: expect.stringContaining('columns.ref'),
  });
});

import { expect, test } from 'vitest';
import { lookSchedule } from '../../../../src/read/schedule/look-schedule.ts';
import { csvFile } from '../../../makers/schedule/csv-file.ts';
import { xlsxFile } from '../../../makers/schedule/xlsx-file.ts';

test('says where the header is, what each column was taken for, and what was not used', async () => {
  const file = csvFile(
    [
      ['Pump house'],
      ['Cable no.', 'Wibble', 'OD [mm]', 'Gland'],
      ['P-1', '4c 16 SWA', '23,4', 'M32'],
    ],
    ';',
  );
  const report = await lookSchedule(file);
  expect(report.facts).toContainEqual({ name: 'delimiter', value: ';' });
  expect(report.tables[0]?.rows).toEqual([['CSV', 3, 2, 'schedule']]);
  expect(report.tables[1]?.rows).toContainEqual(['ref', 'Cable no.', '–', 'name', 'P-1']);
  expect(report.tables[1]?.rows).toContainEqual(['diameter', 'OD [mm]', 'mm', 'name', '23,4']);
  expect(report.tables[2]?.rows).toContainEqual(['Wibble', '4c 16 SWA']);
  expect(report.advice.join(' ')).toContain('no route');
  expect(report.advice.join(' ')).toContain('headings not used (“Wibble”), set columns.route');
});

test('a sheet that is none is named with what was seen and what to set', async () => {
  const file = await xlsxFile((workbook) => workbook.addWorksheet('Legend').addRow(['Colour']));
  const report = await lookSchedule(file);
  expect(report.tables[0]?.rows).toEqual([['Legend', 1, '–', 'not a cable schedule']]);
  expect(report.advice[0]).toContain('columns.ref');
});

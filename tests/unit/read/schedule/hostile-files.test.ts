import fc from 'fast-check';
import { unzipSync, zipSync } from 'fflate';
import { expect, test } from 'vitest';
import { SealbookError } from '../../../../src/basics/errors.ts';
import { builtInCableTable } from '../../../../src/read/schedule/cable-table.ts';
import { lookSchedule } from '../../../../src/read/schedule/look-schedule.ts';
import { readCableTable } from '../../../../src/read/schedule/read-cable-table.ts';
import { readSchedule } from '../../../../src/read/schedule/read-schedule.ts';
import { csvFile } from '../../../makers/schedule/csv-file.ts';
import { truthSet } from '../../../makers/schedule/truth-set.ts';
import { xlsxFile } from '../../../makers/schedule/xlsx-file.ts';

const TABLES = [builtInCableTable()];

/** Reads a file in every way there is; any error must be ours and say what to do. */
async function mustNotCrash(bytes: Uint8Array): Promise<void> {
  const file = { key: 'cables', name: 'cables', bytes };
  for (const read of [
    () => readSchedule(file, {}, TABLES),
    () => readCableTable(file),
    () => lookSchedule(file),
  ]) {
    try {
      await read();
    } catch (error) {
      expect(error).toBeInstanceOf(SealbookError);
      if (error instanceof SealbookError) expect(error.todo).not.toBeNull();
    }
  }
}

test('any bytes are read or refused', async () => {
  await fc.assert(fc.asyncProperty(fc.uint8Array({ maxLength: 400 }), mustNotCrash), {
    numRuns: 150,
    seed: 5,
  });
});

test('any text is read or refused', async () => {
  const text = fc.string({
    unit: fc.constantFrom(...'Cable No,;"\n\t04xc()+/-Ø²"'),
    maxLength: 300,
  });
  await fc.assert(
    fc.asyncProperty(text, (rows) =>
      mustNotCrash(new TextEncoder().encode(`Cable No,Type,OD,From,To\n${rows}`)),
    ),
    { numRuns: 150, seed: 5 },
  );
});

test('a workbook with spoilt parts is read or refused', async () => {
  const file = await xlsxFile((workbook) => {
    workbook.addWorksheet('A').addRows(truthSet(5).rows.map((row) => [...row]));
  });
  const parts = unzipSync(file.bytes);
  const names = Object.keys(parts).sort();
  await fc.assert(
    fc.asyncProperty(
      fc.constantFrom(...names),
      fc.array(fc.tuple(fc.nat(), fc.nat(255)), { minLength: 1, maxLength: 5 }),
      async (name, changes) => {
        const part = Uint8Array.from(parts[name] ?? []);
        for (const [at, byte] of changes) part[at % part.length] = byte;
        await mustNotCrash(zipSync({ ...parts, [name]: part }));
      },
    ),
    { numRuns: 60, seed: 5 },
  );
});

test('cells that look like formulas, paths or markup stay plain text', async () => {
  const { result } = await readSchedule(
    csvFile([
      ['Cable No', 'Type', 'Remarks', 'From'],
      ['A-1', '4c 16 SWA', '=HYPERLINK("x")', '<img src=x>'],
      ['__proto__', '4c 16 SWA', '', 'constructor'],
    ]),
    {},
    TABLES,
  );
  expect(result.cables.map(({ remarks, from }) => [remarks, from])[0]).toEqual([
    '=HYPERLINK("x")',
    '<img src=x>',
  ]);
  expect(result.rows).toHaveLength(3);
});

test('a cell of a hundred thousand characters costs no more than its length', async () => {
  for (const piece of ['4x', 'A-1 to ', '1/', '- ', '((', '0,', '± ', 'é']) {
    const long = piece.repeat(50_000);
    const { result } = await readSchedule(
      csvFile([
        ['Cable No', 'Type', 'OD', 'Route', 'Status', 'Service'],
        ['A-1', long, long, long, long, long],
        [long, '4c 16 SWA', '20', '', '', ''],
      ]),
      {},
      TABLES,
    );
    expect(result.rows).toHaveLength(3);
  }
});

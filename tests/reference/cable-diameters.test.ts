import { readFileSync } from 'node:fs';
import { parse } from 'csv-parse/sync';
import { describe, expect, test } from 'vitest';
import { builtInCableTable } from '../../src/read/schedule/cable-table.ts';
import { readDesignation } from '../../src/read/schedule/designation.ts';
import { indexTables, lookUpDiameter } from '../../src/read/schedule/look-up-diameter.ts';
import { sharedPath, testWith } from '../set-up/outside.ts';

const INDEX = indexTables([builtInCableTable()]);
const lookUp = (text: string) => lookUpDiameter(readDesignation(text), INDEX);

testWith(['shared'], 'the shipped table is the published one, row by row', () => {
  const text = readFileSync(sharedPath('reference', 'cable-od.csv'), 'utf8');
  // The first line is a remark.
  const published: Record<string, string>[] = parse(text.slice(text.indexOf('\n') + 1), {
    columns: true,
  });
  const { rows } = builtInCableTable();
  const figures = rows.map(({ cores, sizeMm2, diameterMm, massKgPerM, kind }) =>
    [cores, sizeMm2 ?? '', diameterMm, massKgPerM ?? '', kind].join(' '),
  );
  expect(figures.sort()).toEqual(
    published
      .map((row) =>
        [
          row['cores'],
          row['csa_mm2'] === '' ? '' : Number(row['csa_mm2']),
          Number(row['od_mm']),
          row['mass_kg_per_m'] === '' ? '' : Number(row['mass_kg_per_m']),
          row['kind'],
        ].join(' '),
      )
      .sort(),
  );
});

test('each row has a source', () => {
  for (const { source } of builtInCableTable().rows) expect(source.length).toBeGreaterThan(5);
});

describe('diameters by construction, cores and size together', () => {
  // BS 5467 and IEC 60502-1: published catalogue tables, `cable-od.csv` of the shared reference.
  test.each([
    ['4c 16 Cu/XLPE/PVC/SWA/PVC BS 5467', 23.4],
    ['3x95 XLPE/SWA/PVC BS 5467', 37],
    ['4c 16 SWA IEC 60502-1', 24],
    ['Cu/XLPE/PVC 4x16', 19],
    ['1c 16 6491X', 7.8],
    ['1c 16 6491B', 8],
    ['Cat6A U/UTP 4 pair', 8],
    ['1c 630 33 kV armoured', 63.3],
  ])('%s: %d mm', (text, diameterMm) => {
    expect(lookUp(text)).toMatchObject({ found: 'row', row: { diameterMm } });
  });

  // NEC chapter 9 table 5, THHN 12 AWG: 0.130 in = 3.30 mm; 500 kcmil: 0.949 in = 24.1 mm.
  test.each([
    ['THHN 12 AWG', 3.3],
    ['THHN 500 kcmil', 24.1],
    ['THHN 4/0 AWG', 16.3],
  ])('%s: %d mm', (text, diameterMm) => {
    const answer = lookUp(text);
    expect(answer.found === 'row' ? answer.row.diameterMm : 0).toBeCloseTo(diameterMm, 1);
  });

  test('two tables of the same construction give a spread, not a choice in silence', () => {
    expect(lookUp('4c 70 SWA')).toMatchObject({
      found: 'row',
      row: { diameterMm: 37.7 },
      smallestMm: 37.7,
      largestMm: 41,
      reason: expect.stringContaining('IEC 60502-1'),
    });
  });
});

describe('less than that is a range to ask about', () => {
  test.each([
    '4x16',
    '4c 16',
    'NYY-J 5x10',
    '4c 16 PVC/SWA/PVC',
    '4c 16 Al/XLPE/SWA/PVC',
    '3x70+35 SWA',
    '4c 16 11kV SWA',
  ])('%s', (text) => {
    expect(lookUp(text).found).not.toBe('row');
  });

  test('the range of an unnamed 4 × 16 holds the armoured and the plain one', () => {
    const answer = lookUp('4x16');
    expect(answer.found).toBe('range');
    if (answer.found !== 'range') return;
    expect(answer.smallestMm).toBeLessThan(19);
    expect(answer.largestMm).toBeGreaterThan(24);
  });
});

import { describe, expect, test } from 'vitest';
import type { Cable } from '../../../../src/model/cable.ts';
import { builtInCableTable } from '../../../../src/read/schedule/cable-table.ts';
import type { ScheduleFileSettings } from '../../../../src/read/schedule/open-sheets.ts';
import { readCableTable } from '../../../../src/read/schedule/read-cable-table.ts';
import { readSchedule } from '../../../../src/read/schedule/read-schedule.ts';
import { csvFile } from '../../../makers/schedule/csv-file.ts';
import { xlsxFile } from '../../../makers/schedule/xlsx-file.ts';

const TABLES = [builtInCableTable()];

async function readRows(
  rows: readonly (readonly string[])[],
  settings: ScheduleFileSettings = {},
  delimiter = ',',
) {
  const { result, queries } = await readSchedule(csvFile(rows, delimiter), settings, TABLES);
  return {
    cables: result.cables,
    queries,
    codes: queries.map(({ code }) => code),
    outcomes: result.rows.map(({ place, outcome }) => [place.row, outcome]),
  };
}

async function readOne(headings: readonly string[], cells: readonly string[]): Promise<Cable> {
  const { cables, queries } = await readRows([headings, cells], {}, ';');
  const [cable] = cables;
  if (cable === undefined) throw new Error(queries.map(({ text }) => text).join('\n'));
  return cable;
}

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
    const { outcomes } = await readRows(rows, {}, ';');
    expect(outcomes).toEqual([
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
    const { cables } = await readRows(rows, {}, ';');
    expect(cables[0]).toMatchObject({
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
    const { cables, codes } = await readRows(rows, {}, ';');
    expect(cables[1]?.diameterMm).toBeNull();
    expect(codes).toContain('cable-diameter-unknown');
  });

  test('headings again after a page break, and a second table with other columns', async () => {
    const { cables, outcomes } = await readRows([
      ['Cable No', 'Type', 'From', 'To'],
      ['A-1', '4c 16 SWA', 'X', 'Y'],
      ['Cable No', 'Type', 'From', 'To'],
      ['A-2', '4c 16 SWA', 'X', 'Z'],
      ['', '', '', ''],
      ['CONTROL CABLES', '', '', ''],
      ['Tag', 'To', 'From', 'Cable type'],
      ['A-3', 'Q', 'X', '7c 1.5 SWA'],
    ]);
    expect(cables.map(({ ref, to, cores }) => [ref, to, cores])).toEqual([
      ['A-1', 'Y', 4],
      ['A-2', 'Z', 4],
      ['A-3', 'Q', 7],
    ]);
    expect(outcomes[2]).toEqual([3, 'heading']);
    expect(outcomes.at(-2)).toEqual([7, 'heading']);
  });

  test('rows left empty between others are accounted for', async () => {
    const { outcomes } = await readRows([
      ['Ref', 'To'],
      [''],
      ['A-1', 'X'],
      [''],
      [''],
      ['A-2', 'Y'],
    ]);
    expect(outcomes.map(([, outcome]) => outcome)).toEqual([
      'heading',
      'empty',
      'cable',
      'empty',
      'empty',
      'cable',
    ]);
  });

  test('ditto marks take what stands above', async () => {
    const { cables } = await readRows([
      ['Ref', 'Type', 'From', 'To'],
      ['A-1', '4c 16 SWA', 'MCC', 'Pump'],
      ['A-2', 'do.', '"', 'Fan'],
      ['A-3', '"', 'ditto', '-'],
    ]);
    expect(cables[2]).toMatchObject({ type: '4c 16 SWA', from: 'MCC', to: null });
  });

  test('a row that slipped sideways is asked about, not read', async () => {
    const { cables, outcomes, queries } = await readRows([
      ['Ref', 'Cores', 'Size', 'OD (mm)', 'Type', 'From'],
      ['A-1', '4', '16', '23.4', 'SWA', 'MCC'],
      ['', 'A-2', '4', '16', '23.4', 'SWA'],
      ['A-3', '', '4', '16', '23.4', 'SWA'],
      ['4', '16', '23.4', 'SWA', 'MCC', ''],
    ]);
    expect(outcomes).toEqual([
      [1, 'heading'],
      [2, 'cable'],
      [3, 'query'],
      [4, 'cable'],
      [5, 'query'],
    ]);
    // 16 mm of a four-core of 4 mm² can't be told from a slip by its kind alone.
    expect(cables.map(({ ref }) => ref)).toEqual(['A-1', 'A-3']);
    expect(queries.length).toBeGreaterThan(1);
  });

  test('one reference for several cables is asked about', async () => {
    const { outcomes } = await readRows([
      ['Ref', 'Type'],
      ['A-1 to A-4', '4c 16 SWA'],
      ['A-5; A-6', '4c 16 SWA'],
      ['A-7/1', '4c 16 SWA'],
    ]);
    expect(outcomes.map(([, outcome]) => outcome)).toEqual(['heading', 'query', 'query', 'cable']);
  });
});

describe('headings in other languages', () => {
  test.each<[string, readonly string[], readonly string[]]>([
    [
      'German',
      [
        'Kabel-Nr.',
        'Kabeltyp',
        'Aderzahl',
        'Querschnitt [mm²]',
        'Außendurchmesser [mm]',
        'Von',
        'Nach',
        'Trasse',
      ],
      ['K-12', 'NYY-J', '5', '10', '21,5', 'NSHV', 'Pumpe', 'TR-1'],
    ],
    [
      'French',
      [
        'Repère',
        'Type de câble',
        'Nb conducteurs',
        'Section (mm²)',
        'Ø ext. (mm)',
        'Tenant',
        'Aboutissant',
        'Cheminement',
      ],
      ['K-12', 'U-1000 R2V', '5', '10', '21,5', 'TGBT', 'Pompe', 'TR-1'],
    ],
    [
      'Spanish',
      [
        'Nº de cable',
        'Tipo de cable',
        'Conductores',
        'Sección mm²',
        'Diámetro exterior mm',
        'Origen',
        'Destino',
        'Bandeja',
      ],
      ['K-12', 'RV-K', '5', '10', '21,5', 'CGBT', 'Bomba', 'TR-1'],
    ],
    [
      'Swedish',
      [
        'Kabelbeteckning',
        'Kabeltyp',
        'Antal ledare',
        'Area (mm²)',
        'Ytterdiameter (mm)',
        'Från',
        'Till',
        'Kabelväg',
      ],
      ['K-12', 'N1XV', '5', '10', '21,5', 'Ställverk', 'Pump', 'TR-1'],
    ],
    [
      'Dutch',
      [
        'Kabelnummer',
        'Kabeltype',
        'Aantal aders',
        'Doorsnede (mm²)',
        'Buitendiameter (mm)',
        'Van',
        'Naar',
        'Kabelroute',
      ],
      ['K-12', 'YMvK', '5', '10', '21,5', 'Verdeler', 'Pomp', 'TR-1'],
    ],
    [
      'Italian',
      [
        'Sigla cavo',
        'Tipo cavo',
        'N. conduttori',
        'Sezione (mm²)',
        'Diametro esterno (mm)',
        'Da',
        'A',
        'Percorso',
      ],
      ['K-12', 'FG16R16', '5', '10', '21,5', 'QGBT', 'Pompa', 'TR-1'],
    ],
  ])('%s', async (_, headings, cells) => {
    expect(await readOne(headings, cells)).toMatchObject({
      ref: 'K-12',
      cores: 5,
      sizeMm2: 10,
      diameterMm: 21.5,
      from: cells[5],
      to: cells[6],
      route: ['TR-1'],
    });
  });
});

describe('numbers and units', () => {
  test.each([
    ['OD (mm)', '23.4', 23.4],
    ['OD [cm]', '2.34', 23.4],
    ['Diameter (in)', '0.92', 23.368],
    ['Ø mm', '23,4', 23.4],
    ['OD', '23.4 mm', 23.4],
    ['OD', 'Ø23.4', 23.4],
    ['OD (mm)', '0.92 in', 23.368],
    ['OD (mm)', '≈ 23.4', 23.4],
    ['OD (m)', '0.0234', 23.4],
  ])('%s %s is %d mm', async (heading, cell, diameterMm) => {
    expect((await readOne(['Ref', 'To', heading], ['A-1', 'X', cell])).diameterMm).toBe(diameterMm);
  });

  test('bounds are kept', async () => {
    expect(await readOne(['Ref', 'To', 'OD'], ['A-1', 'X', '24±0.5'])).toMatchObject({
      diameterMm: 24,
      smallestDiameterMm: 23.5,
      largestDiameterMm: 24.5,
    });
    expect(await readOne(['Ref', 'To', 'OD'], ['A-1', 'X', '23–25'])).toMatchObject({
      smallestDiameterMm: 23,
      largestDiameterMm: 25,
    });
    expect(
      await readOne(['Ref', 'To', 'Min OD', 'Max OD'], ['A-1', 'X', '23', '25']),
    ).toMatchObject({ diameterMm: 24, smallestDiameterMm: 23, largestDiameterMm: 25 });
  });

  test.each(['1,250', '0', '-3', '900', 'x'])('%s is no diameter', async (cell) => {
    const { cables } = await readRows(
      [
        ['Ref', 'To', 'OD (mm)'],
        ['A-1', 'X', cell],
      ],
      {},
      ';',
    );
    expect(cables.map(({ diameterMm }) => diameterMm)).toEqual([null]);
  });

  test('mass in kg/km', async () => {
    const cable = await readOne(['Ref', 'To', 'Weight (kg/km)'], ['A-1', 'X', '1360']);
    expect(cable.massKgPerM).toBeCloseTo(1.36, 9);
  });
});

describe('what a row says of its cable', () => {
  test.each([
    ['existing', 'existing'],
    ['Exst.', 'existing'],
    ['new', 'now'],
    ['Future', 'future'],
    ['to be removed', 'to be removed'],
    ['Bestand', 'existing'],
    ['', 'now'],
  ])('status %s is %s', async (cell, status) => {
    expect((await readOne(['Ref', 'To', 'Status'], ['A-1', 'X', cell])).status).toBe(status);
  });

  test('a status nobody knows is noted', async () => {
    const { queries } = await readRows([
      ['Ref', 'To', 'Status'],
      ['A-1', 'X', 'IFC'],
      ['A-2', 'X', 'IFC'],
    ]);
    expect(queries.filter(({ text }) => text.includes('“IFC” of 2 cables'))).toHaveLength(1);
  });

  test('sets and parallels count bodies', async () => {
    expect(await readOne(['Ref', 'Type'], ['A-1', '3x1c 185 XLPE/AWA/PVC'])).toMatchObject({
      bodies: 3,
      bundle: 'trefoil',
      cores: 1,
    });
    expect(
      await readOne(['Ref', 'Type', 'No. of cables'], ['A-1', '4c 240 SWA', '2']),
    ).toMatchObject({ bodies: 2, bundle: null, cores: 4 });
    expect(
      await readOne(['Ref', 'Cores', 'Size', 'Type'], ['A-1', '3x1c', '185', 'AWA']),
    ).toMatchObject({ bodies: 3, cores: 1, sizeMm2: 185 });
  });

  test('an earth beside single cores is asked about, since it is a body of its own', async () => {
    const { codes } = await readRows([
      ['Ref', 'Type', 'OD'],
      ['A-1', '3x1c 185 + E', '30'],
    ]);
    expect(codes).toContain('schedule-row-unclear');
  });

  test('a type and columns that disagree are asked about', async () => {
    const { queries } = await readRows([
      ['Ref', 'Type', 'Cores', 'OD'],
      ['A-1', '4c 16 SWA', '3', '20'],
    ]);
    expect(queries[0]?.text).toContain('4 cores');
  });

  test.each([
    [['Circuit'], ['LV'], { circuit: 'LV' }],
    [['Service'], ['Fire alarm'], { circuit: 'fire alarm' }],
    [['Voltage'], ['11 kV'], { circuit: 'HV' }],
    [['Voltage'], ['400 V AC'], { circuit: 'LV', current: 'AC' }],
    [['Voltage'], ['24VDC'], { circuit: 'LV', current: 'DC' }],
    [['Circuit No.'], ['DB1/4'], { circuitRef: 'DB1/4' }],
    [['Phase'], ['L1'], { phase: 'L1' }],
  ])('%s %s', async (headings, cells, said) => {
    expect(await readOne(['Ref', 'Type', ...headings], ['A-1', '4c 16', ...cells])).toMatchObject(
      said,
    );
  });

  test('diameters come from the user’s table before the shipped one', async () => {
    const table = csvFile([
      ['Construction', 'Cores', 'Size', 'OD (mm)'],
      ['NYY-J', '5', '10', '21.5'],
      ['SWA', '4', '16', '22.9'],
    ]);
    const { result: own } = await readCableTable({ ...table, key: 'own', name: 'own.csv' });
    const file = csvFile([
      ['Ref', 'Type'],
      ['A-1', 'NYY-J 5x10'],
      ['A-2', '4c 16 SWA'],
      ['A-3', '4c 25 SWA'],
    ]);
    const { result } = await readSchedule(file, {}, [own, builtInCableTable()]);
    expect(result.cables.map(({ diameterMm }) => diameterMm)).toEqual([21.5, 22.9, 26.1]);
    expect(result.cables[0]?.evidence.at(-1)?.text).toContain('own.csv');
  });
});

describe('workbooks', () => {
  test('merged headers of two rows, several sheets, hidden rows, formulas, dates and totals', async () => {
    const file = await xlsxFile((workbook) => {
      const sheet = workbook.addWorksheet('Power');
      sheet.addRow(['Cable', null, null, 'Terminations']);
      sheet.addRow(['Ref', 'Make-up', 'OD (mm)', 'From', 'To']);
      sheet.mergeCells('A1:C1');
      sheet.mergeCells('D1:E1');
      sheet.addRow(['P-1', '4c 16 SWA', { formula: '20+3.4', result: 23.4 }, 'MCC', 'Pump']);
      sheet.addRow([7, '4c 16 SWA', '23,4', 'MCC', 'Fan']);
      sheet.addRow([new Date(Date.UTC(2026, 10, 1)), '4c 16 SWA', 23.4, 'MCC', 'Valve']);
      sheet.addRow(['P-4', '4c 16 SWA', 23.4, 'MCC', 'Gate']).hidden = true;
      sheet.addRow(['Everything below is by others']);
      sheet.mergeCells('A7:E7');
      sheet.addRow(['Total', null, 70.2]);
      const second = workbook.addWorksheet('Control');
      second.addRow(['Tag', 'From', 'To']);
      second.addRow(['C-1', 'MCC', 'Pump']);
      workbook.addWorksheet('Legend').addRow(['Colour', 'Meaning']);
      const hidden = workbook.addWorksheet('Old', { state: 'hidden' });
      hidden.addRow(['Cable ref', 'From', 'To']);
      hidden.addRow(['Z-1', 'A', 'B']);
    });
    const { result, queries } = await readSchedule(file, {}, TABLES);
    expect(result.cables.map(({ ref, diameterMm }) => [ref, diameterMm])).toEqual([
      ['P-1', 23.4],
      ['7', 23.4],
      ['P-4', 23.4],
      ['C-1', null],
    ]);
    const outcome = (sheet: string, row: number) =>
      result.rows.find(({ place }) => place.sheet === sheet && place.row === row)?.outcome;
    expect([5, 7, 8].map((row) => outcome('Power', row))).toEqual(['query', 'heading', 'heading']);
    const texts = queries.map(({ text }) => text).join('\n');
    expect(texts).toContain('is a date');
    expect(texts).toContain('hidden rows');
    expect(texts).toContain('sheet Legend');
    expect(texts).toContain('sheet Old');
  });

  test('named sheets only, also hidden ones', async () => {
    const file = await xlsxFile((workbook) => {
      workbook.addWorksheet('A').addRows([
        ['Ref', 'To'],
        ['A-1', 'X'],
      ]);
      workbook.addWorksheet('B', { state: 'hidden' }).addRows([
        ['Ref', 'To'],
        ['B-1', 'X'],
      ]);
    });
    const { result } = await readSchedule(file, { sheets: ['B'] }, TABLES);
    expect(result.cables.map(({ id }) => id)).toEqual(['cables:B:B-1']);
    await expect(readSchedule(file, { sheets: ['C'] }, TABLES)).rejects.toMatchObject({
      todo: expect.stringContaining('A, B'),
    });
  });

  test('cells merged downwards hold for all their rows', async () => {
    const file = await xlsxFile((workbook) => {
      const sheet = workbook.addWorksheet('A');
      sheet.addRows([
        ['Ref', 'From', 'To'],
        ['A-1', 'MCC', 'X'],
        ['A-2', null, 'Y'],
        ['A-3', null, 'Z'],
      ]);
      sheet.mergeCells('B2:B4');
    });
    const { result } = await readSchedule(file, {}, TABLES);
    expect(result.cables.map(({ from }) => from)).toEqual(['MCC', 'MCC', 'MCC']);
  });
});

describe('settings', () => {
  const rows = [
    ['Wossname', 'Thing', 'Fat', 'Wegstück'],
    ['A-1', '4c 16 SWA', '23.4', 'T-1'],
  ];

  test('columns are named by their headings', async () => {
    const { cables } = await readRows(rows, {
      columns: { ref: 'Wossname', type: 'Thing', diameter: 'fat', route: 'Wegstück' },
    });
    expect(cables[0]).toMatchObject({ ref: 'A-1', cores: 4, diameterMm: 23.4, route: ['T-1'] });
  });

  test('a heading that is not there, and a column we do not have, are errors', async () => {
    await expect(readRows(rows, { columns: { ref: 'Whatsit' } })).rejects.toMatchObject({
      code: 'input-unreadable',
    });
    await expect(readRows(rows, { columns: { girth: 'Fat' } })).rejects.toMatchObject({
      code: 'settings-invalid',
      todo: expect.stringContaining('diameter'),
    });
    await expect(
      readRows(rows, { columns: { ref: 'Wossname', diameter: 'Girth' } }),
    ).rejects.toMatchObject({
      code: 'input-unreadable',
      message: expect.stringContaining('Girth'),
    });
  });

  test('the header row can be given', async () => {
    const { cables } = await readRows(
      [
        ['Ref', 'To', 'From'],
        ['of the form', 'below', 'is old'],
        ['Tag', 'From', 'To'],
        ['A-1', 'X', 'Y'],
      ],
      { headerRow: 3 },
    );
    expect(cables.map(({ ref, from }) => [ref, from])).toEqual([['A-1', 'X']]);
  });
});

describe('files that are no schedule', () => {
  test('without a reference the error names the headings seen and what to set', async () => {
    const file = csvFile([
      ['Colour', 'Taste'],
      ['red', 'sweet'],
    ]);
    await expect(readSchedule(file, {}, TABLES)).rejects.toMatchObject({
      code: 'input-unreadable',
      where: { file: 'cables.csv' },
      message: expect.stringContaining('Colour | Taste'),
      todo: expect.stringContaining('columns.ref'),
    });
  });

  test('an empty file and a picture are refused', async () => {
    const file = csvFile([]);
    await expect(readSchedule(file, {}, TABLES)).rejects.toMatchObject({
      code: 'input-unreadable',
    });
    const bytes = Uint8Array.from({ length: 500 }, (_, at) => at % 7);
    await expect(readSchedule({ ...file, bytes }, {}, TABLES)).rejects.toMatchObject({
      code: 'input-unreadable',
    });
  });
});

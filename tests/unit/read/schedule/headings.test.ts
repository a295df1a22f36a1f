import { describe, expect, test } from 'vitest';
import { builtInCableTable } from '../../../../src/read/schedule/cable-table.ts';
import type { ScheduleFileSettings } from '../../../../src/read/schedule/open-sheets.ts';
import { readCableTable } from '../../../../src/read/schedule/read-cable-table.ts';
import { readSchedule } from '../../../../src/read/schedule/read-schedule.ts';
import { csvFile } from '../../../makers/schedule/csv-file.ts';

async function read(rows: readonly (readonly string[])[], settings: ScheduleFileSettings = {}) {
  const { result, queries } = await readSchedule(csvFile(rows, ';'), settings, [
    builtInCableTable(),
  ]);
  return { cables: result.cables, queries };
}

const HEADINGS = ['Cable ref', 'Type', 'OD mm', 'From', 'To', 'Route'];
const CELLS = ['A-1', '4c 16 SWA', '21.5', 'Panel P', 'Pump Q', 'C-01'];
const EXPECTED = {
  ref: 'A-1',
  sizeMm2: 16,
  diameterMm: 21.5,
  from: 'Panel P',
  to: 'Pump Q',
  route: ['C-01'],
};

describe('a heading of two names', () => {
  test.each([
    [0, 'Cable Ref / Tag'],
    [0, 'Kabel-Nr. / Cable no.'],
    [0, 'Repère / Nº'],
    [0, 'Tag or cable no.'],
    [0, 'Equipment (cable ref)'],
    [0, 'Cable / Circuit No.'],
    [1, 'Type / size'],
    [1, 'Typ / Querschnitt'],
    [1, 'Construction & CSA'],
    [1, 'Description / Type'],
    [2, 'O.D. / mm'],
    [2, 'Approx. O.D. (mm)'],
    [2, 'Ø außen / mm'],
    [2, 'Diameter / OD (mm)'],
    [2, 'Außendurchmesser / outside dia. [mm]'],
    [3, 'From (location)'],
    [3, 'Von / From'],
    [3, 'Origin\n(supply panel)'],
    [4, 'To (location)'],
    [4, 'Destination / load'],
    [5, 'Route / containment'],
    [5, 'Tray / conduit'],
    [5, 'Tray or duct'],
    [5, 'Cable tray / ladder ref'],
    [5, 'Trasse oder Leerrohr'],
    [5, 'Bandeja o tubo'],
    [5, 'Route\ncontainment'],
    [5, 'Cable location (tray)'],
    [5, 'Kabelgoot of buis'],
    [5, 'Chemin de câbles / fourreau'],
    [5, 'Wall opening (penetration) no.'],
  ])('column %i, “%s”', async (at, heading) => {
    const headings = HEADINGS.map((usual, place) => (place === at ? heading : usual));
    const { cables, queries } = await read([headings, CELLS]);
    expect(cables[0]).toMatchObject(EXPECTED);
    expect(queries).toEqual([]);
  });

  test.each([
    'From / To',
    'De / A',
    'Route / weight',
    'Lug size / type',
    'Rev / route',
    'Weight kg/m / OD',
  ])('“%s” of different things is asked about, not taken for one of them', async (heading) => {
    const { cables, queries } = await read([
      ['Cable ref', 'OD mm', heading],
      ['A-1', '21.5', 'C-01'],
    ]);
    expect(cables[0]).toMatchObject({ type: null, from: null, to: null, route: [] });
    expect(queries.map(({ code }) => code)).toEqual(['schedule-column-unused']);
  });

  test('a heading of one name comes before one of two', async () => {
    const { cables, queries } = await read([
      [...HEADINGS, 'Route / containment'],
      [...CELLS, 'X-9'],
    ]);
    expect(cables[0]?.route).toEqual(['C-01']);
    expect(queries[0]).toMatchObject({ code: 'schedule-column-unused', severity: 'ask' });
  });
});

test('what stands in brackets is read with the words before it', async () => {
  const { cables } = await read([
    ['Cable ref', 'No. of cores x CSA (mm²)', 'From (room)', 'Load (kW)'],
    ['A-1', '4 x 16', 'Pump room', '7.5'],
  ]);
  expect(cables[0]).toMatchObject({ cores: 4, sizeMm2: 16, fromRoom: 'Pump room', to: null });
});

test('a cable table may have headings of two names too', async () => {
  const file = csvFile([
    ['Type / construction', 'Cores / pairs', 'CSA / mm²', 'Ø / OD (mm)'],
    ['Wibble', '4', '16', '23.4'],
  ]);
  const { rows } = (await readCableTable(file)).result;
  expect(rows[0]).toMatchObject({ cores: 4, sizeMm2: 16, diameterMm: 23.4 });
});

describe('a circuit as the reference', () => {
  test.each(['Circuit ref', 'Circuit no.', 'Circuit', 'Stromkreis', 'Nº circuito'])(
    '“%s” where no other column is one',
    async (heading) => {
      const { cables } = await read([[heading, ...HEADINGS.slice(1)], CELLS]);
      expect(cables[0]).toMatchObject({ ...EXPECTED, circuitRef: 'A-1' });
    },
  );

  test('beside a reference it is the circuit', async () => {
    const { cables } = await read([
      ['Circuit ref', ...HEADINGS],
      ['DB1/4', ...CELLS],
    ]);
    expect(cables[0]).toMatchObject({ ...EXPECTED, circuitRef: 'DB1/4' });
  });

  test('it stands down for the column that the settings name', async () => {
    const { cables } = await read(
      [
        ['Circuit ref', 'Wibble', ...HEADINGS.slice(1)],
        ['DB1/4', ...CELLS],
      ],
      { columns: { ref: 'Wibble' } },
    );
    expect(cables[0]).toMatchObject({ ...EXPECTED, circuitRef: 'DB1/4' });
  });

  test('a kind of circuit, or a list of circuits in a board, is no schedule of cables', async () => {
    const kinds = [HEADINGS.with(0, 'Circuit'), CELLS.with(0, 'LV')];
    await expect(read(kinds)).rejects.toMatchObject({ code: 'input-unreadable' });
    const board = [
      ['Circuit no.', 'Load', 'Breaker'],
      ['L1', 'Lights', '10 A'],
    ];
    await expect(read(board)).rejects.toMatchObject({ code: 'input-unreadable' });
  });

  test('“No.” over references is the reference, over 1, 2, 3 it counts rows', async () => {
    const headings = HEADINGS.with(0, 'No.');
    const { cables } = await read([headings, CELLS]);
    expect(cables[0]).toMatchObject(EXPECTED);
    await expect(read([headings, CELLS.with(0, '1')])).rejects.toMatchObject({
      code: 'input-unreadable',
    });
  });
});

test('a column of designations is the type where no heading names it', async () => {
  const headings = HEADINGS.with(1, 'Description');
  const { cables, queries } = await read([headings, CELLS, CELLS.with(0, 'A-2')]);
  expect(cables[1]).toMatchObject({ ...EXPECTED, ref: 'A-2' });
  expect(queries).toEqual([]);
});

describe('a route in several columns', () => {
  test('is one list, in the order of the columns', async () => {
    const { cables, queries } = await read([
      ['Cable ref', 'From', 'To', 'Route 1', 'Route 2', 'Route 3'],
      ['A-1', 'MCC', 'Pump', 'T-01', 'C-07', ''],
      ['A-2', 'MCC', 'Fan', '', 'C-08', 'D-2'],
    ]);
    expect(cables.map(({ route }) => route)).toEqual([
      ['T-01', 'C-07'],
      ['C-08', 'D-2'],
    ]);
    expect(queries.map(({ code }) => code)).not.toContain('schedule-column-unused');
  });

  test('by kind of carrier too; a column of words is none', async () => {
    const { cables } = await read([
      ['Cable ref', 'From', 'To', 'Tray', 'Conduit', 'Containment'],
      ['A-1', 'MCC', 'Pump', 'T-01', 'C-07', 'ladder'],
      ['A-2', 'MCC', 'Fan', 'T-02', '', 'clipped'],
    ]);
    expect(cables.map(({ route }) => route)).toEqual([['T-01', 'C-07'], ['T-02']]);
  });
});

/** What has to become of a cable row. */
type CableExpectation =
  /** Passes every penetration of its route, without a question. */
  | { readonly outcome: 'matched' }
  /** Must be asked about; nothing may be matched in silence. */
  | { readonly outcome: 'queried'; readonly why: string }
  /** Its route passes no penetration. */
  | { readonly outcome: 'noPenetration' }
  /** More than one answer is right. */
  | { readonly outcome: 'any'; readonly why: string };

export interface CableDim {
  readonly kind: 'cable';
  readonly ref: string;
  readonly status: string;
  readonly type: string;
  readonly cores: string;
  /** As the cell shows it; a string stays text in the workbook. */
  readonly od: number | string | null;
  readonly mass: number | string | null;
  readonly from: string;
  readonly to: string;
  readonly route: string;
  readonly circuit: string;
  readonly current: string;
  readonly lengthM: number | string | null;
  readonly remarks: string;
  readonly hidden: boolean;
  /** Parts of the route as the model writes them, where the row's own writing differs. */
  readonly means?: readonly string[];
  readonly expect: CableExpectation;
  /** A query that must name this cable even where it is matched. */
  readonly mustAsk?: string;
  /** Outside diameter of one body that the design has to use, mm; null when unknown. */
  readonly diameterMm: number | null;
  readonly bodies: number;
}

export type RowDim =
  | CableDim
  | { readonly kind: 'board'; readonly text: string }
  | { readonly kind: 'note'; readonly text: string }
  | { readonly kind: 'blank' };

const SWA = 'Cu/XLPE/PVC/SWA/PVC';

/**
 * Outside diameter and mass by cores and mm², steel wire armoured.
 * @source BS 5467 cables, published catalogue table (shared reference `cable-od.csv`, kind "read").
 */
const SWA_TABLE: Readonly<Record<string, { readonly od: number; readonly mass: number }>> = {
  '2c 2.5': { od: 13.6, mass: 0.346 },
  '3c 2.5': { od: 14.1, mass: 0.39 },
  '3c 4': { od: 15.3, mass: 0.464 },
  '3c 95': { od: 37, mass: 4.44 },
  '4c 1.5': { od: 13.3, mass: 0.365 },
  '4c 2.5': { od: 15, mass: 0.438 },
  '4c 4': { od: 16.4, mass: 0.532 },
  '4c 6': { od: 18.7, mass: 0.764 },
  '4c 10': { od: 21.1, mass: 1.013 },
  '4c 16': { od: 23.4, mass: 1.36 },
  '4c 25': { od: 26.1, mass: 2.16 },
  '4c 35': { od: 28.6, mass: 2.69 },
  '4c 50': { od: 32, mass: 3.13 },
  '5c 6': { od: 20, mass: 0.876 },
  '7c 1.5': { od: 15.2, mass: 0.47 },
  '7c 2.5': { od: 17.1, mass: 0.6 },
  '12c 1.5': { od: 19.4, mass: 0.69 },
  '19c 1.5': { od: 22.2, mass: 0.93 },
};

type Extra = Partial<Omit<CableDim, 'kind' | 'ref' | 'from' | 'to' | 'route'>>;

function cable(ref: string, from: string, to: string, route: string, extra: Extra): CableDim {
  return {
    kind: 'cable',
    ref,
    status: 'new',
    type: SWA,
    cores: '',
    od: null,
    mass: null,
    from,
    to,
    route,
    circuit: 'LV',
    current: 'AC',
    lengthM: null,
    remarks: '',
    hidden: false,
    expect: { outcome: 'matched' },
    diameterMm: null,
    bodies: 1,
    ...extra,
  };
}

/** An armoured cable whose diameter the schedule gives. */
function armoured(
  ref: string,
  cores: string,
  from: string,
  to: string,
  route: string,
  lengthM: number,
  extra: Extra = {},
): CableDim {
  const entry = SWA_TABLE[cores];
  if (entry === undefined) throw new Error(`No diameter for ${cores}.`);
  return cable(ref, from, to, route, {
    cores,
    od: entry.od,
    mass: decimalComma(entry.mass),
    lengthM,
    diameterMm: entry.od,
    ...extra,
  });
}

function decimalComma(value: number): string {
  return String(value).replace('.', ',');
}

const noPenetration: Extra = { expect: { outcome: 'noPenetration' } };

/** Two rows of the sheet say PMP-2-H. */
const TWICE: Extra = {
  expect: { outcome: 'any', why: 'a reference that the sheet gives twice' },
  mustAsk: 'cable-duplicate',
};

const pumps: readonly RowDim[] = [1, 2, 3, 4].flatMap((number) => [
  armoured(`PMP-${number}-P`, '4c 25', 'MCC', `Pump ${number}`, 'R-01', 22 + 3 * number, {
    // The first two are left to the cable table, the third is a number kept as text.
    od: number <= 2 ? null : number === 3 ? '26.1' : 26.1,
  }),
  armoured(`PMP-${number}-H`, '3c 2.5', 'MCC', `Pump ${number} heater`, 'R-01', 22 + 3 * number, {
    ...(number === 2 ? TWICE : {}),
  }),
]);

const gates: readonly RowDim[] = [1, 2].flatMap((number) => [
  armoured(`OG-${number}-P`, '4c 16', 'MCC', `Outfall gate ${number}`, `R-08, D-04`, 60 + number),
  armoured(`OG-${number}-C`, '7c 1.5', 'MCC', `Outfall gate ${number}`, `V-01; D-04`, 60 + number, {
    circuit: 'control',
  }),
]);

const screens: readonly RowDim[] = [1, 2].flatMap((number) => [
  armoured(`SC-${number}-P`, '4c 6', 'MCC', `Screen ${number}`, `V-02, D-05`, 45 + number),
  armoured(`SC-${number}-C`, '12c 1.5', 'MCC', `Screen ${number}`, `V-02, D-05`, 45 + number, {
    circuit: 'control',
    od: null,
  }),
]);

/** Sheet "Power", in order. */
export const POWER_ROWS: readonly RowDim[] = [
  { kind: 'board', text: 'TRANSFORMER TR1 AND INCOMER' },
  cable('HV-01', 'Network kiosk', 'TR1', 'D-09', {
    type: 'Cu 33 kV armoured',
    cores: '3x1c 95',
    od: 40.3,
    circuit: 'HV',
    lengthM: 85,
    diameterMm: 40.3,
    bodies: 3,
    remarks: 'trefoil',
  }),
  cable('TR1-LV', 'TR1', 'MDB', 'OP-121', {
    type: 'Cu/XLPE/AWA/PVC',
    cores: '3x1c 185',
    od: 30,
    mass: '2,15',
    lengthM: 9,
    diameterMm: 30,
    bodies: 3,
    remarks: 'three singles, modelled one by one',
  }),
  armoured('TR1-AUX', '4c 2.5', 'MDB', 'TR1 fans', 'TK-02', 12),
  armoured('TR1-C', '7c 2.5', 'MDB', 'TR1 protection', 'TK-02', 12, { circuit: 'control' }),
  { kind: 'note', text: 'Transformer cables to be glanded before the trunking lid goes on.' },
  { kind: 'board', text: 'MAIN DISTRIBUTION BOARD MDB' },
  // Three of 37 mm in a bore of 150 mm.
  armoured('GEN-1A', '3c 95', 'Generator', 'MDB', 'D-01, R-07', 48),
  armoured('GEN-1B', '3c 95', 'Generator', 'MDB', 'D-01, R-07', 48),
  armoured('GEN-1C', '3c 95', 'Generator', 'MDB', 'D-01, R-07', 48),
  armoured('GEN-AUX', '4c 6', 'MDB', 'Generator auxiliaries', 'R-07, D-02', 50),
  armoured('SL-01', '3c 4', 'MDB', 'Site lighting north road', 'R-07, D-02', 120),
  armoured('SL-02', '3c 4', 'MDB', 'Site lighting outfall', 'R-07, D-02', 150),
  armoured('WASH-1', '4c 10', 'MDB', 'Wash-water skid', 'R-07, D-06', 66),
  armoured('BAT-P', '4c 10', 'MDB', 'Battery charger', 'R-09, R-04', 31, {
    remarks: 'by way of pit east',
  }),
  armoured('UPS-P', '4c 6', 'MDB', 'UPS', 'R-03, R-05', 28),
  armoured('HVAC-1', '4c 4', 'MDB', 'Air handling unit', 'R 01', 30, {
    means: ['R-01'],
    remarks: 'reference written with a space',
  }),
  armoured('CRANE', '4c 10', 'MDB', 'Crane isolator', 'r-1', 26, {
    means: ['R-01'],
    remarks: 'reference written short',
  }),
  { kind: 'blank' },
  { kind: 'board', text: 'MOTOR CONTROL CENTRE MCC' },
  ...pumps,
  armoured('PMP-2-H', '3c 4', 'MCC', 'Pump 2 heater (second entry)', 'R-01', 30, TWICE),
  ...gates,
  ...screens,
  armoured('SUMP-P', '4c 2.5', 'MCC', 'Sump pump', 'V-03', 12),
  armoured('SUMP-L', '3c 2.5', 'Sump level', 'MCC', 'C-13', 15, { circuit: 'control' }),
  armoured('VLV-1', '4c 2.5', 'MCC', 'Valve actuator 1', 'R-01', 18),
  armoured('VLV-2', '4c 2.5', 'MCC', 'Valve actuator 2', 'R-01', 20),
  armoured('OLD-3', '4c 4', 'MCC', 'Old valve actuator', 'R-01', 20, {
    status: 'to be removed',
    expect: { outcome: 'any', why: 'passes today, is gone in the final state' },
  }),
  armoured('OLD-4', '4c 4', 'MCC', 'Old sluice drive', 'R-02', 20, {
    status: 'existing',
    hidden: true,
    remarks: 'row is hidden in the sheet',
    expect: { outcome: 'any', why: 'in a hidden row: a reader may ask first' },
  }),
  armoured('FUT-1', '4c 35', 'MCC', 'Pump 5', 'R-01', 36, { status: 'future' }),
  armoured('FUT-2', '4c 35', 'MDB', 'Car charging', 'D-06, R-07', 70, { status: 'future' }),
  cable('MCC spare way 9', '', '', '', {
    type: '',
    status: 'spare',
    circuit: '',
    current: '',
    expect: { outcome: 'any', why: 'a spare way of a board, no cable yet' },
  }),
  { kind: 'note', text: 'Pump 5 is a later stage: leave room on R-01.' },
  { kind: 'board', text: 'LIGHTING AND SMALL POWER BOARD DB-L' },
  armoured('EL-01', '3c 2.5', 'DB-L', 'Pump hall lighting 1', 'C-02', 25),
  armoured('EL-02', '3c 2.5', 'DB-L', 'Pump hall lighting 2', 'C-02', 28),
  armoured('EL-03', '3c 2.5', 'DB-L', 'Outside lighting south', 'C-12', 18),
  armoured('EL-04', '3c 2.5', 'DB-L', 'Outside lighting east', 'C-11', 22),
  armoured('EL-05', '3c 2.5', 'DB-L', 'Control room lighting', 'R-03', 16),
  armoured('EL-07', '4c 1.5', 'Pump hall', 'Pump hall emergency lights', 'R-11', 12, noPenetration),
  armoured('SP-01', '3c 4', 'DB-L', 'Pump hall sockets', 'C-01', 24),
  armoured('SP-02', '3c 4', 'DB-L', 'Pump hall sockets east', 'C-03', 24),
  armoured('SP-03', '3c 4', 'DB-L', 'Control room sockets', 'R-03', 18),
  armoured('SP-04', '3c 4', 'DB-L', 'Pit sockets', 'OP-177', 14),
  armoured('SP-05', '3c 4', 'DB-L', 'Pit lighting', 'OP-177', 14),
  armoured('SP-06', '3c 2.5', 'DB-L', 'Pit west sockets', 'R-12', 14, noPenetration),
  armoured('SP-07', '3c 4', 'DB-L', 'Workshop', 'R-99', 33, {
    expect: { outcome: 'queried', why: 'its route names something that does not exist' },
    remarks: 'route to be confirmed',
  }),
  armoured('SP-08', '3c 4', 'DB-L', 'Welding socket', 'R-O1', 27, {
    expect: { outcome: 'queried', why: 'letter O for a nought: offered, never matched alone' },
    mustAsk: 'reference-look-alike',
  }),
  { kind: 'board', text: 'EARTHING' },
  cable('E-MAIN', 'Earth bar', 'Earth ring', 'E-01', {
    type: 'Cu/LSZH single core',
    cores: '1c 70',
    od: 15,
    circuit: 'earth',
    current: '',
    lengthM: 18,
    diameterMm: 15,
  }),
  cable('E-TR1', 'Earth bar', 'TR1 neutral', 'R-09', {
    type: 'Cu/LSZH single core',
    cores: '1c 70',
    od: 15,
    circuit: 'earth',
    current: '',
    lengthM: 12,
    diameterMm: 15,
  }),
];

function control(
  ref: string,
  type: string,
  diameterMm: number | null,
  from: string,
  to: string,
  route: string,
  circuit: string,
  extra: Extra = {},
): CableDim {
  return cable(ref, from, to, route, {
    type,
    od: diameterMm === null ? null : decimalComma(diameterMm),
    circuit,
    diameterMm,
    current: '',
    ...extra,
  });
}

const pumpControls: readonly RowDim[] = [1, 2, 3, 4].flatMap((number) => [
  control(
    `PMP-${number}-C`,
    'Cu/XLPE/PVC/SWA/PVC 12c 1.5',
    19.4,
    'MCC',
    `Pump ${number} control box`,
    'R-02',
    'control',
  ),
  control(
    `PMP-${number}-T`,
    'Cu/XLPE/PVC/SWA/PVC 7c 1.5',
    15.2,
    'MCC',
    `Pump ${number} sensors`,
    'R-02',
    'control',
    // Two are left to the cable table.
    number <= 2 ? { od: null } : {},
  ),
]);

/** Sheet "Control and data", in order; the outside diameter has a decimal comma. */
export const CONTROL_ROWS: readonly RowDim[] = [
  { kind: 'board', text: 'Pump controls' },
  ...pumpControls,
  { kind: 'board', text: 'Control room' },
  control('RTU-1', `${SWA} 19c 1.5`, 22.2, 'MCC', 'RTU', 'R-03', 'control'),
  control('RTU-2', `${SWA} 12c 1.5`, 19.4, 'MCC', 'RTU', 'R-03', 'control'),
  control('RTU-3', `${SWA} 7c 1.5`, 15.2, 'MDB', 'RTU', 'R-03', 'control'),
  control('DC-1', `${SWA} 2c 2.5`, 13.6, 'Battery', 'RTU', 'R-05', 'control', { current: 'DC' }),
  control('DC-2', `${SWA} 2c 2.5`, 13.6, 'Battery', 'MDB tripping', 'C-10', 'control', {
    current: 'DC',
  }),
  control('DC-3', `${SWA} 2c 2.5`, 13.6, 'Battery', 'TR1 tripping', 'R-04', 'control', {
    current: 'DC',
  }),
  control('OP-PANEL', `${SWA} 7c 1.5`, 15.2, 'MCC', 'Operator panel', 'C-08', 'control'),
  control('DOOR-1', `${SWA} 4c 1.5`, 13.3, 'RTU', 'Door contacts', 'C-09', 'control'),
  { kind: 'note', text: 'Instrument loops below are screened in pairs.' },
  { kind: 'board', text: 'Instruments' },
  control(
    'LIT-1',
    'Instrument cable 1 pair screened',
    9.5,
    'Wet well level',
    'Pump hall panel',
    'C-15',
    'control',
  ),
  control(
    'LIT-2',
    'Instrument cable 2 pair screened',
    null,
    'Wet well level',
    'Pump hall panel',
    'C-15',
    'control',
    {
      mustAsk: 'cable-diameter-unknown',
      remarks: 'diameter to come',
    },
  ),
  control('FIT-1', 'Instrument cable 1 pair screened', 9.5, 'Flow meter', 'RTU', 'C-05', 'control'),
  control('PIT-1', 'Instrument cable 1 pair screened', 9.5, 'Pressure', 'RTU', 'C-05', 'control'),
  control('PIT-2', 'Instrument cable 1 pair screened', 9.5, 'Pressure', 'RTU', 'C-06', 'control'),
  control(
    'VIB-1',
    'Instrument cable 1 pair screened',
    9.5,
    'Pump 1',
    'Pump hall panel',
    '',
    'control',
    {
      expect: { outcome: 'any', why: 'no route; both ends in the pump hall' },
      remarks: 'local',
    },
  ),
  { kind: 'board', text: 'Data and fibre' },
  control('DATA-1', 'Cat6A U/UTP 4 pair', 8, 'Switch room', 'RTU', 'R-03', 'data'),
  control('DATA-2', 'Cat6A U/UTP 4 pair', 8, 'Pump hall panel', 'RTU', 'C-07', 'data'),
  control('CCTV-1', 'Cat6A U/UTP 4 pair', 8, 'RTU', 'Camera north', 'R-06', 'data'),
  control('ANT-1', 'Coaxial 50 ohm', 10.3, 'RTU', 'Roof aerial', 'C-16', 'data'),
  control(
    'FO-1',
    'Optical fibre 24, steel-tape armoured',
    8.5,
    'Network chamber',
    'RTU',
    'D-03, R-07, R-03',
    'fibre',
  ),
  control(
    'FO-2',
    'Optical fibre 24, steel-tape armoured',
    8.5,
    'Network chamber',
    'RTU',
    'D-03, R-07, R-03',
    'fibre',
  ),
  control(
    'FO-3',
    'Optical fibre 24, steel-tape armoured',
    8.5,
    'RTU',
    'Gatehouse',
    'R-06',
    'fibre',
    {
      status: 'future',
    },
  ),
  { kind: 'board', text: 'Fire alarm' },
  control(
    'FA-01',
    `${SWA} 7c 1.5`,
    15.2,
    'Fire panel',
    'Transformer room detectors',
    'OP-123',
    'fire alarm',
  ),
  control(
    'FA-02',
    'Fire resistant 2c 1.5',
    9.1,
    'Fire panel',
    'Pump hall detectors',
    'R-02',
    'fire alarm',
  ),
  control(
    'FA-03',
    'Fire resistant 2c 1.5',
    9.1,
    'Fire panel',
    'Control room detectors',
    'R-03',
    'fire alarm',
  ),
];

import type { CableDim } from './cables.ts';
import type { HostDim, OpeningDim, RunDim, StoreyDim, V2, V3 } from './types.ts';

/**
 * Two small buildings east of the station, by two other offices: a valve chamber in the ground
 * (IFC2X3) and a metering kiosk above it (IFC4X3). Same world frame as each other.
 */
export const ANNEX = {
  name: 'Reedholm valve chamber and metering kiosk',
  number: 'RH-015',
  document: 'RH-015-SEAL-0001',
  date: '2026-03-02',
  waterLevelMm: -400,
  groundLevelMm: -50,
} as const;

export interface AnnexModel {
  readonly storeys: readonly StoreyDim[];
  readonly hosts: readonly HostDim[];
  readonly openings: readonly OpeningDim[];
  readonly runs: readonly RunDim[];
}

const CONCRETE = {
  material: 'Concrete C32/40',
  fireRating: null,
  isExternal: true,
  isLoadBearing: true,
  isCompartment: false,
} as const;

function wall(
  mark: string,
  name: string,
  storey: 'B1' | '00',
  [from, to]: readonly [V2, V2],
  thicknessMm: number,
  [baseMm, heightMm]: V2,
): HostDim {
  return {
    ...CONCRETE,
    form: 'straight',
    mark,
    name,
    storey,
    from,
    to,
    thicknessMm,
    baseMm,
    heightMm,
  };
}

function slab(
  mark: string,
  name: string,
  storey: 'B1' | '00',
  [x, y]: readonly [V2, V2],
  [baseMm, heightMm]: V2,
  predefined: 'FLOOR' | 'BASESLAB',
): HostDim {
  return { ...CONCRETE, form: 'slab', predefined, mark, name, storey, x, y, baseMm, heightMm };
}

function hole(
  mark: string,
  host: string,
  at: V3,
  shape: OpeningDim['shape'],
  serves: readonly string[],
  extra: Partial<OpeningDim> = {},
): OpeningDim {
  return {
    mark,
    name: `Opening ${mark}`,
    host,
    at,
    shape,
    serves,
    overshootMm: 0,
    declared: 'OPENING',
    outcome: 'inPenetration',
    ...extra,
  };
}

function straightRun(
  ref: string,
  form: RunDim['form'],
  section: RunDim['section'],
  widthDirection: V3,
  [from, to]: readonly [V3, V3],
  storey: 'B1' | '00',
  extra: Partial<RunDim> = {},
): RunDim {
  const names = {
    tray: 'Cable tray',
    conduit: 'Conduit',
    pipe: 'Pipe',
    cable: 'Cable',
    duct: 'Duct',
    ladder: 'Cable ladder',
    trunking: 'Cable trunking',
  };
  return {
    ref,
    name: `${names[form]} ${ref}`,
    form,
    section,
    widthDirection,
    pieces: [{ key: '1', role: 'segment', from, to, outcome: 'through' }],
    refIn: 'name',
    system: form === 'pipe' ? 'Storm water' : 'Cable ways',
    storey,
    unopenedIn: [],
    ...extra,
  };
}

const X0 = 30_000;

/** The valve chamber, 4 × 3 m, walls 250. */
export const VALVE_CHAMBER: AnnexModel = {
  storeys: [
    { mark: 'B1', name: 'Chamber floor', elevationMm: -2500 },
    { mark: '00', name: 'Ground', elevationMm: 0 },
  ],
  hosts: [
    wall(
      'VC-S',
      'Chamber wall south',
      'B1',
      [
        [X0, 0],
        [X0 + 4000, 0],
      ],
      250,
      [-2500, 2500],
    ),
    wall(
      'VC-N',
      'Chamber wall north',
      'B1',
      [
        [X0, 3000],
        [X0 + 4000, 3000],
      ],
      250,
      [-2500, 2500],
    ),
    wall(
      'VC-W',
      'Chamber wall west',
      'B1',
      [
        [X0 + 125, 125],
        [X0 + 125, 2875],
      ],
      250,
      [-2500, 2500],
    ),
    wall(
      'VC-E',
      'Chamber wall east',
      'B1',
      [
        [X0 + 3875, 125],
        [X0 + 3875, 2875],
      ],
      250,
      [-2500, 2500],
    ),
    slab(
      'VC-B',
      'Chamber base',
      'B1',
      [
        [X0, X0 + 4000],
        [-125, 3125],
      ],
      [-2750, 250],
      'BASESLAB',
    ),
    slab(
      'VC-C',
      'Chamber cover',
      '00',
      [
        [X0, X0 + 4000],
        [-125, 3125],
      ],
      [0, 200],
      'FLOOR',
    ),
  ],
  openings: [
    hole('OP-301', 'VC-W', [X0 + 125, 1500, -1500], { type: 'circle', diameterMm: 400 }, ['WM-01']),
    hole('OP-302', 'VC-E', [X0 + 3875, 1500, -1500], { type: 'circle', diameterMm: 400 }, [
      'WM-01',
    ]),
    hole('OP-303', 'VC-S', [X0 + 1500, 0, -800], { type: 'circle', diameterMm: 110 }, ['VC-01']),
    hole('OP-304', 'VC-N', [X0 + 2500, 3000, -800], { type: 'circle', diameterMm: 150 }, []),
    hole(
      'OP-305',
      'VC-C',
      [X0 + 1000, 2200, 100],
      { type: 'rectangle', widthMm: 1200, heightMm: 1200 },
      [],
      { outcome: 'shaft' },
    ),
    hole(
      'OP-306',
      'VC-E',
      [X0 + 3875, 800, -600],
      { type: 'rectangle', widthMm: 300, heightMm: 150 },
      ['VC-02'],
      { declared: 'PROVISION', overshootMm: 50 },
    ),
  ],
  runs: [
    {
      ...straightRun(
        'WM-01',
        'pipe',
        { type: 'circle', diameterMm: 273, boreMm: 260 },
        [0, 1, 0],
        [
          [X0 - 1000, 1500, -1500],
          [X0 + 1800, 1500, -1500],
        ],
        'B1',
      ),
      pieces: [
        {
          key: '1',
          role: 'segment',
          from: [X0 - 1000, 1500, -1500],
          to: [X0 + 1800, 1500, -1500],
          outcome: 'through',
        },
        {
          key: 'reducer',
          role: 'fitting',
          from: [X0 + 1800, 1500, -1500],
          to: [X0 + 2200, 1500, -1500],
          outcome: 'clear',
        },
        {
          key: '2',
          role: 'segment',
          from: [X0 + 2200, 1500, -1500],
          to: [X0 + 5000, 1500, -1500],
          outcome: 'through',
        },
      ],
    },
    straightRun(
      'VC-01',
      'conduit',
      { type: 'circle', diameterMm: 50, boreMm: 44 },
      [1, 0, 0],
      [
        [X0 + 1500, -1000, -800],
        [X0 + 1500, 900, -800],
      ],
      'B1',
    ),
    straightRun(
      'VC-02',
      'tray',
      { type: 'rectangle', widthMm: 200, heightMm: 60 },
      [0, 1, 0],
      [
        [X0 + 2600, 800, -600],
        [X0 + 4800, 800, -600],
      ],
      'B1',
    ),
    straightRun(
      'VC-03',
      'conduit',
      { type: 'circle', diameterMm: 32, boreMm: 27 },
      [1, 0, 0],
      [
        [X0 + 1000, 2000, -800],
        [X0 + 1000, 3800, -800],
      ],
      'B1',
      { unopenedIn: ['VC-N'] },
    ),
  ],
};

const X1 = 40_000;

/** The metering kiosk, 2.4 × 2 m, walls 200, on a slab with ducts from below. */
export const KIOSK: AnnexModel = {
  storeys: [{ mark: '00', name: 'Ground', elevationMm: 0 }],
  hosts: [
    wall(
      'MK-S',
      'Kiosk wall south',
      '00',
      [
        [X1, 0],
        [X1 + 2400, 0],
      ],
      200,
      [0, 2600],
    ),
    wall(
      'MK-N',
      'Kiosk wall north',
      '00',
      [
        [X1, 2000],
        [X1 + 2400, 2000],
      ],
      200,
      [0, 2600],
    ),
    wall(
      'MK-W',
      'Kiosk wall west',
      '00',
      [
        [X1 + 100, 100],
        [X1 + 100, 1900],
      ],
      200,
      [0, 2600],
    ),
    wall(
      'MK-E',
      'Kiosk wall east',
      '00',
      [
        [X1 + 2300, 100],
        [X1 + 2300, 1900],
      ],
      200,
      [0, 2600],
    ),
    slab(
      'MK-F',
      'Kiosk slab',
      '00',
      [
        [X1, X1 + 2400],
        [-100, 2100],
      ],
      [-300, 300],
      'FLOOR',
    ),
  ],
  openings: [
    {
      ...hole(
        'MD-1',
        'MK-S',
        [X1 + 1200, 0, 1050],
        { type: 'rectangle', widthMm: 900, heightMm: 2100 },
        [],
      ),
      filledBy: 'DOOR',
      outcome: 'doorsWindows',
    },
    hole('OP-401', 'MK-F', [X1 + 600, 1000, -150], { type: 'circle', diameterMm: 160 }, ['MK-01'], {
      overshootMm: 20,
    }),
    hole(
      'OP-402',
      'MK-F',
      [X1 + 1000, 1000, -150],
      { type: 'circle', diameterMm: 160 },
      ['MK-02'],
      {
        overshootMm: 20,
      },
    ),
    hole(
      'OP-403',
      'MK-W',
      [X1 + 100, 1000, 2000],
      { type: 'rectangle', widthMm: 250, heightMm: 150 },
      ['MK-03'],
      { declared: 'PROVISION', overshootMm: 25 },
    ),
    hole(
      'OP-404',
      'MK-N',
      [X1 + 1800, 2000, 1200],
      { type: 'rectangle', widthMm: 500, heightMm: 600 },
      [],
      { declared: 'RECESS', blind: { depthMm: 90, from: 'right' }, outcome: 'recess' },
    ),
  ],
  runs: [
    straightRun(
      'MK-01',
      'conduit',
      { type: 'circle', diameterMm: 110, boreMm: 103 },
      [1, 0, 0],
      [
        [X1 + 600, 1000, -900],
        [X1 + 600, 1000, 300],
      ],
      '00',
    ),
    straightRun(
      'MK-02',
      'conduit',
      { type: 'circle', diameterMm: 110, boreMm: 103 },
      [1, 0, 0],
      [
        [X1 + 1000, 1000, -900],
        [X1 + 1000, 1000, 300],
      ],
      '00',
    ),
    straightRun(
      'MK-03',
      'tray',
      { type: 'rectangle', widthMm: 150, heightMm: 60 },
      [0, 1, 0],
      [
        [X1 - 800, 1000, 2000],
        [X1 + 1400, 1000, 2000],
      ],
      '00',
    ),
  ],
};

type AnnexCable = Pick<CableDim, 'ref' | 'type' | 'from' | 'to' | 'route' | 'circuit'> & {
  /** As the file writes it: decimal comma. */
  readonly od: string;
  readonly diameterMm: number | null;
  readonly outcome: 'matched' | 'queried';
};

function cable(
  ref: string,
  type: string,
  od: string,
  [from, to]: readonly [string, string],
  route: string,
  circuit: string,
  outcome: AnnexCable['outcome'] = 'matched',
): AnnexCable {
  const diameterMm = od === '' ? null : Number(od.replace(',', '.'));
  return { ref, type, from, to, route, circuit, od, diameterMm, outcome };
}

/** The annex's schedule: semicolons, decimal commas, three lines of title. */
export const ANNEX_CABLES: readonly AnnexCable[] = [
  cable('KP-1', 'Cu/XLPE/PVC/SWA/PVC 4c 10', '21,1', ['Station MDB', 'Kiosk board'], 'MK-01', 'LV'),
  cable('KS-1', 'Cu/XLPE/PVC/SWA/PVC 3c 4', '15,3', ['Kiosk board', 'Site light'], 'MK-01', 'LV'),
  cable('KD-1', 'Cat6A U/UTP 4 pair', '8,0', ['Kiosk', 'Station RTU'], 'MK-02', 'data'),
  cable(
    'KF-1',
    'Optical fibre 24, steel-tape armoured',
    '8,5',
    ['Kiosk', 'Station RTU'],
    'MK-02',
    'fibre',
  ),
  cable('KA-1', 'Coaxial 50 ohm', '10,3', ['Kiosk', 'Aerial'], 'MK-03', 'data'),
  cable('VV-1', 'Cu/XLPE/PVC/SWA/PVC 4c 2.5', '15', ['Kiosk board', 'Valve 1'], 'VC-01', 'LV'),
  cable(
    'VV-1C',
    'Cu/XLPE/PVC/SWA/PVC 7c 1.5',
    '15,2',
    ['Kiosk board', 'Valve 1'],
    'VC-02',
    'control',
  ),
  cable('FL-1', 'Instrument cable 1 pair', '9,5', ['Flow meter', 'Kiosk'], 'VC-02', 'control'),
  cable('FL-2', 'Instrument cable 1 pair', '9,5', ['Level', 'Kiosk'], 'VC-03', 'control'),
  cable(
    'FL-3',
    'Instrument cable 1 pair',
    '9,5',
    ['Spare float', 'Kiosk'],
    'VC-09',
    'control',
    'queried',
  ),
];

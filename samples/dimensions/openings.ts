import type { OpeningDim, ShapeDim, V2, V3 } from './types.ts';

const round = (diameterMm: number): ShapeDim => ({ type: 'circle', diameterMm });
const rect = (widthMm: number, heightMm: number): ShapeDim => ({
  type: 'rectangle',
  widthMm,
  heightMm,
});

type Extra = Partial<Omit<OpeningDim, 'mark' | 'name' | 'host' | 'at' | 'shape' | 'serves'>>;

function opening(
  mark: string,
  name: string,
  host: string,
  at: V3,
  shape: ShapeDim,
  serves: readonly string[],
  extra: Extra = {},
): OpeningDim {
  return {
    mark,
    name,
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

function door(mark: string, host: string, at: V2, widthMm: number, heightMm: number): OpeningDim {
  return opening(
    mark,
    `Door ${mark}`,
    host,
    [at[0], at[1], heightMm / 2],
    rect(widthMm, heightMm),
    [],
    { filledBy: 'DOOR', outcome: 'doorsWindows' },
  );
}

function window(
  mark: string,
  host: string,
  at: V2,
  [widthMm, heightMm]: V2,
  sillMm: number,
): OpeningDim {
  return opening(
    mark,
    `Window ${mark}`,
    host,
    [at[0], at[1], sillMm + heightMm / 2],
    rect(widthMm, heightMm),
    [],
    { filledBy: 'WINDOW', outcome: 'doorsWindows' },
  );
}

/** The duct bank in the south pit wall: two rows of four, numbered row by row from the top left. */
export const DUCT_BANK = {
  host: 'P-01',
  firstX: 10600,
  pitchMm: 300,
  columns: 4,
  rowsZ: [-900, -1200],
  openingMm: 200,
  outsideMm: 160,
  boreMm: 150,
} as const;

export interface BankPlace {
  readonly ref: string;
  readonly mark: string;
  readonly row: number;
  readonly column: number;
  readonly xMm: number;
  readonly zMm: number;
}

export const BANK_PLACES: readonly BankPlace[] = DUCT_BANK.rowsZ.flatMap((zMm, row) =>
  Array.from({ length: DUCT_BANK.columns }, (_, column) => {
    const number = row * DUCT_BANK.columns + column + 1;
    return {
      ref: `D-${String(number).padStart(2, '0')}`,
      mark: `OP-${180 + number}`,
      row: row + 1,
      column: column + 1,
      xMm: DUCT_BANK.firstX + column * DUCT_BANK.pitchMm,
      zMm,
    };
  }),
);

/** Conduits that rise from the pit into the switch room, each in a core of its own. */
export const RISERS = {
  x: 13700,
  firstY: 1500,
  pitchMm: 500,
  count: 4,
  openingMm: 150,
  outsideMm: 110,
  boreMm: 103,
} as const;

const riserOpenings = Array.from({ length: RISERS.count }, (_, index) =>
  opening(
    `OP-${173 + index}`,
    'Core for riser conduit',
    'GS-01',
    [RISERS.x, RISERS.firstY + index * RISERS.pitchMm, -125],
    round(RISERS.openingMm),
    [`V-${String(index + 1).padStart(2, '0')}`],
    { overshootMm: 25 },
  ),
);

export const OPENINGS: readonly OpeningDim[] = [
  door('X1', 'W-05', [0, 7500], 2400, 3000),
  door('X2', 'W-06', [9000, 4500], 1000, 2100),
  door('X3', 'W-07', [11000, 6000], 1000, 2100),
  door('X4', 'W-01', [16200, 0], 1800, 2400),
  door('X5', 'W-09', [14160, 9000], 900, 2100),
  window('N1', 'W-01', [3000, 0], [1500, 1000], 1400),
  window('N2', 'W-01', [5500, 0], [1500, 1000], 1400),

  // Pump hall to electrical rooms.
  opening('OP-101', 'Tray opening', 'W-06', [9000, 2000, 3000], rect(700, 200), ['R-01'], {
    overshootMm: 50,
  }),
  opening('OP-102', 'Ladder opening', 'W-06', [9000, 3400, 3000], rect(500, 250), ['R-02']),
  opening('OP-103', 'Cored hole', 'W-06', [9000, 900, 1200], round(110), ['C-01']),
  opening('OP-104', 'Cored hole', 'W-06', [9000, 1300, 1200], round(120), ['C-02'], {
    overshootMm: 50,
  }),
  opening(
    'OP-105',
    'Slot for conduits',
    'W-06',
    [9000, 7450, 2600],
    { type: 'slot', lengthMm: 400, widthMm: 150 },
    ['C-05', 'C-06', 'C-07'],
  ),
  opening('OP-106', 'Cored hole, spare', 'W-06', [9000, 8300, 2600], round(150), []),
  opening('OP-107', 'Ventilation opening', 'W-06', [9000, 9200, 3300], rect(600, 400), ['VD-01']),
  opening(
    'OP-108',
    'Recess for distribution board',
    'W-06',
    [9000, 5500, 1500],
    rect(600, 900),
    [],
    { declared: 'RECESS', blind: { depthMm: 100, from: 'left' }, outcome: 'recess' },
  ),

  // Line 2.
  opening('OP-111', 'Tray and pipe opening', 'W-07', [9850, 6000, 2700], rect(600, 200), [
    'R-03',
    'PA-01',
  ]),
  // 100 mm for a conduit of 110 mm: too small.
  opening('OP-112', 'Cored hole', 'W-07', [12100, 6000, 2400], round(100), ['C-08']),
  // The conduit passes 65 mm beside the centre and touches the edge.
  opening('OP-113', 'Cored hole', 'W-07', [12600, 6000, 1500], round(160), ['C-09']),
  opening('OP-114', 'Provision for tray', 'W-07', [15800, 6000, 2700], rect(400, 200), ['R-04'], {
    declared: 'PROVISION',
    overshootMm: 50,
  }),
  opening('OP-115', 'Provision, spare', 'W-07', [17000, 6000, 2700], round(150), [], {
    declared: 'PROVISION',
    overshootMm: 50,
  }),

  // Switch room to transformer room.
  opening('OP-121', 'Opening for transformer cables', 'W-08', [14500, 2000, 800], rect(400, 200), [
    'TR1-LV',
  ]),
  opening('OP-122', 'Trunking opening', 'W-08', [14500, 4000, 2800], rect(250, 200), ['TK-02']),
  opening('OP-123', 'Cored hole', 'W-08', [14500, 5000, 2000], round(60), ['FA-01']),

  // The skew wall: one conduit along x, one tray square to the wall.
  opening('OP-131', 'Cored hole', 'W-09', [13760, 8000, 2600], round(150), ['C-10'], {
    overshootMm: 50,
  }),
  opening('OP-132', 'Tray opening', 'W-09', [13360, 7000, 3000], rect(300, 150), ['R-05']),

  // North wall, two leaves.
  opening(
    'OP-141',
    'Tray opening through both leaves',
    'W-03',
    [11500, 9925, 3000],
    rect(600, 200),
    ['R-06'],
    { alsoThrough: 'W-04', overshootMm: 50 },
  ),
  opening('OP-142', 'Pipe opening, inner leaf', 'W-03', [4000, 9925, 2500], round(160), ['VP-01']),
  opening('OP-143', 'Pipe opening, outer leaf', 'W-04', [4000, 10110, 2500], round(160), ['VP-01']),
  opening('OP-144', 'Louvre, inner leaf', 'W-03', [6500, 9925, 3000], rect(400, 400), ['VD-02']),
  opening('OP-145', 'Louvre, outer leaf', 'W-04', [6500, 10110, 3000], rect(400, 400), ['VD-02']),

  opening('OP-151', 'Cored hole', 'W-02', [18000, 3000, 2600], round(110), ['C-11']),

  // Rising main and sensor conduit: wet well wall, then west wall.
  opening('OP-161', 'Rising main opening', 'W-05', [0, 3000, 500], round(400), ['RM-01']),
  opening('OP-162', 'Cored hole', 'W-05', [0, 3600, 800], round(90), ['C-15']),
  opening('OP-163', 'Rising main opening', 'WW-01', [-1625, 3000, 500], round(400), ['RM-01'], {
    along: [1, 0],
    overshootMm: 100,
  }),
  opening('OP-164', 'Cored hole', 'WW-01', [-1702.25, 3600, 800], round(110), ['C-15'], {
    along: [1, 0],
    overshootMm: 150,
  }),

  // Ground slab.
  opening('OP-171', 'Riser under main board', 'GS-01', [10500, 800, -125], rect(800, 200), [
    'R-07',
  ]),
  opening('OP-172', 'Riser under motor board', 'GS-01', [12500, 800, -125], rect(500, 250), [
    'R-08',
  ]),
  ...riserOpenings,
  opening(
    'OP-177',
    'Floor opening for later cables',
    'GS-01',
    [11500, 3000, -125],
    rect(300, 300),
    [],
  ),
  opening('OP-178', 'Floor opening, spare', 'GS-01', [16500, 1500, -125], rect(400, 200), []),
  opening('OP-179', 'Access hatch', 'GS-01', [12500, 4800, -125], rect(1500, 1200), [], {
    outcome: 'shaft',
  }),

  // Pit walls.
  ...BANK_PLACES.map((place) =>
    opening(
      place.mark,
      `Duct bank row ${place.row} column ${place.column}`,
      DUCT_BANK.host,
      [place.xMm, 0, place.zMm],
      round(DUCT_BANK.openingMm),
      [place.ref],
    ),
  ),
  opening('OP-189', 'Cored hole for earth', 'P-01', [12600, 0, -1050], round(110), ['E-01']),
  opening('OP-191', 'Frame for four ducts', 'P-02', [18000, 3000, -1200], rect(700, 400), [
    'D-09',
    'D-10',
    'D-11',
    'D-12',
  ]),
  opening('OP-192', 'Cored hole', 'P-04', [9000, 1500, -1500], round(150), ['C-13']),
  opening('OP-193', 'Cored hole', 'P-04', [9000, 3000, -1500], round(150), ['C-14']),
  opening('OP-194', 'Tray opening', 'P-05', [14500, 800, -700], rect(700, 250), ['R-09']),
  opening('OP-195', 'Ladder opening', 'P-05', [14500, 3500, -700], rect(400, 200), ['R-10']),
  // Declared as an opening, but it is a sump: shallower than the slab.
  opening('OP-196', 'Sump', 'PS-01', [17000, 4500, -2950], rect(600, 600), [], {
    blind: { depthMm: 200, from: 'top' },
    outcome: 'recess',
  }),

  // Roof.
  opening('OP-201', 'Cored hole', 'RS-01', [10000, 8000, 3925], round(80), ['C-16'], {
    overshootMm: 20,
  }),
  opening('OP-202', 'Vent stack opening', 'RS-01', [2000, 9000, 3925], round(160), ['VP-02'], {
    overshootMm: 20,
  }),
];

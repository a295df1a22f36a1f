import { BANK_PLACES, DUCT_BANK, RISERS } from './openings.ts';
import type { PieceDim, RunDim, SectionDim, ServiceOutcome, V3 } from './types.ts';

const tube = (diameterMm: number, boreMm: number): SectionDim => ({
  type: 'circle',
  diameterMm,
  boreMm,
});
const solid = (diameterMm: number): SectionDim => ({ type: 'circle', diameterMm });
const rect = (widthMm: number, heightMm: number): SectionDim => ({
  type: 'rectangle',
  widthMm,
  heightMm,
});

const ALONG_X: V3 = [1, 0, 0];
const ALONG_Y: V3 = [0, 1, 0];

function segment(key: string, from: V3, to: V3, outcome: ServiceOutcome = 'clear'): PieceDim {
  return { key, role: 'segment', from, to, outcome };
}

function fitting(key: string, from: V3, to: V3, outcome: ServiceOutcome = 'clear'): PieceDim {
  return { key, role: 'fitting', from, to, outcome };
}

type Extra = Partial<
  Pick<RunDim, 'refIn' | 'folded' | 'unopenedIn' | 'ports' | 'withoutBody' | 'storey' | 'system'>
>;

function run(
  ref: string,
  form: RunDim['form'],
  section: SectionDim,
  widthDirection: V3,
  pieces: readonly PieceDim[],
  extra: Extra = {},
): RunDim {
  return {
    ref,
    name: `${NAMES[form]} ${ref}`,
    form,
    section,
    widthDirection,
    pieces,
    refIn: 'name',
    storey: '00',
    system: SYSTEMS[form],
    unopenedIn: [],
    ...extra,
  };
}

const NAMES: Record<RunDim['form'], string> = {
  tray: 'Cable tray',
  ladder: 'Cable ladder',
  trunking: 'Cable trunking',
  conduit: 'Conduit',
  cable: 'Cable',
  duct: 'Ventilation duct',
  pipe: 'Pipe',
};

const SYSTEMS: Record<RunDim['form'], string> = {
  tray: 'Cable ways',
  ladder: 'Cable ways',
  trunking: 'Cable ways',
  conduit: 'Cable ways',
  cable: 'Low voltage',
  duct: 'Ventilation',
  pipe: 'Storm water',
};

/** The tray through the skew wall, square to it, 1.5 m to either side of [13360, 7000]. */
const SKEW_NORMAL = {
  x: 3750 / Math.hypot(1500, 3750),
  y: -1500 / Math.hypot(1500, 3750),
} as const;
function besideSkewWall(distanceMm: number): V3 {
  return [13360 + SKEW_NORMAL.x * distanceMm, 7000 + SKEW_NORMAL.y * distanceMm, 3000];
}

const bankDucts = BANK_PLACES.map((place) =>
  run(
    place.ref,
    'conduit',
    tube(DUCT_BANK.outsideMm, DUCT_BANK.boreMm),
    ALONG_X,
    [segment('1', [place.xMm, -1500, place.zMm], [place.xMm, 600, place.zMm], 'through')],
    { storey: 'B1', refIn: place.row === 1 ? 'name' : 'tag' },
  ),
);

const frameDucts = (
  [
    ['D-09', 2850, -1100],
    ['D-10', 3150, -1100],
    ['D-11', 2850, -1300],
    ['D-12', 3150, -1300],
  ] as const
).map(([ref, y, z]) =>
  run(
    ref,
    'conduit',
    tube(110, 103),
    ALONG_Y,
    [segment('1', [17000, y, z], [19500, y, z], 'through')],
    { storey: 'B1' },
  ),
);

const riserConduits = Array.from({ length: RISERS.count }, (_, index) => {
  const y = RISERS.firstY + index * RISERS.pitchMm;
  return run(
    `V-${String(index + 1).padStart(2, '0')}`,
    'conduit',
    tube(RISERS.outsideMm, RISERS.boreMm),
    ALONG_X,
    [segment('1', [RISERS.x, y, -800], [RISERS.x, y, 500], 'through')],
    { refIn: 'property set' },
  );
});

const transformerCables = [1900, 2000, 2100].map((y, index) =>
  segment(`L${index + 1}`, [13500, y, 800], [16000, y, 800], 'through'),
);

export const RUNS: readonly RunDim[] = [
  // Trays and ladders.
  run(
    'R-01',
    'tray',
    rect(600, 60),
    ALONG_Y,
    [
      segment('1', [1500, 2000, 3000], [6000, 2000, 3000]),
      fitting('joint', [6000, 2000, 3000], [6300, 2000, 3000]),
      segment('2', [6300, 2000, 3000], [12000, 2000, 3000], 'through'),
    ],
    { folded: true, ports: true },
  ),
  // Joined inside the wall: three elements, one crossing.
  run(
    'R-02',
    'ladder',
    rect(400, 100),
    ALONG_Y,
    [
      segment('1', [1500, 3400, 3000], [8950, 3400, 3000], 'through'),
      fitting('joint', [8950, 3400, 3000], [9050, 3400, 3000], 'through'),
      segment('2', [9050, 3400, 3000], [13000, 3400, 3000], 'through'),
    ],
    { ports: true },
  ),
  run(
    'R-03',
    'tray',
    rect(300, 60),
    // So that the folded sheet is open upwards.
    [-1, 0, 0],
    [segment('1', [9800, 4000, 2700], [9800, 8500, 2700], 'through')],
    { folded: true, refIn: 'tag' },
  ),
  run(
    'R-04',
    'tray',
    rect(300, 60),
    ALONG_X,
    [segment('1', [15800, 4500, 2700], [15800, 8000, 2700], 'through')],
    { refIn: 'property set' },
  ),
  run(
    'R-05',
    'tray',
    rect(200, 60),
    [-SKEW_NORMAL.y, SKEW_NORMAL.x, 0],
    [segment('1', besideSkewWall(-1500), besideSkewWall(1500), 'through')],
  ),
  run('R-06', 'tray', rect(400, 60), ALONG_X, [
    segment('1', [11500, 8000, 3000], [11500, 11500, 3000], 'through'),
  ]),
  run(
    'R-07',
    'tray',
    rect(600, 60),
    ALONG_X,
    [
      segment('1', [10500, 800, 600], [10500, 800, -700], 'through'),
      fitting('bend', [10500, 800, -700], [10900, 800, -700]),
    ],
    { ports: true },
  ),
  run('R-08', 'ladder', rect(400, 100), ALONG_X, [
    segment('1', [12500, 800, -600], [12500, 800, 600], 'through'),
  ]),
  run(
    'R-09',
    'tray',
    rect(600, 60),
    ALONG_Y,
    [segment('1', [11000, 800, -700], [17000, 800, -700], 'through')],
    { storey: 'B1' },
  ),
  run(
    'R-10',
    'ladder',
    rect(300, 60),
    ALONG_Y,
    [segment('1', [10000, 3500, -700], [17000, 3500, -700], 'through')],
    { storey: 'B1', refIn: 'tag' },
  ),
  // Along walls, through none.
  run('R-11', 'tray', rect(200, 60), ALONG_X, [segment('1', [500, 1000, 3300], [500, 9000, 3300])]),
  run(
    'R-12',
    'tray',
    rect(300, 60),
    ALONG_Y,
    [segment('1', [9800, 5000, -700], [14000, 5000, -700])],
    { storey: 'B1' },
  ),
  run('R-13', 'tray', rect(300, 60), ALONG_X, [
    segment('1', [17400, 800, 3000], [17400, 4200, 3000]),
  ]),
  // Fixed flat to the west wall.
  run('TK-01', 'trunking', rect(50, 100), ALONG_X, [
    segment('1', [175, 4300, 1500], [175, 6000, 1500], 'touches'),
  ]),
  run('TK-02', 'trunking', rect(150, 100), ALONG_Y, [
    segment('1', [12000, 4000, 2800], [16500, 4000, 2800], 'through'),
  ]),

  // Conduits.
  run('C-01', 'conduit', tube(50, 44), ALONG_Y, [
    segment('1', [5000, 900, 1200], [10000, 900, 1200], 'through'),
  ]),
  run(
    'C-02',
    'conduit',
    tube(63, 57),
    ALONG_Y,
    [
      segment('1', [5000, 1300, 1200], [8960, 1300, 1200], 'through'),
      fitting('coupler', [8960, 1300, 1200], [9040, 1300, 1200], 'through'),
      segment('2', [9040, 1300, 1200], [10000, 1300, 1200], 'through'),
    ],
    { ports: true },
  ),
  run(
    'C-03',
    'conduit',
    tube(40, 34),
    ALONG_Y,
    [segment('1', [5000, 1600, 1200], [10000, 1600, 1200], 'through')],
    { unopenedIn: ['W-06'] },
  ),
  run('C-04', 'conduit', tube(32, 27), ALONG_Y, [
    segment('1', [5000, 2100, 1200], [9000, 2100, 1200], 'endsInside'),
  ]),
  ...(['C-05', 'C-06', 'C-07'] as const).map((ref, index) =>
    run(ref, 'conduit', tube(63, 57), ALONG_Y, [
      segment('1', [7000, 7330 + 120 * index, 2600], [10500, 7330 + 120 * index, 2600], 'through'),
    ]),
  ),
  run('C-08', 'conduit', tube(110, 103), ALONG_X, [
    segment('1', [12100, 5500, 2400], [12100, 7500, 2400], 'through'),
  ]),
  run('C-09', 'conduit', tube(50, 44), ALONG_X, [
    segment('1', [12535, 5500, 1500], [12535, 7000, 1500], 'through'),
  ]),
  run('C-10', 'conduit', tube(50, 44), ALONG_Y, [
    segment('1', [12000, 8000, 2600], [15500, 8000, 2600], 'through'),
  ]),
  run('C-11', 'conduit', tube(50, 44), ALONG_Y, [
    segment('1', [16000, 3000, 2600], [18800, 3000, 2600], 'through'),
  ]),
  run(
    'C-12',
    'conduit',
    tube(25, 20),
    ALONG_X,
    [segment('1', [7000, -600, 2800], [7000, 2500, 2800], 'through')],
    { unopenedIn: ['W-01'] },
  ),
  run(
    'C-13',
    'conduit',
    tube(90, 82),
    ALONG_Y,
    [segment('1', [7000, 1500, -1500], [10000, 1500, -1500], 'through')],
    { storey: 'B1' },
  ),
  run(
    'C-14',
    'conduit',
    tube(90, 82),
    ALONG_Y,
    [segment('1', [7000, 3000, -1500], [10000, 3000, -1500], 'through')],
    { storey: 'B1' },
  ),
  // Through the wet well wall and the west wall.
  run('C-15', 'conduit', tube(40, 34), ALONG_Y, [
    segment('1', [-3500, 3600, 800], [1500, 3600, 800], 'through'),
  ]),
  run(
    'C-16',
    'conduit',
    tube(32, 27),
    ALONG_X,
    [segment('1', [10000, 8000, 3000], [10000, 8000, 4600], 'through')],
    { storey: 'RF' },
  ),
  // Cast into the slab.
  run('C-17', 'conduit', tube(25, 20), ALONG_Y, [
    segment('1', [2000, 8000, -125], [6000, 8000, -125], 'within'),
  ]),
  run(
    'C-18',
    'conduit',
    tube(25, 20),
    ALONG_Y,
    [segment('1', [6000, 5000, 3200], [7000, 5000, 3200], 'noGeometry')],
    { withoutBody: true },
  ),
  run('C-19', 'conduit', tube(25, 20), ALONG_Y, [
    segment('1', [1000, 6500, 3400], [8000, 6500, 3400]),
    fitting('box', [8000, 6500, 3400], [8100, 6500, 3400]),
  ]),
  run('C-20', 'conduit', tube(25, 20), ALONG_X, [
    segment('1', [3000, 1000, 3500], [3000, 8500, 3500]),
  ]),
  ...bankDucts,
  run(
    'E-01',
    'conduit',
    tube(50, 44),
    ALONG_X,
    [segment('1', [12600, -1500, -1050], [12600, 600, -1050], 'through')],
    { storey: 'B1' },
  ),
  ...frameDucts,
  ...riserConduits,

  // Cables that are modelled one by one.
  run('TR1-LV', 'cable', solid(30), ALONG_Y, transformerCables, { refIn: 'tag' }),
  run('FA-01', 'cable', solid(15.2), ALONG_Y, [
    {
      key: '1',
      role: 'segment',
      from: [13000, 5000, 2000],
      via: [[15500, 5000, 2000]],
      to: [15500, 5000, 3000],
      outcome: 'through',
    },
  ]),
  run('EL-07', 'cable', solid(13.3), ALONG_Y, [
    segment('1', [2000, 7000, 3500], [7000, 7000, 3500]),
  ]),

  // Ventilation and pipes.
  run('VD-01', 'duct', rect(500, 300), ALONG_Y, [
    segment('1', [3000, 9200, 3300], [10800, 9200, 3300], 'through'),
  ]),
  run('VD-02', 'duct', rect(300, 300), ALONG_X, [
    segment('1', [6500, 9500, 3000], [6500, 10800, 3000], 'through'),
  ]),
  run(
    'PA-01',
    'pipe',
    tube(35, 32),
    ALONG_X,
    [segment('1', [10050, 4500, 2700], [10050, 8000, 2700], 'through')],
    { system: 'Compressed air' },
  ),
  run(
    'RM-01',
    'pipe',
    tube(324, 309),
    ALONG_Y,
    [
      segment('1', [-4000, 3000, 500], [2000, 3000, 500], 'through'),
      fitting('reducer', [2000, 3000, 500], [2300, 3000, 500]),
      segment('2', [2300, 3000, 500], [5000, 3000, 500]),
    ],
    { ports: true },
  ),
  run('VP-01', 'pipe', tube(110, 103), ALONG_X, [
    segment('1', [4000, 8500, 2500], [4000, 10600, 2500], 'through'),
  ]),
  run(
    'VP-02',
    'pipe',
    tube(110, 103),
    ALONG_X,
    [segment('1', [2000, 9000, 2000], [2000, 9000, 4800], 'through')],
    { storey: 'RF' },
  ),
  run(
    'DP-01',
    'pipe',
    tube(89, 83),
    ALONG_X,
    [segment('1', [17200, 5200, -2500], [17200, 5200, 400], 'through')],
    { unopenedIn: ['GS-01'] },
  ),
  run(
    'DR-01',
    'pipe',
    tube(110, 103),
    ALONG_X,
    [segment('1', [17000, 5000, -2500], [17000, 7500, -2500], 'through')],
    { unopenedIn: ['P-03'], storey: 'B1' },
  ),
];

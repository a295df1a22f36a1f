import type { HostDim, StoreyDim, V2 } from './types.ts';

/** The pumping station is invented: no such place exists. */
export const STATION = {
  name: 'Reedholm storm-water pumping station',
  number: 'RH-014',
  document: 'RH-014-SEAL-0001',
  date: '2026-03-02',
  revision: 'A',
} as const;

export const GROUND_LEVEL_MM = -150;
/** Highest storm-water level outside the pit. */
export const WATER_LEVEL_MM = -300;
/** Height of the finished ground floor above the datum of the site survey. */
export const DATUM_OF_ZERO_M = 12.4;

const GROUND_TOP = 0;
const GROUND_SLAB = 250;
const ROOF_UNDERSIDE = 3800;
const ROOF_SLAB = 250;
const PIT_FLOOR = -2800;
const PIT_SLAB = 300;
const PIT_WALL_HEIGHT = GROUND_TOP - GROUND_SLAB - PIT_FLOOR;

export const STOREYS: readonly StoreyDim[] = [
  { mark: 'B1', name: 'B1 Cable pit', elevationMm: PIT_FLOOR },
  { mark: '00', name: '00 Ground floor', elevationMm: GROUND_TOP },
  { mark: 'RF', name: 'RF Roof', elevationMm: ROOF_UNDERSIDE + ROOF_SLAB },
];

/** Grid: letters from west to east, numbers from south to north. */
export const GRID = {
  x: [
    { tag: 'A', atMm: 0 },
    { tag: 'B', atMm: 9000 },
    { tag: 'C', atMm: 14500 },
    { tag: 'D', atMm: 18000 },
  ],
  y: [
    { tag: '1', atMm: 0 },
    { tag: '2', atMm: 6000 },
    { tag: '3', atMm: 9925 },
  ],
} as const;

const ground = {
  storey: '00',
  baseMm: GROUND_TOP,
  heightMm: ROOF_UNDERSIDE - GROUND_TOP,
} as const;
const pit = { storey: 'B1', baseMm: PIT_FLOOR, heightMm: PIT_WALL_HEIGHT } as const;
const outerConcrete = {
  form: 'straight',
  material: 'Concrete C32/40',
  fireRating: null,
  isExternal: true,
  isLoadBearing: true,
  isCompartment: false,
} as const;
const compartment = {
  form: 'straight',
  material: 'Concrete blockwork',
  isExternal: false,
  isLoadBearing: false,
  isCompartment: true,
} as const;

/** The skew wall runs from the wall on line 2 to the north wall, ends cut along both. */
const SKEW_FROM: V2 = [13000, 6100];
const SKEW_TO: V2 = [14500, 9850];
const SKEW_THICKNESS = 150;
const skewHalfWidthMm =
  (SKEW_THICKNESS / 2) *
  (Math.hypot(SKEW_TO[0] - SKEW_FROM[0], SKEW_TO[1] - SKEW_FROM[1]) / (SKEW_TO[1] - SKEW_FROM[1]));

export const HOSTS: readonly HostDim[] = [
  {
    ...outerConcrete,
    ...ground,
    mark: 'W-01',
    name: 'South wall',
    from: [-150, 0],
    to: [18150, 0],
    thicknessMm: 300,
  },
  {
    ...outerConcrete,
    ...ground,
    mark: 'W-02',
    name: 'East wall',
    from: [18000, 150],
    to: [18000, 9850],
    thicknessMm: 300,
  },
  {
    ...outerConcrete,
    ...ground,
    mark: 'W-03',
    name: 'North wall, inner leaf',
    material: 'Concrete blockwork',
    from: [-150, 9925],
    to: [18150, 9925],
    thicknessMm: 150,
  },
  {
    ...outerConcrete,
    ...ground,
    mark: 'W-04',
    name: 'North wall, outer leaf',
    material: 'Brickwork',
    isLoadBearing: false,
    from: [-150, 10110],
    to: [18150, 10110],
    thicknessMm: 100,
  },
  {
    ...outerConcrete,
    ...ground,
    mark: 'W-05',
    name: 'West wall',
    from: [0, 150],
    to: [0, 9850],
    thicknessMm: 300,
  },
  {
    ...compartment,
    ...ground,
    mark: 'W-06',
    name: 'Pump hall to electrical rooms',
    fireRating: 'REI 120',
    from: [9000, 150],
    to: [9000, 9850],
    thicknessMm: 200,
  },
  {
    ...compartment,
    ...ground,
    mark: 'W-07',
    name: 'Switch room to control room',
    fireRating: 'REI 90',
    from: [9100, 6000],
    to: [17850, 6000],
    thicknessMm: 200,
  },
  {
    ...compartment,
    ...ground,
    mark: 'W-08',
    name: 'Switch room to transformer room',
    fireRating: 'REI 120',
    from: [14500, 150],
    to: [14500, 5900],
    thicknessMm: 250,
  },
  {
    ...compartment,
    ...ground,
    mark: 'W-09',
    name: 'Control room to battery room (skew)',
    fireRating: 'EI 60',
    from: SKEW_FROM,
    to: SKEW_TO,
    thicknessMm: SKEW_THICKNESS,
    footprint: [
      [SKEW_FROM[0] - skewHalfWidthMm, SKEW_FROM[1]],
      [SKEW_FROM[0] + skewHalfWidthMm, SKEW_FROM[1]],
      [SKEW_TO[0] + skewHalfWidthMm, SKEW_TO[1]],
      [SKEW_TO[0] - skewHalfWidthMm, SKEW_TO[1]],
    ],
  },
  {
    ...outerConcrete,
    ...pit,
    mark: 'P-01',
    name: 'Pit wall south (duct bank)',
    from: [8850, 0],
    to: [18150, 0],
    thicknessMm: 300,
  },
  {
    ...outerConcrete,
    ...pit,
    mark: 'P-02',
    name: 'Pit wall east',
    from: [18000, 150],
    to: [18000, 5850],
    thicknessMm: 300,
  },
  {
    ...outerConcrete,
    ...pit,
    mark: 'P-03',
    name: 'Pit wall north',
    from: [8850, 6000],
    to: [18150, 6000],
    thicknessMm: 300,
  },
  {
    ...outerConcrete,
    ...pit,
    mark: 'P-04',
    name: 'Pit wall west',
    from: [9000, 150],
    to: [9000, 5850],
    thicknessMm: 300,
  },
  {
    ...compartment,
    ...pit,
    mark: 'P-05',
    name: 'Pit cross wall',
    material: 'Concrete C32/40',
    fireRating: 'REI 120',
    from: [14500, 150],
    to: [14500, 5850],
    thicknessMm: 200,
  },
  {
    form: 'ring',
    mark: 'WW-01',
    name: 'Wet well wall',
    storey: '00',
    material: 'Concrete C32/40',
    fireRating: null,
    isExternal: true,
    isLoadBearing: true,
    isCompartment: false,
    baseMm: -5000,
    heightMm: 6000,
    centre: [-4000, 3000],
    outerRadiusMm: 2500,
    thicknessMm: 250,
  },
  {
    form: 'slab',
    predefined: 'BASESLAB',
    mark: 'PS-01',
    name: 'Pit base slab',
    storey: 'B1',
    material: 'Concrete C32/40',
    fireRating: null,
    isExternal: true,
    isLoadBearing: true,
    isCompartment: false,
    baseMm: PIT_FLOOR - PIT_SLAB,
    heightMm: PIT_SLAB,
    x: [8850, 18150],
    y: [-150, 6150],
  },
  {
    form: 'slab',
    predefined: 'FLOOR',
    mark: 'GS-01',
    name: 'Ground slab',
    storey: '00',
    material: 'Concrete C32/40',
    fireRating: 'REI 120',
    isExternal: false,
    isLoadBearing: true,
    isCompartment: true,
    baseMm: GROUND_TOP - GROUND_SLAB,
    heightMm: GROUND_SLAB,
    x: [-150, 18150],
    y: [-150, 10160],
  },
  {
    form: 'slab',
    predefined: 'ROOF',
    mark: 'RS-01',
    name: 'Roof slab',
    storey: 'RF',
    material: 'Concrete C32/40',
    fireRating: null,
    isExternal: true,
    isLoadBearing: true,
    isCompartment: false,
    baseMm: ROOF_UNDERSIDE,
    heightMm: ROOF_SLAB,
    x: [-150, 18150],
    y: [-150, 10160],
  },
];

export interface SpaceDim {
  readonly mark: string;
  readonly longName: string;
  readonly storey: 'B1' | '00';
  readonly outline: readonly V2[];
  readonly baseMm: number;
  readonly heightMm: number;
}

function box(x1: number, y1: number, x2: number, y2: number): readonly V2[] {
  return [
    [x1, y1],
    [x2, y1],
    [x2, y2],
    [x1, y2],
  ];
}

export const SPACES: readonly SpaceDim[] = [
  {
    mark: '001',
    longName: 'Pump hall',
    storey: '00',
    outline: box(150, 150, 8900, 9850),
    baseMm: 0,
    heightMm: 3800,
  },
  {
    mark: '002',
    longName: 'Switch room',
    storey: '00',
    outline: box(9100, 150, 14375, 5900),
    baseMm: 0,
    heightMm: 3800,
  },
  {
    mark: '003',
    longName: 'Transformer room',
    storey: '00',
    outline: box(14625, 150, 17850, 5900),
    baseMm: 0,
    heightMm: 3800,
  },
  {
    mark: '004',
    longName: 'Control room',
    storey: '00',
    outline: [
      [9100, 6100],
      [SKEW_FROM[0] - skewHalfWidthMm, 6100],
      [SKEW_TO[0] - skewHalfWidthMm, 9850],
      [9100, 9850],
    ],
    baseMm: 0,
    heightMm: 3800,
  },
  {
    mark: '005',
    longName: 'Battery room',
    storey: '00',
    outline: [
      [SKEW_FROM[0] + skewHalfWidthMm, 6100],
      [17850, 6100],
      [17850, 9850],
      [SKEW_TO[0] + skewHalfWidthMm, 9850],
    ],
    baseMm: 0,
    heightMm: 3800,
  },
  {
    mark: 'B01',
    longName: 'Cable pit west',
    storey: 'B1',
    outline: box(9150, 150, 14400, 5850),
    baseMm: PIT_FLOOR,
    heightMm: PIT_WALL_HEIGHT,
  },
  {
    mark: 'B02',
    longName: 'Cable pit east',
    storey: 'B1',
    outline: box(14600, 150, 17850, 5850),
    baseMm: PIT_FLOOR,
    heightMm: PIT_WALL_HEIGHT,
  },
];

/** A host by its mark; the dimensions name only hosts that exist. */
export function hostOf(mark: string): HostDim {
  const host = HOSTS.find((candidate) => candidate.mark === mark);
  if (host === undefined) throw new Error(`The dimensions name no host ${mark}.`);
  return host;
}

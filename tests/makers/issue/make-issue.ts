import { makeQuery } from '../../../src/basics/query.ts';
import type { Cable, CableMatch, CableOutcome } from '../../../src/model/cable.ts';
import type { Issue } from '../../../src/model/issue.ts';
import type { Penetration } from '../../../src/model/penetration.ts';
import { Range } from '../../../src/model/range.ts';
import type { Check, Seal } from '../../../src/model/seal.ts';
import { Settings } from '../../../src/model/settings.ts';
import { cable } from '../schedule/cable.ts';
import { makeCrossing, makePenetration } from './make-penetration.ts';
import { gridFillers, makeSeal, placed } from './make-seal.ts';

/** Texts as a hostile drawing might hold them. */
export const HOSTILE = [
  '=HYPERLINK("http://example.invalid","x")',
  '+1+1',
  '-2+3',
  '@SUM(1)',
  '</t><script>alert(1)</script>&amp;"\'',
  'bell\u0007 null\u0000 escape\u001b end',
  '_x0041_ is no A',
  '\tTab first',
  'lone \ud800 surrogate',
] as const;

const SAMPLE_RANGE = Range.parse({
  name: 'Test range',
  sample: true,
  currency: 'EUR',
  fillers: [
    { name: '25/17', outsideMm: 25, boreMm: 17, lengthMm: 100, perPack: 20, source: 'invented' },
    { name: '18/10', outsideMm: 18, boreMm: 10, lengthMm: 100, perPack: 40, source: 'invented' },
  ],
  sealants: [
    {
      name: 'Sample sealant',
      containers: [
        { sizeMl: 310, price: 9.5 },
        { sizeMl: 600, kind: 'foil', price: 16.25 },
      ],
      source: 'invented',
    },
  ],
  consumables: [{ name: 'nozzle', unit: 'no.', perSeal: 1, price: 0.8, source: 'invented' }],
});

export function makeSettings(changes: object = {}): Settings {
  return Settings.parse({
    project: {
      name: 'Lakeside pumping station & outfall',
      number: 'LPS-042',
      documentNumber: 'LPS-042-SEAL-001',
    },
    issue: { revision: 'B', date: '2026-02-27', purpose: 'for tender' },
    ...changes,
  });
}

export function makeCable(ref: string, row: number, changes: Partial<Cable> = {}): Cable {
  return cable(ref, {
    id: `cables:Power:${ref}`,
    place: { fileKey: 'cables', sheet: 'Power', row },
    type: '4c 35 mm² Cu XLPE/SWA',
    cores: 4,
    sizeMm2: 35,
    diameterMm: 37,
    massKgPerM: 2.35,
    from: 'MCC-1',
    to: `P-${row}`,
    route: ['TR-01', 'D-110-3'],
    circuit: 'LV',
    current: 'AC',
    ...changes,
  });
}

export function makeCheck(name: string, changes: Partial<Check> = {}): Check {
  return {
    name,
    subject: 'fill',
    value: 0.18,
    unit: 'ratio',
    limit: 0.4,
    ratio: 0.45,
    verdict: 'met',
    missing: [],
    note: null,
    source: 'invented for a test',
    ...changes,
  };
}

const TUBES = [
  { name: '25/17', outsideMm: 25, boreMm: 17 },
  { name: '18/10', outsideMm: 18, boreMm: 10 },
];

/** Three cables of 37 mm in a round opening of 150 mm, tubes between. */
export function threeCableSeal(penetrationId: string, changes: Partial<Seal> = {}): Seal {
  const opening = { type: 'circle', diameterMm: 150 } as const;
  const items = ['P-101', 'P-102', 'P-103'].map((ref, at) => {
    const angle = Math.PI / 2 + (at * 2 * Math.PI) / 3;
    return placed({ ref, xMm: 34 * Math.cos(angle), yMm: 34 * Math.sin(angle), diameterMm: 37 });
  });
  return makeSeal(opening, items, {
    id: `${penetrationId}/annulus`,
    penetrationId,
    fillers: gridFillers(opening, items, TUBES),
    typeKey: 'three-37-in-150',
    ...changes,
  });
}

/**
 * An issue with every kind of thing the writers meet: openings, provisions, holes and nothing
 * provided; annulus and bore; designed, queried and none; queries of each weight; hostile texts.
 */
export function makeIssue(changes: Partial<Issue> = {}): Issue {
  const penetrations = makePenetrations();
  const seals = makeSeals();
  const cables = makeCables();
  const { matches, outcomes } = matchThem(cables);
  return {
    settings: makeSettings(),
    assumptions: [{ path: 'design.setBackMm', value: '20', source: 'common practice, no source' }],
    sources: makeSources(),
    penetrations,
    tags: new Map(penetrations.map(({ id }, at) => [id, `L01-${String(at + 1).padStart(4, '0')}`])),
    schedule: { cables, rows: [] },
    matches: { matches, outcomes },
    seals,
    takeOff: makeTakeOff(),
    ledger: makeLedger(),
    queries: makeQueries(),
    basis: [
      {
        setting: 'design.setBackMm',
        value: '20',
        unit: 'mm',
        source: 'assumed: common practice, no source',
        usedFor: 'seal design',
      },
      {
        setting: 'design.fillCode',
        value: 'NEC ch. 9',
        unit: '',
        source: 'project file',
        usedFor: 'seal design',
      },
      {
        setting: 'range: 25/17 (SAMPLE: invented, not to be built from)',
        value: '25 / 17 × 100',
        unit: 'mm',
        source: 'invented',
        usedFor: 'fillers and sealant',
      },
    ],
    unread: [
      { fileKey: 'plan', type: 'WIPEOUT', layer: 'A-ANNO', count: 3, reason: 'not understood' },
    ],
    range: SAMPLE_RANGE,
    ...changes,
  };
}

function makeSources(): Issue['sources'] {
  const sha256 = 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855';
  return [
    {
      key: 'arch',
      name: 'arch-rev-C.ifc',
      kind: 'ifc',
      schema: 'IFC4',
      sizeBytes: 1_234_567,
      sha256,
    },
    {
      key: 'cables',
      name: 'cable schedule (with a rather long file name) rev 7 FINAL.xlsx',
      kind: 'schedule',
      schema: 'xlsx',
      sizeBytes: 45_120,
      sha256,
    },
    {
      key: 'plan',
      name: 'pit-plan.dxf',
      kind: 'drawing',
      schema: 'AC1027',
      sizeBytes: 8_100,
      sha256,
    },
    {
      key: 'services',
      name: 'services.ifc',
      kind: 'ifc',
      schema: 'IFC2X3',
      sizeBytes: 9_876_543,
      sha256,
    },
  ];
}

function makePenetrations(): Penetration[] {
  const tray = makeCrossing('tray-1', {
    kind: 'carrier',
    carrierForm: 'tray',
    section: { type: 'rectangle', widthMm: 300, heightMm: 60 },
    boreMm: null,
  });
  return [
    makePenetration('pen-1', { crossings: [makeCrossing('cable-1', { kind: 'cable' })] }),
    makePenetration('pen-2', { crossings: [makeCrossing('cable-2', { kind: 'cable' })] }),
    makePenetration('pen-3', {
      kind: 'provision',
      shape: { type: 'rectangle', widthMm: 400, heightMm: 200 },
      crossings: [tray],
    }),
    makePenetration('pen-4', {
      kind: 'unopened',
      shape: null,
      openings: [],
      crossings: [makeCrossing('duct-1'), makeCrossing('duct-2', { offsetMm: [160, 0] })],
      where: {
        level: 'Pit',
        levelElevationMm: -3200,
        heightAboveLevelMm: 400,
        grid: null,
        spaces: { near: null, far: null },
        outside: null,
      },
    }),
    makePenetration('pen-5', {
      kind: 'hole',
      shape: null,
      crossings: [
        makeCrossing('pipe-1', {
          kind: 'pipe',
          section: null,
          references: [
            {
              text: HOSTILE[0],
              evidence: { fact: 'reference', text: '', place: { fileKey: 'arch' } },
            },
          ],
        }),
      ],
      references: HOSTILE.map((text) => ({
        text,
        evidence: { fact: 'reference', text, place: { fileKey: 'plan', id: '2F' } },
      })),
    }),
  ];
}

function makeSeals(): Seal[] {
  const water = { kind: 'water', headM: 3.2, side: 'far', rating: null, reason: 'below ground' };
  const wide = { type: 'rectangle', widthMm: 400, heightMm: 200 } as const;
  const tray = {
    ref: 'TR-01',
    xMm: 0,
    yMm: -40,
    outline: { type: 'rectangle', widthMm: 300, heightMm: 60, turns: 'none' },
    angleRad: 0,
    tube: null,
  } as const;
  const bore = { type: 'circle', diameterMm: 103.6 } as const;
  return [
    threeCableSeal('pen-1', {
      duties: [water as Seal['duties'][number]],
      checks: [
        makeCheck('fill'),
        makeCheck('water thrust on bond', {
          subject: 'water',
          value: 132.5,
          unit: 'kPa',
          limit: 100,
          ratio: 1.325,
          verdict: 'not met',
        }),
        makeCheck('fire evidence', {
          subject: 'fire',
          value: null,
          limit: null,
          ratio: null,
          verdict: 'not assessed',
          missing: ['a fire record for EI 120', 'density of the wall'],
        }),
      ],
    }),
    threeCableSeal('pen-2', { checks: [makeCheck('fill')] }),
    makeSeal(wide, [tray], {
      id: 'pen-3/annulus',
      penetrationId: 'pen-3',
      fillers: gridFillers(wide, [tray], TUBES.slice(0, 1)),
      typeKey: 'tray',
      faces: 2,
      checks: [makeCheck('fill')],
    }),
    makeSeal(bore, [placed({ ref: 'P-104', xMm: 10, yMm: -12, diameterMm: 37, tubeMm: 25 })], {
      id: 'pen-4/bore/duct-1',
      penetrationId: 'pen-4',
      path: 'bore',
      of: 'duct-1',
      openingBasis: 'bore',
      typeKey: 'bore-1',
    }),
    makeSeal({ type: 'circle', diameterMm: 160 }, [], {
      id: 'pen-4/annulus',
      penetrationId: 'pen-4',
      openingBasis: 'needed',
      state: 'query',
      reason: 'The opening has to be formed first; its size is a proposal.',
      arrangement: null,
      sealant: null,
      spare: null,
      fillRatio: null,
      typeKey: 'needed',
    }),
    makeSeal({ type: 'circle', diameterMm: 1 }, [], {
      id: 'pen-5/annulus',
      penetrationId: 'pen-5',
      opening: null,
      openingBasis: 'unknown',
      state: 'none',
      reason: HOSTILE[1],
      arrangement: null,
      sealant: null,
      spare: null,
      fillRatio: null,
      freeAreaMm2: null,
      typeKey: 'none',
    }),
  ];
}

function makeCables(): Cable[] {
  const plain = ['P-101', 'P-102', 'P-103', 'P-104'].map((ref, at) => makeCable(ref, at + 5));
  const hostile = HOSTILE.map((ref, at) =>
    makeCable(ref, at + 20, { id: `cables:Power:hostile-${at}`, remarks: ref, type: ref }),
  );
  return [...plain, ...hostile];
}

function matchThem(cables: readonly Cable[]): {
  matches: CableMatch[];
  outcomes: CableOutcome[];
} {
  const matches = cables.slice(0, 4).map(
    (cable, at): CableMatch => ({
      cableId: cable.id,
      penetrationId: at < 3 ? 'pen-1' : 'pen-4',
      crossingId: at < 3 ? null : 'duct-1',
      confidence: 0.98,
      reasons: ['reference on the opening', 'the route names it'],
    }),
  );
  const outcomes = cables.map((cable, at): CableOutcome => {
    if (at < 4) return { cableId: cable.id, outcome: 'matched', reason: null, candidates: [] };
    return at % 2 === 0
      ? {
          cableId: cable.id,
          outcome: 'queried',
          reason: 'two penetrations are as likely',
          candidates: [
            { penetrationId: 'pen-2', confidence: 0.61, reasons: ['near'] },
            { penetrationId: 'pen-3', confidence: 0.6, reasons: ['near'] },
          ],
        }
      : {
          cableId: cable.id,
          outcome: 'noPenetration',
          reason: 'its route passes no host',
          candidates: [],
        };
  });
  return { matches, outcomes };
}

function makeTakeOff(): Issue['takeOff'] {
  const line = (area: string, netMl: number) => ({
    area,
    sealant: 'Sample sealant',
    seals: 2,
    netMl,
    allowancesMl: netMl * 0.21,
    perOpening: [
      { sizeMl: 310, count: 3 },
      { sizeMl: 600, count: 4 },
    ],
    pooled: [
      { sizeMl: 310, count: 1 },
      { sizeMl: 600, count: 4 },
    ],
  });
  return {
    sealants: [line('Level 01', 1777.7), line('Pit', 288.9)],
    fillers: [
      { area: 'Level 01', filler: '25/17', lengthMm: 100, whole: 40, split: 2, packs: 3 },
      { area: 'Level 01', filler: '18/10', lengthMm: 100, whole: 12, split: 0, packs: 1 },
      { area: 'Pit', filler: '25/17', lengthMm: 100, whole: 5, split: 1, packs: 1 },
    ],
    consumables: [
      { area: 'Level 01', name: 'nozzle', unit: 'no.', quantity: 7 },
      { area: 'Pit', name: 'nozzle', unit: 'no.', quantity: 2 },
    ],
  };
}

function makeLedger(): Issue['ledger'] {
  const entry = <Outcome extends string>(id: string, outcome: Outcome) => ({
    id: `services:${id}`,
    ref: { fileKey: 'services', id },
    name: id,
    outcome,
    reason: null,
    penetrationIds: [],
  });
  return {
    services: [
      entry('s1', 'through'),
      entry('s2', 'through'),
      entry('s3', 'endsInside'),
      entry('s4', 'clear'),
      entry('s5', 'noGeometry'),
    ],
    openings: [entry('o1', 'inPenetration'), entry('o2', 'recess'), entry('o3', 'doorsWindows')],
  };
}

function makeQueries(): Issue['queries'] {
  return [
    makeQuery('opening-too-small', {
      about: 'pen-3',
      penetrationId: 'pen-3',
      text: 'The opening of 400 × 200 mm leaves 10 mm beside the tray TR-01.',
      why: 'A nozzle needs more room; the seal can’t be made as designed.',
      settles: 'A wider opening, or the tray moved 30 mm.',
      evidence: [
        {
          fact: 'size',
          text: 'opening profile 400 × 200',
          place: { fileKey: 'arch', id: '2O2Fr$t4X7Zf8NOew3FLOH' },
        },
      ],
    }),
    makeQuery('cable-match-doubtful', {
      about: 'cables:Power:hostile-0',
      text: `Cable ${HOSTILE[0]} may pass either of two penetrations.`,
      why: 'A cable in the wrong seal leaves the right one too small.',
      settles: 'Its route, or a label on site.',
      evidence: HOSTILE.map((text) => ({
        fact: 'reference',
        text,
        place: { fileKey: 'cables', sheet: 'Power', row: 20 },
      })),
    }),
    makeQuery('drawing-content-unread', {
      about: 'plan',
      text: HOSTILE[2],
      why: 'Something of weight may lie beneath.',
      settles: 'A drawing without it.',
    }),
  ];
}

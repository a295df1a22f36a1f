import type { Shape } from '../../../src/geometry/shape.ts';
import type { PlacedBody } from '../../../src/model/arrangement.ts';
import type { Penetration } from '../../../src/model/penetration.ts';
import type { Seal } from '../../../src/model/seal.ts';
import { HOSTILE, threeCableSeal } from './make-issue.ts';
import { makeCrossing, makePenetration } from './make-penetration.ts';
import { gridFillers, makeSeal, placed } from './make-seal.ts';

export interface SectionCase {
  readonly name: string;
  readonly seal: Seal;
  readonly tag: string;
  readonly tags: readonly string[];
  readonly penetration: Penetration;
}

const TUBES = [
  { name: '25/17', outsideMm: 25, boreMm: 17 },
  { name: '18/10', outsideMm: 18, boreMm: 10 },
  { name: '14/7', outsideMm: 14, boreMm: 7 },
];

function grid(
  columns: number,
  rows: number,
  stepMm: number,
  diameterMm: number,
  ref: (at: number) => string,
  tubeMm?: number,
): PlacedBody[] {
  return Array.from({ length: columns * rows }, (_, at) => {
    const column = at % columns;
    const row = Math.floor(at / columns);
    return placed({
      ref: ref(at),
      xMm: (column - (columns - 1) / 2) * stepMm,
      yMm: (row - (rows - 1) / 2) * stepMm,
      diameterMm,
      ...(tubeMm === undefined ? {} : { tubeMm }),
    });
  });
}

function tray(ref: string, yMm: number, angleRad = 0): PlacedBody {
  return {
    ref,
    xMm: 0,
    yMm,
    outline: { type: 'rectangle', widthMm: 300, heightMm: 60, turns: 'none' },
    angleRad,
    tube: null,
  };
}

function sealed(opening: Shape, items: readonly PlacedBody[], changes: Partial<Seal> = {}): Seal {
  return makeSeal(opening, items, { fillers: gridFillers(opening, items, TUBES), ...changes });
}

/** Seals as unlike each other as they come, for drawing: each must read well. */
export function sectionCases(): SectionCase[] {
  const wall = makePenetration('p');
  const one = (
    name: string,
    seal: Seal,
    penetration = wall,
    tags: readonly string[] = ['L01-0007'],
  ): SectionCase => ({ name, seal, tag: tags[0] ?? '', tags, penetration });
  const slab = makePenetration('p', {
    frame: { originMm: [0, 0, 0], axis: [0, 0, -1], right: [1, 0, 0], up: [0, 1, 0] },
    hosts: wall.hosts.map((host) => ({ ...host, kind: 'slab', name: 'S-03', thicknessMm: 300 })),
    thicknessMm: 300,
  });
  const duct = makePenetration('p', { crossings: [makeCrossing('duct-1')] });
  return [
    one('three cables in a round opening', threeCableSeal('p')),
    one(
      'many thin cables in a wide opening',
      sealed(
        { type: 'rectangle', widthMm: 600, heightMm: 200 },
        grid(15, 4, 38, 16, (at) => `C-${1000 + at}`, 18),
      ),
      wall,
      Array.from({ length: 60 }, (_, at) => `L01-${String(at + 7).padStart(4, '0')}`),
    ),
    one(
      'two trays in an upright opening of a slab',
      sealed({ type: 'rectangle', widthMm: 400, heightMm: 600 }, [
        tray('TR-01', 150),
        tray('TR-02 with a long name that goes on', -150),
      ]),
      slab,
    ),
    one(
      'one cable in the bore of a duct',
      sealed(
        { type: 'circle', diameterMm: 103.6 },
        [placed({ ref: 'P-104', xMm: 8, yMm: -20, diameterMm: 37 })],
        { path: 'bore', of: 'duct-1', openingBasis: 'bore' },
      ),
      duct,
    ),
    one(
      'slot with a row of ducts, both faces',
      sealed(
        { type: 'slot', lengthMm: 700, widthMm: 160 },
        grid(4, 1, 150, 110, (at) => `D-${at + 1}`),
        {
          faces: 2,
          fillers: [],
          fillerQuantities: [{ name: '25/17', whole: 10, split: 0, lengthMm: 60, sets: 2 }],
        },
      ),
    ),
    one(
      'L-shaped opening with an island',
      makeSeal(
        {
          type: 'polygon',
          pointsMm: [
            [-150, -100],
            [150, -100],
            [150, 0],
            [0, 0],
            [0, 120],
            [-150, 120],
          ],
          islandsMm: [
            [
              [60, -70],
              [110, -70],
              [110, -30],
              [60, -30],
            ],
          ],
        },
        [
          placed({ ref: 'A', xMm: -100, yMm: 60, diameterMm: 50 }),
          placed({ ref: 'B', xMm: -60, yMm: -50, diameterMm: 40 }),
          {
            ...tray('duct', 0),
            xMm: 5,
            yMm: -50,
            outline: { type: 'rectangle', widthMm: 60, heightMm: 30, turns: 'free' },
            angleRad: 0.4,
          },
        ],
      ),
    ),
    one(
      'oval bore, not designed',
      makeSeal({ type: 'oval', lengthMm: 160, widthMm: 140 }, [], {
        state: 'query',
        reason:
          'Not found within the effort allowed: 5 cables of 37 mm with 4 mm between them; try the normal effort, a larger duct, or two ducts.',
        arrangement: null,
        sealant: null,
        spare: null,
        fillRatio: null,
      }),
    ),
    one(
      'two ducts where the model has them, not designed',
      makeSeal({ type: 'rectangle', widthMm: 400, heightMm: 200 }, [], {
        state: 'query',
        reason: 'The size of the second duct is nominal; its outside is not known.',
        arrangement: null,
        bodies: ['D-1', 'D-2'].map((ref) => ({
          ref,
          outline: { type: 'circle', diameterMm: 110 },
        })),
        sealant: null,
        spare: null,
        fillRatio: null,
      }),
      makePenetration('p', {
        crossings: [
          makeCrossing('d1', { offsetMm: [-90, 10] }),
          makeCrossing('d2', { offsetMm: [80, -20] }),
        ],
      }),
    ),
    one(
      'tiny opening with hostile texts',
      sealed(
        { type: 'circle', diameterMm: 22 },
        [placed({ ref: HOSTILE[4], xMm: 0, yMm: 0, diameterMm: 8 })],
        { sealant: null },
      ),
      makePenetration('p', {
        hosts: wall.hosts.map((host) => ({ ...host, name: HOSTILE[4], fireRating: HOSTILE[5] })),
        where: { ...wall.where, level: HOSTILE[6] },
      }),
      [...HOSTILE],
    ),
    one(
      'shaft with large pipes',
      makeSeal({ type: 'rectangle', widthMm: 2400, heightMm: 1200 }, [
        placed({ ref: 'CHW-F', xMm: -800, yMm: 0, diameterMm: 600 }),
        placed({ ref: 'CHW-R', xMm: 0, yMm: 0, diameterMm: 600 }),
        placed({ ref: 'a', xMm: 500, yMm: 300, diameterMm: 12 }),
        placed({ ref: 'b', xMm: 540, yMm: 300, diameterMm: 12 }),
        placed({ ref: 'c', xMm: 580, yMm: 300, diameterMm: 12 }),
        placed({ ref: 'd', xMm: 620, yMm: 300, diameterMm: 12 }),
      ]),
      slab,
    ),
  ];
}

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { findInDrawings } from '../../../../src/find/drawings/find-in-drawings.ts';
import { Settings } from '../../../../src/model/settings.ts';
import { readDxf } from '../../../../src/read/dxf/read-dxf.ts';
import {
  dxfText,
  encode,
  lineTags,
  type Tag,
  textTags,
  wallTags,
} from '../../../makers/dxf/dxf-text.ts';

const find = (
  entities: readonly Tag[],
  own: object = {},
  fileSettings = {},
  blocks: readonly Tag[] = [],
) => {
  const settings = Settings.parse(own);
  const bytes = encode(dxfText({ entities, blocks }));
  const { result } = readDxf({ key: 'd', name: 'plan.dxf', bytes }, fileSettings, settings);
  return findInDrawings([result.drawing], settings);
};
const wall = wallTags('A-WALL', 0, 9000, 0, 200);
const run = (x: number, more: readonly Tag[] = [], layer = 'E-CNDT') =>
  lineTags(layer, [x, -1000], [x, 1200], more);
const circle = (layer: string, x: number, y: number, diameter: number): Tag[] => [
  [0, 'CIRCLE'],
  [8, layer],
  [10, x],
  [20, y],
  [40, diameter / 2],
];
const frame = (layer: string, [x0, y0]: [number, number], [x1, y1]: [number, number]): Tag[] => [
  [0, 'LWPOLYLINE'],
  [8, layer],
  [90, 4],
  [70, 1],
  ...([
    [x0, y0],
    [x1, y0],
    [x1, y1],
    [x0, y1],
  ].flatMap(([x = 0, y = 0]) => [
    [10, x],
    [20, y],
  ]) as Tag[]),
];
const codes = (found: ReturnType<typeof find>) => found.queries.map(({ code }) => code);

describe('queries', () => {
  test('two sizes as near as each other', () => {
    const found = find([
      ...wall,
      ...run(1000),
      ...textTags('T', [1050, 500], '100 dia'),
      ...textTags('T', [1050, 340], '150 dia'),
    ]);
    expect(codes(found)).toContain('size-conflict');
  });

  test('no size at all', () => {
    expect(codes(find([...wall, ...run(1000)]))).toContain('size-unknown');
  });

  test('a nominal size', () => {
    const found = find([...wall, ...run(1000), ...textTags('T', [1050, 500], 'DN 100')]);
    expect(codes(found)).toContain('size-nominal');
  });

  test('an outside diameter is no nominal one', () => {
    const found = find([...wall, ...run(1000), ...textTags('T', [1050, 500], 'OD 110')]);
    expect(codes(found)).not.toContain('size-nominal');
    expect(found.result.penetrations[0]?.crossings[0]?.sizeBasis).toBe('outside');
  });

  test('a service that ends inside, and one that lies within', () => {
    const found = find([
      ...wall,
      ...lineTags('E-CNDT', [1000, -1000], [1000, 100]),
      ...lineTags('E-CNDT', [3000, 100], [5000, 100]),
    ]);
    expect(codes(found)).toEqual(
      expect.arrayContaining(['service-ends-inside', 'service-within-host']),
    );
    expect(found.result.penetrations).toEqual([]);
  });

  test('a plan without a level', () => {
    const parts = [...wall, ...run(1000)];
    expect(codes(find(parts))).toContain('drawing-level-unknown');
    expect(codes(find(parts, {}, { elevationMm: 3600, level: 'L1' }))).not.toContain(
      'drawing-level-unknown',
    );
  });
});

describe('the ledger', () => {
  test('has one entry for each entity on a service layer and says what became of it', () => {
    const { ledger } = find(
      [
        ...wall,
        ...run(1000),
        ...lineTags('E-CNDT', [2000, -1000], [2000, 100]),
        ...lineTags('E-CNDT', [3000, 100], [4000, 100]),
        ...lineTags('E-CNDT', [5000, 1000], [6000, 1000]),
        ...run(7000, [], 'E-CABL'),
        ...textTags('E-CNDT', [8000, 3000], 'a note'),
      ],
      { services: { excludeLayers: ['E-CABL'] } },
    ).result;
    const outcomes = ledger.services.map(({ outcome }) => outcome).sort();
    expect(outcomes).toEqual(['clear', 'endsInside', 'excluded', 'through', 'within']);
    for (const { outcome, reason, penetrationIds } of ledger.services) {
      expect(penetrationIds.length > 0).toBe(outcome === 'through');
      expect(reason === null).toBe(outcome === 'through');
    }
  });

  test('both pieces of a line that is broken at the wall go through', () => {
    const { ledger, penetrations } = find([
      ...wall,
      ...lineTags('E-CNDT', [1000, -1000], [1000, 0]),
      ...lineTags('E-CNDT', [1000, 200], [1000, 1000]),
    ]).result;
    expect(penetrations).toHaveLength(1);
    expect(ledger.services.map(({ outcome }) => outcome)).toEqual(['through', 'through']);
  });
});

describe('frames and ids', () => {
  test('the height comes from the level, the service height and the label', () => {
    const view = { view: 'plan', elevationMm: 3600, serviceHeightMm: 2700 };
    const plain = find([...wall, ...run(1000)], {}, { views: [view] }).result.penetrations[0];
    expect(plain?.frame.originMm).toEqual([1000, 100, 6300]);
    expect(plain?.where.heightAboveLevelMm).toBe(2700);
    const labelled = find(
      [...wall, ...run(1000), ...textTags('T', [1050, 500], '100 dia CL +1.200')],
      {},
      { views: [view] },
    ).result.penetrations[0];
    expect(labelled?.frame.originMm).toEqual([1000, 100, 4800]);
  });

  test('a count without places gives crossings without offsets, numbered', () => {
    const [penetration] = find([
      ...wall,
      ...run(1000),
      ...textTags('T', [1050, 500], '4 no. 100 ducts'),
    ]).result.penetrations;
    expect(penetration?.crossings.map(({ offsetMm }) => offsetMm)).toEqual([
      null,
      null,
      null,
      null,
    ]);
    expect(penetration?.crossings.map(({ id }) => id.slice(-2))).toEqual(['#1', '#2', '#3', '#4']);
  });

  test('a cable on a tray is carried by it, in one penetration', () => {
    const [penetration, ...others] = find([
      ...wall,
      ...run(1000, [], 'E-CABL-TRAY'),
      ...run(1300, [], 'E-CABL-TRAY'),
      ...textTags('T', [1400, 500], '300x50'),
      ...run(1100, [], 'E-CABL'),
    ]).result.penetrations;
    expect(others).toEqual([]);
    const tray = penetration?.crossings.find(({ kind }) => kind === 'carrier');
    const cable = penetration?.crossings.find(({ kind }) => kind === 'cable');
    expect(cable?.carriedBy).toBe(tray?.id);
  });

  test('the order of entities in the file changes nothing', () => {
    const parts: Tag[][] = [
      ...[0, 200].map((y) => lineTags('A-WALL', [0, y], [9000, y])),
      ...[1000, 2500, 4000].map((x) => run(x)),
      ...[1000, 2500, 4000].map((x, i) =>
        textTags('T', [x + 50, 500], `D-${i} ${50 + 25 * i} dia`),
      ),
      lineTags('A-WALL', [0, 3000], [9000, 3000]),
    ];
    const usual = find(parts.flat()).result;
    expect(usual.penetrations).toHaveLength(3);
    fc.assert(
      fc.property(fc.shuffledSubarray(parts, { minLength: parts.length }), (shuffled) => {
        expect(find(shuffled.flat()).result).toEqual(usual);
      }),
      { seed: 13, numRuns: 40 },
    );
  });
});

test('the number of services changes nothing for the others: each is found alone as among many', () => {
  const many = Array.from({ length: 40 }, (_, i) => 200 + i * 220);
  const all = find([...wall, ...many.flatMap((x) => run(x))]).result.penetrations;
  expect(all.map(({ frame }) => frame.originMm[0]).sort((a, b) => a - b)).toEqual(many);
});

describe('readings that disagree', () => {
  const circle = (x: number, y: number, diameter: number): Tag[] => [
    [0, 'CIRCLE'],
    [8, 'E-DUCT'],
    [10, x],
    [20, y],
    [40, diameter / 2],
  ];
  const face = wallTags('S-WALL', 0, 4000, 0, 2500);

  test('a circle drawn in one size and labelled in another', () => {
    const found = find(
      [...face, ...circle(1000, 1000, 100), ...textTags('T', [1100, 1000], '150 dia')],
      {},
      { view: 'elevation' },
    );
    expect(found.result.penetrations).toHaveLength(1);
    expect(codes(found)).toContain('size-conflict');
  });

  test('a circle labelled in its own size raises none', () => {
    const found = find(
      [...face, ...circle(1000, 1000, 150), ...textTags('T', [1100, 1000], '150 dia')],
      {},
      { view: 'elevation' },
    );
    expect(codes(found)).not.toContain('size-conflict');
  });
});

describe('layers whose names tell nothing', () => {
  const layerQueries = (found: ReturnType<typeof find>) =>
    found.queries.filter(({ id }) => id.startsWith('drawing-layers-unknown:d/layer '));
  // A known service, so that nothing is guessed from the lines.
  const known = [...wall, ...run(8000)];

  test('one query a layer says how many lines go through, what stands on them and what to set', () => {
    const found = find([
      ...known,
      ...run(1000, [], 'X-77'),
      ...run(3000, [], 'X-77'),
      ...lineTags('X-77', [4000, -1000], [5000, -1000]),
      ...textTags('T', [1050, 500], '%%c110 C-07'),
      ...run(6000, [], 'Y-78'),
    ]);
    expect(layerQueries(found).map(({ id }) => id)).toEqual([
      'drawing-layers-unknown:d/layer X-77',
      'drawing-layers-unknown:d/layer Y-78',
    ]);
    const [query] = layerQueries(found);
    expect(query?.severity).toBe('ask');
    expect(query?.text).toContain('2 lines go through');
    expect(query?.text).toContain('Ø110 C-07');
    expect(query?.settles).toContain('services.layers');
    expect(query?.settles).toContain('{ pattern: "X-77", kind: conduit }');
    expect(found.result.penetrations).toHaveLength(1);
  });

  test('a line in two pieces that stop at the faces, and a polyline with a bend, go through too', () => {
    const found = find([
      ...known,
      ...lineTags('X-77', [1000, -1000], [1000, 0]),
      ...lineTags('X-77', [1000, 200], [1000, 1000]),
      [0, 'LWPOLYLINE'],
      [8, 'Y-78'],
      [90, 3],
      [70, 0],
      [10, 3000],
      [20, -800],
      [10, 3000],
      [20, 900],
      [10, 3900],
      [20, 900],
    ]);
    expect(layerQueries(found).map(({ text }) => /[0-9]+ lines? go/.exec(text)?.[0])).toEqual([
      '2 lines go',
      '1 line go',
    ]);
  });

  test('shading from face to face, lines along a wall and lines that end at it raise none', () => {
    const strokes = Array.from({ length: 60 }, (_, i) =>
      lineTags('X-77', [100 + i * 50, 0], [200 + i * 50, 200]),
    );
    const found = find([
      ...known,
      ...strokes.flat(),
      ...lineTags('X-77', [100, 100], [7000, 100]),
      ...lineTags('X-77', [6000, -2000], [6000, 0]),
      ...lineTags('X-77', [100, 900], [7000, 900]),
    ]);
    expect(layerQueries(found)).toEqual([]);
  });

  test("the project's word settles it, one way or the other", () => {
    const parts = [...known, ...run(1000, [], 'X-77')];
    const used = find(parts, { services: { layers: [{ pattern: 'X-77', kind: 'conduit' }] } });
    expect(layerQueries(used)).toEqual([]);
    expect(used.result.penetrations).toHaveLength(2);
    const left = find(parts, { services: { excludeLayers: ['X-77'] } });
    expect(layerQueries(left)).toEqual([]);
    expect(left.result.penetrations).toHaveLength(1);
  });

  test('two views that show one line ask once', () => {
    const found = find(
      [...known, ...run(1000, [], 'X-77')],
      {},
      {
        views: [
          { view: 'plan', name: 'A' },
          { view: 'plan', name: 'B' },
        ],
      },
    );
    expect(layerQueries(found)).toHaveLength(1);
    expect(layerQueries(found)[0]?.text).toContain('1 line goes through');
  });

  test('circles in the face of a wall are asked about in a section, not those beside it', () => {
    const circle = (layer: string, x: number, y: number): Tag[] => [
      [0, 'CIRCLE'],
      [8, layer],
      [10, x],
      [20, y],
      [40, 75],
    ];
    const parts = [
      ...wallTags('S-WALL', 0, 4000, 0, 2500),
      ...circle('E-DUCT', 500, 500),
      ...circle('X-77', 1000, 1000),
      ...circle('X-77', 1400, 1000),
      ...circle('X-77', 9000, 9000),
      ...textTags('T', [1020, 1200], '150 dia'),
    ];
    const [query, ...more] = layerQueries(find(parts, {}, { view: 'section' }));
    expect(more).toEqual([]);
    expect(query?.text).toContain('2 circles lie in the face');
    expect(query?.text).toContain('150 dia');
  });

  test('what was guessed to be services is asked about once', () => {
    const found = find([
      ...wallTags('0', 0, 9000, 0, 200),
      ...lineTags('1', [1000, -1000], [1000, 1200]),
      ...textTags('T', [1050, 500], '100 dia'),
    ]);
    expect(found.result.penetrations).toHaveLength(1);
    expect(codes(found).filter((code) => code === 'drawing-layers-unknown')).toHaveLength(1);
  });
});

test('lines beside those that were guessed are asked about without a word on the whole layer', () => {
  const found = find([
    ...wallTags('0', 0, 9000, 0, 200),
    ...lineTags('0', [1000, -1000], [1000, 1200], [[62, 1]]),
    ...textTags('T', [1050, 500], '100 dia'),
    ...lineTags('0', [7000, -1000], [7000, 1200], [[62, 3]]),
  ]);
  expect(found.result.penetrations).toHaveLength(1);
  const query = found.queries.find(({ id }) => id === 'drawing-layers-unknown:d/layer 0');
  expect(query?.text).toContain('1 line goes through');
  expect(query?.settles).not.toContain('services.layers');
});

describe('openings that are drawn on layers of services', () => {
  const face = wallTags('S-WALL', 0, 4000, 0, 2500);
  const account = (entities: readonly Tag[], blocks: readonly Tag[] = []) => {
    const { penetrations, ledger } = find(
      [...face, ...entities],
      {},
      { view: 'section' },
      blocks,
    ).result;
    const opened = penetrations.flatMap(({ openings }) => openings.map(({ id }) => id)).sort();
    const held = ledger.openings
      .filter(({ outcome }) => outcome === 'inPenetration')
      .map(({ id }) => id);
    expect(held.sort()).toEqual(opened);
    const outcomes = (list: readonly { readonly outcome: string }[]) =>
      list.map(({ outcome }) => outcome).sort();
    return { services: outcomes(ledger.services), openings: outcomes(ledger.openings) };
  };

  test('a sleeve round a pipe is an opening and no service', () => {
    expect(
      account([...circle('P-PIPE', 1000, 1000, 200), ...circle('P-PIPE', 1000, 1000, 110)]),
    ).toEqual({ services: ['through'], openings: ['inPenetration'] });
  });

  test('so is a frame round a group of ducts', () => {
    expect(
      account([
        ...frame('E-DUCT', [800, 800], [1600, 1300]),
        ...circle('E-DUCT', 1000, 1050, 150),
        ...circle('E-DUCT', 1350, 1050, 150),
      ]),
    ).toEqual({ services: ['through', 'through'], openings: ['inPenetration'] });
  });

  test('a duct that is cast in is the hole and what passes', () => {
    expect(account(circle('E-DUCT', 1000, 1000, 150))).toEqual({
      services: ['through'],
      openings: ['inPenetration'],
    });
  });

  test('a sleeve inside a frame, both on a layer of openings, belongs to its penetration', () => {
    const { penetrations, ledger } = find(
      [
        ...face,
        ...frame('S-OPNG', [800, 800], [1400, 1300]),
        ...circle('S-OPNG', 1000, 1050, 200),
        ...circle('P-PIPE', 1000, 1050, 110),
      ],
      {},
      { view: 'section' },
    ).result;
    expect(penetrations).toHaveLength(1);
    expect(ledger.openings.map(({ outcome }) => outcome)).toEqual([
      'inPenetration',
      'inPenetration',
    ]);
  });

  test('a block that draws a sleeve and what passes is both', () => {
    const block: Tag[] = [
      [0, 'BLOCK'],
      [2, 'SLEEVED'],
      [10, 0],
      [20, 0],
      ...circle('0', 0, 0, 200),
      ...circle('0', 0, 0, 110),
      [0, 'ENDBLK'],
    ];
    const insert: Tag[] = [
      [0, 'INSERT'],
      [8, 'P-PIPE'],
      [2, 'SLEEVED'],
      [10, 1000],
      [20, 1000],
    ];
    expect(account(insert, block)).toEqual({ services: ['through'], openings: ['inPenetration'] });
  });

  test('an opening on its own layer is counted once', () => {
    expect(
      account([...circle('S-OPNG', 1000, 1000, 200), ...circle('P-PIPE', 1000, 1000, 110)]),
    ).toEqual({ services: ['through'], openings: ['inPenetration'] });
  });
});

describe('what is drawn again on the same spot', () => {
  const face = frame('A-WALL', [0, 0], [4000, 3000]);
  const hole = [
    ...circle('S-OPNG', 1000, 1500, 200),
    ...circle('P-PIPE', 1000, 1500, 110),
    ...textTags('T', [1200, 1500], 'P-07'),
  ];
  const shown = (times: number) =>
    find([...face, ...Array.from({ length: times }, () => hole).flat()], {}, { view: 'section' });

  test('counts once, is in the ledger each time, and is told', () => {
    const once = shown(1);
    const often = shown(3);
    const places = ({ result }: typeof once) =>
      result.penetrations.map(({ frame: { originMm }, shape, crossings, references }) => ({
        originMm,
        shape,
        references: references.map(({ text }) => text),
        sections: crossings.map(({ section }) => section),
      }));
    expect(places(often)).toEqual(places(once));
    expect(once.result.penetrations).toHaveLength(1);
    const { services, openings } = often.result.ledger;
    expect(services.map(({ outcome }) => outcome)).toEqual(['through', 'through', 'through']);
    expect(openings.map(({ outcome }) => outcome)).toEqual(Array(3).fill('inPenetration'));
    expect(services.filter(({ reason }) => reason?.startsWith('drawn again'))).toHaveLength(2);
    expect(codes(often).filter((code) => code === 'duplicate-element')).toHaveLength(1);
    expect(codes(once)).not.toContain('duplicate-element');
  });

  test('does not make finding slow out of all proportion', () => {
    expect(shown(4000).result.penetrations).toHaveLength(1);
  });
});

import { describe, expect, test } from 'vitest';
import { SealbookError } from '../../../../src/basics/errors.ts';
import { Settings } from '../../../../src/model/settings.ts';
import { lookDxf } from '../../../../src/read/dxf/look-dxf.ts';
import { readDxf } from '../../../../src/read/dxf/read-dxf.ts';
import {
  dxfText,
  encode,
  lineTags,
  type Tag,
  textTags,
  wallTags,
} from '../../../makers/dxf/dxf-text.ts';

const settings = Settings.parse({});
const read = (text: string, fileSettings = {}, own = settings) =>
  readDxf({ key: 'd', name: 'plan.dxf', bytes: encode(text) }, fileSettings, own);
const block = (name: string, entities: readonly Tag[]): Tag[] => [
  [0, 'BLOCK'],
  [2, name],
  [10, 0],
  [20, 0],
  ...entities,
  [0, 'ENDBLK'],
];
const insert = (name: string, more: readonly Tag[] = [], layer = '0'): Tag[] => [
  [0, 'INSERT'],
  [8, layer],
  [2, name],
  [10, 0],
  [20, 0],
  ...more,
];
const layer = (name: string, flags: number, colour = 7): Tag[] => [
  [0, 'LAYER'],
  [2, name],
  [70, flags],
  [62, colour],
];
const reasons = (result: ReturnType<typeof read>) =>
  result.result.unread.map(({ type, count, reason }) => `${count} ${type}: ${reason}`);

describe('what would never end', () => {
  test('a block that holds itself', () => {
    const result = read(
      dxfText({
        blocks: block('A', [...lineTags('0', [0, 0], [1, 0]), ...insert('A')]),
        entities: insert('A'),
      }),
    );
    expect(result.result.drawing.entities).toHaveLength(1);
    expect(reasons(result).join()).toContain('holds itself');
  });

  test('two blocks that hold each other', () => {
    const result = read(
      dxfText({
        blocks: [
          ...block('A', insert('B')),
          ...block('B', [...insert('A'), ...lineTags('0', [0, 0], [1, 0])]),
        ],
        entities: insert('A'),
      }),
    );
    expect(result.result.drawing.entities).toHaveLength(1);
  });

  test('an array of 30,000 × 30,000', () => {
    const result = read(
      dxfText({
        blocks: block('A', lineTags('0', [0, 0], [1, 0])),
        entities: insert('A', [
          [70, 30000],
          [71, 30000],
          [44, 1],
          [45, 1],
        ]),
      }),
    );
    expect(result.result.drawing.entities).toHaveLength(0);
    expect(reasons(result).join()).toContain('copies');
  });

  test('blocks that double at each of forty levels stop at the limit', () => {
    const blocks = Array.from({ length: 40 }, (_, i) =>
      block(
        `B${i}`,
        i === 39 ? lineTags('0', [0, 0], [1, 0]) : [...insert(`B${i + 1}`), ...insert(`B${i + 1}`)],
      ),
    ).flat();
    const own = Settings.parse({ limits: { entities: 2000, depth: 64 } });
    const result = read(dxfText({ blocks, entities: insert('B0') }), {}, own);
    expect(reasons(result).join()).toContain('limit');
  });
});

describe('what is missing or hidden is said', () => {
  test('an insert of a block that is not there, and an external reference', () => {
    const { queries } = read(
      dxfText({
        blocks: [
          [0, 'BLOCK'],
          [2, 'X'],
          [70, 4],
          [1, 'walls.dwg'],
          [10, 0],
          [20, 0],
          [0, 'ENDBLK'],
        ],
        entities: [...insert('GONE'), ...insert('X')],
      }),
    );
    const texts = queries
      .filter(({ code }) => code === 'drawing-reference-missing')
      .map(({ text }) => text);
    expect(texts.join()).toContain('GONE');
    expect(texts.join()).toContain('walls.dwg');
  });

  const hidden = dxfText({
    layers: [layer('FROZEN', 1), layer('NEW-VIEWPORTS', 2), layer('OFF', 0, -7), layer('ON', 0)],
    blocks: block('B', [...lineTags('0', [0, 0], [1, 0]), ...lineTags('ON', [0, 0], [1, 0])]),
    entities: [
      ...lineTags('FROZEN', [0, 0], [1, 0]),
      ...lineTags('NEW-VIEWPORTS', [0, 0], [1, 0]),
      ...lineTags('OFF', [0, 0], [1, 0]),
      ...lineTags('ON', [0, 0], [1, 0], [[60, 1]]),
      ...insert('B', [], 'OFF'),
      ...insert('B', [], 'FROZEN'),
    ],
  });

  test('frozen and switched-off layers and invisible entities do not count', () => {
    const result = read(hidden);
    expect(result.result.drawing.entities.map((entity) => entity.layer)).toEqual([
      'NEW-VIEWPORTS',
      'ON',
    ]);
    expect(reasons(result)).toEqual(
      expect.arrayContaining([
        '1 LINE: layer is frozen',
        '2 LINE: layer is switched off',
        '1 LINE: invisible',
      ]),
    );
  });

  test('unless the project file says so', () => {
    expect(read(hidden, { includeHidden: true }).result.drawing.entities).toHaveLength(8);
  });

  test('blocks that nothing inserts are not in the drawing', () => {
    const result = read(
      dxfText({
        blocks: [
          ...block('USED', lineTags('A-WALL', [0, 0], [1, 0])),
          ...block('SPARE', wallTags('A-WALL', 0, 5000, 0, 200)),
        ],
        entities: insert('USED'),
      }),
    );
    expect(result.result.drawing.entities).toHaveLength(1);
    expect(reasons(result)).toEqual(['4 LINE: in a block that nothing inserts']);
  });

  test('every raw record is either used or listed', () => {
    const text = dxfText({
      entities: [
        ...lineTags('A-WALL', [0, 0], [1, 0]),
        [0, '3DSOLID'],
        [8, 'A'],
        [0, 'MYSTERY'],
        [8, 'B'],
        [0, 'LINE'],
        [8, 'C'],
        [10, 'x'],
      ],
    });
    expect(reasons(read(text)).sort()).toEqual([
      '1 3DSOLID: a solid body',
      '1 LINE: a value that is no number',
      '1 MYSTERY: a type that is not read',
    ]);
  });
});

describe('units', () => {
  const plan = (scale: number, insUnits: number) =>
    dxfText({
      insUnits,
      entities: [
        ...wallTags('A-WALL', 0, 9000 / scale, 0, 200 / scale),
        ...wallTags('A-WALL', 0, 9000 / scale, 4000 / scale, 4200 / scale),
        ...textTags('A-NOTE', [0, 0], 'note', 150 / scale),
      ],
    });

  test.each([
    ['mm', 1, 4],
    ['m', 1000, 6],
    ['in', 25.4, 1],
    ['cm', 10, 5],
  ])('a drawing that says %s and is in it raises no question', (unit, scale, insUnits) => {
    const { result, queries } = read(plan(scale, insUnits));
    expect(result.drawing.units).toMatchObject({ unit, from: 'said' });
    expect(queries).toEqual([]);
  });

  test('one that says millimetres and is in metres is asked about, with what each unit would mean', () => {
    const { result, queries } = read(plan(1000, 4));
    const [query] = queries.filter(({ code }) => code === 'drawing-units-doubtful');
    expect(query?.severity).toBe('stop');
    expect(query?.text).toContain('As m: walls 200 mm thick');
    expect(query?.settles).toContain('units: m');
    expect(result.drawing.units.unit).toBe('m');
  });

  test('a unit in the project file settles it', () => {
    const { result, queries } = read(plan(1000, 4), { units: 'm' });
    expect(result.drawing.units).toEqual({ unit: 'm', mmPerUnit: 1000, from: 'given' });
    expect(queries).toEqual([]);
  });

  test('one without a unit is asked about', () => {
    const { result, queries } = read(plan(1000, 0));
    expect(result.drawing.units).toMatchObject({ unit: 'm', from: 'likely' });
    expect(queries.map(({ code, severity }) => [code, severity])).toEqual([
      ['drawing-units-doubtful', 'ask'],
    ]);
  });

  test('one at paper size is asked for its scale', () => {
    const lines = wallTags('0', 0, 180, 0, 4).concat(
      wallTags('0', 0, 180, 80, 84),
      wallTags('0', 0, 4, 4, 80),
    );
    const { queries } = read(dxfText({ entities: lines }));
    expect(queries.map(({ text }) => text).join()).toContain('1:50: walls 200 mm thick');
    expect(queries.map(({ settles }) => settles).join()).toContain('paperScale');
  });
});

test('errors name the file and what to do', () => {
  let caught: unknown;
  try {
    read('0\nSECTION\n2\nENTITIES\n0\nLINE\n8\nA');
  } catch (error) {
    caught = error;
  }
  expect(caught).toBeInstanceOf(SealbookError);
  expect(caught).toMatchObject({ code: 'input-unreadable', where: { file: 'plan.dxf' } });
});

test('a drawing that only has paper space is read from there; else paper space is left out', () => {
  const paper = lineTags('A', [0, 0], [1, 0], [[67, 1]]);
  expect(read(dxfText({ entities: paper })).result.drawing.entities).toHaveLength(1);
  const both = read(dxfText({ entities: [...paper, ...lineTags('A-WALL', [0, 0], [2, 0])] }));
  expect(both.result.drawing.entities).toHaveLength(1);
  expect(reasons(both)).toEqual(['1 LINE: paper space']);
});

test('look says layers, units and views', () => {
  const text = dxfText({
    entities: [
      ...wallTags('A-WALL', 0, 9000, 0, 200),
      ...lineTags('E-CABL-TRAY', [1000, -500], [1000, 500]),
      ...textTags('T', [0, -3000], 'GROUND FLOOR PLAN', 300),
      ...textTags('T', [20000, -3000], 'SECTION A-A', 300),
    ],
  });
  const report = lookDxf({ key: 'd', name: 'x.dxf', bytes: encode(text) }, settings);
  const layers = report.tables.find(({ title }) => title === 'Layers');
  expect(layers?.rows.map((row) => [row[0], row[3]])).toEqual([
    ['A-WALL', 'wall'],
    ['E-CABL-TRAY', 'service: tray'],
    ['T', 'unknown'],
  ]);
  expect(report.advice.join()).toContain('{ view: plan, name: "GROUND FLOOR PLAN"');
});

test('look finds the part of the drawing that a title names', () => {
  const text = dxfText({
    entities: [
      ...wallTags('Mystery', 0, 9000, 0, 200),
      ...wallTags('Mystery', 0, 9000, 4000, 4200),
      ...textTags('T', [0, -1000], 'GROUND FLOOR PLAN', 300),
      ...wallTags('Mystery', 40000, 49000, 0, 200),
      ...textTags('T', [40000, -1000], 'SECTION A-A', 300),
    ],
  });
  const report = lookDxf({ key: 'd', name: 'x.dxf', bytes: encode(text) }, settings);
  const titles = report.tables.find(({ title }) => title.startsWith('Titles'));
  expect(titles?.rows).toEqual([
    ['GROUND FLOOR PLAN', 'plan', '0, 0, 9000, 4200'],
    ['SECTION A-A', 'section', '40000, 0, 49000, 200'],
  ]);
  const layers = report.tables.find(({ title }) => title === 'Layers');
  expect(layers?.rows[0]?.[4]).toContain('run in pairs, 200 mm apart');
});

test('lines on layers that tell nothing, or that the project excludes, are counted as unused', () => {
  const symbol = block('BOX', [
    ...lineTags('Mystery', [0, 0], [100, 0]),
    ...lineTags('Mystery', [0, 0], [0, 100]),
  ]);
  const text = dxfText({
    blocks: symbol,
    entities: [
      ...wallTags('A-WALL', 0, 9000, 0, 200),
      ...lineTags('X-77', [1000, -500], [1000, 500]),
      ...lineTags('X-77', [2000, -500], [2000, 500]),
      ...lineTags('E-CABL-TRAY', [3000, -500], [3000, 500]),
      ...lineTags('E-OLD', [3500, -500], [3500, 500]),
      ...textTags('X-77', [0, -3000], 'a note'),
      // The block's content belongs to the block where that is a service.
      ...insert('BOX', [], 'E-CABL-TRAY'),
      ...insert('BOX', [], 'A-WALL'),
    ],
  });
  const own = Settings.parse({ services: { excludeLayers: ['E-OLD'] } });
  const { result, queries } = read(text, {}, own);
  expect(
    result.unread.map(({ type, layer, count, reason }) => [
      type,
      layer,
      count,
      reason.slice(0, 12),
    ]),
  ).toEqual([
    ['LINE', 'E-OLD', 1, 'its layer is'],
    ['LINE', 'Mystery', 2, "its layer's "],
    ['LINE', 'X-77', 2, "its layer's "],
  ]);
  // It was read: nothing is wrong with the file.
  expect(queries.map(({ code }) => code)).not.toContain('drawing-content-unread');
});

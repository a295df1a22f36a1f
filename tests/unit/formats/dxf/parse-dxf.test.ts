import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { SealbookError } from '../../../../src/basics/errors.ts';
import { parseDxf } from '../../../../src/formats/dxf/parse-dxf.ts';
import {
  dxfText,
  encode,
  lineTags,
  type Tag,
  tagText,
  textTags,
} from '../../../makers/dxf/dxf-text.ts';

const LIMITS = { maxRecords: 100_000 };
const parse = (text: string) => parseDxf(encode(text), LIMITS);
const fails = (bytes: Uint8Array): SealbookError => {
  try {
    parseDxf(bytes, LIMITS);
  } catch (error) {
    if (error instanceof SealbookError) return error;
    throw error;
  }
  throw new Error('it was read');
};

const vertexIds: Tag[] = [
  [0, 'LWPOLYLINE'],
  [5, 'A1'],
  [8, 'A-WALL'],
  [90, 2],
  [70, 1],
  [10, 0],
  [20, 0],
  [91, 7],
  [10, 5000],
  [20, 0],
  [42, 0.5],
  [91, 8],
  [10, 5000],
  [20, 200],
];

describe('what a parser may lose', () => {
  test('a polyline keeps all vertices where vertex ids stand between them and the count is wrong', () => {
    const [polyline] = parse(dxfText({ entities: vertexIds })).entities;
    expect(polyline).toMatchObject({
      kind: 'polyline',
      handle: 'A1',
      isClosed: true,
      vertices: [
        { x: 0, y: 0, bulge: 0 },
        { x: 5000, y: 0, bulge: 0.5 },
        { x: 5000, y: 200, bulge: 0 },
      ],
    });
  });

  test('attributes stay with their insert', () => {
    const { entities } = parse(
      dxfText({
        entities: [
          [0, 'INSERT'],
          [66, 1],
          [2, 'SLEEVE'],
          [10, 5],
          [20, 6],
          [0, 'ATTRIB'],
          [2, 'SIZE'],
          [1, '%%c110'],
          [0, 'ATTRIB'],
          [2, 'REF'],
          [1, 'D-01'],
          [0, 'SEQEND'],
          ...lineTags('0', [0, 0], [1, 1]),
        ],
      }),
    );
    expect(entities).toHaveLength(2);
    expect(entities[0]).toMatchObject({
      attributes: [
        { tag: 'SIZE', text: 'Ø110' },
        { tag: 'REF', text: 'D-01' },
      ],
    });
  });

  test('spaces where a long text is cut are kept', () => {
    const [text] = parse(
      dxfText({
        entities: [
          [0, 'MTEXT'],
          [3, 'TRAY 300x50 '],
          [1, 'R-01'],
          [10, 0],
          [20, 0],
        ],
      }),
    ).entities;
    expect(text).toMatchObject({ text: 'TRAY 300x50 R-01' });
  });

  test('the extrusion of circles and texts is kept', () => {
    const { entities } = parse(
      dxfText({
        entities: [
          [0, 'CIRCLE'],
          [10, 1],
          [20, 2],
          [40, 3],
          [210, 0],
          [220, 0],
          [230, -1],
          ...textTags('0', [0, 0], 'a'),
          [210, 0],
          [220, 0],
          [230, -1],
        ],
      }),
    );
    expect(entities.map(({ look }) => look.extrusion)).toEqual([
      [0, 0, -1],
      [0, 0, -1],
    ]);
  });

  test('entities without a handle get one from their content, the same whatever stands before', () => {
    const line = lineTags('A', [0, 0], [10, 0]);
    const [first] = parse(dxfText({ entities: line })).entities;
    const [, second] = parse(
      dxfText({ entities: [...lineTags('B', [3, 3], [4, 4]), ...line] }),
    ).entities;
    expect(first?.handle).toMatch(/^n[0-9a-f]{8}$/);
    expect(second?.handle).toBe(first?.handle);
  });

  test('a handle that is used twice is told apart', () => {
    const { entities } = parse(
      dxfText({
        entities: [
          ...lineTags('A', [0, 0], [1, 0], [[5, '2F']]),
          ...lineTags('A', [0, 0], [2, 0], [[5, '2F']]),
        ],
      }),
    );
    const [a, b] = entities.map(({ handle }) => handle);
    expect(a).toBe('2F');
    expect(b).toMatch(/^2F~/);
  });
});

describe('what loops or throws a parser', () => {
  test('a stray record in the layer table does no harm', () => {
    const layers: Tag[][] = [
      [
        [0, 'LAYER'],
        [2, 'A-WALL'],
        [70, 0],
        [62, 7],
      ],
      [
        [0, 'STYLE'],
        [2, 'x'],
      ],
      [
        [0, 'LAYER'],
        [2, 'OFF'],
        [70, 0],
        [62, -3],
      ],
    ];
    const document = parse(dxfText({ layers, entities: lineTags('A-WALL', [0, 0], [1, 0]) }));
    expect([...document.layers.keys()]).toEqual(['a-wall', 'off']);
    expect(document.layers.get('off')?.isOff).toBe(true);
    expect(document.entities).toHaveLength(1);
  });

  test('a polyline without SEQEND ends at the next entity', () => {
    const { entities } = parse(
      dxfText({
        entities: [
          [0, 'POLYLINE'],
          [70, 0],
          [0, 'VERTEX'],
          [10, 0],
          [20, 0],
          [0, 'VERTEX'],
          [10, 5],
          [20, 0],
          ...lineTags('0', [0, 0], [1, 1]),
        ],
      }),
    );
    expect(entities.map(({ kind }) => kind)).toEqual(['polyline', 'line']);
  });

  test('comments and codes in odd order are read', () => {
    const [line] = parse(
      dxfText({
        entities: [
          [0, 'line'],
          [8, 'A'],
          [21, 4],
          [999, 'a comment between'],
          [20, 2],
          [10, 1],
          [11, 3],
        ],
      }),
    ).entities;
    expect(line).toMatchObject({ start: [1, 2, 0], end: [3, 4, 0] });
  });

  test.each(['abc', 'nan', 'inf', '1,5', '', '1.#QNAN', '0x10'])(
    'the coordinate "%s" leaves its entity out and counts it',
    (value) => {
      const document = parse(
        dxfText({
          entities: [
            [0, 'LINE'],
            [8, 'E'],
            [10, value],
            [20, 0],
            [11, 5],
            [21, 5],
            ...lineTags('E', [0, 0], [1, 1]),
          ],
        }),
      );
      expect(document.entities).toHaveLength(1);
      expect(document.counts).toEqual([
        { type: 'LINE', layer: 'E', where: 'entities', found: 2, broken: 1, read: 1 },
      ]);
    },
  );

  test('a polyline with a corner that is no number is left out whole', () => {
    const document = parse(
      dxfText({
        entities: [
          [0, 'POLYLINE'],
          [0, 'VERTEX'],
          [10, 0],
          [20, 0],
          [0, 'VERTEX'],
          [10, 'x'],
          [20, 0],
          [0, 'VERTEX'],
          [10, 9],
          [20, 9],
          [0, 'SEQEND'],
        ],
      }),
    );
    expect(document.entities).toEqual([]);
    expect(document.remarks.join()).toContain('corner');
  });

  test.each(['constructor', '__proto__', 'toString'])('a layer and block called %s', (name) => {
    const document = parse(
      dxfText({
        layers: [
          [
            [0, 'LAYER'],
            [2, name],
            [70, 0],
            [62, 1],
          ],
        ],
        blocks: [
          [0, 'BLOCK'],
          [2, name],
          [10, 0],
          [20, 0],
          ...lineTags('0', [0, 0], [1, 0]),
          [0, 'ENDBLK'],
        ],
        entities: [[0, name], ...lineTags(name, [0, 0], [1, 1])],
      }),
    );
    expect(document.layers.size).toBe(1);
    expect(document.blocks.size).toBe(1);
    expect(document.entities).toHaveLength(1);
  });
});

describe('encodings and line ends', () => {
  test.each(['\n', '\r\n', '\r'])('line end %j', (lineEnd) => {
    const { entities } = parse(dxfText({ entities: lineTags('A', [1, 2], [3, 4]), lineEnd }));
    expect(entities).toMatchObject([{ start: [1, 2, 0], end: [3, 4, 0] }]);
  });

  test('UTF-8 from AC1021 on whatever the code page says', () => {
    const text = dxfText({
      version: 'AC1024',
      codePage: 'ANSI_1251',
      entities: lineTags('Стены', [0, 0], [1, 0]),
    });
    expect(parse(text).entities[0]?.look.layer).toBe('Стены');
  });

  test('the code page before that', () => {
    const text = dxfText({ codePage: 'ANSI_1251', entities: lineTags('@@', [0, 0], [1, 0]) });
    const bytes = encode(text);
    // "Эл" in Windows-1251 (WHATWG Encoding Standard, index windows-1251).
    bytes.set([0xdd, 0xeb], text.indexOf('@@'));
    expect(parseDxf(bytes, LIMITS).entities[0]?.look.layer).toBe('Эл');
  });

  test('without a code page valid UTF-8 is UTF-8, anything else Windows-1252', () => {
    const text = dxfText({ version: 'AC1009', entities: lineTags('tracé', [0, 0], [1, 0]) });
    expect(parse(text).entities[0]?.look.layer).toBe('tracé');
    const bytes = encode(
      dxfText({ version: 'AC1009', entities: lineTags('trac@', [0, 0], [1, 0]) }),
    );
    bytes[new TextDecoder('latin1').decode(bytes).indexOf('trac@') + 4] = 0xe9;
    expect(parseDxf(bytes, LIMITS).entities[0]?.look.layer).toBe('tracé');
  });
});

describe('files that are refused, with what to do', () => {
  test.each([
    ['binary DXF', encode('AutoCAD Binary DXF\r\n\u001a\u0000'), /binary/],
    ['DWG', encode('AC1032\u0000\u0000\u0000'), /DWG/],
    ['an empty file', new Uint8Array(), /empty/],
    ['blanks', encode(' \r\n \r\n'), /empty/],
    ['a letter', encode('Dear Sir,\nplease find attached\n'), /group code|begin/],
    ['a list of numbers', encode('1\n2\n3\n4\n'), /begin/],
    ['UTF-16', new Uint8Array([0xff, 0xfe, 0x20, 0, 0x30, 0]), /UTF-16/],
  ])('%s', (_, bytes, message) => {
    const error = fails(bytes);
    expect(error.code).toBe('input-unreadable');
    expect(error.message).toMatch(message);
    expect(error.todo).not.toBeNull();
  });

  test('a file cut off anywhere is refused or, cut after its last section, read whole', () => {
    const text = dxfText({ entities: lineTags('A', [0, 0], [1234.5, 0]) });
    for (let length = 60; length < text.length - 8; length++) {
      const error = fails(encode(text.slice(0, length)));
      expect(error.code).toBe('input-unreadable');
    }
    expect(parse(text.slice(0, text.lastIndexOf('0\nEOF'))).entities).toHaveLength(1);
  });

  test('a line too many names its place', () => {
    const text = dxfText({ entities: lineTags('A', [0, 0], [1, 0]) });
    const at = text.indexOf('0\nLINE');
    const error = fails(encode(`${text.slice(0, at)}stray\n${text.slice(at)}`));
    expect(error.where.line).toBeGreaterThan(1);
  });

  test('more records than the limit', () => {
    const entities = Array.from({ length: 20 }, () => lineTags('A', [0, 0], [1, 0])).flat();
    expect(() => parseDxf(encode(dxfText({ entities })), { maxRecords: 10 })).toThrow(
      /more than 10/,
    );
  });

  test('only an ENTITIES section is enough', () => {
    const text = tagText([
      [0, 'SECTION'],
      [2, 'ENTITIES'],
      ...lineTags('A', [0, 0], [1, 0]),
      [0, 'ENDSEC'],
    ]);
    const document = parse(text);
    expect(document.entities).toHaveLength(1);
    expect(document.version).toBeNull();
  });
});

test('numbers read the same as JavaScript reads them', () => {
  fc.assert(
    fc.property(
      fc.oneof(
        fc.double({ noNaN: true, noDefaultInfinity: true }),
        fc.double({ min: -1e7, max: 1e7, noNaN: true }).map((x) => Number(x.toFixed(4))),
      ),
      fc.constantFrom('plain', 'exponent', 'padded'),
      (value, form) => {
        const text =
          form === 'exponent'
            ? value.toExponential()
            : form === 'padded'
              ? `  ${value} `
              : String(value);
        const [line] = parse(
          dxfText({
            entities: [
              [0, 'LINE'],
              [10, text],
              [20, 0],
              [11, 1],
              [21, 1],
            ],
          }),
        ).entities;
        expect(line?.kind === 'line' ? line.start[0] : null).toBe(value === 0 ? 0 : value);
      },
    ),
    { seed: 7, numRuns: 300 },
  );
});

test('bytes that are anything at all never hang or crash it', () => {
  const whole = encode(dxfText({ entities: [...vertexIds, ...lineTags('A', [0, 0], [1, 0])] }));
  fc.assert(
    fc.property(
      fc.array(fc.tuple(fc.nat(whole.length - 1), fc.nat(255)), { minLength: 1, maxLength: 6 }),
      (changes) => {
        const bytes = whole.slice();
        for (const [at, value] of changes) bytes[at] = value;
        try {
          parseDxf(bytes, LIMITS);
        } catch (error) {
          expect(error).toBeInstanceOf(SealbookError);
        }
      },
    ),
    { seed: 11, numRuns: 500 },
  );
});

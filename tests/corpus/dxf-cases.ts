import { dxfText, lineTags, type Tag, tagText, textTags } from '../makers/dxf/dxf-text.ts';

type DxfCase = readonly [name: string, text: string, outcome: string];

const drawn = (...entities: readonly (readonly Tag[])[]): string =>
  dxfText({ entities: entities.flat() });
const line = lineTags('0', [0, 0], [100, 0]);
const block = (name: string, entities: readonly Tag[]): Tag[] => [
  [0, 'BLOCK'],
  [2, name],
  [10, 0],
  [20, 0],
  ...entities,
  [0, 'ENDBLK'],
];
const insert = (name: string, more: readonly Tag[] = []): Tag[] => [
  [0, 'INSERT'],
  [8, '0'],
  [2, name],
  [10, 0],
  [20, 0],
  ...more,
];
const entity = (type: string, tags: readonly Tag[]): Tag[] => [[0, type], [8, '0'], ...tags];
const polyline = (vertices: readonly (readonly Tag[])[], flags = 0): Tag[] => [
  ...entity('POLYLINE', [
    [66, 1],
    [70, flags],
  ]),
  ...vertices.flatMap((tags) => entity('VERTEX', tags)),
  [0, 'SEQEND'],
];
const corner = (x: number | string, y: number | string): Tag[] => [
  [10, x],
  [20, y],
];
const lwpolyline = (count: number | string, ...tags: readonly Tag[]): Tag[] =>
  entity('LWPOLYLINE', [[90, count], [70, 0], ...tags]);
const raw = (text: string): string => text;

export const DXF_CASES: readonly DxfCase[] = [
  ['a line', drawn(line), '1 drawn, 0 texts, 0 symbols; no query'],
  // The file as a whole.
  ['an empty file', '', 'REFUSED input-unreadable: The file is empty.'],
  ['blanks only', '\n\n\n', 'REFUSED input-unreadable: The file is empty.'],
  [
    'a binary drawing',
    'AutoCAD Binary DXF\r\n\u001a\0',
    'REFUSED input-unreadable: The file is a binary DXF.',
  ],
  [
    'another format of drawings',
    'AC1032\0\0\0\0',
    'REFUSED input-unreadable: The file is a DWG drawing, not a DXF.',
  ],
  [
    'prose',
    'To whom it may concern\nplease find enclosed\n',
    'REFUSED input-unreadable, line 1: Line 1 should hold a group code and does not: the tags are out of step or this is no DXF f',
  ],
  [
    'a page of the web',
    '<html>\n</html>\n',
    'REFUSED input-unreadable, line 1: Line 1 should hold a group code and does not: the tags are out of step or this is no DXF f',
  ],
  [
    'no ENTITIES section',
    tagText([
      [0, 'SECTION'],
      [2, 'HEADER'],
      [0, 'ENDSEC'],
      [0, 'EOF'],
    ]),
    'REFUSED input-unreadable: The file has no ENTITIES section.',
  ],
  [
    'entities only',
    tagText([[0, 'SECTION'], [2, 'ENTITIES'], ...line, [0, 'ENDSEC'], [0, 'EOF']]),
    '1 drawn, 0 texts, 0 symbols; drawing-units-doubtful',
  ],
  [
    'no end mark',
    drawn(line).replace(/0\nEOF\n$/, ''),
    '1 drawn, 0 texts, 0 symbols; drawing-content-unread',
  ],
  [
    'section not closed',
    drawn(line).replace(/0\nENDSEC\n0\nEOF\n$/, ''),
    'REFUSED input-unreadable, line 51: The file ends inside its ENTITIES section: it has been cut off.',
  ],
  [
    'cut within an entity',
    drawn(line, line).replace(/11\n100\n21\n0\n0\nENDSEC[\s\S]*$/, ''),
    'REFUSED input-unreadable, line 59: The file ends inside its ENTITIES section: it has been cut off.',
  ],
  [
    'cut after a code',
    drawn(line).replace(/0\nENDSEC\n0\nEOF\n$/, '0\n'),
    'REFUSED input-unreadable, line 51: The file ends after a group code without its value: it has been cut off.',
  ],
  [
    'a code that is a word',
    drawn(line).replace('10\n0\n', 'ten\n0\n'),
    'REFUSED input-unreadable, line 43: Line 43 should hold a group code and does not: the tags are out of step or this is no DXF ',
  ],
  [
    'one line too many',
    drawn(line).replace('0\nLINE\n', '0\nLINE\n\n'),
    'REFUSED input-unreadable, line 41: Line 41 should hold a group code and does not: the tags are out of step or this is no DXF ',
  ],
  [
    'blanks about the codes',
    drawn(line).replace(/^(\d+)$/gm, '   $1 '),
    '1 drawn, 0 texts, 0 symbols; no query',
  ],
  [
    'line ends of old kind',
    drawn(line).replaceAll('\n', '\r'),
    '1 drawn, 0 texts, 0 symbols; no query',
  ],
  [
    'line ends of two kinds',
    drawn(line).replaceAll('\n', '\r\n'),
    '1 drawn, 0 texts, 0 symbols; no query',
  ],
  [
    'something after the end mark',
    `${drawn(line)}0\nLINE\n8\nA\n`,
    '1 drawn, 0 texts, 0 symbols; no query',
  ],
  [
    'two ENTITIES sections',
    drawn(line).replace('0\nEOF', '0\nSECTION\n2\nENTITIES\n0\nENDSEC\n0\nEOF'),
    '1 drawn, 0 texts, 0 symbols; no query',
  ],
  [
    'a version nobody knows',
    dxfText({ version: 'AC9999', entities: line }),
    '1 drawn, 0 texts, 0 symbols; no query',
  ],
  [
    'a code page nobody knows',
    dxfText({ codePage: 'ANSI_42', entities: line }),
    '1 drawn, 0 texts, 0 symbols; drawing-content-unread',
  ],
  [
    'a unit nobody knows',
    dxfText({ insUnits: 99, entities: line }),
    '1 drawn, 0 texts, 0 symbols; drawing-units-doubtful',
  ],
  [
    'a negative unit',
    dxfText({ insUnits: -1, entities: line }),
    '1 drawn, 0 texts, 0 symbols; drawing-units-doubtful',
  ],
  ['comments', drawn([[999, 'a comment'], ...line]), '1 drawn, 0 texts, 0 symbols; no query'],
  // Numbers.
  [
    'a coordinate that is a word',
    drawn(
      entity('LINE', [
        [10, 'x'],
        [20, 0],
        [11, 1],
        [21, 0],
      ]),
    ),
    '0 drawn, 0 texts, 0 symbols, unread 1 LINE: a value that is no number; 2 drawing-content-unread',
  ],
  [
    'a coordinate that is empty',
    drawn(
      entity('LINE', [
        [10, ''],
        [20, 0],
        [11, 1],
        [21, 0],
      ]),
    ),
    '0 drawn, 0 texts, 0 symbols, unread 1 LINE: a value that is no number; 2 drawing-content-unread',
  ],
  [
    'a coordinate with a comma',
    drawn(
      entity('LINE', [
        [10, '1,5'],
        [20, 0],
        [11, 1],
        [21, 0],
      ]),
    ),
    '0 drawn, 0 texts, 0 symbols, unread 1 LINE: a value that is no number; 2 drawing-content-unread',
  ],
  [
    'a coordinate beyond any drawing',
    drawn(
      entity('LINE', [
        [10, '1e300'],
        [20, 0],
        [11, 1],
        [21, 0],
      ]),
    ),
    '0 drawn, 0 texts, 0 symbols, unread 1 LINE: a coordinate beyond any drawing; drawing-content-unread',
  ],
  [
    'a coordinate beyond any number',
    drawn(
      entity('LINE', [
        [10, '1e999'],
        [20, 0],
        [11, 1],
        [21, 0],
      ]),
    ),
    '0 drawn, 0 texts, 0 symbols, unread 1 LINE: a value that is no number; 2 drawing-content-unread',
  ],
  [
    'a coordinate that is no number',
    drawn(
      entity('LINE', [
        [10, 'nan'],
        [20, 0],
        [11, 1],
        [21, 0],
      ]),
    ),
    '0 drawn, 0 texts, 0 symbols, unread 1 LINE: a value that is no number; 2 drawing-content-unread',
  ],
  [
    'a line without an end',
    drawn(
      entity('LINE', [
        [10, 1],
        [20, 0],
      ]),
    ),
    '1 drawn, 0 texts, 0 symbols; no query',
  ],
  [
    'a line of no length',
    drawn(lineTags('0', [5, 5], [5, 5])),
    '0 drawn, 0 texts, 0 symbols, unread 1 LINE: no length when seen from above; drawing-content-unread',
  ],
  [
    'a circle of no radius',
    drawn(
      entity('CIRCLE', [
        [10, 0],
        [20, 0],
        [40, 0],
      ]),
    ),
    '0 drawn, 0 texts, 0 symbols, unread 1 CIRCLE: no length when seen from above; drawing-content-unread',
  ],
  [
    'a circle of negative radius',
    drawn(
      entity('CIRCLE', [
        [10, 0],
        [20, 0],
        [40, -5],
      ]),
    ),
    '1 drawn, 0 texts, 0 symbols; no query',
  ],
  [
    'a circle without a radius',
    drawn(
      entity('CIRCLE', [
        [10, 0],
        [20, 0],
      ]),
    ),
    '0 drawn, 0 texts, 0 symbols, unread 1 CIRCLE: no length when seen from above; drawing-content-unread',
  ],
  [
    'a circle of endless radius',
    drawn(
      entity('CIRCLE', [
        [10, 0],
        [20, 0],
        [40, '1e308'],
      ]),
    ),
    '0 drawn, 0 texts, 0 symbols, unread 1 CIRCLE: a coordinate beyond any drawing; drawing-content-unread',
  ],
  [
    'an arc from and to one angle',
    drawn(
      entity('ARC', [
        [10, 0],
        [20, 0],
        [40, 5],
        [50, 30],
        [51, 30],
      ]),
    ),
    '1 drawn, 0 texts, 0 symbols; no query',
  ],
  [
    'an arc with a huge angle',
    drawn(
      entity('ARC', [
        [10, 0],
        [20, 0],
        [40, 5],
        [50, 0],
        [51, '1e18'],
      ]),
    ),
    '1 drawn, 0 texts, 0 symbols; no query',
  ],
  [
    'an ellipse without axes',
    drawn(
      entity('ELLIPSE', [
        [10, 0],
        [20, 0],
      ]),
    ),
    '0 drawn, 0 texts, 0 symbols, unread 1 ELLIPSE: no length when seen from above; drawing-content-unread',
  ],
  [
    'an ellipse of ratio nought',
    drawn(
      entity('ELLIPSE', [
        [10, 0],
        [20, 0],
        [11, 5],
        [21, 0],
        [40, 0],
        [41, 0],
        [42, 6.28],
      ]),
    ),
    '1 drawn, 0 texts, 0 symbols; no query',
  ],
  [
    'an extrusion of no length',
    drawn(
      entity('CIRCLE', [
        [10, 0],
        [20, 0],
        [40, 5],
        [210, 0],
        [220, 0],
        [230, 0],
      ]),
    ),
    '1 drawn, 0 texts, 0 symbols; no query',
  ],
  [
    'an extrusion to below',
    drawn(
      entity('CIRCLE', [
        [10, 3],
        [20, 0],
        [40, 5],
        [210, 0],
        [220, 0],
        [230, -1],
      ]),
    ),
    '1 drawn, 0 texts, 0 symbols; no query',
  ],
  [
    'an entity on its side',
    drawn(
      entity('CIRCLE', [
        [10, 0],
        [20, 0],
        [40, 5],
        [210, 1],
        [220, 0],
        [230, 0],
      ]),
    ),
    '1 drawn, 0 texts, 0 symbols; no query',
  ],
  // Polylines and splines.
  [
    'a polyline of one corner',
    drawn(polyline([corner(0, 0)])),
    '0 drawn, 0 texts, 0 symbols, unread 1 POLYLINE: no length when seen from above; drawing-content-unread',
  ],
  [
    'a polyline without corners',
    drawn(polyline([])),
    '0 drawn, 0 texts, 0 symbols, unread 1 POLYLINE: no length when seen from above; drawing-content-unread',
  ],
  [
    'a polyline with a corner that can not be read',
    drawn(polyline([corner(0, 0), corner('x', 1), corner(9, 9)])),
    '0 drawn, 0 texts, 0 symbols, unread 1 POLYLINE: a mesh + 1 VERTEX: a value that is no number; 3 drawing-content-unread',
  ],
  [
    'a polyline without an end mark',
    drawn(polyline([corner(0, 0), corner(9, 9)]).slice(0, -1), line),
    '2 drawn, 0 texts, 0 symbols; no query',
  ],
  [
    'corners without a polyline',
    drawn(entity('VERTEX', corner(0, 0)), line),
    '1 drawn, 0 texts, 0 symbols, unread 1 VERTEX: the corner of something that was not read; drawing-content-unread',
  ],
  [
    'a mesh',
    drawn(polyline([corner(0, 0), corner(9, 0), corner(9, 9)], 64)),
    '0 drawn, 0 texts, 0 symbols, unread 1 POLYLINE: a mesh; drawing-content-unread',
  ],
  [
    'a light polyline that counts wrong',
    drawn(lwpolyline(50, ...corner(0, 0), ...corner(9, 0))),
    '1 drawn, 0 texts, 0 symbols; no query',
  ],
  [
    'a light polyline with a count beyond memory',
    drawn(lwpolyline(2147483647, ...corner(0, 0), ...corner(9, 0))),
    '1 drawn, 0 texts, 0 symbols; no query',
  ],
  [
    'a light polyline with a negative count',
    drawn(lwpolyline(-3, ...corner(0, 0), ...corner(9, 0))),
    '1 drawn, 0 texts, 0 symbols; no query',
  ],
  [
    'a light polyline with a bulge beyond a circle',
    drawn(lwpolyline(2, ...corner(0, 0), [42, 1e9], ...corner(9, 0))),
    '1 drawn, 0 texts, 0 symbols; no query',
  ],
  [
    'a light polyline with an endless bulge',
    drawn(lwpolyline(2, ...corner(0, 0), [42, '1e999'], ...corner(9, 0))),
    '0 drawn, 0 texts, 0 symbols, unread 1 LWPOLYLINE: a value that is no number; 2 drawing-content-unread',
  ],
  [
    'a spline without points',
    drawn(
      entity('SPLINE', [
        [70, 8],
        [71, 3],
        [72, 0],
        [73, 0],
        [74, 0],
      ]),
    ),
    '0 drawn, 0 texts, 0 symbols, unread 1 SPLINE: no length when seen from above; drawing-content-unread',
  ],
  [
    'a spline of degree nought',
    drawn(
      entity('SPLINE', [
        [71, 0],
        [10, 0],
        [20, 0],
        [10, 9],
        [20, 9],
      ]),
    ),
    '1 drawn, 0 texts, 0 symbols; no query',
  ],
  [
    'a spline of a huge degree',
    drawn(
      entity('SPLINE', [
        [71, 2147483647],
        [10, 0],
        [20, 0],
        [10, 9],
        [20, 9],
      ]),
    ),
    '1 drawn, 0 texts, 0 symbols; no query',
  ],
  [
    'a spline with too few knots',
    drawn(
      entity('SPLINE', [
        [71, 3],
        [40, 0],
        [40, 1],
        [10, 0],
        [20, 0],
        [10, 9],
        [20, 9],
        [10, 5],
        [20, 2],
        [10, 7],
        [20, 7],
      ]),
    ),
    '1 drawn, 0 texts, 0 symbols; no query',
  ],
  [
    'a spline whose knots go back',
    drawn(
      entity('SPLINE', [
        [71, 2],
        [40, 0],
        [40, 0],
        [40, 0],
        [40, -5],
        [40, -5],
        [40, -5],
        [10, 0],
        [20, 0],
        [10, 9],
        [20, 9],
        [10, 5],
        [20, 2],
      ]),
    ),
    '1 drawn, 0 texts, 0 symbols; no query',
  ],
  // Blocks.
  [
    'a block that holds itself',
    dxfText({ blocks: block('A', [...line, ...insert('A')]), entities: insert('A') }),
    '1 drawn, 0 texts, 2 symbols, unread 1 INSERT: a block that holds itself; drawing-content-unread',
  ],
  [
    'blocks that hold each other',
    dxfText({
      blocks: [...block('A', [...line, ...insert('B')]), ...block('B', insert('A'))],
      entities: insert('A'),
    }),
    '1 drawn, 0 texts, 3 symbols, unread 1 INSERT: a block that holds itself; drawing-content-unread',
  ],
  [
    'a block that is not there',
    drawn(insert('NONE')),
    '0 drawn, 0 texts, 1 symbols; drawing-reference-missing',
  ],
  [
    'a block without a name',
    dxfText({ blocks: block('', line), entities: insert('') }),
    '1 drawn, 0 texts, 1 symbols; no query',
  ],
  [
    'two blocks of one name',
    dxfText({
      blocks: [...block('A', line), ...block('a', [...line, ...line])],
      entities: insert('A'),
    }),
    '2 drawn, 0 texts, 1 symbols; drawing-content-unread',
  ],
  [
    'a block named as a part of the language',
    dxfText({ blocks: block('__proto__', line), entities: insert('__proto__') }),
    '1 drawn, 0 texts, 1 symbols; no query',
  ],
  [
    'a block that nothing inserts',
    dxfText({ blocks: block('A', line), entities: line }),
    '1 drawn, 0 texts, 0 symbols, unread 1 LINE: in a block that nothing inserts; drawing-content-unread',
  ],
  [
    'a block without an end',
    dxfText({ blocks: block('A', line).slice(0, -1), entities: insert('A') }),
    '1 drawn, 0 texts, 1 symbols; no query',
  ],
  [
    'blocks twenty deep',
    dxfText({
      blocks: Array.from({ length: 20 }, (_, n) =>
        block(`B${n}`, n === 19 ? line : insert(`B${n + 1}`)),
      ).flat(),
      entities: insert('B0'),
    }),
    '0 drawn, 0 texts, 17 symbols, unread 1 INSERT: blocks nested deeper than 16 (limits.depth); drawing-content-unread',
  ],
  [
    'an array of a hundred',
    dxfText({
      blocks: block('A', line),
      entities: insert('A', [
        [70, 10],
        [71, 10],
        [44, 5],
        [45, 5],
      ]),
    }),
    '100 drawn, 0 texts, 100 symbols; drawing-units-doubtful',
  ],
  [
    'an array of 900 million',
    dxfText({
      blocks: block('A', line),
      entities: insert('A', [
        [70, 30000],
        [71, 30000],
      ]),
    }),
    '0 drawn, 0 texts, 1 symbols, unread 1 INSERT: an array of 900000000 copies (limits.copies); drawing-content-unread',
  ],
  [
    'an array of minus ten',
    dxfText({
      blocks: block('A', line),
      entities: insert('A', [
        [70, -10],
        [71, 1],
      ]),
    }),
    '1 drawn, 0 texts, 1 symbols; no query',
  ],
  [
    'an array of nought',
    dxfText({
      blocks: block('A', line),
      entities: insert('A', [
        [70, 0],
        [71, 0],
      ]),
    }),
    '1 drawn, 0 texts, 1 symbols; no query',
  ],
  [
    'a block at scale nought',
    dxfText({
      blocks: block('A', line),
      entities: insert('A', [
        [41, 0],
        [42, 0],
        [43, 0],
      ]),
    }),
    '0 drawn, 0 texts, 1 symbols, unread 1 LINE: no length when seen from above; drawing-content-unread',
  ],
  [
    'a block at an endless scale',
    dxfText({ blocks: block('A', line), entities: insert('A', [[41, '1e300']]) }),
    '0 drawn, 0 texts, 1 symbols, unread 1 LINE: a coordinate beyond any drawing; drawing-content-unread',
  ],
  [
    'a block turned by a huge angle',
    dxfText({ blocks: block('A', line), entities: insert('A', [[50, '1e300']]) }),
    '1 drawn, 0 texts, 1 symbols; no query',
  ],
  [
    'an external reference',
    dxfText({
      blocks: [
        [0, 'BLOCK'],
        [2, 'X'],
        [70, 4],
        [1, '../../etc/passwd'],
        [10, 0],
        [20, 0],
        [0, 'ENDBLK'],
      ],
      entities: insert('X'),
    }),
    '0 drawn, 0 texts, 1 symbols; drawing-reference-missing',
  ],
  // Texts.
  [
    'a text without content',
    drawn(textTags('0', [0, 0], '')),
    '0 drawn, 0 texts, 0 symbols; no query',
  ],
  [
    'a text with markup',
    drawn(textTags('0', [0, 0], '<script>alert(1)</script>')),
    '0 drawn, 1 texts, 0 symbols; no query',
  ],
  [
    'a text of 100,000 letters',
    drawn(textTags('0', [0, 0], 'A'.repeat(100_000))),
    '0 drawn, 1 texts, 0 symbols; no query',
  ],
  [
    'a long text with open braces',
    drawn(
      entity('MTEXT', [
        [10, 0],
        [20, 0],
        [1, '{\\fArial|{{{{\\H'],
      ]),
    ),
    '0 drawn, 1 texts, 0 symbols; no query',
  ],
  [
    'a long text of backslashes',
    drawn(
      entity('MTEXT', [
        [10, 0],
        [20, 0],
        [1, '\\'.repeat(5001)],
      ]),
    ),
    '0 drawn, 1 texts, 0 symbols; no query',
  ],
  // What is known and not read.
  [
    'a type nobody knows',
    drawn(entity('BLOB', [[10, 0]])),
    '0 drawn, 0 texts, 0 symbols, unread 1 BLOB: a type that is not read; drawing-content-unread',
  ],
  [
    'a solid body',
    drawn(entity('3DSOLID', [[1, 'x']])),
    '0 drawn, 0 texts, 0 symbols, unread 1 3DSOLID: a solid body; drawing-content-unread',
  ],
  [
    'an endless construction line',
    drawn(
      entity('XLINE', [
        [10, 0],
        [20, 0],
        [11, 1],
        [21, 0],
      ]),
    ),
    '0 drawn, 0 texts, 0 symbols, unread 1 XLINE: a construction line without end; drawing-content-unread',
  ],
  [
    'a hatch without edges',
    drawn(
      entity('HATCH', [
        [10, 0],
        [20, 0],
        [91, 1],
        [92, 1],
        [93, 0],
      ]),
    ),
    '0 drawn, 0 texts, 0 symbols, unread 1 HATCH: no length when seen from above; drawing-content-unread',
  ],
  [
    'a hatch that counts beyond memory',
    drawn(
      entity('HATCH', [
        [91, 2147483647],
        [92, 2],
        [93, 2147483647],
        [10, 0],
        [20, 0],
      ]),
    ),
    '0 drawn, 0 texts, 0 symbols, unread 1 HATCH: no length when seen from above; drawing-content-unread',
  ],
  [
    'an entity of no type',
    raw(drawn(line).replace('0\nLINE\n', '0\n\n')),
    '0 drawn, 0 texts, 0 symbols, unread 1 NO TYPE: a type that is not read; drawing-content-unread',
  ],
  [
    'a record of two handles',
    drawn([[0, 'LINE'], [5, 'A1'], [5, 'A2'], ...line.slice(1)]),
    '1 drawn, 0 texts, 0 symbols; no query',
  ],
  [
    'one handle for two lines',
    drawn([[0, 'LINE'], [5, 'A1'], ...line.slice(1)], [[0, 'LINE'], [5, 'A1'], ...line.slice(1)]),
    '2 drawn, 0 texts, 0 symbols; no query',
  ],
  [
    'a layer named as a part of the language',
    drawn(lineTags('__proto__', [0, 0], [9, 0])),
    '1 drawn, 0 texts, 0 symbols; no query',
  ],
  [
    'an invisible line',
    drawn([...line, [60, 1]]),
    '0 drawn, 0 texts, 0 symbols, unread 1 LINE: invisible; drawing-content-unread',
  ],
  [
    'a line in paper space',
    drawn(line, [...lineTags('0', [0, 0], [9, 9]), [67, 1]]),
    '1 drawn, 0 texts, 0 symbols, unread 1 LINE: paper space; drawing-content-unread',
  ],
];

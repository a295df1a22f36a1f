import { execFileSync } from 'node:child_process';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Drawing } from '../../../../src/model/drawing.ts';
import type { DxfTagEdit } from '../../../../src/model/tag-edit.ts';
import { tagDxf, untagDxf } from '../../../../src/write/dxf-tags/tag-dxf.ts';
import { PYTHON, testWith } from '../../../set-up/outside.ts';

const DRAWING: Drawing = {
  fileKey: 'plan',
  name: 'plan',
  units: { unit: 'm', mmPerUnit: 1000, from: 'given' },
  layers: [],
  views: [
    {
      view: 'plan',
      name: null,
      windowMm: null,
      level: null,
      elevationMm: null,
      serviceHeightMm: null,
      base: null,
      datum: null,
    },
  ],
  symbols: [],
  leaders: [],
  masks: [],
  texts: [],
  entities: [],
};

const EDIT: DxfTagEdit = {
  tag: 'L01-0001',
  atMm: [5000, 2000, 0],
  level: null,
  sizeMm: 150,
  texts: [{ name: 'SEAL', text: 'sealant' }],
  hasQuery: true,
  isSeen: true,
};

/** R12 without handles, as small as a drawing can be. */
const R12 = [
  '  0\nSECTION\n  2\nHEADER\n  9\n$ACADVER\n  1\nAC1009\n  0\nENDSEC',
  '  0\nSECTION\n  2\nTABLES\n  0\nTABLE\n  2\nLAYER\n 70\n1\n  0\nLAYER\n  2\n0\n 70\n0\n 62\n7\n  6\nCONTINUOUS\n  0\nENDTAB\n  0\nENDSEC',
  '  0\nSECTION\n  2\nBLOCKS\n  0\nENDSEC',
  '  0\nSECTION\n  2\nENTITIES\n  0\nLINE\n  8\n0\n 10\n0.0\n 20\n0.0\n 11\n9.0\n 21\n0.0\n  0\nENDSEC',
  '  0\nEOF\n',
].join('\n');

const bytes = (text: string) => new TextEncoder().encode(text);
const string = (value: Uint8Array) => new TextDecoder().decode(value);

test('places are written in the units of the drawing, without handles where it has none', () => {
  const text = string(tagDxf(bytes(R12), [EDIT], { drawing: DRAWING }).result);
  expect(text).toContain('SEALBOOK-TAGS');
  expect(text).not.toMatch(/\n {2}5\n/);
  expect(text).not.toContain('AcDb');
  // The cloud's ten half circles lie round x = 5 m, y = 2 m.
  const arcs = [...text.matchAll(/ARC\n {2}8\nSEALBOOK-TAGS\n 10\n(\S+)\n 20\n(\S+)\n/g)];
  expect(arcs.length).toBe(10);
  const middle = arcs.reduce((total, [, x]) => total + Number(x), 0) / arcs.length;
  expect(middle).toBeCloseTo(5, 6);
});

test.each(['\n', '\r\n'])('line ends %j are kept', (lineEnd) => {
  const source = bytes(R12.replaceAll('\n', lineEnd));
  const text = string(tagDxf(source, [EDIT], { drawing: DRAWING }).result);
  expect(text.replaceAll(lineEnd, '')).not.toMatch(/[\r\n]/);
});

test('any text stays one line and can not end a record', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'binary' }), (text) => {
      const edit = { ...EDIT, texts: [{ name: 'SEAL', text: `${text}\n  0\nEOF\n` }] };
      const source = bytes(R12);
      const tagged = tagDxf(source, [edit], { drawing: DRAWING }).result;
      const lines = string(tagged).split('\n');
      // Every other line is a group code.
      for (let at = 0; at < lines.length - 1; at += 2) expect(lines[at]).toMatch(/^ *\d+$/);
      expect(Buffer.compare(untagDxf(tagged), source)).toBe(0);
    }),
  );
});

test('a drawing that another program saved with our tags is refused', () => {
  const tagged = string(tagDxf(bytes(R12), [EDIT], { drawing: DRAWING }).result);
  const saved = bytes(tagged.replace(/999\nsealbook[^\n]*\n/g, ''));
  const { result, refused } = tagDxf(saved, [EDIT], { drawing: DRAWING });
  expect(result).toEqual(saved);
  expect(refused[0]?.reason).toMatch(/another program/);
});

test('what no view shows is refused, the rest is written', () => {
  const [view] = DRAWING.views;
  if (view === undefined) throw new Error('no view');
  const drawing = { ...DRAWING, views: [{ ...view, windowMm: [0, 0, 6000, 6000] as const }] };
  const { written, refused } = tagDxf(
    bytes(R12),
    [EDIT, { ...EDIT, tag: 'L09-0001', atMm: [9000, 0, 0] }],
    { drawing },
  );
  expect(written).toEqual(['L01-0001']);
  expect(refused).toEqual([
    { tag: 'L09-0001', id: null, reason: 'no view of the drawing shows its place' },
  ]);
});

test.each([
  ['no DXF', 'hello'],
  ['a cut drawing', R12.slice(0, -40)],
  ['nothing', ''],
  ['a fragment', R12.replace(/ {2}0\nTABLE[\s\S]*ENDTAB\n/, '')],
])('%s is refused and left alone', (_, text) => {
  const source = bytes(text);
  const { result, refused } = tagDxf(source, [EDIT], { drawing: DRAWING });
  expect(result).toEqual(source);
  expect(refused[0]).toMatchObject({ tag: null });
});

test('a place found in a model is tagged on the plan of its level, inside what is drawn', () => {
  const [view] = DRAWING.views;
  if (view === undefined) throw new Error('no view');
  const joined = { ...view, level: 'L01', base: { pointMm: [0, 0], atMm: [0, 0, 0] } } as const;
  const wall = {
    ref: { fileKey: 'plan', id: '1' },
    type: 'LINE',
    layer: '0',
    style: { colour: 7, lineweight: -1, linetype: 'CONTINUOUS' },
    loops: [
      { pieces: [{ type: 'line', from: [0, 0], to: [9000, 9000] } as const], isClosed: false },
    ],
    form: 'curve' as const,
    widthMm: 0,
    within: [],
  };
  const drawing: Drawing = { ...DRAWING, views: [joined], entities: [wall] };
  const unseen = { ...EDIT, isSeen: false, level: 'L01' };
  const edits = [
    unseen,
    { ...unseen, tag: 'L02-0001', level: 'L02' },
    { ...unseen, tag: 'L01-0002', atMm: [20_000, 0, 0] as const },
  ];
  const { written, refused } = tagDxf(bytes(R12), edits, { drawing });
  expect(written).toEqual(['L01-0001']);
  expect(refused).toEqual([]);
  // Not joined to the project: nobody knows where a model's place lies in it.
  const loose: Drawing = { ...drawing, views: [{ ...joined, base: null }] };
  expect(tagDxf(bytes(R12), edits, { drawing: loose }).written).toEqual([]);
});

test('a damaged drawing is tagged or refused, never a crash, and untagging undoes it', () => {
  const source = bytes(R12);
  const change = fc.tuple(fc.nat(source.length - 1), fc.constantFrom(...bytes('0129 \n\rAE')));
  fc.assert(
    fc.property(fc.array(change, { minLength: 1, maxLength: 4 }), (changes) => {
      const damaged = source.slice();
      for (const [at, byte] of changes) damaged[at] = byte;
      const { result, written } = tagDxf(damaged, [EDIT], { drawing: DRAWING });
      if (written.length > 0) expect(Buffer.compare(untagDxf(result), damaged)).toBe(0);
      else expect(Buffer.compare(result, damaged)).toBe(0);
    }),
    { numRuns: 300 },
  );
});

test('a drawing without a section of blocks gets one, and loses it again', () => {
  const bare = R12.replace('  0\nSECTION\n  2\nBLOCKS\n  0\nENDSEC\n', '');
  expect(bare).not.toContain('BLOCKS');
  const { result, written } = tagDxf(bytes(bare), [EDIT], { drawing: DRAWING });
  expect(written).toEqual(['L01-0001']);
  const text = string(result);
  expect(text.indexOf('BLOCKS')).toBeGreaterThan(text.indexOf('TABLES'));
  expect(text.indexOf('BLOCKS')).toBeLessThan(text.indexOf('ENTITIES'));
  expect(string(untagDxf(result))).toBe(bare);
});

testWith(['ezdxf'], 'ezdxf reads tags in drawings of the plainest kind', () => {
  const bare = R12.replace('  0\nSECTION\n  2\nBLOCKS\n  0\nENDSEC\n', '');
  for (const source of [R12, bare]) {
    const { result } = tagDxf(bytes(source), [EDIT], { drawing: DRAWING });
    const printed = execFileSync(
      PYTHON,
      [
        '-c',
        "import ezdxf,io,sys\nd=ezdxf.read(io.StringIO(sys.stdin.read()))\na=d.audit()\ni=d.modelspace().query('INSERT').first\nprint(len(a.errors),i.get_attrib_text('TAG'),len(list(d.blocks.get('SEALBOOK_TAG'))))",
      ],
      { input: Buffer.from(result), stdio: ['pipe', 'pipe', 'ignore'] },
    );
    // Five lines and six attributes in the block.
    expect(printed.toString().trim()).toBe('0 L01-0001 11');
  }
});

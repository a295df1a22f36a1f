import { Ajv2020 } from 'ajv/dist/2020.js';
import { expect, test } from 'vitest';
import { resultJsonSchema, SealbookResult } from '../../../../src/model/result.ts';
import { buildResult, resultText } from '../../../../src/write/result/build-result.ts';
import { HOSTILE, makeIssue } from '../../../makers/issue/make-issue.ts';
import { makePenetration } from '../../../makers/issue/make-penetration.ts';

const ajv = new Ajv2020({ allErrors: true, strict: false });
const isValid = ajv.compile(resultJsonSchema());

function errorsOf(json: unknown): string {
  isValid(json);
  return ajv.errorsText(isValid.errors);
}

test('a result keeps the published schema, read back from its text', () => {
  const text = resultText(buildResult(makeIssue()));
  expect(errorsOf(JSON.parse(text))).toBe('No errors');
  expect(SealbookResult.safeParse(JSON.parse(text)).success).toBe(true);
});

test('the schema refuses what breaks the contract, and lets fields be added', () => {
  const good = JSON.parse(resultText(buildResult(makeIssue())));
  expect(errorsOf({ ...good, added: 1 })).toBe('No errors');
  expect(errorsOf({ ...good, format: 'other' })).toContain('format');
  expect(errorsOf({ ...good, queries: [{ id: 'x' }] })).toContain('severity');
  const [first, ...rest] = good.penetrations;
  const wrongKind = { ...first, kind: 'hatch' };
  expect(errorsOf({ ...good, penetrations: [wrongKind, ...rest] })).toContain('kind');
  const wrongShape = { ...first, shape: { type: 'circle', widthMm: 3 } };
  expect(errorsOf({ ...good, penetrations: [wrongShape, ...rest] })).toContain('shape');
  const { centreMm: _, ...noCentre } = first;
  expect(errorsOf({ ...good, penetrations: [noCentre, ...rest] })).toContain('centreMm');
});

test('names and enums are those of the contract', () => {
  const result = buildResult(makeIssue());
  expect(result.format).toBe('sealbook-result');
  expect(result.version).toBe(1);
  expect(Object.keys(result.ledger.services)).toEqual([
    'total',
    'through',
    'endsInside',
    'within',
    'touches',
    'clear',
    'noGeometry',
    'excluded',
  ]);
  expect(Object.keys(result.ledger.openings)).toEqual([
    'total',
    'inPenetration',
    'recess',
    'shaft',
    'doorsWindows',
    'noHost',
    'excluded',
  ]);
  expect(Object.keys(result.ledger.cables)).toEqual([
    'total',
    'matched',
    'queried',
    'noPenetration',
  ]);
});

test('the ledger counts what was put in', () => {
  const { ledger } = buildResult(makeIssue());
  expect(ledger.services).toMatchObject({ total: 5, through: 2, endsInside: 1, clear: 1 });
  expect(ledger.openings).toMatchObject({ total: 3, inPenetration: 1, recess: 1, doorsWindows: 1 });
  // Four matched; of the nine hostile ones every other is queried, beginning with the first.
  expect(ledger.cables).toEqual({ total: 13, matched: 4, queried: 5, noPenetration: 4 });
});

test('elements are named by the file as in the inputs and the id the file gives', () => {
  const [first] = buildResult(makeIssue()).penetrations;
  expect(first?.hosts).toMatchObject([
    { file: 'arch-rev-C.ifc', id: '0host0000000000000001', thicknessMm: 200, fireRating: 'EI 120' },
  ]);
  expect(first?.openings).toMatchObject([{ file: 'arch-rev-C.ifc', id: 'pen-1-opening' }]);
  expect(first?.services).toMatchObject([
    { file: 'services.ifc', ids: ['cable-1'], kind: 'cable', sizeMm: [110] },
  ]);
  expect(first?.cables.map(({ ref }) => ref)).toEqual(['P-101', 'P-102', 'P-103']);
});

test('sizes are a diameter, or width and height, or nothing where unknown', () => {
  const result = buildResult(makeIssue());
  expect(result.penetrations[2]?.services[0]?.sizeMm).toEqual([300, 60]);
  expect(result.penetrations[4]?.services[0]?.sizeMm).toEqual([]);
});

test('a bore names a service of its own penetration, the annulus none', () => {
  const seals = buildResult(makeIssue()).penetrations[3]?.seals ?? [];
  expect(seals.map(({ path, of }) => [path, of])).toEqual([
    ['bore', 'duct-1'],
    ['annulus', null],
  ]);
});

test('where nothing is provided the shape is null and the needed one is given', () => {
  const result = buildResult(makeIssue());
  expect(result.penetrations[3]).toMatchObject({
    kind: 'unopened',
    shape: null,
    neededShape: { type: 'circle', diameterMm: 160 },
  });
  expect(result.penetrations[0]).toMatchObject({
    shape: { type: 'circle', diameterMm: 150 },
    neededShape: null,
  });
});

test('every kind of shape is written with its own sizes', () => {
  const shapes = [
    { type: 'slot', lengthMm: 300, widthMm: 100 },
    { type: 'oval', lengthMm: 160.00049, widthMm: 140 },
    {
      type: 'polygon',
      pointsMm: [
        [0, 0],
        [100, 0],
        [0, 50.1234567891],
      ],
    },
  ] as const;
  const penetrations = shapes.map((shape, at) => makePenetration(`p${at}`, { shape }));
  const issue = makeIssue({ penetrations, seals: [] });
  expect(errorsOf(JSON.parse(resultText(buildResult(issue))))).toBe('No errors');
  expect(buildResult(issue).penetrations.map(({ shape }) => shape)).toEqual([
    { type: 'slot', lengthMm: 300, widthMm: 100 },
    { type: 'oval', lengthMm: 160, widthMm: 140 },
    {
      type: 'polygon',
      pointsMm: [
        [0, 0],
        [100, 0],
        [0, 50.123456789],
      ],
    },
  ]);
});

test('a designed seal prints its arrangement so that anyone can measure it again', () => {
  const seal = buildResult(makeIssue()).penetrations[0]?.seals[0];
  expect(seal?.arrangement?.verdict).toBe('fits');
  expect(seal?.arrangement?.items).toHaveLength(3);
  for (const item of seal?.arrangement?.items ?? []) {
    expect(Math.hypot(item.xMm, item.yMm)).toBeCloseTo(34, 5);
    expect(item.diameterMm).toBe(37);
  }
  // 150 mm bore less three of 37 mm, by hand: 17671.46 − 3225.63; 20 mm deep.
  expect(seal?.freeAreaMm2).toBeCloseTo(14_445.83, 2);
  expect(seal?.sealant?.netMl).toBeCloseTo(288.92, 2);
  const found = seal?.fillers.reduce((total, { positions }) => total + positions.length, 0);
  expect(found).toBe(seal?.fillers.reduce((total, { count }) => total + count, 0));
});

test('checks that were not assessed have no numbers and say what is missing', () => {
  const checks = buildResult(makeIssue()).penetrations[0]?.seals[0]?.checks ?? [];
  expect(checks[2]).toMatchObject({
    name: 'fire evidence',
    value: null,
    limit: null,
    ratio: null,
    verdict: 'not assessed',
    missing: ['a fire record for EI 120', 'density of the wall'],
  });
});

test('queries carry the tag, and evidence the file', () => {
  const [query] = buildResult(makeIssue()).queries;
  expect(query).toMatchObject({ code: 'opening-too-small', severity: 'stop', tag: 'L01-0003' });
  expect(query?.evidence[0]).toMatchObject({
    file: 'arch-rev-C.ifc',
    id: '2O2Fr$t4X7Zf8NOew3FLOH',
  });
  expect(buildResult(makeIssue()).queries[1]?.tag).toBeNull();
});

test('numbers that are none never reach the text', () => {
  const issue = makeIssue();
  const [seal] = issue.seals;
  if (seal === undefined) throw new Error('no seal');
  const broken = { ...seal, fillRatio: Number.NaN, freeAreaMm2: Number.POSITIVE_INFINITY };
  const text = resultText(buildResult({ ...issue, seals: [broken] }));
  expect(errorsOf(JSON.parse(text))).toBe('No errors');
  expect(JSON.parse(text).penetrations[0].seals[0].fillRatio).toBeNull();
});

test('materials, basis and changes are there too', () => {
  const change = {
    tag: 'L01-0001',
    kind: 'moved',
    before: '0, 0, 0',
    after: '10, 0, 0',
    because: 'same id',
    sealantDifferenceMl: 0,
    fillerDifference: {},
  } as const;
  const result = JSON.parse(resultText(buildResult(makeIssue({ changes: [change] }))));
  expect(errorsOf(result)).toBe('No errors');
  expect(result.changes).toEqual([change]);
  // 1777.7 × 0.21, to a hundredth.
  expect(result.takeOff.sealants[0]).toMatchObject({ netMl: 1777.7, allowancesMl: 373.32 });
  expect(result.takeOff.fillers).toHaveLength(3);
  expect(result.basis[0]).toMatchObject({ setting: 'design.setBackMm', value: '20' });
});

test('the same issue gives the same text, and hostile texts survive it', () => {
  const text = resultText(buildResult(makeIssue()));
  expect(resultText(buildResult(makeIssue()))).toBe(text);
  expect(text.endsWith('\n')).toBe(true);
  const evidence = JSON.parse(text).queries[1].evidence.map((each: { text: string }) => each.text);
  expect(evidence.slice(0, 8)).toEqual(HOSTILE.slice(0, 8));
});

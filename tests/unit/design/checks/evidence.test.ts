import { describe, expect, test } from 'vitest';
import { designSeals } from '../../../../src/design/design-seals.ts';
import { sizeOne } from '../../../../src/design/size-one.ts';
import type { Duty } from '../../../../src/model/seal.ts';
import { Settings } from '../../../../src/model/settings.ts';
import {
  makeCrossing,
  makeHost,
  makeMatches,
  makePenetration,
  makeSchedule,
} from '../../../makers/seal/make-penetration.ts';
import { makeRange } from '../../../makers/seal/make-range.ts';
import { plainArrangement } from '../../../makers/seal/plain-arrangement.ts';

const fire: Duty = { kind: 'fire', headM: null, side: null, rating: 'EI 60', reason: 'asked' };
const fullRecord = {
  name: 'R1',
  duty: 'fire',
  standard: 'EN 1366-3',
  rating: 'EI 120',
  hostKinds: ['wall'],
  hostThicknessMm: { smallest: 150 },
  largestOpeningMm: { widthMm: 200, heightMm: 200 },
  smallestDepthMm: 20,
  faces: 2,
  largestCableMm: 50,
  smallestSeparationMm: 4,
  emptyTubes: true,
  source: 'made for a test',
};

function verdictWith(records: readonly object[], duty: Duty = fire) {
  const seal = sizeOne(
    {
      opening: { type: 'circle', diameterMm: 150 },
      bodies: [{ ref: '1', outline: { type: 'circle', diameterMm: 37 } }],
      range: makeRange([310], { records }),
      design: Settings.parse({}).design,
      duties: [duty],
      thicknessMm: 200,
      penetration: makePenetration(),
    },
    { arrange: plainArrangement },
  );
  const check = seal.checks.find(({ name }) => name.startsWith('evidence'));
  if (check === undefined) throw new Error('no evidence check');
  return check;
}

describe('fire evidence', () => {
  test('one record that covers every point', () => {
    const check = verdictWith([fullRecord]);
    expect(check.verdict).toBe('met');
    expect(check.note).toContain('within the evidence supplied');
  });
  test('no record at all is not assessed, and says what is missing', () => {
    const check = verdictWith([]);
    expect(check.verdict).toBe('not assessed');
    expect(check.missing).toEqual(['a test record for fire']);
  });
  test.each([
    ['rating', { rating: 'EI 30' }],
    ['criteria', { rating: 'E 120' }],
    ['host kind', { hostKinds: ['slab'] }],
    ['host thickness', { hostThicknessMm: { smallest: 250 } }],
    ['opening', { largestOpeningMm: { widthMm: 140, heightMm: 200 } }],
    ['depth', { smallestDepthMm: 25 }],
    ['cable', { largestCableMm: 36 }],
    ['separation', { smallestSeparationMm: 10 }],
    ['empty tubes', { emptyTubes: false }],
  ])('outside by its %s', (_point, change) => {
    const check = verdictWith([{ ...fullRecord, ...change }]);
    expect(check.verdict).toBe('not met');
    expect(check.note).toContain('outside the evidence supplied');
  });
  test('a point that the record does not state is not assessed', () => {
    const { largestCableMm: _left, ...silent } = fullRecord;
    const check = verdictWith([silent]);
    expect(check.verdict).toBe('not assessed');
    expect(check.missing).toEqual(['largest cable in the record']);
  });
  test('the record that covers it counts, wherever it stands in the range', () => {
    const check = verdictWith([{ ...fullRecord, name: 'small', largestCableMm: 30 }, fullRecord]);
    expect(check.verdict).toBe('met');
    expect(check.note).toContain('"R1"');
  });
  test('two records that only together cover it are never combined', () => {
    const check = verdictWith([
      { ...fullRecord, name: 'thin', largestCableMm: 30 },
      { ...fullRecord, name: 'small', smallestDepthMm: 30 },
    ]);
    expect(check.verdict).toBe('not met');
  });
  test('evidence for another duty is none: fire says nothing of gas', () => {
    const gas: Duty = { ...fire, kind: 'gas', rating: null };
    expect(verdictWith([fullRecord], gas).verdict).toBe('not assessed');
  });
  test('no verdict promises more than the evidence', () => {
    for (const check of [verdictWith([fullRecord]), verdictWith([])]) {
      expect(JSON.stringify(check)).not.toMatch(/\b(?:complies|compliant|safe)\b/i);
    }
  });
});

describe('services other than cables', () => {
  const pipe = makeCrossing({ id: 'p', kind: 'pipe', section: { type: 'circle', diameterMm: 80 } });
  const hole = makePenetration({ crossings: [pipe], hosts: [makeHost({ fireRating: 'EI 60' })] });
  const evidence = (changes: object) => {
    const { result } = designSeals(
      {
        penetrations: [hole],
        schedule: makeSchedule([]),
        matches: makeMatches([]),
        range: makeRange([310], { records: [{ ...fullRecord, ...changes }] }),
        settings: Settings.parse({}),
      },
      { arrange: plainArrangement },
    );
    return result[0]?.checks.find(({ name }) => name.startsWith('evidence'));
  };
  const withPipes = { services: ['pipe'], largestServiceMm: 100 };
  test('a record with cables only says nothing of pipes', () => {
    expect(evidence({})?.verdict).toBe('not assessed');
    expect(evidence({ ...withPipes, services: ['duct'] })?.verdict).toBe('not met');
  });
  test('open ends cover every pipe end, other ends ask how they are on site', () => {
    expect(evidence({ ...withPipes, pipeEnds: 'U/U' })?.verdict).toBe('met');
    const capped = evidence({ ...withPipes, pipeEnds: 'C/C' });
    expect(capped?.verdict).toBe('not assessed');
    expect(capped?.missing).toEqual(['ends of pipes and conduits of this seal']);
  });
  test('a pipe larger than tested is outside', () => {
    const check = evidence({ services: ['pipe'], largestServiceMm: 79, pipeEnds: 'U/U' });
    expect(check?.verdict).toBe('not met');
  });
  test('a limit that no model answers is asked for', () => {
    const check = evidence({ ...withPipes, pipeEnds: 'U/U', hostDensityKgM3: { smallest: 650 } });
    expect(check?.missing).toEqual(['density of the host of this seal']);
  });
});

test('water evidence asks for the head it was tested to', () => {
  const water: Duty = { kind: 'water', headM: 5, side: null, rating: null, reason: 'asked' };
  const { rating: _none, ...record } = { ...fullRecord, duty: 'water', faces: 1 };
  expect(verdictWith([{ ...record, largestHeadM: 5 }], water).verdict).toBe('met');
  expect(verdictWith([{ ...record, largestHeadM: 4.9 }], water).verdict).toBe('not met');
});

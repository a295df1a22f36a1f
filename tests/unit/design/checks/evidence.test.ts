import { describe, expect, test } from 'vitest';
import { designSeals } from '../../../../src/design/design-seals.ts';
import type { Duty } from '../../../../src/model/seal.ts';
import { Settings } from '../../../../src/model/settings.ts';
import {
  makeCable,
  makeCrossing,
  makeHost,
  makeMatch,
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
  orientation: 'upright',
  hostDensityKgM3: { smallest: 650 },
  spacingMm: 200,
  supportWithinMm: 400,
  cableTypes: ['XLPE'],
  source: 'made for a test',
};

/** What no model tells, as the project file gives it. */
const onSite = { hostDensityKgM3: 2300, supportWithinMm: 300 };

function verdictWith(records: readonly object[], duty: Duty = fire, design: object = onSite) {
  const hole = makePenetration();
  const cable = makeCable('1', { type: 'XLPE/SWA' });
  const { kind, headM, rating } = duty;
  const { result } = designSeals(
    {
      penetrations: [hole],
      schedule: makeSchedule([cable]),
      matches: makeMatches([makeMatch(cable, hole)]),
      range: makeRange([310], { records }),
      settings: Settings.parse({
        design,
        duties: [
          {
            duty: kind,
            ...(headM === null ? {} : { headM }),
            ...(rating === null ? {} : { rating }),
          },
        ],
      }),
    },
    { arrange: plainArrangement },
  );
  const check = result[0]?.checks.find(({ name }) => name.startsWith('evidence'));
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
    ['orientation', { orientation: 'level' }],
    ['density', { hostDensityKgM3: { smallest: 2400 } }],
    ['support', { supportWithinMm: 250 }],
    ['cable type', { cableTypes: ['mineral insulated'] }],
  ])('outside by its %s', (_point, change) => {
    const check = verdictWith([{ ...fullRecord, ...change }]);
    expect(check.verdict).toBe('not met');
    expect(check.note).toContain('outside the evidence supplied');
  });
  test.each([
    ['largest cable', 'largestCableMm'],
    ['cable types', 'cableTypes'],
    ['density of the host', 'hostDensityKgM3'],
    ['distance to the next opening', 'spacingMm'],
    ['distance to the support of the services', 'supportWithinMm'],
    ['host kind', 'hostKinds'],
    ['layer depth', 'smallestDepthMm'],
  ])('a record that does not state the %s is not assessed', (name, field) => {
    const silent = Object.fromEntries(Object.entries(fullRecord).filter(([key]) => key !== field));
    const check = verdictWith([silent]);
    expect(check.verdict).toBe('not assessed');
    expect(check.missing).toEqual([`${name} in the record`]);
  });
  test('what no model tells stays open until the project file says it', () => {
    expect(verdictWith([fullRecord], fire, {}).missing).toEqual([
      'density of the host of this seal',
      'distance to the support of the services of this seal',
    ]);
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
        settings: Settings.parse({ design: onSite }),
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
});

test('water evidence asks for the head it was tested to', () => {
  const water: Duty = { kind: 'water', headM: 5, side: null, rating: null, reason: 'asked' };
  const { rating: _none, ...record } = { ...fullRecord, duty: 'water', faces: 1 };
  expect(verdictWith([{ ...record, largestHeadM: 5 }], water).verdict).toBe('met');
  expect(verdictWith([{ ...record, largestHeadM: 4.9 }], water).verdict).toBe('not met');
});

test('a water record that says nothing of density or cable types is enough for water', () => {
  const water: Duty = { kind: 'water', headM: 5, side: null, rating: null, reason: 'asked' };
  const record = Object.fromEntries(
    Object.entries({ ...fullRecord, duty: 'water', faces: 1, largestHeadM: 5 }).filter(
      ([key]) => !['hostDensityKgM3', 'spacingMm', 'supportWithinMm', 'cableTypes'].includes(key),
    ),
  );
  expect(verdictWith([record], water, {}).verdict).toBe('met');
});

describe('the next opening against the spacing of a record', () => {
  const verdict = (clearMm: number) => {
    const at = (id: string, x: number) =>
      makePenetration({
        id,
        hosts: [makeHost({ fireRating: 'EI 60' })],
        frame: { originMm: [x, 0, 1000], axis: [0, 1, 0], right: [1, 0, 0], up: [0, 0, 1] },
      });
    const { result } = designSeals(
      {
        penetrations: [at('a', 0), at('b', 150 + clearMm)],
        schedule: makeSchedule([]),
        matches: makeMatches([]),
        range: makeRange([310], { records: [fullRecord] }),
        settings: Settings.parse({ design: onSite }),
      },
      { arrange: plainArrangement },
    );
    return result[0]?.checks.find(({ name }) => name.startsWith('evidence'))?.verdict;
  };
  test('as far as tested is inside, a millimetre less is not', () => {
    expect(verdict(200)).toBe('met');
    expect(verdict(199)).toBe('not met');
    expect(verdict(2000)).toBe('met');
  });
});

import { expect, test } from 'vitest';
import type { Truth } from '../../../samples/make/truth-model.ts';
import { type ComparableResult, compareWithTruth } from '../../e2e/compare-with-truth.ts';

const WALL = '0000000000000000000001';
const HOLE = '0000000000000000000002';
const TRAY = '0000000000000000000003';

const truth: Truth = {
  penetrations: [
    {
      name: 'OP-1',
      kind: 'opening',
      centreMm: [1000, 0, 500],
      toleranceMm: 5,
      axis: [0, 1, 0],
      hosts: [{ file: 'a.ifc', id: WALL, mark: 'W', thicknessMm: 200, fireRating: 'EI 60' }],
      openings: [{ file: 'a.ifc', id: HOLE, mark: 'OP-1' }],
      services: [
        {
          file: 's.ifc',
          ref: 'R-1',
          ids: [TRAY],
          kind: 'carrier',
          sizeMm: [300, 60],
          bodiesInBore: 1,
        },
      ],
      shape: { type: 'rectangle', widthMm: 400, heightMm: 200 },
      bareBodies: null,
      cables: ['K1'],
      cablesAllowed: ['K2'],
    },
  ],
  services: [{ file: 's.ifc', id: TRAY, name: 'R-1', outcome: 'through' }],
  openings: [{ file: 'a.ifc', id: HOLE, name: 'OP-1', outcome: 'inPenetration' }],
  cables: [cable('K1', 'matched'), cable('K2', 'any'), cable('K3', 'queried')],
  queries: [{ codes: ['cable-no-penetration'], penetration: null, about: ['K3'] }],
  drawings: [],
};

function cable(ref: string, outcome: Truth['cables'][number]['outcome']): Truth['cables'][number] {
  const penetrations = outcome === 'matched' ? ['OP-1'] : [];
  return {
    ref,
    file: 'c.xlsx',
    sheet: null,
    row: 1,
    outcome,
    why: null,
    penetrations,
    diameterMm: 10,
    bodies: 1,
  };
}

const good: ComparableResult = {
  inputs: [{ file: 'a.ifc', kind: 'ifc' }],
  penetrations: [
    {
      tag: 'T-1',
      kind: 'opening',
      centreMm: [1001, 0, 500],
      axis: [0, -1, 0],
      hosts: [{ file: 'a.ifc', id: WALL, thicknessMm: 200, fireRating: 'EI 60' }],
      openings: [{ file: 'a.ifc', id: HOLE }],
      services: [{ file: 's.ifc', ids: [TRAY], kind: 'carrier', sizeMm: [300, 60] }],
      shape: { type: 'rectangle', widthMm: 400, heightMm: 200 },
      cables: [{ ref: 'K1' }],
      seals: [boreOf(1)],
    },
  ],
  ledger: {
    services: { total: 1, through: 1, clear: 0 },
    openings: { total: 1, inPenetration: 1, shaft: 0 },
    cables: { total: 3, matched: 1, queried: 2, noPenetration: 0 },
  },
  queries: [{ code: 'cable-no-penetration', tag: null, text: 'K3 goes nowhere', evidence: [] }],
};

type Change = (result: ComparableResult) => ComparableResult;
const inFirst =
  (change: Partial<ComparableResult['penetrations'][number]>): Change =>
  (result) => ({
    ...result,
    penetrations: result.penetrations.map((each) => ({ ...each, ...change })),
  });

function boreOf(bodies: number): ComparableResult['penetrations'][number]['seals'][number] {
  const items = Array.from({ length: bodies }, (_, index) => index);
  return { path: 'bore', of: `serv:${TRAY}`, state: 'designed', arrangement: { items } };
}

function drawnAt(xMm: number): ComparableResult['penetrations'][number] {
  return {
    tag: 'P-9',
    kind: 'unopened',
    centreMm: [xMm, 0, 3000],
    axis: [0, 1, 0],
    hosts: [{ file: 'plan.dxf', id: '2F', thicknessMm: 200, fireRating: null }],
    openings: [],
    services: [{ file: 'plan.dxf', ids: ['3A'], kind: 'carrier', sizeMm: [] }],
    shape: null,
    cables: [],
    seals: [],
  };
}

test('a result that agrees with the truth differs in nothing', () => {
  expect(compareWithTruth(good, truth)).toEqual([]);
});

test('what only may be listed is no difference', () => {
  const changed = inFirst({ cables: [{ ref: 'K1' }, { ref: 'K2' }] })(good);
  expect(compareWithTruth(changed, truth)).toEqual([]);
});

test.each<readonly [string, Change, RegExp]>([
  ['a penetration is missing', (result) => ({ ...result, penetrations: [] }), /OP-1: not found/],
  ['it lies elsewhere', inFirst({ centreMm: [1000, 20, 500] }), /20 mm off/],
  ['its centre is no number', inFirst({ centreMm: [Number.NaN, 0, 500] }), /mm off/],
  ['its axis is another', inFirst({ axis: [1, 0, 0] }), /axis/],
  ['it is of another kind', inFirst({ kind: 'hole' }), /kind is hole/],
  [
    'a leaf is too thick',
    inFirst({ hosts: [{ file: 'a.ifc', id: WALL, thicknessMm: 250, fireRating: 'EI 60' }] }),
    /250 mm thick/,
  ],
  [
    'a rating is lost',
    inFirst({ hosts: [{ file: 'a.ifc', id: WALL, thicknessMm: 200, fireRating: null }] }),
    /rated null/,
  ],
  ['its service is lost', inFirst({ services: [] }), /R-1 is missing/],
  [
    'its service has another size',
    inFirst({ services: [{ file: 's.ifc', ids: [TRAY], kind: 'carrier', sizeMm: [60, 300] }] }),
    /measures/,
  ],
  [
    'a foreign service passes',
    inFirst({
      services: [
        { file: 's.ifc', ids: [TRAY], kind: 'carrier', sizeMm: [300, 60] },
        { file: 's.ifc', ids: [WALL], kind: 'pipe', sizeMm: [50] },
      ],
    }),
    /does not pass here/,
  ],
  ['its shape is another', inFirst({ shape: { type: 'circle', diameterMm: 400 } }), /shape is/],
  ['a cable is missing', inFirst({ cables: [] }), /K1 is missing/],
  [
    'a wrong cable is matched in silence',
    inFirst({ cables: [{ ref: 'K1' }, { ref: 'K3' }] }),
    /K3 does not pass/,
  ],
  [
    'a hole is invented',
    (result) => ({
      ...result,
      penetrations: [
        ...result.penetrations,
        ...result.penetrations.map((each) => ({ ...each, tag: 'T-2', openings: [] })),
      ],
    }),
    /T-2: no such hole/,
  ],
  [
    'a drawing adds a second row for the same hole',
    (result) => ({ ...result, penetrations: [...result.penetrations, drawnAt(1050)] }),
    /P-9: the drawing's hole stands apart from the model's OP-1/,
  ],
  [
    'a drawing invents a hole',
    (result) => ({ ...result, penetrations: [...result.penetrations, drawnAt(9000)] }),
    /P-9: drawn where the building has no hole/,
  ],
  ['a cable lies in a bore twice', inFirst({ seals: [boreOf(2)] }), /holds 2 bodies, not 1/],
  [
    'the ledger does not add up',
    (result) => ({
      ...result,
      ledger: { ...result.ledger, openings: { total: 2, inPenetration: 1, shaft: 0 } },
    }),
    /add up to 1/,
  ],
  [
    'a service is lost',
    (result) => ({
      ...result,
      ledger: { ...result.ledger, services: { total: 0, through: 0, clear: 0 } },
    }),
    /0 through/,
  ],
  [
    'a cable is lost',
    (result) => ({
      ...result,
      ledger: { ...result.ledger, cables: { total: 2, matched: 1, queried: 1, noPenetration: 0 } },
    }),
    /2 in all/,
  ],
  [
    'a question is not asked',
    (result) => ({ ...result, queries: [] }),
    /no query cable-no-penetration/,
  ],
])('it is seen when %s', (_, change, message) => {
  expect(compareWithTruth(change(good), truth).join('\n')).toMatch(message);
});

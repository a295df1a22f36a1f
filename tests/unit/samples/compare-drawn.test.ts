import { expect, test } from 'vitest';
import { type DrawnHole, drawnHoles } from '../../../samples/make/drawn-truth.ts';
import { compareDrawn } from '../../e2e/compare-drawn.ts';
import type { ComparablePenetration } from '../../e2e/compare-with-truth.ts';

test('the plan shows a hole for each run through each wall, the elevation nine', () => {
  const holes = drawnHoles();
  // Counted on the picture of the plan: W-06 nine, W-07 five, W-08 five, north wall three, W-09 two,
  // west wall two, wet well two, W-02 one, W-01 one.
  expect(holes.filter(({ view }) => view === 'plan').map(({ name }) => name)).toHaveLength(30);
  expect(holes.filter(({ view }) => view === 'section')).toHaveLength(9);
});

const holes: readonly DrawnHole[] = [
  { name: 'R in W', view: 'plan', atMm: [100, 0, 3000], sizeMm: [300, 60], shape: null },
  {
    name: 'D',
    view: 'section',
    atMm: [500, 0, -900],
    sizeMm: [160],
    shape: { type: 'circle', diameterMm: 200 },
  },
];

function drawn(
  tag: string,
  centreMm: readonly [number, number, number],
  sizes: readonly (readonly number[])[],
  shape: ComparablePenetration['shape'] = null,
): ComparablePenetration {
  return {
    tag,
    kind: 'unopened',
    centreMm,
    axis: [0, 1, 0],
    hosts: [],
    openings: [],
    services: sizes.map((sizeMm) => ({ file: 'plan.dxf', ids: ['1'], kind: 'carrier', sizeMm })),
    shape,
    cables: [],
    seals: [],
  };
}

const tray = drawn('T', [100, 0, 0], [[300, 60]]);
const duct = drawn('D', [500, 7, -900], [[160]], { type: 'circle', diameterMm: 200 });

test('what is found as it is drawn differs in nothing', () => {
  expect(compareDrawn({ penetrations: [tray, duct] }, holes)).toEqual([]);
});

test.each<readonly [string, readonly ComparablePenetration[], RegExp]>([
  ['a hole is missing', [duct], /R in W: not found/],
  [
    'edges of a tray are two holes',
    [drawn('A', [-50, 0, 0], [[]]), drawn('B', [250, 0, 0], [[]]), duct],
    /R in W: not found/,
  ],
  ['a size is wrong', [drawn('T', [100, 0, 0], [[60, 300]]), duct], /R in W: measures 60 × 300/],
  ['a height is wrong', [tray, drawn('D', [500, 0, -1200], [[160]], duct.shape)], /D: not found/],
  ['a hole has another shape', [tray, drawn('D', [500, 0, -900], [[160]])], /D: shape is null/],
  ['a hole is invented', [tray, duct, drawn('X', [9000, 0, 0], [])], /X: no hole is drawn/],
  ['a hole is found twice', [tray, tray, duct], /3 penetrations for 2 holes/],
])('it is seen when %s', (_, penetrations, message) => {
  expect(compareDrawn({ penetrations }, holes).join('\n')).toMatch(message);
});

import { expect, test } from 'vitest';
import { viewFrame } from '../../../../src/find/drawings/view-frame.ts';
import type { DrawnView } from '../../../../src/model/drawing.ts';
import { placeInView, viewOf } from '../../../../src/write/dxf-tags/drawing-place.ts';

const PLAN: DrawnView = {
  view: 'plan',
  name: null,
  windowMm: null,
  level: 'L01',
  elevationMm: 3000,
  serviceHeightMm: null,
  base: { pointMm: [100, 200], atMm: [10_000, 20_000, 0] },
  datum: null,
};

test.each<[string, DrawnView]>([
  ['a plan with a base point', PLAN],
  ['a section with a datum', { ...PLAN, view: 'section', datum: { yMm: 50, heightMm: 1000 } }],
  ['a section without one', { ...PLAN, view: 'section' }],
  ['a plain elevation', { ...PLAN, view: 'elevation', base: null }],
])('%s: the way back of what finding does', (_, view) => {
  const world = viewFrame(view).toWorld([1234, 567], 0);
  const place = placeInView(view, world);
  expect(place?.[0]).toBeCloseTo(1234, 9);
  expect(place?.[1]).toBeCloseTo(567, 9);
});

test('of several plans the one of the level, and none outside its window', () => {
  const ground: DrawnView = { ...PLAN, level: 'L00', elevationMm: 0, base: null };
  const first: DrawnView = { ...ground, level: 'L01', elevationMm: 3000 };
  expect(viewOf([ground, first], [0, 0, 2800], 'L00')?.view).toBe(ground);
  expect(viewOf([ground, first], [0, 0, 2800], null)?.view).toBe(first);
  const windowed: DrawnView = { ...ground, windowMm: [0, 0, 10, 10] };
  expect(viewOf([windowed], [20, 5, 0], null)).toBeNull();
});

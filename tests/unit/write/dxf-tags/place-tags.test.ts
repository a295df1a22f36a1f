import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Vec2 } from '../../../../src/geometry/vec.ts';
import type { Drawing, DrawnText } from '../../../../src/model/drawing.ts';
import { type PlacedTag, placeTags } from '../../../../src/write/dxf-tags/place-tags.ts';

function drawing(texts: readonly Partial<DrawnText>[], lines: readonly [Vec2, Vec2][]): Drawing {
  return {
    fileKey: 'plan',
    name: 'plan',
    units: { unit: 'mm', mmPerUnit: 1, from: 'given' },
    layers: [],
    views: [],
    symbols: [],
    leaders: [],
    masks: [],
    texts: texts.map((text, at) => ({
      ref: { fileKey: 'plan', id: `T${at}` },
      layer: '0',
      text: 'ROOM',
      heightMm: 100,
      rotationRad: 0,
      centreMm: [0, 0],
      lengthMm: 400,
      depthMm: 100,
      within: [],
      ...text,
    })),
    entities: lines.map(([from, to], at) => ({
      ref: { fileKey: 'plan', id: `L${at}` },
      type: 'LINE',
      layer: '0',
      style: { colour: 7, lineweight: -1, linetype: 'CONTINUOUS' },
      loops: [{ pieces: [{ type: 'line', from, to }], isClosed: false }],
      form: 'curve',
      widthMm: 0,
      within: [],
    })),
  };
}

const anchor = (point: Vec2) => ({ point, radiusMm: 50, text: 'L01-0001' });

function apart(a: PlacedTag, b: PlacedTag): boolean {
  return (
    Math.abs(a.centre[0] - b.centre[0]) >= (a.widthMm + b.widthMm) / 2 - 1e-9 ||
    Math.abs(a.centre[1] - b.centre[1]) >= (a.heightMm + b.heightMm) / 2 - 1e-9
  );
}

test('labels of openings close together do not overlap', () => {
  fc.assert(
    fc.property(
      fc.array(fc.tuple(fc.integer({ min: 0, max: 3000 }), fc.integer({ min: 0, max: 3000 })), {
        minLength: 2,
        maxLength: 12,
      }),
      (points) => {
        const { placed } = placeTags(
          drawing([{ centreMm: [-9000, -9000] }], []),
          points.map(anchor),
        );
        for (const [at, tag] of placed.entries()) {
          for (const other of placed.slice(at + 1)) expect(apart(tag, other)).toBe(true);
        }
      },
    ),
    { numRuns: 50 },
  );
});

test('a label keeps clear of a text beside the opening', () => {
  const text = { centreMm: [600, 300] as Vec2, lengthMm: 800, depthMm: 300 };
  const { placed, textHeightMm } = placeTags(drawing([text], []), [anchor([0, 0])]);
  expect(textHeightMm).toBe(100);
  const [tag] = placed;
  if (tag === undefined) throw new Error('no label');
  const clear =
    Math.abs(tag.centre[0] - 600) >= tag.widthMm / 2 + 400 ||
    Math.abs(tag.centre[1] - 300) >= tag.heightMm / 2 + 150;
  expect(clear).toBe(true);
});

test('the leader runs from the edge of the opening to the box', () => {
  const { placed } = placeTags(drawing([{ centreMm: [9000, 0] }], []), [anchor([1000, 2000])]);
  const [tag] = placed;
  if (tag === undefined) throw new Error('no label');
  const { from, to } = tag.leader;
  expect(Math.hypot(from[0] - 1000, from[1] - 2000)).toBeCloseTo(50, 6);
  expect(Math.abs(to[0] - tag.centre[0])).toBeLessThanOrEqual(tag.widthMm / 2 + 1e-9);
  expect(Math.abs(to[1] - tag.centre[1])).toBeLessThanOrEqual(tag.heightMm / 2 + 1e-9);
});

test('a turned drawing turns its labels', () => {
  const turned = { rotationRad: Math.PI / 6, centreMm: [9000, 9000] as Vec2 };
  const texts = [turned, turned, turned, { rotationRad: 0, centreMm: [8000, 0] as Vec2 }];
  expect(placeTags(drawing(texts, []), [anchor([0, 0])]).turnRad).toBeCloseTo(Math.PI / 6, 9);
  expect(placeTags(drawing([turned, { centreMm: [0, 9000] }], []), [anchor([0, 0])]).turnRad).toBe(
    0,
  );
});

test('a drawing without texts gets labels in proportion to its extent', () => {
  const wide: [Vec2, Vec2] = [
    [0, 0],
    [24_000, 0],
  ];
  expect(placeTags(drawing([], [wide]), [anchor([0, 0])]).textHeightMm).toBe(100);
});

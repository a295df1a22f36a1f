import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  type Box,
  boxShortfall,
  boxToBox,
  pointShortfall,
  pointToBox,
} from '../../../../src/geometry/packing/box-distance.ts';
import { arcCosine, sineCosine } from '../../../../src/geometry/packing/exact-trigonometry.ts';
import { regionOf } from '../../../../src/geometry/packing/region.ts';
import type { Shape } from '../../../../src/geometry/shape.ts';
import { bodyDistance, pointToWall, rectangleAt } from '../../../checker/plain-distances.ts';

const coordinate = fc.double({ min: -120, max: 120, noNaN: true });
const angle = fc.double({ min: -7, max: 7, noNaN: true });
const side = fc.double({ min: 5, max: 80, noNaN: true });

const boxArb = fc
  .record({ x: coordinate, y: coordinate, angle, w: side, h: side })
  .map(({ x, y, angle: turn, w, h }) => {
    const [sine, cosine] = sineCosine(turn);
    const box: Box = { x, y, sine, cosine, halfX: w / 2, halfY: h / 2 };
    return { box, plain: rectangleAt([x, y], w, h, turn), turn };
  });

describe('own trigonometry', () => {
  test('sine, cosine and arc cosine agree with the built-in ones', () => {
    fc.assert(
      fc.property(fc.double({ min: -50, max: 50, noNaN: true }), (x) => {
        const [sine, cosine] = sineCosine(x);
        expect(Math.abs(sine - Math.sin(x))).toBeLessThan(1e-14);
        expect(Math.abs(cosine - Math.cos(x))).toBeLessThan(1e-14);
      }),
    );
    fc.assert(
      fc.property(fc.double({ min: -1, max: 1, noNaN: true }), (x) => {
        expect(Math.abs(arcCosine(x) - Math.acos(x))).toBeLessThan(1e-13);
      }),
    );
  });
});

describe('distances against the plain ones', () => {
  test('boxes apart', () => {
    fc.assert(
      fc.property(boxArb, boxArb, (a, b) => {
        const plain = bodyDistance(a.plain, b.plain);
        const own = boxToBox(a.box, b.box);
        if (plain > 1e-6) expect(own).toBeCloseTo(plain, 6);
        else expect(own).toBeLessThan(1e-6);
      }),
      { numRuns: 500, seed: 17 },
    );
  });

  test('point to box', () => {
    fc.assert(
      fc.property(boxArb, coordinate, coordinate, (a, x, y) => {
        const plain = bodyDistance(a.plain, { kind: 'disc', centre: [x, y], radius: 0 });
        expect(pointToBox(x, y, a.box)).toBeCloseTo(plain, 9);
      }),
      { numRuns: 500, seed: 17 },
    );
  });

  const shapes: readonly Shape[] = [
    { type: 'circle', diameterMm: 180 },
    { type: 'rectangle', widthMm: 200, heightMm: 90 },
    { type: 'slot', lengthMm: 220, widthMm: 80 },
    { type: 'slot', lengthMm: 80, widthMm: 220 },
    { type: 'oval', lengthMm: 200, widthMm: 120 },
    { type: 'oval', lengthMm: 90, widthMm: 200 },
    {
      type: 'polygon',
      pointsMm: [
        [-100, -80],
        [100, -80],
        [100, 0],
        [0, 0],
        [0, 80],
        [-100, 80],
      ],
      islandsMm: [
        [
          [-80, -60],
          [-50, -60],
          [-50, -30],
        ],
      ],
    },
  ];
  test.each(shapes)('clearance from the wall of a $type', (shape) => {
    const region = regionOf(shape);
    fc.assert(
      fc.property(coordinate, coordinate, (x, y) => {
        const plain = pointToWall([x, y], shape);
        const own = region.clearance(x, y);
        // Outside a round end or a corner, only the sign matters.
        if (plain > 0 || shape.type === 'polygon') expect(own).toBeCloseTo(plain, 7);
        else expect(own).toBeLessThanOrEqual(0);
      }),
      { numRuns: 400, seed: 17 },
    );
  });
});

describe('gradients of shortfalls', () => {
  const step = 1e-6;

  test.each<Shape>([
    { type: 'circle', diameterMm: 180 },
    { type: 'rectangle', widthMm: 200, heightMm: 90 },
    { type: 'slot', lengthMm: 220, widthMm: 80 },
    { type: 'oval', lengthMm: 200, widthMm: 120 },
  ])('wall of a $type', (shape) => {
    const region = regionOf(shape);
    fc.assert(
      fc.property(coordinate, coordinate, (x, y) => {
        // On the far side of the middle the nearest wall changes: no gradient there.
        fc.pre(region.clearance(x, y) < 30);
        const out = new Float64Array(2);
        region.shortfall(x, y, 35, out);
        const none = new Float64Array(2);
        const at = (dx: number, dy: number) => region.shortfall(x + dx, y + dy, 35, none);
        expect(out[0]).toBeCloseTo((at(step, 0) - at(-step, 0)) / (2 * step), 2);
        expect(out[1]).toBeCloseTo((at(0, step) - at(0, -step)) / (2 * step), 2);
      }),
      { numRuns: 200, seed: 17 },
    );
  });

  test('a point and a box apart, by place and turn', () => {
    fc.assert(
      fc.property(boxArb, coordinate, coordinate, ({ box, turn }, x, y) => {
        const distance = pointToBox(x, y, box);
        fc.pre(distance > 0.5);
        const need = distance + 3;
        const pull = { x: 0, y: 0, turn: 0 };
        const boxPull = { x: 0, y: 0, turn: 0 };
        pointShortfall(x, y, box, need, pull, boxPull);
        const rest = { x: 0, y: 0, turn: 0 };
        const at = (dTurn: number, dx: number) => {
          const [sine, cosine] = sineCosine(turn + dTurn);
          const moved = { ...box, x: box.x + dx, sine, cosine };
          return pointShortfall(x, y, moved, need, { ...rest }, { ...rest });
        };
        const rate = (f: (d: number) => number) => (f(step) - f(-step)) / (2 * step);
        expect(Math.abs(boxPull.turn - rate((d) => at(d, 0)))).toBeLessThan(
          1e-4 * (1 + Math.abs(boxPull.turn)),
        );
        expect(boxPull.x).toBeCloseTo(
          rate((d) => at(0, d)),
          3,
        );
        expect(pull.x).toBeCloseTo(-boxPull.x, 9);
      }),
      { numRuns: 300, seed: 17 },
    );
  });

  test('two boxes: no shortfall exactly when they keep the need', () => {
    fc.assert(
      fc.property(boxArb, boxArb, fc.double({ min: 0, max: 40, noNaN: true }), (a, b, need) => {
        const rest = { x: 0, y: 0, turn: 0 };
        const short = boxShortfall(a.box, b.box, need, { ...rest }, { ...rest });
        const distance = boxToBox(a.box, b.box);
        if (distance > need + 1e-9) expect(short).toBe(0);
        if (distance < need - 1e-9) expect(short).toBeGreaterThan(0);
      }),
      { numRuns: 500, seed: 17 },
    );
  });
});

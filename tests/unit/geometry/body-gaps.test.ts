import fc from 'fast-check';
import { expect, test } from 'vitest';
import { closestBodies, closestToWall } from '../../../src/geometry/body-gaps.ts';
import type { PlacedBody } from '../../../src/model/arrangement.ts';
import { placed } from '../../makers/issue/make-seal.ts';

function rectangle(
  xMm: number,
  yMm: number,
  widthMm: number,
  heightMm: number,
  angleRad = 0,
): PlacedBody {
  return {
    ref: 'r',
    xMm,
    yMm,
    outline: { type: 'rectangle', widthMm, heightMm, turns: 'free' },
    angleRad,
    tube: null,
  };
}

test('two circles stand apart by their distance less both radii', () => {
  const gap = closestBodies([
    placed({ ref: 'a', xMm: 0, yMm: 0, diameterMm: 20 }),
    placed({ ref: 'b', xMm: 30, yMm: 40, diameterMm: 30 }),
  ]);
  // 3-4-5 triangle: 50 − 10 − 15.
  expect(gap?.gapMm).toBeCloseTo(25, 9);
  expect(gap?.from).toEqual([6, 8]);
});

test('of three bodies the closest pair is measured', () => {
  const gap = closestBodies([
    placed({ ref: 'a', xMm: 0, yMm: 0, diameterMm: 10 }),
    placed({ ref: 'b', xMm: 100, yMm: 0, diameterMm: 10 }),
    placed({ ref: 'c', xMm: 115, yMm: 0, diameterMm: 10 }),
  ]);
  expect(gap?.gapMm).toBeCloseTo(5, 9);
});

test('a single body has no pair, an empty opening no wall distance', () => {
  expect(closestBodies([placed({ ref: 'a', xMm: 0, yMm: 0, diameterMm: 10 })])).toBeNull();
  expect(closestToWall([], { type: 'circle', diameterMm: 100 })).toBeNull();
});

test('a circle and a rectangle are measured to the nearest side or corner', () => {
  const side = closestBodies([
    placed({ ref: 'a', xMm: 0, yMm: 30, diameterMm: 20 }),
    rectangle(0, 0, 40, 20),
  ]);
  expect(side?.gapMm).toBeCloseTo(10, 9);
  const corner = closestBodies([
    placed({ ref: 'a', xMm: 23, yMm: 14, diameterMm: 2 }),
    rectangle(0, 0, 40, 20),
  ]);
  expect(corner?.gapMm).toBeCloseTo(4, 9);
});

test('the wall of a round opening is found within the flatness of its polygon', () => {
  const gap = closestToWall([placed({ ref: 'a', xMm: 20, yMm: 10, diameterMm: 30 })], {
    type: 'circle',
    diameterMm: 150,
  });
  expect(gap?.gapMm).toBeCloseTo(75 - Math.sqrt(500) - 15, 1);
});

test('an island counts as wall', () => {
  const gap = closestToWall([placed({ ref: 'a', xMm: 0, yMm: 0, diameterMm: 10 })], {
    type: 'polygon',
    pointsMm: [
      [-100, -100],
      [100, -100],
      [100, 100],
      [-100, 100],
    ],
    islandsMm: [
      [
        [10, -5],
        [20, -5],
        [20, 5],
        [10, 5],
      ],
    ],
  });
  expect(gap?.gapMm).toBeCloseTo(5, 9);
});

test('turned rectangles agree with points sampled on their outlines', () => {
  const place = fc.record({
    w: fc.double({ min: 5, max: 40, noNaN: true }),
    h: fc.double({ min: 5, max: 40, noNaN: true }),
    angle: fc.double({ min: 0, max: Math.PI, noNaN: true }),
    y: fc.double({ min: -30, max: 30, noNaN: true }),
  });
  fc.assert(
    fc.property(place, place, (a, b) => {
      // Far enough apart in x that they never cross.
      const one = rectangle(-40, a.y, a.w, a.h, a.angle);
      const two = rectangle(40, b.y, b.w, b.h, b.angle);
      const gap = closestBodies([one, two]);
      const sampled = sampledGap(outline(one), outline(two));
      expect(gap?.gapMm ?? -1).toBeLessThanOrEqual(sampled + 1e-9);
      expect(gap?.gapMm ?? -1).toBeGreaterThan(sampled - 1.2);
    }),
    { numRuns: 60 },
  );
});

/** Points along a rectangle's sides, by another way than the code under test: parameter and turn. */
function outline(body: PlacedBody): [number, number][] {
  if (body.outline.type !== 'rectangle') return [];
  const { widthMm: w, heightMm: h } = body.outline;
  const points: [number, number][] = [];
  for (let at = 0; at < 200; at += 1) {
    const t = (at % 50) / 50;
    const side = Math.floor(at / 50);
    const local: [number, number] =
      side === 0
        ? [-w / 2 + w * t, -h / 2]
        : side === 1
          ? [w / 2, -h / 2 + h * t]
          : side === 2
            ? [w / 2 - w * t, h / 2]
            : [-w / 2, h / 2 - h * t];
    const radius = Math.hypot(...local);
    const turn = Math.atan2(local[1], local[0]) + body.angleRad;
    points.push([body.xMm + radius * Math.cos(turn), body.yMm + radius * Math.sin(turn)]);
  }
  return points;
}

function sampledGap(a: [number, number][], b: [number, number][]): number {
  let least = Number.POSITIVE_INFINITY;
  for (const [x, y] of a) {
    for (const [u, v] of b) least = Math.min(least, Math.hypot(x - u, y - v));
  }
  return least;
}

test('the sweep finds what looking at every pair finds', () => {
  const body = fc.record({
    x: fc.integer({ min: -200, max: 200 }),
    y: fc.integer({ min: -200, max: 200 }),
    size: fc.integer({ min: 2, max: 40 }),
    turn: fc.option(fc.double({ min: 0, max: 3, noNaN: true })),
  });
  fc.assert(
    fc.property(fc.array(body, { minLength: 2, maxLength: 12 }), (bodies) => {
      const laid = bodies.map(({ x, y, size, turn }) =>
        turn === null
          ? placed({ ref: 'a', xMm: x, yMm: y, diameterMm: size })
          : rectangle(x, y, size, size / 2, turn),
      );
      const pairs = laid.flatMap((one, at) =>
        laid.slice(at + 1).flatMap((other) => closestBodies([one, other])?.gapMm ?? []),
      );
      const least = pairs.length === 0 ? null : Math.min(...pairs);
      const found = closestBodies(laid)?.gapMm ?? null;
      if (least === null || found === null) expect(found).toBe(least);
      else expect(found).toBeCloseTo(least, 6);
    }),
  );
});

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  type Band,
  type BandInput,
  bandLengthMm,
  bandThicknessMm,
} from '../../../src/geometry/band.ts';
import { findBands } from '../../../src/geometry/plane-band.ts';
import {
  BandIndex,
  insideStretches,
  passages,
  planePath,
} from '../../../src/geometry/plane-cross.ts';
import { bulgeArc, line } from '../../../src/geometry/plane-curve.ts';
import { splinePoints } from '../../../src/geometry/plane-spline.ts';
import type { Vec2 } from '../../../src/geometry/vec.ts';

const LIMITS = { thinnest: 50, thickest: 600, layer: 100 };
const unknown = (from: Vec2, to: Vec2, source: number): BandInput => ({
  piece: line(from, to),
  source,
  left: 'unknown',
  right: 'unknown',
});
const thicknesses = (bands: readonly Band[]) =>
  bands.map((band) => Math.round(bandThicknessMm(band) * 1000) / 1000).sort((a, b) => a - b);
const faces = (ys: readonly number[], x0 = 0, x1 = 6000) =>
  ys.map((y, i) => unknown([x0, y], [x1, y], i));

describe('walls from parallel lines', () => {
  test.each([
    ['two lines', [0, 200], [200]],
    ['two leaves and a cavity', [0, 100, 150, 250], [100, 100]],
    ['two walls and a riser of 500', [0, 200, 700, 900], [200, 200]],
    ['plaster on both faces', [0, 15, 215, 230], [230]],
    ['block and insulation side by side', [0, 100, 200], [100, 100]],
    ['a line that stands alone beside a wall', [0, 200, 750], [200]],
    ['lines too near for a wall', [0, 30], []],
    ['lines too far apart', [0, 700], []],
  ])('%s', (_, ys, expected) => {
    expect(thicknesses(findBands(faces(ys), LIMITS))).toEqual(expected);
  });

  test('the ends of two walls on either side of a door make no wall', () => {
    const stub = (x0: number, x1: number, source: number) => [
      unknown([x0, 0], [x1, 0], source),
      unknown([x0, 200], [x1, 200], source),
      unknown([x0, 0], [x0, 200], source),
      unknown([x1, 0], [x1, 200], source),
    ];
    // A gap of 150, narrower than the wall is thick.
    const bands = findBands([...stub(0, 3000, 0), ...stub(3150, 6000, 1)], LIMITS);
    expect(thicknesses(bands)).toEqual([200, 200]);
  });

  test('lines drawn again from either end make no more of the wall', () => {
    const ys = [0, 100, 150, 250];
    const once = faces(ys);
    const again = ys.map((y, i) =>
      i % 2 === 0 ? unknown([0, y], [6000, y], 10 + i) : unknown([6000, y], [0, y], 10 + i),
    );
    expect(findBands([...again, ...once], LIMITS)).toEqual(findBands(once, LIMITS));
  });

  test('a wall is found as it is, however it is turned and cut into pieces', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: Math.PI, noNaN: true }),
        fc.integer({ min: 60, max: 590 }),
        fc.array(fc.integer({ min: 100, max: 7900 }), { maxLength: 5 }),
        (turn, thickness, cuts) => {
          const at = (x: number, y: number): Vec2 => [
            1e6 + x * Math.cos(turn) - y * Math.sin(turn),
            5e6 + x * Math.sin(turn) + y * Math.cos(turn),
          ];
          const stops = [0, ...[...new Set(cuts)].sort((a, b) => a - b), 8000];
          const low = stops.slice(1).map((x, i) => unknown(at(stops[i] ?? 0, 0), at(x, 0), i));
          const bands = findBands(
            [...low, unknown(at(8000, thickness), at(0, thickness), 99)],
            LIMITS,
          );
          const total = bands.reduce((sum, band) => sum + bandLengthMm(band), 0);
          expect(bands.length).toBe(1);
          expect(bandThicknessMm(bands[0] as Band)).toBeCloseTo(thickness, 3);
          expect(total).toBeCloseTo(8000, 3);
        },
      ),
      { seed: 5, numRuns: 200 },
    );
  });
});

describe('crossings', () => {
  const bands = findBands(faces([0, 200]), LIMITS);
  const index = new BandIndex(bands);
  const outcomes = (points: Vec2[]) => {
    const path = planePath(points);
    return passages(path, insideStretches(path, index), bands, 100).map(({ outcome }) => outcome);
  };

  test.each<[string, Vec2[], string[]]>([
    [
      'straight through',
      [
        [1000, -500],
        [1000, 700],
      ],
      ['through'],
    ],
    [
      'from face to face',
      [
        [1000, 0],
        [1000, 200],
      ],
      ['through'],
    ],
    [
      'ends inside',
      [
        [1000, -500],
        [1000, 100],
      ],
      ['endsInside'],
    ],
    [
      'lies within',
      [
        [1000, 100],
        [3000, 100],
      ],
      ['within'],
    ],
    [
      'in and out by one face',
      [
        [1000, -500],
        [1500, 100],
        [2000, -500],
      ],
      ['sameFace'],
    ],
    [
      'out by the end',
      [
        [5500, -500],
        [5500, 100],
        [7000, 100],
      ],
      ['edge'],
    ],
    [
      'against the face',
      [
        [1000, -500],
        [1000, 0],
      ],
      [],
    ],
    [
      'beside the wall',
      [
        [0, -10],
        [6000, -10],
      ],
      [],
    ],
    [
      'twice',
      [
        [1000, -500],
        [1000, 700],
        [2000, 700],
        [2000, -500],
      ],
      ['through', 'through'],
    ],
  ])('%s', (_, points, expected) => {
    expect(outcomes(points)).toEqual(expected);
  });

  test('a skew crossing gives angle, thickness and length by hand-worked values', () => {
    const path = planePath([
      [1000, -300],
      [1800, 500],
    ]);
    const [passage] = passages(path, insideStretches(path, index), bands, 100);
    expect(passage?.thicknessMm).toBeCloseTo(200, 6);
    expect(passage?.skewRad).toBeCloseTo(Math.PI / 4, 6);
    expect((passage?.s1 ?? 0) - (passage?.s0 ?? 0)).toBeCloseTo(200 * Math.SQRT2, 6);
  });

  test('the length inside agrees with walking the line in small steps', () => {
    const arcs: BandInput[] = [3000, 3250].map((radiusMm, source) => ({
      piece: { type: 'arc', centre: [0, 0], radiusMm, startRad: 0.2, sweepRad: 2.4 },
      source,
      left: 'unknown',
      right: 'unknown',
    }));
    const curved = new BandIndex(findBands(arcs, LIMITS));
    const point = fc.tuple(
      fc.integer({ min: -5000, max: 5000 }),
      fc.integer({ min: -5000, max: 5000 }),
    );
    fc.assert(
      fc.property(point, point, (a, b) => {
        const path = planePath([a, b]);
        const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
        const found = insideStretches(path, curved).reduce((sum, { s0, s1 }) => sum + s1 - s0, 0);
        const steps = 4000;
        let walked = 0;
        for (let i = 0; i < steps; i++) {
          const t = (i + 0.5) / steps;
          const [x, y] = [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t];
          const radius = Math.hypot(x, y);
          const angle = Math.atan2(y, x);
          if (radius >= 3000 && radius <= 3250 && angle >= 0.2 && angle <= 2.6)
            walked += length / steps;
        }
        expect(Math.abs(found - walked)).toBeLessThan(8 + (4 * length) / steps);
      }),
      { seed: 9, numRuns: 100 },
    );
  });
});

describe('curves', () => {
  test('a bulge of 1 is a half circle to the right of the way, of tan(22.5°) a quarter', () => {
    // DXF reference: bulge = tan(angle / 4), positive anticlockwise.
    const half = bulgeArc([0, 0], [200, 0], 1);
    expect(half?.centre[0]).toBeCloseTo(100, 9);
    expect(half?.centre[1]).toBeCloseTo(0, 9);
    expect(half?.sweepRad).toBeCloseTo(Math.PI, 9);
    const quarter = bulgeArc([100, 0], [0, 100], Math.tan(Math.PI / 8));
    expect(quarter?.centre[0]).toBeCloseTo(0, 9);
    expect(quarter?.radius).toBeCloseTo(100, 9);
  });

  test('a cubic with clamped knots is a Bézier curve: its middle by de Casteljau', () => {
    const points = splinePoints({
      degree: 3,
      knots: [0, 0, 0, 0, 1, 1, 1, 1],
      controlPoints: [
        [0, 0, 0],
        [0, 100, 0],
        [100, 100, 0],
        [100, 0, 0],
      ],
      weights: [],
    });
    expect(points[0]).toEqual([0, 0, 0]);
    expect(points.at(-1)).toEqual([100, 0, 0]);
    // (p0 + 3 p1 + 3 p2 + p3) / 8
    expect(points[4]?.[0]).toBeCloseTo(50, 9);
    expect(points[4]?.[1]).toBeCloseTo(75, 9);
  });

  test('knots that do not fit give no points', () => {
    expect(
      splinePoints({ degree: 3, knots: [0, 1], controlPoints: [[0, 0, 0]], weights: [] }),
    ).toEqual([]);
  });
});

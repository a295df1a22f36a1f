import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { longBox, type TriangleMesh } from '../../../src/geometry/mesh-box.ts';
import { recogniseOutline } from '../../../src/geometry/outline-shape.ts';
import { solidBody, stretchesInside } from '../../../src/geometry/solid-body.ts';
import { sliceBody } from '../../../src/geometry/solid-slice.ts';
import { barTouchesBody } from '../../../src/geometry/solid-touch.ts';
import type { Vec2, Vec3 } from '../../../src/geometry/vec.ts';

const CORNERS = [0, 1, 2, 3, 4, 5, 6, 7];
/** Faces of a box by its corners: bit 0 is x, bit 1 y, bit 2 z; seen from outside anticlockwise. */
const FACES: readonly (readonly [number, number, number, number])[] = [
  [0, 2, 3, 1],
  [4, 5, 7, 6],
  [0, 1, 5, 4],
  [2, 6, 7, 3],
  [0, 4, 6, 2],
  [1, 3, 7, 5],
];

function box(low: Vec3, high: Vec3, insideOut = false): TriangleMesh {
  const positionsMm = new Float64Array(
    CORNERS.flatMap((n) =>
      [0, 1, 2].map((k) => (((n >> k) & 1) === 1 ? (high[k] ?? 0) : (low[k] ?? 0))),
    ),
  );
  const triangles = FACES.flatMap(([a, b, c, d]) =>
    insideOut ? [a, c, b, a, d, c] : [a, b, c, a, c, d],
  );
  return { positionsMm, triangles: Uint32Array.from(triangles) };
}

function joined(a: TriangleMesh, b: TriangleMesh): TriangleMesh {
  const first = a.positionsMm.length / 3;
  return {
    positionsMm: Float64Array.from([...a.positionsMm, ...b.positionsMm]),
    triangles: Uint32Array.from([...a.triangles, ...[...b.triangles].map((n) => n + first)]),
  };
}

describe('lines through a body', () => {
  test('through the diagonal of two faces, and through an edge of triangles, it is met once a face', () => {
    const body = solidBody(box([-100, -10, -100], [100, 10, 100]));
    for (const x of [0, 50, -30]) {
      const stretches = stretchesInside(body, [x, -500, x], [0, 1, 0]);
      expect(stretches.map(({ enter, leave }) => [enter.at, leave.at])).toEqual([[490, 510]]);
      expect(stretches[0]?.enter.normal).toEqual([0, -1, 0]);
    }
  });

  test('a mesh turned inside out gives the same', () => {
    const body = solidBody(box([-100, -10, -100], [100, 10, 100], true));
    const [stretch] = stretchesInside(body, [20, -500, 10], [0, 1, 0]);
    expect(stretch?.enter).toMatchObject({ at: 490 });
    expect(stretch?.enter.normal.map((v) => v + 0)).toEqual([0, -1, 0]);
  });

  test('two boxes face to face are one stretch, apart two', () => {
    const near = box([-100, 0, -100], [100, 50, 100]);
    const touching = solidBody(joined(near, box([-100, 50, -100], [100, 80, 100])));
    expect(stretchesInside(touching, [1, -10, 2], [0, 1, 0]).map(({ leave }) => leave.at)).toEqual([
      90,
    ]);
    const apart = solidBody(joined(near, box([-100, 60, -100], [100, 80, 100])));
    expect(stretchesInside(apart, [1, -10, 2], [0, 1, 0])).toHaveLength(2);
  });

  test('any line through a box: the slabs’ method gives the same stretch', () => {
    const low: Vec3 = [-300, -50, 0];
    const high: Vec3 = [400, 150, 900];
    const body = solidBody(box(low, high));
    const coordinate = fc.integer({ min: -2000, max: 2000 });
    fc.assert(
      fc.property(
        fc.tuple(coordinate, coordinate, coordinate),
        fc.tuple(coordinate, coordinate, coordinate),
        (from, to) => {
          const d = [0, 1, 2].map((k) => (to[k] ?? 0) - (from[k] ?? 0));
          const length = Math.hypot(...d);
          fc.pre(length > 1);
          const direction: Vec3 = [
            (d[0] ?? 0) / length,
            (d[1] ?? 0) / length,
            (d[2] ?? 0) / length,
          ];
          // Slabs' method, by hand.
          let enter = -Infinity;
          let leave = Infinity;
          for (let k = 0; k < 3; k += 1) {
            const step = direction[k] ?? 0;
            fc.pre(Math.abs(step) > 1e-3);
            const ends = [low[k] ?? 0, high[k] ?? 0].map((v) => (v - (from[k] ?? 0)) / step);
            enter = Math.max(enter, Math.min(...ends));
            leave = Math.min(leave, Math.max(...ends));
          }
          const stretches = stretchesInside(body, from as Vec3, direction);
          if (leave - enter > 0.5) {
            expect(stretches).toHaveLength(1);
            expect(stretches[0]?.enter.at).toBeCloseTo(enter, 1);
            expect(stretches[0]?.leave.at).toBeCloseTo(leave, 1);
          } else if (leave - enter < -0.5) expect(stretches).toHaveLength(0);
        },
      ),
      { numRuns: 300, seed: 11 },
    );
  });
});

test('a cut through a box is its outline', () => {
  const body = solidBody(box([0, 0, 0], [300, 200, 100]));
  const [outline] = sliceBody(body, {
    origin: [0, 0, 50],
    right: [1, 0, 0],
    up: [0, 1, 0],
    normal: [0, 0, 1],
  });
  expect(recogniseOutline(outline ?? [])).toMatchObject({
    shape: { type: 'rectangle', widthMm: 300, heightMm: 200 },
    centre: [150, 100],
  });
});

describe('outlines', () => {
  const ring = (radius: number, count: number, x = 0): Vec2[] =>
    Array.from({ length: count }, (_, n) => {
      const angle = (2 * Math.PI * n) / count;
      return [x + radius * Math.cos(angle), radius * Math.sin(angle)];
    });

  test('chords of a circle give its true diameter', () => {
    const found = recogniseOutline(ring(75, 24, 10));
    expect(found?.shape.type).toBe('circle');
    expect(found?.shape.type === 'circle' ? found.shape.diameterMm : 0).toBeCloseTo(150, 9);
    expect(found?.centre[0]).toBeCloseTo(10, 9);
  });

  test('a hexagon is no circle; half circles on straight sides are a slot', () => {
    expect(recogniseOutline(ring(75, 6))?.shape.type).toBe('polygon');
    const half = ring(50, 24);
    const points = [
      ...half.slice(0, 7),
      ...half.slice(6, 19),
      ...half.slice(18),
      ...half.slice(0, 1),
    ].map(([x, y], n): Vec2 => [n >= 7 && n < 20 ? x - 100 : x + 100, y]);
    expect(recogniseOutline(points)?.shape).toMatchObject({ type: 'slot' });
  });
});

test('the box along a mesh: length, width and height of a bar that lies askew', () => {
  const bar = box([-1000, -100, -50], [1000, 100, 50]);
  const c = Math.cos(0.5);
  const s = Math.sin(0.5);
  for (let n = 0; n < bar.positionsMm.length; n += 3) {
    const [x, y] = [bar.positionsMm[n] ?? 0, bar.positionsMm[n + 1] ?? 0];
    bar.positionsMm[n] = c * x - s * y;
    bar.positionsMm[n + 1] = s * x + c * y;
  }
  const found = longBox(bar);
  expect(
    found?.shape.type === 'rectangle'
      ? [found.shape.widthMm, found.shape.heightMm].map(Math.round)
      : [],
  ).toEqual([200, 100]);
  const { startMm, endMm } = found ?? { startMm: [0, 0, 0], endMm: [0, 0, 0] };
  expect(Math.hypot(...[0, 1, 2].map((k) => (endMm[k] ?? 0) - (startMm[k] ?? 0)))).toBeCloseTo(
    2000,
    6,
  );
});

test('a bar touches a body by its outside, not by the line it would follow beyond its end', () => {
  const body = solidBody(box([-1000, 0, -1000], [1000, 200, 1000]));
  const bar = (y: number, section: { type: 'circle'; diameterMm: number }) => ({
    from: [0, y, 0] as Vec3,
    direction: [0, 1, 0] as Vec3,
    lengthMm: 500,
    right: [1, 0, 0] as Vec3,
    up: [0, 0, 1] as Vec3,
    section,
  });
  expect(barTouchesBody(body, bar(-500, { type: 'circle', diameterMm: 50 }), 1)).toBe(true);
  expect(barTouchesBody(body, bar(-550, { type: 'circle', diameterMm: 150 }), 1)).toBe(false);
  const along = {
    ...bar(0, { type: 'circle', diameterMm: 60 }),
    from: [-500, -30, 0] as Vec3,
    direction: [1, 0, 0] as Vec3,
    right: [0, -1, 0] as Vec3,
  };
  expect(barTouchesBody(body, along, 1)).toBe(true);
  expect(barTouchesBody(body, { ...along, from: [-500, -40, 0] }, 1)).toBe(false);
});

import fc from 'fast-check';
import { difference } from 'polyclip-ts';
import { describe, expect, test } from 'vitest';
import { waterLoad } from '../../src/design/hydrostatics.ts';
import { shapePerimeterMm } from '../../src/design/outline-measures.ts';
import { sizeOne } from '../../src/design/size-one.ts';
import { type Shape, shapeAreaMm2, shapeExtentMm } from '../../src/geometry/shape.ts';
import type { Vec2 } from '../../src/geometry/vec.ts';
import { Settings } from '../../src/model/settings.ts';
import { makeRange } from '../makers/seal/make-range.ts';

// Areas and perimeters by formula against a polygon library (polyclip-ts) and against throwing
// points at the drawing (Monte-Carlo, seeded).

type Ring = [number, number][];
type Polygon = Ring[];

const SIDES = 720;

const SHAPES: readonly (readonly [string, Shape])[] = [
  ['circle', { type: 'circle', diameterMm: 200 }],
  ['rectangle', { type: 'rectangle', widthMm: 300, heightMm: 200 }],
  ['slot', { type: 'slot', lengthMm: 300, widthMm: 150 }],
  ['oval', { type: 'oval', lengthMm: 260, widthMm: 180 }],
  [
    'L-shaped polygon with an island',
    {
      type: 'polygon',
      pointsMm: [
        [-150, -150],
        [150, -150],
        [150, 150],
        [60, 150],
        [60, -20],
        [-150, -20],
      ],
      islandsMm: [
        [
          [90, 60],
          [120, 60],
          [120, 110],
          [90, 110],
        ],
      ],
    },
  ],
];

function outlineOf(shape: Shape): Vec2[] {
  switch (shape.type) {
    case 'circle':
      return ellipse(shape.diameterMm / 2, shape.diameterMm / 2);
    case 'oval':
      return ellipse(shape.lengthMm / 2, shape.widthMm / 2);
    case 'rectangle': {
      const [x, y] = [shape.widthMm / 2, shape.heightMm / 2];
      return [
        [-x, -y],
        [x, -y],
        [x, y],
        [-x, y],
      ];
    }
    case 'slot': {
      const straight = (shape.lengthMm - shape.widthMm) / 2;
      return ellipse(shape.widthMm / 2, shape.widthMm / 2).map(([x, y]) => [
        x + (x >= 0 ? straight : -straight),
        y,
      ]);
    }
    case 'polygon':
      return [...shape.pointsMm];
  }
}

function ellipse(a: number, b: number, at: Vec2 = [0, 0]): Vec2[] {
  return Array.from({ length: SIDES }, (_, side) => {
    const angle = ((side + 0.5) / SIDES) * 2 * Math.PI;
    return [at[0] + a * Math.cos(angle), at[1] + b * Math.sin(angle)];
  });
}

const asRing = (points: readonly Vec2[]): Ring => points.map(([x, y]) => [x, y]);

function ringArea(ring: Ring): number {
  let doubled = 0;
  ring.forEach(([x, y], at) => {
    const [nextX, nextY] = ring[(at + 1) % ring.length] ?? [x, y];
    doubled += x * nextY - nextX * y;
  });
  return doubled / 2;
}

const designOf = (shape: Shape, diametersMm: readonly number[]) =>
  sizeOne({
    opening: shape,
    bodies: diametersMm.map((diameterMm, at) => ({
      ref: String(at + 1),
      outline: { type: 'circle', diameterMm },
    })),
    range: makeRange([310]),
    design: Settings.parse({}).design,
  });

describe.each(SHAPES)('%s', (_name, shape) => {
  const seal = designOf(shape, [37, 25, 12]);

  test('free area as a polygon library cuts it', () => {
    expect(seal.state).toBe('designed');
    const cables = (seal.arrangement?.items ?? []).map(({ xMm, yMm, outline }): Polygon => {
      const radius = outline.type === 'circle' ? outline.diameterMm / 2 : 0;
      return [asRing(ellipse(radius, radius, [xMm, yMm]))];
    });
    const islands = (shape.type === 'polygon' ? (shape.islandsMm ?? []) : []).map(
      (island): Polygon => [asRing(island)],
    );
    const left = difference([asRing(outlineOf(shape))], ...islands, ...cables);
    const areaMm2 = Math.abs(
      left.reduce(
        (sum, polygon) =>
          sum +
          polygon.reduce(
            (area, ring, at) => area + (at === 0 ? 1 : -1) * Math.abs(ringArea(ring)),
            0,
          ),
        0,
      ),
    );
    // 720 sides take 1.3e-5 off a circle.
    expect(Math.abs((seal.freeAreaMm2 ?? 0) / areaMm2 - 1)).toBeLessThan(5e-5);
  });

  test('area as points thrown at the drawing find it', () => {
    const { widthMm, heightMm } = shapeExtentMm(shape);
    const random = lehmer(20);
    const throws = 200_000;
    let free = 0;
    for (let at = 0; at < throws; at += 1) {
      const point: Vec2 = [(random() - 0.5) * widthMm, (random() - 0.5) * heightMm];
      if (isInside(shape, point) && !isInCable(seal, point)) free += 1;
    }
    const boxMm2 = widthMm * heightMm;
    const share = free / throws;
    // Four standard errors.
    const spread = 4 * boxMm2 * Math.sqrt((share * (1 - share)) / throws);
    expect(Math.abs((seal.freeAreaMm2 ?? 0) - share * boxMm2)).toBeLessThan(spread);
  });

  test('perimeter as the sum of short chords', () => {
    const outline = outlineOf(shape);
    const chords = outline.reduce((mm, [x, y], at) => {
      const [nextX, nextY] = outline[(at + 1) % outline.length] ?? [x, y];
      return mm + Math.hypot(nextX - x, nextY - y);
    }, 0);
    expect(Math.abs(shapePerimeterMm(shape) / chords - 1)).toBeLessThan(1e-4);
  });

  test('thrust of the fully submerged opening is γ · head at its centroid · area', () => {
    const areaMm2 = shapeAreaMm2(shape);
    const heads = [2, 4].map((headM) => waterLoad(shape, headM));
    const [two, four] = heads;
    // Doubling the head at the origin adds γ · 2 m · area, wherever the centroid lies.
    expect((four?.thrustN ?? 0) - (two?.thrustN ?? 0)).toBeCloseTo(9.81e-3 * 2 * areaMm2, 4);
    expect(two?.submergedAreaMm2).toBeCloseTo(areaMm2, 4);
  });

  test('half under water, against thin strips of the outline', () => {
    const load = waterLoad(shape, 0.01);
    const outline = outlineOf(shape);
    const strips = 4000;
    const bottomMm = -shapeExtentMm(shape).heightMm / 2;
    const stepMm = (10 - bottomMm) / strips;
    let thrustN = 0;
    for (let at = 0; at < strips; at += 1) {
      const y = bottomMm + (at + 0.5) * stepMm;
      const holes = shape.type === 'polygon' ? (shape.islandsMm ?? []) : [];
      const width = widthAt(outline, y) - holes.reduce((mm, hole) => mm + widthAt(hole, y), 0);
      thrustN += 9.81e-6 * (10 - y) * width * stepMm;
    }
    expect(Math.abs(load.thrustN / thrustN - 1)).toBeLessThan(2e-3);
  });
});

test('thrust doubles with the head at the centroid of a symmetrical opening', () => {
  const shape = fc.constantFrom(...SHAPES.slice(0, 4).map(([, one]) => one));
  fc.assert(
    fc.property(shape, fc.double({ min: 0.2, max: 50, noNaN: true }), (one, headM) => {
      const once = waterLoad(one, headM).thrustN;
      expect(waterLoad(one, 2 * headM).thrustN).toBeCloseTo(2 * once, 6);
    }),
  );
});

function widthAt(outline: readonly Vec2[], y: number): number {
  const xs: number[] = [];
  outline.forEach(([x1, y1], at) => {
    const [x2, y2] = outline[(at + 1) % outline.length] ?? [x1, y1];
    if (y1 > y !== y2 > y) xs.push(x1 + ((y - y1) / (y2 - y1)) * (x2 - x1));
  });
  xs.sort((a, b) => a - b);
  let width = 0;
  for (let at = 0; at + 1 < xs.length; at += 2) width += (xs[at + 1] ?? 0) - (xs[at] ?? 0);
  return width;
}

function isInside(shape: Shape, point: Vec2): boolean {
  const inRing = (ring: readonly Vec2[]) =>
    ring.reduce((inside, [x1, y1], at) => {
      const [x2, y2] = ring[(at + 1) % ring.length] ?? [x1, y1];
      const crosses =
        y1 > point[1] !== y2 > point[1] &&
        point[0] < x1 + ((point[1] - y1) / (y2 - y1)) * (x2 - x1);
      return crosses ? !inside : inside;
    }, false);
  switch (shape.type) {
    case 'circle':
      return Math.hypot(...point) < shape.diameterMm / 2;
    case 'oval':
      return (point[0] / shape.lengthMm) ** 2 + (point[1] / shape.widthMm) ** 2 < 0.25;
    case 'rectangle':
      return true;
    case 'slot': {
      const straight = (shape.lengthMm - shape.widthMm) / 2;
      const x = Math.max(0, Math.abs(point[0]) - straight);
      return Math.hypot(x, point[1]) < shape.widthMm / 2;
    }
    case 'polygon':
      return inRing(shape.pointsMm) && !(shape.islandsMm ?? []).some((island) => inRing(island));
  }
}

function isInCable(seal: ReturnType<typeof designOf>, [x, y]: Vec2): boolean {
  return (seal.arrangement?.items ?? []).some(
    ({ xMm, yMm, outline }) =>
      outline.type === 'circle' && Math.hypot(xMm - x, yMm - y) < outline.diameterMm / 2,
  );
}

/** Random numbers from a seed, 0–1: Lehmer, multiplier 48271, modulus 2³¹ − 1 (Park and Miller). */
function lehmer(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 48271) % 2147483647;
    return state / 2147483647;
  };
}

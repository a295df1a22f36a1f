import type { Shape } from '../../../src/geometry/shape.ts';
import type { ArrangementProblem, Body } from '../../../src/model/arrangement.ts';
import {
  bodyDistance,
  type PlainBody,
  rectangleAt,
  wallDistance,
} from '../../checker/plain-distances.ts';

/** A generator of our own for tests; the engine has another. Linear congruence, 31 bits. */
export function testRandom(seed: number): () => number {
  let state = (seed * 2654435761 + 12345) % 2147483647;
  return () => {
    state = (state * 48271) % 2147483647;
    return state / 2147483647;
  };
}

/** A problem with nothing in it; tests change what they are about. */
export function problemOf(
  opening: Shape,
  bodies: readonly Body[],
  change: Partial<ArrangementProblem> = {},
): ArrangementProblem {
  return {
    opening,
    bodies,
    separationMm: 4,
    edgeMm: 4,
    fillers: [],
    splitTubes: false,
    packingAllowanceRatio: 0,
    tubeClearanceMm: 2,
    policy: null,
    effort: 'quick',
    seed: 1,
    ...change,
  };
}

export function cables(
  ...sizes: readonly (readonly [count: number, diameterMm: number])[]
): Body[] {
  return sizes.flatMap(([count, diameterMm]) =>
    Array.from({ length: count }, (_, k) => ({
      ref: `${diameterMm}-${k + 1}`,
      outline: { type: 'circle' as const, diameterMm },
    })),
  );
}

export type ShapeName = Shape['type'] | 'island';

/** An opening of a kind, about 100 to 400 mm. */
function randomOpening(kind: ShapeName, random: () => number): Shape {
  const size = 100 + 300 * random();
  const other = size * (0.5 + 0.5 * random());
  switch (kind) {
    case 'circle':
      return { type: 'circle', diameterMm: size };
    case 'rectangle':
      return { type: 'rectangle', widthMm: size, heightMm: other };
    case 'slot':
      return { type: 'slot', lengthMm: size, widthMm: other };
    case 'oval':
      return { type: 'oval', lengthMm: size, widthMm: Math.max(other, 0.7 * size) };
    case 'polygon': {
      // An L: concave, and not about the origin.
      const arm = other * (0.4 + 0.3 * random());
      return {
        type: 'polygon',
        pointsMm: [
          [10, 5],
          [10 + size, 5],
          [10 + size, 5 + arm],
          [10 + arm, 5 + arm],
          [10 + arm, 5 + other],
          [10, 5 + other],
        ],
      };
    }
    case 'island': {
      const half = size / 2;
      const island = size * 0.12;
      const x = size * (0.2 * random() - 0.1);
      return {
        type: 'polygon',
        pointsMm: [
          [-half, -half * 0.8],
          [half * 0.9, -half],
          [half, half * 0.9],
          [0, half],
          [-half, half * 0.7],
        ],
        islandsMm: [
          [
            [x - island, -island],
            [x + island, -island],
            [x + island * 0.5, island],
            [x - island, island],
          ],
        ],
      };
    }
  }
}

export interface FeasibleOptions {
  readonly kind: ShapeName;
  /** Share of bodies that are rectangles, 0–1. */
  readonly rectangleRatio: number;
  /** Bodies at most. */
  readonly most: number;
  /** Throws before giving up on a further body: more means fuller openings. */
  readonly throws: number;
}

/**
 * A problem that certainly has an arrangement: bodies are thrown in one by one and kept where they
 * keep the separation and edge distance, by the checker's own distances.
 */
export function feasibleProblem(seed: number, options: FeasibleOptions): ArrangementProblem {
  const random = testRandom(seed);
  const opening = randomOpening(options.kind, random);
  const separationMm = Math.round(random() * 12);
  const edgeMm = Math.round(random() * 12);
  const points = opening.type === 'polygon' ? opening.pointsMm : null;
  const [x0, x1, y0, y1] = boxOf(opening, points);
  const placed: PlainBody[] = [];
  const bodies: Body[] = [];
  const largest = Math.min(x1 - x0, y1 - y0) * (0.15 + 0.4 * random());
  for (let attempt = 0; attempt < options.throws && bodies.length < options.most; attempt++) {
    const x = x0 + random() * (x1 - x0);
    const y = y0 + random() * (y1 - y0);
    const size = largest * (0.2 + 0.8 * random());
    const isRectangle = random() < options.rectangleRatio;
    const height = size * (0.2 + 0.6 * random());
    const turns = (['none', 'quarter', 'free'] as const)[Math.floor(random() * 3)] ?? 'none';
    const angle =
      turns === 'none'
        ? 0
        : turns === 'quarter'
          ? random() < 0.5
            ? 0
            : Math.PI / 2
          : random() * 3;
    const body: PlainBody = isRectangle
      ? rectangleAt([x, y], size, height, angle)
      : { kind: 'disc', centre: [x, y], radius: size / 2 };
    if (wallDistance(body, opening) < edgeMm) continue;
    if (placed.some((other) => bodyDistance(body, other) < separationMm)) continue;
    placed.push(body);
    bodies.push({
      ref: String(bodies.length + 1),
      outline: isRectangle
        ? { type: 'rectangle', widthMm: size, heightMm: height, turns }
        : { type: 'circle', diameterMm: size },
    });
  }
  return problemOf(opening, bodies, { separationMm, edgeMm });
}

function boxOf(
  opening: Shape,
  points: readonly (readonly [number, number])[] | null,
): readonly [number, number, number, number] {
  if (points !== null) {
    const xs = points.map(([x]) => x);
    const ys = points.map(([, y]) => y);
    return [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  }
  if (opening.type === 'circle') {
    const r = opening.diameterMm / 2;
    return [-r, r, -r, r];
  }
  if (opening.type === 'rectangle') {
    const { widthMm: w, heightMm: h } = opening;
    return [-w / 2, w / 2, -h / 2, h / 2];
  }
  if (opening.type === 'polygon') return [0, 0, 0, 0];
  const { lengthMm: l, widthMm: w } = opening;
  return [-l / 2, l / 2, -w / 2, w / 2];
}

/**
 * What must not matter: where the site stands and how it is turned, the unit of length, the numbers
 * and the order of records, how runs are split. A mixed scene is made once plainly and once changed.
 */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { brief, findIn } from '../makers/ifc/find-in.ts';
import {
  IfcMaker,
  MAKER_SCHEMAS,
  type MakerOptions,
  type MakerSchema,
  type Point,
} from '../makers/ifc/ifc-maker.ts';

const Y: Point = [0, 1, 0];

/** Walls, a slab, openings of several forms, services of all kinds, some of them split. */
function mixedScene(options: MakerOptions, splitAt: number | null = null): IfcMaker {
  const m = new IfcMaker(options);
  const ground = m.storey('Ground', 0);
  const wall = m.wall({
    at: [0, 0, 0],
    length: 8000,
    thickness: 250,
    height: 3000,
    storey: ground,
  });
  m.wall({
    at: [0, 250, 0],
    length: 8000,
    thickness: 100,
    height: 3000,
    storey: ground,
  });
  const slab = m.slab({
    at: [4000, 4000, -300],
    size: [8000, 6000],
    thickness: 300,
    storey: ground,
  });
  m.opening(wall, { at: [1000, 0, 1500], axis: Y, outline: { circle: 160 }, depth: 400 });
  m.opening(wall, {
    at: [2000, 100, 2500],
    axis: Y,
    outline: { rectangle: [500, 200] },
    depth: 800,
  });
  m.opening(slab, {
    at: [5000, 4000, -150],
    axis: [0, 0, 1],
    outline: { rectangle: [300, 200] },
    depth: 400,
  });
  m.opening(wall, {
    at: [6500, -100, 1000],
    axis: Y,
    outline: { rectangle: [300, 300] },
    depth: 60,
  });
  const cut = splitAt === null ? [] : [splitAt];
  const ys = [-1500, ...cut, 1500];
  ys.slice(1).forEach((to, n) => {
    const from = ys[n] ?? 0;
    m.segment('pipe', { from: [1000, from, 1500], to: [1000, to, 1500], outline: { circle: 110 } });
  });
  m.segment('tray', {
    from: [2000, -1500, 2500],
    to: [2000, 1500, 2500],
    outline: { tray: [300, 60] },
    x: [1, 0, 0],
  });
  m.segment('cable', {
    from: [1950, -1500, 2500],
    to: [1950, 1500, 2500],
    outline: { circle: 30 },
  });
  m.segment('conduit', {
    from: [3000, -900, 900],
    to: [4200, 900, 1200],
    outline: { circle: 40, bore: 36 },
  });
  m.segment('pipe', { from: [5000, 4000, -2000], to: [5000, 4000, 1000], outline: { circle: 90 } });
  m.segment('duct', {
    from: [6500, -700, 1000],
    to: [6500, 0, 1000],
    outline: { rectangle: [200, 100] },
  });
  m.swept('cable', {
    points: [
      [7000, -500, 500],
      [7000, 100, 500],
      [7200, 800, 700],
    ],
    diameter: 25,
  });
  return m;
}

async function signature(maker: IfcMaker, withIds: boolean) {
  const { findings } = await findIn(maker);
  const round = (value: number): number => Math.round(value * 10) / 10;
  return {
    penetrations: findings.penetrations
      .map((penetration) => ({
        ...(withIds ? brief(penetration) : { kind: penetration.kind }),
        thickness: round(penetration.thicknessMm),
        shape: penetration.shape?.type ?? null,
        crossings: penetration.crossings
          .map(({ kind, section, lengthMm, skewRad, boreMm, carriedBy }) => ({
            kind,
            size:
              section === null
                ? []
                : Object.values(section).map((v) => (typeof v === 'number' ? round(v) : v)),
            length: round(lengthMm),
            skew: Math.round(skewRad * 1e4) / 1e4,
            boreMm: boreMm === null ? null : round(boreMm),
            isCarried: carriedBy !== null,
          }))
          .map((c) => JSON.stringify(c))
          .sort(),
      }))
      .map((p) => JSON.stringify(p))
      .sort(),
    outcomes: withIds
      ? [...findings.ledger.services, ...findings.ledger.openings]
          .map(({ ref, outcome }) => `${ref.id} ${outcome}`)
          .sort()
      : [],
  };
}

describe.each(MAKER_SCHEMAS)('what must not matter, %s', (schema: MakerSchema) => {
  test('the plain scene holds what it was made with', async () => {
    const { findings } = await findIn(mixedScene({ schema }));
    expect(findings.penetrations.map(({ kind }) => kind).sort()).toEqual([
      'opening',
      'opening',
      'opening',
      'unopened',
      'unopened',
    ]);
  });

  test('place, turn, unit, numbers and order of records', async () => {
    const plain = await signature(mixedScene({ schema }), true);
    await fc.assert(
      fc.asyncProperty(
        fc.record({
          unit: fc.constantFrom('mm', 'm', 'inch'),
          siteTurnDeg: fc.integer({ min: -179, max: 180 }),
          // As far off as survey coordinates are, millimetres.
          siteAt: fc.tuple(
            fc.integer({ min: -500_000_000, max: 500_000_000 }),
            fc.integer({ min: -6_000_000_000, max: 6_000_000_000 }),
            fc.integer({ min: -100_000, max: 3_000_000 }),
          ),
          firstNumber: fc.integer({ min: 0, max: 1_000_000 }),
          reversed: fc.boolean(),
        }),
        async (options) => {
          expect(await signature(mixedScene({ schema, ...options } as MakerOptions), true)).toEqual(
            plain,
          );
        },
      ),
      { numRuns: 5, seed: 5, endOnFailure: true },
    );
  });

  test('where a run is split', async () => {
    const plain = await signature(mixedScene({ schema }), false);
    for (const at of [-125, -124.6, -60, 0, 125, 160, 200, 250, 300, 301, 700]) {
      expect(await signature(mixedScene({ schema }, at), false)).toEqual(plain);
    }
  });
});

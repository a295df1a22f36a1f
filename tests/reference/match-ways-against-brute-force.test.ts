import { expect, test } from 'vitest';
import type { Vec3 } from '../../src/geometry/vec.ts';
import { matchCables } from '../../src/match/match-cables.ts';
import type { Service } from '../../src/model/building.ts';
import type { Penetration } from '../../src/model/penetration.ts';
import { Settings } from '../../src/model/settings.ts';
import { cable, scheduleOf } from '../makers/schedule/cable.ts';
import { seeded } from '../makers/schedule/corrupt.ts';
import { buildingOf, crossingOf, hole, room, tray } from '../makers/schedule/model.ts';

// Checked against listing every simple way, by a search of its own that knows nothing of the core.

const COLUMNS = 4;
const ROWS = 3;
const PITCH_MM = 4000;

interface GridEdge {
  readonly a: number;
  readonly b: number;
  readonly id: string;
}

/** Trays between the points of a grid, some left out; each has a hole half-way. */
function randomGrid(seed: number) {
  const random = seeded(seed);
  const at = (node: number): Vec3 => [
    (node % COLUMNS) * PITCH_MM,
    Math.floor(node / COLUMNS) * PITCH_MM * 1.37,
    2500,
  ];
  const edges: GridEdge[] = [];
  for (let node = 0; node < COLUMNS * ROWS; node++) {
    const isLast = node % COLUMNS === COLUMNS - 1;
    if (!isLast && random() < 0.72) edges.push({ a: node, b: node + 1, id: `h${node}` });
    const below = node + COLUMNS;
    if (below < COLUMNS * ROWS && random() < 0.6) edges.push({ a: node, b: below, id: `v${node}` });
  }
  const services: Service[] = [];
  const penetrations: Penetration[] = [];
  for (const { a, b, id } of edges) {
    const service = tray(id, `tray ${id}`, [at(a), at(b)]);
    const [p, q] = [at(a), at(b)];
    const middle: Vec3 = [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2, 2500];
    services.push(service);
    penetrations.push(
      hole(id, middle, {
        crossings: [crossingOf(service, middle, { entryMm: middle, exitMm: middle })],
      }),
    );
  }
  const rooms = [0, COLUMNS * ROWS - 1].map((node, n) => {
    const [x, y] = at(node);
    return room(n === 0 ? 'Start' : 'Finish', [x - 900, y - 900, 0], [x + 900, y + 900, 3000]);
  });
  return { edges, penetrations, building: buildingOf(services, rooms), lengthOf };
  function lengthOf({ a, b }: GridEdge): number {
    const [p, q] = [at(a), at(b)];
    return Math.abs(p[0] - q[0]) + Math.abs(p[1] - q[1]);
  }
}

/** Every simple way from the first point to the last, shortest first. */
function allWays({ edges, lengthOf }: ReturnType<typeof randomGrid>) {
  const ways: { ids: string[]; length: number }[] = [];
  const walk = (node: number, seen: readonly number[], ids: readonly string[], length: number) => {
    if (node === COLUMNS * ROWS - 1) {
      ways.push({ ids: [...ids].sort(), length });
      return;
    }
    for (const edge of edges) {
      const next = edge.a === node ? edge.b : edge.b === node ? edge.a : -1;
      if (next === -1 || seen.includes(next)) continue;
      walk(next, [...seen, next], [...ids, edge.id], length + lengthOf(edge));
    }
  };
  walk(0, [0], [], 0);
  return ways.sort((a, b) => a.length - b.length);
}

test('a cable is placed along the shortest way, and only where no other is nearly as short', () => {
  const settings = Settings.parse({});
  const seen = { alone: 0, rivals: 0, none: 0 };
  for (let seed = 1; seed <= 300; seed++) {
    const grid = randomGrid(seed);
    const ways = allWays(grid);
    const { result } = matchCables(
      grid.penetrations,
      grid.building,
      scheduleOf([cable('C-1', { from: 'Start', to: 'Finish' })]),
      [],
      settings,
    );
    const matched = result.matches.map(({ penetrationId }) => penetrationId).sort();
    const [best, second] = ways;
    if (best === undefined) {
      seen.none += 1;
      expect(matched).toEqual([]);
    } else if (second === undefined || second.length > best.length * 1.3) {
      seen.alone += 1;
      expect([seed, matched]).toEqual([seed, best.ids]);
    } else {
      seen.rivals += 1;
      // Only what every nearly shortest way passes may be placed; the rest is asked.
      const near = ways.filter(({ length }) => length <= best.length * 1.3);
      for (const id of matched) expect(near.every(({ ids }) => ids.includes(id))).toBe(true);
      expect(result.outcomes[0]?.candidates.length).toBeGreaterThan(0);
    }
  }
  expect(Math.min(seen.alone, seen.rivals, seen.none)).toBeGreaterThan(10);
});

import { describe, expect, test } from 'vitest';
import { findInDrawings } from '../../../../src/find/drawings/find-in-drawings.ts';
import { PlaneFlood } from '../../../../src/geometry/plane-flood.ts';
import type { Vec2 } from '../../../../src/geometry/vec.ts';
import { speaksOfGrid, speaksOfRooms } from '../../../../src/model/layer-role.ts';
import { Settings } from '../../../../src/model/settings.ts';
import { readDxf } from '../../../../src/read/dxf/read-dxf.ts';
import {
  dxfText,
  encode,
  lineTags,
  type Tag,
  textTags,
  wallTags,
} from '../../../makers/dxf/dxf-text.ts';

describe('names of layers', () => {
  test.each(['S-GRID', 'A-GRID-IDEN', 'ACHSEN', 'XREF$0$S-GRID', 'Axes', 'G-40-Grids', 'ОСИ'])(
    '%s speaks of a grid',
    (layer) => {
      expect(speaksOfGrid(layer)).toBe(true);
    },
  );

  test.each(['A-AREA-IDEN', 'RAUMSTEMPEL', 'Room Names', 'A-SPCE', 'ПОМЕЩЕНИЯ'])(
    '%s speaks of rooms',
    (layer) => {
      expect(speaksOfRooms(layer)).toBe(true);
    },
  );

  test.each(['A-WALL', 'E-CABL-TRAY', 'A-ANNO-NOTE', 'GRIDLEY', 'BEDROOMS2'])(
    '%s speaks of neither',
    (layer) => {
      expect([speaksOfGrid(layer), speaksOfRooms(layer)]).toEqual([false, false]);
    },
  );
});

describe('parts of a plane that hang together', () => {
  const square = (flood: PlaneFlood, low: number, high: number) => {
    const corners = [
      [low, low],
      [high, low],
      [high, high],
      [low, high],
    ] as const;
    corners.forEach((corner, n) => {
      flood.block(corner, corners[(n + 1) % 4] ?? corner);
    });
  };

  test('a ring parts what is in it from what is round it', () => {
    const flood = new PlaneFlood([0, 0, 1000, 1000], 10);
    square(flood, 300, 700);
    const inside = flood.regionAt([500, 500]);
    expect(inside).not.toBeNull();
    expect(flood.regionAt([350, 650])).toBe(inside);
    expect(flood.regionAt([100, 100])).toBe(flood.regionAt([900, 900]));
    expect(flood.regionAt([100, 100])).not.toBe(inside);
    expect(flood.regionAt([300, 500])).toBeNull();
    expect(flood.regionAt([-5, 500])).toBeNull();
  });

  test('a slanting barrier lets nothing through, however thin', () => {
    for (let turn = 0; turn < 40; turn += 1) {
      const flood = new PlaneFlood([0, 0, 1000, 1000], 10);
      const [x, y] = [Math.cos(turn / 6) * 2000, Math.sin(turn / 6) * 2000];
      flood.block([503 - x, 507 - y], [503 + x, 507 + y]);
      const across = [-Math.sin(turn / 6) * 60, Math.cos(turn / 6) * 60] as const;
      expect(flood.regionAt([503 + across[0], 507 + across[1]])).not.toBe(
        flood.regionAt([503 - across[0], 507 - across[1]]),
      );
    }
  });

  test('a large plane has larger cells, not more memory', () => {
    const flood = new PlaneFlood([0, 0, 1e6, 1e6], 50);
    expect(flood.cellMm).toBeCloseTo(500);
  });
});

describe('a plan', () => {
  const gridOf = (entities: readonly Tag[]) => {
    const settings = Settings.parse({});
    const bytes = encode(dxfText({ entities }));
    const { result } = readDxf({ key: 'd', name: 'plan.dxf', bytes }, {}, settings);
    const [found] = findInDrawings([result.drawing], settings).result.penetrations;
    return found?.where.grid;
  };
  const passed = [
    ...wallTags('A-WALL', 0, 9000, 0, 200),
    ...lineTags('E-CNDT', [3000, -1000], [3000, 1200]),
  ];
  const axis = (name: string, from: Vec2, to: Vec2) => [
    ...lineTags('S-GRID', from, to),
    ...textTags('S-GRID', [from[0], from[1]], name),
  ];
  const square = [
    ...axis('1', [1000, -5000], [1000, 5000]),
    ...axis('A', [-2000, -900], [9000, -900]),
  ];

  test('tells the nearest crossing of two axes', () => {
    expect(gridOf([...passed, ...square])).toMatch(/^1\/A \+2000 \+1000$/);
  });

  test('with one axis alone, or thousands of lines on the layer, tells none', () => {
    expect(gridOf([...passed, ...axis('1', [1000, -5000], [1000, 5000])])).toBeNull();
    const shading = Array.from({ length: 2100 }, (_, n) =>
      lineTags('S-GRID', [20_000, n * 10], [25_000, n * 10]),
    );
    expect(gridOf([...passed, ...square, ...shading.flat()])).toBeNull();
  });
});

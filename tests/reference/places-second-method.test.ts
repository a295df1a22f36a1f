// The places that a plan tells (raster between drawn walls, axes with bubbles) against those that the
// models of the same building tell (bodies of spaces, IfcGrid), on the sample pumping station.
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { findInDrawings } from '../../src/find/drawings/find-in-drawings.ts';
import { findInModels } from '../../src/find/models/find-in-models.ts';
import type { Penetration } from '../../src/model/penetration.ts';
import { Settings } from '../../src/model/settings.ts';
import { readDxf } from '../../src/read/dxf/read-dxf.ts';
import { joinBuildings } from '../../src/read/ifc/join-buildings.ts';
import { readIfc } from '../../src/read/ifc/read-ifc.ts';
import { repoRoot } from '../set-up/outside.ts';

const settings = Settings.parse({});
/** As the project file of the sample places its plan. */
const VIEWS: NonNullable<Parameters<typeof readDxf>[1]['views']> = [
  { view: 'plan', name: 'Ground', basePoint: [100_000, 50_000], atMm: [0, 0, 0] },
];
const file = (name: string) => ({
  key: name,
  name,
  bytes: new Uint8Array(readFileSync(path.join(repoRoot, 'samples/pumping-station', name))),
});

const inPlan = ({ frame: { originMm: a } }: Penetration, { frame: { originMm: b } }: Penetration) =>
  Math.hypot(a[0] - b[0], a[1] - b[1]);
const plainRoom = (name: string | null) => name?.split(' / ')[0]?.toLowerCase() ?? null;

test('grid and rooms of a plan are those of the model', async () => {
  const { result } = readDxf(file('plan.dxf'), { views: VIEWS }, settings);
  const drawn = findInDrawings([result.drawing], settings).result.penetrations;
  const read = [];
  for (const name of ['architecture.ifc', 'services.ifc'])
    read.push((await readIfc(file(name), settings, {})).result);
  const building = joinBuildings(read).result;
  const modelled = findInModels(building, settings).result.penetrations;
  let compared = 0;
  for (const one of drawn) {
    // What lies in the pit below has the same place in a plan.
    const same = modelled.filter(
      (other) => inPlan(one, other) < 1 && other.where.level === '00 Ground floor',
    );
    for (const other of same) {
      compared += 1;
      expect.soft(one.where.grid, other.id).toBe(other.where.grid);
      // The models hold no space for the wet well, which the plan names.
      const [drawnRooms, rooms] = [one, other].map(({ where: { spaces } }) =>
        [spaces.near, spaces.far]
          .map(plainRoom)
          .filter((name) => name !== null && name !== 'wet well'),
      );
      expect.soft(drawnRooms?.sort(), other.id).toEqual(rooms?.sort());
    }
  }
  expect(compared).toBeGreaterThan(20);
});

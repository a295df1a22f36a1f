/**
 * Crossings by a second method that shares nothing with the first: solids of manifold-3d. A service
 * crosses a host when the two share volume and what is left of the service outside the host falls
 * apart into pieces on two sides. Compared pair by pair of (host, service) on the public samples, on
 * our own sample station and on made scenes; each difference stands in the table with its reason.
 */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import ManifoldModule from 'manifold-3d';
import { describe, expect, test } from 'vitest';
import { findInModels } from '../../src/find/models/find-in-models.ts';
import type { Building, Host, Mesh, Service } from '../../src/model/building.ts';
import { Settings } from '../../src/model/settings.ts';
import { joinBuildings } from '../../src/read/ifc/join-buildings.ts';
import { readIfc } from '../../src/read/ifc/read-ifc.ts';
import { manyCrossings } from '../makers/ifc/many-crossings.ts';
import { repoRoot, sharedPath, testWith } from '../set-up/outside.ts';

const wasm = await ManifoldModule();
wasm.setup();
const { Manifold, Mesh: ManifoldMesh } = wasm;
type Solid = InstanceType<typeof Manifold>;

const settings = Settings.parse({});
/** Pieces smaller than this are rounding, mm³. */
const SPECK_MM3 = 500;

async function buildingOf(files: readonly string[]): Promise<Building> {
  const parts = [];
  for (const [n, file] of files.entries()) {
    const bytes = new Uint8Array(readFileSync(file));
    parts.push((await readIfc({ key: `m${n}`, name: file, bytes }, settings)).result);
  }
  return joinBuildings(parts).result;
}

function solidOfMesh(mesh: Mesh, origin: readonly number[]): Solid | null {
  const vertProperties = Float32Array.from(mesh.positionsMm, (v, n) => v - (origin[n % 3] ?? 0));
  const made = new ManifoldMesh({
    numProp: 3,
    vertProperties,
    triVerts: Uint32Array.from(mesh.triangles),
  });
  made.merge();
  try {
    const solid = Manifold.ofMesh(made);
    return solid.isEmpty() ? null : solid.volume() < 0 ? null : solid;
  } catch {
    return null;
  }
}

/** The service as bars of its section along its line; null where it has none. */
function solidOfService(service: Service, origin: readonly number[]): Solid | null {
  const { axisMm, section } = service;
  if (axisMm === null || section === null) return null;
  const bars: Solid[] = [];
  axisMm.forEach((to, n) => {
    const from = axisMm[n - 1];
    if (from === undefined) return;
    const d = [to[0] - from[0], to[1] - from[1], to[2] - from[2]] as const;
    const length = Math.hypot(...d);
    if (length < 1) return;
    const bar =
      section.type === 'circle'
        ? Manifold.cylinder(length, section.diameterMm / 2, section.diameterMm / 2, 16)
        : Manifold.cube([section.heightMm, section.widthMm, length], true).translate([
            0,
            0,
            length / 2,
          ]);
    // Turn z to the direction; with an upright section the first side stays plumb.
    const tilt = (Math.acos(d[2] / length) * 180) / Math.PI;
    const turn = (Math.atan2(d[1], d[0]) * 180) / Math.PI;
    bars.push(
      bar
        .rotate([0, tilt, 0])
        .rotate([0, 0, turn])
        .translate([
          from[0] - (origin[0] ?? 0),
          from[1] - (origin[1] ?? 0),
          from[2] - (origin[2] ?? 0),
        ]),
    );
  });
  return bars.length === 0 ? null : Manifold.union(bars);
}

function boxesMeet(a: Solid, b: Solid): boolean {
  const [p, q] = [a.boundingBox(), b.boundingBox()];
  return [0, 1, 2].every(
    (k) => (p.min[k] ?? 0) <= (q.max[k] ?? 0) && (q.min[k] ?? 0) <= (p.max[k] ?? 0),
  );
}

/** Pairs "host service" by solids, and the hosts whose meshes are no closed solids. */
function crossingsBySolids(building: Building): { pairs: string[]; open: string[] } {
  const origin = originOf(building);
  const open: string[] = [];
  const hosts: { host: Host; solid: Solid }[] = [];
  for (const host of building.hosts) {
    const solid = host.mesh === null ? null : solidOfMesh(host.mesh, origin);
    if (solid === null) open.push(host.id);
    else hosts.push({ host, solid });
  }
  const pairs: string[] = [];
  for (const service of building.services) {
    const body = solidOfService(service, origin);
    if (body === null) continue;
    for (const { host, solid } of hosts) {
      if (!boxesMeet(body, solid)) continue;
      if (body.intersect(solid).volume() < SPECK_MM3) continue;
      const outside = body.subtract(solid).decompose();
      const pieces = outside.filter((piece) => piece.volume() > SPECK_MM3);
      if (pieces.length >= 2) pairs.push(`${host.id} ${service.id}`);
    }
  }
  return { pairs: pairs.sort(), open };
}

function originOf({ hosts }: Building): readonly number[] {
  const mesh = hosts.find((host) => host.mesh !== null)?.mesh;
  return mesh === undefined || mesh === null ? [0, 0, 0] : [...mesh.positionsMm.slice(0, 3)];
}

/** Pairs "host service" by our way, for crossings of one element (a joint in a wall is no case for this). */
function crossingsByAxes(building: Building): { pairs: string[]; joined: string[] } {
  const { result } = findInModels(building, settings);
  const pairs: string[] = [];
  const joined: string[] = [];
  for (const { hosts, crossings } of result.penetrations) {
    for (const { serviceIds } of crossings) {
      for (const host of hosts) {
        for (const service of serviceIds) {
          (serviceIds.length === 1 ? pairs : joined).push(`${host.id} ${service}`);
        }
      }
    }
  }
  return { pairs: [...new Set(pairs)].sort(), joined };
}

const sample = (name: string): string => sharedPath('samples', 'ifc', name);
const station = (name: string): string => path.join(repoRoot, 'samples', 'pumping-station', name);

interface Case {
  readonly name: string;
  readonly files: readonly string[];
  /** Pairs that only one method gives, as "side: count" with the reason. */
  readonly onlyAxes: number;
  readonly onlySolids: number;
  readonly reason: string;
}

const CASES: readonly Case[] = [
  {
    name: 'a building and a duct in one file',
    files: [sample('architecture-rev-b.ifc')],
    onlyAxes: 0,
    onlySolids: 0,
    reason: 'none',
  },
  {
    name: 'four models of one scene',
    files: [
      sample('pcert4x3-building-architecture.ifc'),
      sample('pcert4x3-building-structural.ifc'),
      sample('pcert4x3-building-hvac.ifc'),
      sample('pcert4x3-infra-plumbing.ifc'),
    ],
    onlyAxes: 1,
    onlySolids: 0,
    reason: 'the duct passes a hole in the roof’s own mesh: no shared volume, still a hole to seal',
  },
  {
    name: 'ducts near walls',
    files: [sample('bcf-architectural.ifc'), sample('bcf-mep.ifc')],
    onlyAxes: 0,
    onlySolids: 0,
    reason: 'none',
  },
];

function compare(building: Building) {
  const axes = crossingsByAxes(building);
  const solids = crossingsBySolids(building);
  const settled = new Set([...axes.pairs, ...axes.joined]);
  return {
    axes: axes.pairs,
    solids: solids.pairs,
    onlyAxes: axes.pairs.filter((pair) => !solids.pairs.includes(pair)),
    onlySolids: solids.pairs.filter((pair) => !settled.has(pair)),
    open: solids.open,
  };
}

describe('crossings by solids agree with crossings by axes', () => {
  for (const { name, files, onlyAxes, onlySolids, reason } of CASES) {
    testWith(['shared'], `${name}; differences: ${reason}`, async () => {
      const result = compare(await buildingOf(files));
      expect(result.onlyAxes).toHaveLength(onlyAxes);
      expect(result.onlySolids).toHaveLength(onlySolids);
    });
  }

  test('two hundred made crossings', async () => {
    const bytes = manyCrossings(200).toBytes();
    const { result } = await readIfc({ key: 'm', name: 'made', bytes }, settings);
    const compared = compare(result.building);
    expect(compared.solids).toHaveLength(200);
    expect(compared.onlyAxes).toEqual([]);
    expect(compared.onlySolids).toEqual([]);
  });

  test('the sample pumping station, with nothing to explain', async () => {
    const compared = compare(await buildingOf(['architecture.ifc', 'services.ifc'].map(station)));
    expect(compared.open).toEqual([]);
    expect(compared.solids.length).toBeGreaterThan(40);
    expect(compared.onlyAxes).toEqual([]);
    expect(compared.onlySolids).toEqual([]);
  });
});

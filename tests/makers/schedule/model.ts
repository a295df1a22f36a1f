import type { Vec3 } from '../../../src/geometry/vec.ts';
import type {
  Building,
  Joint,
  Mesh,
  Reference,
  Service,
  Space,
} from '../../../src/model/building.ts';
import type { Crossing, Penetration } from '../../../src/model/penetration.ts';

export function reference(text: string): Reference {
  return { text, evidence: { fact: 'reference', text, place: { fileKey: 'model' } } };
}

/** A building of services and spaces only. */
export function buildingOf(
  services: readonly Service[],
  spaces: readonly Space[] = [],
  joints: readonly Joint[] = [],
): Building {
  return { storeys: [], grids: [], spaces, hosts: [], services, openings: [], joints };
}

/** A tray 300 wide and 50 high along a centre line; its name is its reference. */
export function tray(
  id: string,
  name: string,
  axisMm: readonly Vec3[],
  given: Partial<Service> = {},
): Service {
  return {
    id: `model:${id}`,
    ref: { fileKey: 'model', id },
    kind: 'carrier',
    role: 'segment',
    carrierForm: 'tray',
    ifcClass: 'IfcCableCarrierSegment',
    name,
    tag: null,
    storeyId: null,
    axisMm,
    upDirection: [0, 0, 1],
    section: { type: 'rectangle', widthMm: 300, heightMm: 50 },
    sizeBasis: 'outside',
    boreMm: null,
    material: null,
    mesh: null,
    references: name === '' ? [] : [reference(name)],
    systems: [],
    evidence: [],
    ...given,
  };
}

/** A conduit of 50 mm with a bore of 44. */
export function conduit(id: string, name: string, axisMm: readonly Vec3[]): Service {
  return tray(id, name, axisMm, {
    kind: 'conduit',
    carrierForm: null,
    section: { type: 'circle', diameterMm: 50 },
    boreMm: 44,
  });
}

/** A room as a box. */
export function room(name: string, low: Vec3, high: Vec3): Space {
  return {
    id: `model:${name}`,
    ref: { fileKey: 'model', id: name },
    name,
    longName: null,
    mesh: boxMesh(low, high),
  };
}

/** The crossing of a service through a wall square to x, 200 thick, at x. */
export function crossingOf(service: Service, atMm: Vec3, given: Partial<Crossing> = {}): Crossing {
  const [x, y, z] = atMm;
  return {
    id: `${service.id}@${x}`,
    serviceIds: [service.id],
    refs: [service.ref],
    kind: service.kind,
    carrierForm: service.carrierForm,
    section: service.section,
    sizeBasis: 'outside',
    boreMm: service.boreMm,
    material: null,
    entryMm: [x - 100, y, z],
    exitMm: [x + 100, y, z],
    lengthMm: 200,
    skewRad: 0,
    offsetMm: [0, 0],
    carriedBy: null,
    references: service.references,
    systems: [],
    evidence: [],
    ...given,
  };
}

/** A hole in a wall square to x. */
export function hole(id: string, atMm: Vec3, given: Partial<Penetration> = {}): Penetration {
  return {
    id,
    kind: 'opening',
    frame: { originMm: atMm, axis: [1, 0, 0], right: [0, -1, 0], up: [0, 0, 1] },
    hosts: [],
    thicknessMm: 200,
    openings: [],
    crossings: [],
    shape: { type: 'rectangle', widthMm: 400, heightMm: 200 },
    where: {
      level: null,
      levelElevationMm: null,
      heightAboveLevelMm: null,
      grid: null,
      spaces: { near: null, far: null },
      outside: null,
    },
    references: [],
    evidence: [],
    ...given,
  };
}

/** The rooms before and behind a hole. */
export function between(near: string | null, far: string | null): Pick<Penetration, 'where'> {
  return {
    where: {
      level: null,
      levelElevationMm: null,
      heightAboveLevelMm: null,
      grid: null,
      spaces: { near, far },
      outside: null,
    },
  };
}

/** A box as twelve triangles with outward faces. */
function boxMesh(low: Vec3, high: Vec3): Mesh {
  const positions: number[] = [];
  for (const z of [low[2], high[2]]) {
    for (const y of [low[1], high[1]]) {
      for (const x of [low[0], high[0]]) positions.push(x, y, z);
    }
  }
  const quads = [
    [0, 2, 3, 1],
    [4, 5, 7, 6],
    [0, 1, 5, 4],
    [2, 6, 7, 3],
    [0, 4, 6, 2],
    [1, 3, 7, 5],
  ];
  return {
    positionsMm: Float64Array.from(positions),
    triangles: Uint32Array.from(
      quads.flatMap(([a = 0, b = 0, c = 0, d = 0]) => [a, b, c, a, c, d]),
    ),
  };
}

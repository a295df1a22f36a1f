import { islandsOf, shapePolygon } from '../../geometry/outline-polygon.ts';
import { type Shape, shapeExtentMm } from '../../geometry/shape.ts';
import { dot3, sub3, type Vec2, type Vec3 } from '../../geometry/vec.ts';
import type { Building, Mesh, Section } from '../../model/building.ts';
import type { Issue } from '../../model/issue.ts';
import type { Crossing, Penetration, SectionFrame } from '../../model/penetration.ts';
import type { Scene, SceneSolid } from '../../model/review.ts';

/** Triangles of one scene; own choice, what a tablet still turns smoothly. */
const MOST_TRIANGLES = 150_000;
/** Host that is shown round an opening which is known from a drawing; own choice. */
const ROUND_OPENING = 1.2;
/** How far what passes reaches out on both sides, as a share of the larger of size and thickness; own choice. */
const REACH = 0.75;

/**
 * Host, opening and what passes as solids in the frame of the penetration: x right, y up, z away
 * from the viewer. From the models' own shapes where there are any, else worked out from sizes.
 */
export function reviewScene(issue: Issue, building: Building | null, tag: string): Scene | null {
  const penetration = issue.penetrations.find(({ id }) => issue.tags.get(id) === tag);
  if (penetration === undefined) return null;
  const seal = issue.seals.find((each) => each.penetrationId === penetration.id);
  const shape = penetration.shape ?? seal?.opening ?? null;
  const { widthMm, heightMm } = shape === null ? DEFAULT_EXTENT : shapeExtentMm(shape);
  const radiusMm = Math.max(widthMm, heightMm, penetration.thicknessMm) / 2;
  const modelled = building === null ? [] : modelSolids(building, penetration);
  const solids = modelled.length > 0 ? modelled : sizedSolids(penetration, shape, radiusMm);
  return {
    solids: [...upTo(solids), ...(shape === null ? [] : [openingSolid(shape, penetration)])],
    radiusMm,
    source: modelled.length > 0 ? 'models' : 'sizes',
  };
}

const DEFAULT_EXTENT = { widthMm: 300, heightMm: 300 };

function modelSolids(building: Building, penetration: Penetration): SceneSolid[] {
  const { frame } = penetration;
  const hosts = new Map(building.hosts.map((host) => [host.id, host]));
  const services = new Map(building.services.map((service) => [service.id, service]));
  const walls = penetration.hosts.flatMap(({ id }) => {
    const host = hosts.get(id);
    return host?.mesh == null ? [] : [ofMesh('host', host.name, host.mesh, frame)];
  });
  if (walls.length === 0) return [];
  const passing = penetration.crossings.flatMap((crossing) => {
    const bodies = crossing.serviceIds.flatMap((id) => {
      const service = services.get(id);
      return service?.mesh == null ? [] : [ofMesh('service', service.name, service.mesh, frame)];
    });
    // What is known by its axis and size alone has no mesh.
    return bodies.length > 0 ? bodies : sizedService(crossing, penetration.thicknessMm);
  });
  return [...walls, ...passing];
}

function ofMesh(
  kind: SceneSolid['kind'],
  name: string,
  { positionsMm, triangles }: Mesh,
  frame: SectionFrame,
): SceneSolid {
  const positions: number[] = [];
  for (let at = 0; at + 2 < positionsMm.length; at += 3) {
    const point: Vec3 = [positionsMm[at] ?? 0, positionsMm[at + 1] ?? 0, positionsMm[at + 2] ?? 0];
    const from = sub3(point, frame.originMm);
    positions.push(...[frame.right, frame.up, frame.axis].map((way) => tenth(dot3(from, way))));
  }
  return { kind, name, positionsMm: positions, triangles: [...triangles] };
}

function tenth(value: number): number {
  return Math.round(value * 10) / 10;
}

/** Largest parts last, so that they are what is left out. */
function upTo(solids: readonly SceneSolid[]): SceneSolid[] {
  let triangles = 0;
  return [...solids]
    .sort((a, b) => a.triangles.length - b.triangles.length)
    .filter((solid) => {
      triangles += solid.triangles.length / 3;
      return triangles <= MOST_TRIANGLES;
    });
}

/** A piece of host, and what passes, drawn out from their sizes. */
function sizedSolids(
  { hosts, crossings, thicknessMm }: Penetration,
  shape: Shape | null,
  radiusMm: number,
): SceneSolid[] {
  const half = thicknessMm / 2;
  const { widthMm, heightMm } = shape === null ? DEFAULT_EXTENT : shapeExtentMm(shape);
  const [x, y] = [widthMm / 2 + radiusMm * ROUND_OPENING, heightMm / 2 + radiusMm * ROUND_OPENING];
  const host = prism(
    [
      [-x, -y],
      [x, -y],
      [x, y],
      [-x, y],
    ],
    -half,
    half,
  );
  return [
    { kind: 'host', name: hosts.map(({ name }) => name).join(' + '), ...host },
    ...crossings.flatMap((crossing) => sizedService(crossing, thicknessMm)),
  ];
}

function sizedService({ section, offsetMm, kind }: Crossing, thicknessMm: number): SceneSolid[] {
  if (section === null || offsetMm === null) return [];
  const shape = asShape(section);
  const { widthMm, heightMm } = shapeExtentMm(shape);
  const reach = thicknessMm / 2 + REACH * Math.max(thicknessMm, widthMm, heightMm);
  const outline = shapePolygon(shape).map(([x, y]): Vec2 => [x + offsetMm[0], y + offsetMm[1]]);
  return [{ kind: 'service', name: kind, ...prism(outline, -reach, reach) }];
}

function asShape(section: Section): Shape {
  return section.type === 'circle'
    ? { type: 'circle', diameterMm: section.diameterMm }
    : { type: 'rectangle', widthMm: section.widthMm, heightMm: section.heightMm };
}

/** The hole itself as a body that shows where it is; a hair longer than the host, so that its ends are seen. */
function openingSolid(shape: Shape, { thicknessMm }: Penetration): SceneSolid {
  const half = thicknessMm / 2 + 1;
  const walls = [shapePolygon(shape), ...islandsOf(shape)].map((outline) =>
    prismWalls(outline, -half, half),
  );
  return { kind: 'opening', name: 'opening', ...joined(walls) };
}

type Faces = Pick<SceneSolid, 'positionsMm' | 'triangles'>;

/** A convex outline drawn out along z, with its ends. */
function prism(outline: readonly Vec2[], from: number, to: number): Faces {
  const walls = prismWalls(outline, from, to);
  const fan = outline.slice(2).flatMap((_, at) => {
    const [b, c] = [(at + 1) * 2, (at + 2) * 2];
    return [0, c, b, 1, b + 1, c + 1];
  });
  return { positionsMm: walls.positionsMm, triangles: [...walls.triangles, ...fan] };
}

/** The sides alone: two vertices a corner, at both ends. */
function prismWalls(outline: readonly Vec2[], from: number, to: number): Faces {
  const count = outline.length;
  return {
    positionsMm: outline.flatMap(([x, y]) => [tenth(x), tenth(y), from, tenth(x), tenth(y), to]),
    triangles: outline.flatMap((_, at) => {
      const [a, b] = [at * 2, ((at + 1) % count) * 2];
      return [a, b, a + 1, b, b + 1, a + 1];
    }),
  };
}

function joined(parts: readonly Faces[]): Faces {
  const positionsMm: number[] = [];
  const triangles: number[] = [];
  for (const part of parts) {
    const start = positionsMm.length / 3;
    positionsMm.push(...part.positionsMm);
    triangles.push(...part.triangles.map((vertex) => vertex + start));
  }
  return { positionsMm, triangles };
}

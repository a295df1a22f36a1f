import { boxOfPositions, grownBox, isInBox } from '../../geometry/box.ts';
import { indexBoxes } from '../../geometry/box-index.ts';
import { distance3, lerp3, type Vec3 } from '../../geometry/vec.ts';
import type { Building, Service } from '../../model/building.ts';
import { type JoinedEnds, openEnds, type ServicePath, servicePaths } from './axis-pieces.ts';

/** Ends nearer than this are joined, mm. */
export const TOUCHING_MM = 5;
/** How far an end may lie off a fitting that the model joins it with. */
const JOINED_REACH_MM = 2000;

export interface Runs {
  readonly paths: readonly ServicePath[];
  /** Services joined with each, by number. */
  readonly neighbours: readonly ReadonlySet<number>[];
}

/** Services joined to runs: by the model's own joints, by touching ends, through fittings. */
export function findRuns(building: Building): Runs {
  const numberOf = new Map(building.services.map(({ id }, n) => [id, n]));
  const neighbours = building.services.map(() => new Set<number>());
  const join = (a: number, b: number): void => {
    if (a === b) return;
    neighbours[a]?.add(b);
    neighbours[b]?.add(a);
  };
  for (const { serviceIds } of building.joints) {
    const [a, b] = serviceIds.map((id) => numberOf.get(id));
    if (a !== undefined && b !== undefined) join(a, b);
  }
  const first = servicePaths(building, new Map());
  joinTouchingEnds(building, first, join);
  joinShapelessFittings(building, first, join);
  const paths = servicePaths(building, linesOfFittings(building, first, neighbours));
  return { paths, neighbours };
}

/** Whether two kinds can belong to one run. */
function canJoin(a: Service, b: Service): boolean {
  if (a.kind === b.kind) return true;
  const carries = (service: Service): boolean =>
    service.kind === 'conduit' || service.kind === 'carrier';
  return carries(a) && carries(b);
}

function joinTouchingEnds(
  building: Building,
  paths: readonly ServicePath[],
  join: (a: number, b: number) => void,
): void {
  const ends = paths.flatMap((path, service) => openEnds(path).map(({ at }) => ({ service, at })));
  const index = indexBoxes(ends.map(({ at }) => ({ low: at, high: at })));
  for (const end of ends) {
    for (const n of index.meeting(grownBox({ low: end.at, high: end.at }, TOUCHING_MM))) {
      const other = ends[n];
      if (other === undefined || other.service <= end.service) continue;
      const [a, b] = [building.services[end.service], building.services[other.service]];
      if (a === undefined || b === undefined || !canJoin(a, b)) continue;
      if (distance3(end.at, other.at) <= TOUCHING_MM) join(end.service, other.service);
    }
  }
}

/** A fitting known by its mesh only is joined with ends that lie in the box round it. */
function joinShapelessFittings(
  building: Building,
  paths: readonly ServicePath[],
  join: (a: number, b: number) => void,
): void {
  const boxes = building.services.map(({ role, mesh }) =>
    role === 'fitting' && mesh !== null
      ? grownBox(boxOfPositions(mesh.positionsMm), TOUCHING_MM)
      : null,
  );
  if (boxes.every((box) => box === null)) return;
  const index = indexBoxes(boxes);
  paths.forEach((path, n) => {
    const service = building.services[n];
    if (service === undefined) return;
    for (const { at } of openEnds(path)) {
      for (const fitting of index.meeting({ low: at, high: at })) {
        const other = building.services[fitting];
        const box = boxes[fitting];
        if (other && box && fitting !== n && canJoin(service, other) && isInBox(box, at)) {
          join(n, fitting);
        }
      }
    }
  });
}

/** Lines from the middle of a fitting without an axis to the ends that it joins. */
function linesOfFittings(
  building: Building,
  paths: readonly ServicePath[],
  neighbours: readonly ReadonlySet<number>[],
): JoinedEnds {
  const lines = new Map<number, readonly (readonly Vec3[])[]>();
  building.services.forEach((service, n) => {
    if (service.role !== 'fitting' || service.mesh === null) return;
    const box = boxOfPositions(service.mesh.positionsMm);
    const middle = lerp3(box.low, box.high, 0.5);
    const ends = [...(neighbours[n] ?? [])].flatMap((other) => {
      const path = paths[other];
      if (path === undefined) return [];
      const [a, b] = openEnds(path).map(({ at }) => at);
      if (a === undefined || b === undefined) return [];
      const nearest = distance3(a, middle) <= distance3(b, middle) ? a : b;
      return distance3(nearest, middle) <= JOINED_REACH_MM ? [nearest] : [];
    });
    if (ends.length > 0)
      lines.set(
        n,
        ends.map((end) => [end, middle]),
      );
  });
  return lines;
}

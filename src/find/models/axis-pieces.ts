import { type Box, boxOfPoints, boxOfPositions, grownBox } from '../../geometry/box.ts';
import { distance3, dot3, scale3, sub3, unit3, type Vec3 } from '../../geometry/vec.ts';
import type { Building, Service } from '../../model/building.ts';

/** A straight piece of a service's centre line. */
export interface AxisPiece {
  readonly service: number;
  /** Which piece of the service, from 0. */
  readonly number: number;
  readonly from: Vec3;
  readonly to: Vec3;
  readonly direction: Vec3;
  readonly lengthMm: number;
}

/** A service with its centre line in straight pieces and the room it takes. */
export interface ServicePath {
  readonly service: Service;
  readonly pieces: readonly AxisPiece[];
  readonly box: Box | null;
  /** Half of its largest size across. */
  readonly reachMm: number;
}

const SHORTEST_PIECE_MM = 0.01;

/** Centre lines of all services. A fitting without one gets lines between the ends that it joins. */
export function servicePaths(building: Building, joinedEnds: JoinedEnds): readonly ServicePath[] {
  return building.services.map((service, n): ServicePath => {
    const lines = linesOf(service, joinedEnds.get(n) ?? []);
    const pieces: AxisPiece[] = [];
    for (const line of lines) addPieces(line, n, pieces);
    const reachMm = sectionReachMm(service);
    const points = pieces.flatMap(({ from, to }) => [from, to]);
    const box =
      points.length > 0
        ? boxOfPoints(points)
        : service.mesh === null
          ? null
          : boxOfPositions(service.mesh.positionsMm);
    return { service, pieces, box: box === null ? null : grownBox(box, reachMm), reachMm };
  });
}

/** The box of a bent fitting's mesh is a poor centre line; what it joins tells more. */
function linesOf(
  service: Service,
  joined: readonly (readonly Vec3[])[],
): readonly (readonly Vec3[])[] {
  const isPoor = service.axisMm === null || (service.role === 'fitting' && service.mesh !== null);
  if (isPoor && joined.length >= 2) return joined;
  return service.axisMm === null ? joined : [service.axisMm];
}

/** Lines made up for services without an axis, by number of the service. */
export type JoinedEnds = ReadonlyMap<number, readonly (readonly Vec3[])[]>;

function addPieces(line: readonly Vec3[], service: number, pieces: AxisPiece[]): void {
  let from: Vec3 | undefined;
  line.forEach((to, n) => {
    if (from === undefined) {
      from = to;
      return;
    }
    const lengthMm = distance3(from, to);
    const direction = unit3(sub3(to, from));
    if (direction === null || lengthMm < SHORTEST_PIECE_MM) return;
    const last = pieces[pieces.length - 1];
    const goesOn =
      n > 1 &&
      last !== undefined &&
      last.service === service &&
      dot3(last.direction, direction) > 1 - 1e-9;
    if (goesOn && last !== undefined) {
      pieces[pieces.length - 1] = {
        ...last,
        to,
        lengthMm: distance3(last.from, to),
        direction: unit3(sub3(to, last.from)) ?? direction,
      };
    } else pieces.push({ service, number: pieces.length, from, to, direction, lengthMm });
    from = to;
  });
}

/** Half of the largest size across the axis; 0 where the size is unknown. */
export function sectionReachMm({ section }: Pick<Service, 'section'>): number {
  if (section === null) return 0;
  return section.type === 'circle'
    ? section.diameterMm / 2
    : Math.hypot(section.widthMm, section.heightMm) / 2;
}

/** Both ends of a service's line with the direction out of it. */
export function openEnds(path: ServicePath): readonly { readonly at: Vec3; readonly out: Vec3 }[] {
  const [first] = path.pieces;
  const last = path.pieces[path.pieces.length - 1];
  if (first === undefined || last === undefined) return [];
  return [
    { at: first.from, out: scale3(first.direction, -1) },
    { at: last.to, out: last.direction },
  ];
}

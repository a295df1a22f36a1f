import { type Box, boxCentre, boxOfPoints, boxOfPositions, grownBox } from '../geometry/box.ts';
import { indexBoxes } from '../geometry/box-index.ts';
import { distance3, dot3, sub3, unit3, type Vec3 } from '../geometry/vec.ts';
import type { Joint, Mesh, Service } from '../model/building.ts';
import { type AxisPlace, axisLengthMm, nearestOnAxis } from './axis.ts';

/** Two places where a cable can go over from one carrier to another. */
export interface Link {
  readonly a: AxisPlace;
  readonly b: AxisPlace;
  readonly lengthMm: number;
}

/** Ends count as touching up to this far apart: joints and couplers are modelled with a gap. */
const TOUCH_MM = 30;
/** Ends whose outward directions agree more than this lie side by side: they don't join. */
const SIDE_BY_SIDE_COSINE = 0.5;
/** An end meets a body's side only at an angle; nearer to parallel it just lies along it. */
const ALONG_COSINE = 0.94;

/**
 * All links between carriers: those the model declares, and those that ends make by touching
 * another end, the side of a run, or the body of a fitting. Linear in the number of carriers but
 * for the spatial index.
 */
export function linkServices(carriers: readonly Service[], joints: readonly Joint[]): Link[] {
  const byId = new Map(carriers.map((service) => [service.id, service]));
  const declared = joints.flatMap(({ serviceIds: [a, b] }) => {
    const first = byId.get(a);
    const second = byId.get(b);
    return first === undefined || second === undefined ? [] : [declaredLink(first, second)];
  });
  return [...declared, ...touchingLinks(carriers)];
}

/** The two places of a declared joint: an end of one and what is nearest on the other. */
function declaredLink(a: Service, b: Service): Link {
  const candidates = [...endToBody(a, b), ...endToBody(b, a).map(turned)];
  let best: Link | undefined;
  for (const link of candidates) {
    if (best === undefined || link.lengthMm < best.lengthMm) best = link;
  }
  return best ?? { a: start(a), b: start(b), lengthMm: 0 };
}

const start = ({ id }: Service): AxisPlace => ({ serviceId: id, placeMm: 0 });
const turned = ({ a, b, lengthMm }: Link): Link => ({ a: b, b: a, lengthMm });

function endToBody(a: Service, b: Service): Link[] {
  return endsOf(a).map((end) => {
    const target = b.axisMm === null ? meshCentre(b.mesh) : null;
    if (b.axisMm === null) {
      const lengthMm = target === null ? 0 : distance3(end.at, target);
      return { a: end.place, b: start(b), lengthMm };
    }
    const near = nearestOnAxis(b.axisMm, end.at);
    return {
      a: end.place,
      b: { serviceId: b.id, placeMm: near.placeMm },
      lengthMm: near.distanceMm,
    };
  });
}

interface End {
  readonly service: Service;
  readonly place: AxisPlace;
  readonly at: Vec3;
  /** Unit vector out of the run. */
  readonly out: Vec3 | null;
}

function endsOf(service: Service): End[] {
  const axis = service.axisMm;
  const first = axis?.[0];
  const last = axis?.[axis.length - 1];
  if (axis === null || first === undefined || last === undefined) return [];
  const second = axis[1] ?? first;
  const before = axis[axis.length - 2] ?? last;
  return [
    {
      service,
      place: { serviceId: service.id, placeMm: 0 },
      at: first,
      out: unit3(sub3(first, second)),
    },
    {
      service,
      place: { serviceId: service.id, placeMm: axisLengthMm(axis) },
      at: last,
      out: unit3(sub3(last, before)),
    },
  ];
}

function touchingLinks(carriers: readonly Service[]): Link[] {
  const boxes = indexBoxes(carriers.map(bodyBox));
  return carriers.flatMap((service) =>
    endsOf(service).flatMap((end) => {
      const near = boxes.meeting(grownBox({ low: end.at, high: end.at }, TOUCH_MM));
      return near.flatMap((at) => {
        const other = carriers[at];
        if (other === undefined || other.id === service.id) return [];
        return touch(end, other) ?? [];
      });
    }),
  );
}

/** How an end meets another carrier: end to end, against its side, or within a fitting's body. */
function touch(end: End, other: Service): Link | null {
  if (other.axisMm === null) {
    if (other.role !== 'fitting' && other.mesh === null) return null;
    const centre = meshCentre(other.mesh);
    const lengthMm = centre === null ? 0 : distance3(end.at, centre);
    return { a: end.place, b: start(other), lengthMm };
  }
  for (const otherEnd of endsOf(other)) {
    const gap = distance3(end.at, otherEnd.at);
    if (gap > TOUCH_MM) continue;
    const isSideBySide =
      end.out !== null &&
      otherEnd.out !== null &&
      gap > 1 &&
      dot3(end.out, otherEnd.out) > SIDE_BY_SIDE_COSINE;
    // Each pair of ends is met from both sides; one link is enough.
    if (!isSideBySide) {
      return end.service.id < other.id ? { a: end.place, b: otherEnd.place, lengthMm: gap } : null;
    }
  }
  return againstSide(end, other, other.axisMm);
}

function againstSide(end: End, other: Service, axis: readonly Vec3[]): Link | null {
  const near = nearestOnAxis(axis, end.at);
  const length = axisLengthMm(axis);
  if (near.placeMm < TOUCH_MM || near.placeMm > length - TOUCH_MM) return null;
  if (near.distanceMm > halfWidthMm(other) + TOUCH_MM) return null;
  const cosine = end.out === null ? 0 : Math.abs(dot3(end.out, near.direction));
  if (cosine > ALONG_COSINE) return null;
  return {
    a: end.place,
    b: { serviceId: other.id, placeMm: near.placeMm },
    lengthMm: near.distanceMm,
  };
}

/** Half of the larger outside dimension; a carrier of unknown size is taken as a line. */
function halfWidthMm({ section }: Service): number {
  if (section === null) return 0;
  return section.type === 'circle'
    ? section.diameterMm / 2
    : Math.max(section.widthMm, section.heightMm) / 2;
}

function bodyBox(service: Service): Box | null {
  if (service.axisMm !== null) {
    const box = boxOfPoints(service.axisMm);
    return box === null ? null : grownBox(box, halfWidthMm(service));
  }
  return service.mesh === null ? null : boxOfPositions(service.mesh.positionsMm);
}

function meshCentre(mesh: Mesh | null): Vec3 | null {
  return mesh === null ? null : boxCentre(boxOfPositions(mesh.positionsMm));
}

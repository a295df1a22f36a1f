import {
  faceMiddle,
  faceNormal,
  type SolidBody,
  type Stretch,
  solidBody,
  stretchesInside,
} from '../../geometry/solid-body.ts';
import { add3, dot3, scale3, type Vec3 } from '../../geometry/vec.ts';
import type { Host } from '../../model/building.ts';
import { type HostHole, type HostStretch, withHoles } from './hole-prism.ts';

/** A host made ready for crossing. */
export interface HostBody {
  readonly host: Host;
  readonly body: SolidBody;
  /** Usual thickness between its separating faces, mm. */
  readonly thicknessMm: number;
  /** Outward normal of its largest separating face. */
  readonly mainNormal: Vec3;
  /** Gaps within the host up to this wide belong to it: cavities, the space between studs. */
  readonly cavityMm: number;
  /** Holes in its own body: they belong to the gross host. */
  readonly holes: readonly HostHole[];
}

/** What lines are cut with. */
type Crossable = Pick<HostBody, 'body' | 'cavityMm' | 'holes'>;

const MOST_FACES_TRIED = 24;
/** Part of the tried surface that a thickness must carry to be that of the host. */
const LEAST_SHARE = 0.2;
/** How much thicker than usual a host may be where it still counts as crossed between its faces. */
const THICKER_RATIO = 1.6;
/** Footings and chambers are compact: their sides separate as well as their faces. */
const COMPACT_RATIO = 4;

/** Makes a host ready; null without a mesh. */
export function hostBody(host: Host, cavityMm: number): HostBody | null {
  if (host.mesh === null) return null;
  const body = solidBody(host.mesh);
  const bare: Crossable = { body, cavityMm, holes: [] };
  const faces = largestFaces(body).map((n) => {
    const normal = faceNormal(body, n);
    return {
      normal,
      area: body.areas[n] ?? 0,
      thickness: thicknessUnder(bare, faceMiddle(body, n), normal),
    };
  });
  const known = faces.filter(({ thickness }) => thickness !== null);
  const whole = known.reduce((sum, { area }) => sum + area, 0);
  const separating = known.filter(({ normal }) => mayFace(host, normal));
  const usable = (separating.length > 0 ? separating : known).map((face) => ({
    ...face,
    thickness: face.thickness ?? 0,
  }));
  usable.sort((a, b) => a.thickness - b.thickness);
  for (const candidate of usable) {
    const same = usable.filter(
      ({ thickness }) =>
        thickness >= candidate.thickness * 0.98 && thickness <= candidate.thickness * 1.1,
    );
    const share = same.reduce((sum, { area }) => sum + area, 0);
    if (share < whole * LEAST_SHARE) continue;
    const largest = same.reduce((a, b) => (b.area > a.area ? b : a));
    return { ...bare, host, thicknessMm: candidate.thickness, mainNormal: largest.normal };
  }
  const [thinnest] = usable;
  if (thinnest === undefined) return null;
  return { ...bare, host, thicknessMm: thinnest.thickness, mainNormal: thinnest.normal };
}

function largestFaces(body: SolidBody): readonly number[] {
  const order = Array.from({ length: body.count }, (_, n) => n);
  order.sort((a, b) => (body.areas[b] ?? 0) - (body.areas[a] ?? 0) || a - b);
  return order.slice(0, MOST_FACES_TRIED).filter((n) => (body.areas[n] ?? 0) > 0);
}

/** Stretches of a line inside a gross host, those with only a cavity between them made one. */
export function hostStretches(
  host: Crossable,
  origin: Vec3,
  direction: Vec3,
): readonly HostStretch[] {
  const merged: Stretch[] = [];
  for (const stretch of stretchesInside(host.body, origin, direction)) {
    const last = merged[merged.length - 1];
    const gap = last === undefined ? Infinity : stretch.enter.at - last.leave.at;
    const clear =
      last === undefined ? Infinity : gap * Math.abs(dot3(last.leave.normal, direction));
    if (last !== undefined && clear <= host.cavityMm) {
      merged[merged.length - 1] = { enter: last.enter, leave: stretch.leave };
    } else merged.push(stretch);
  }
  return withHoles(merged, host.holes, origin, direction);
}

/** Depth of the host where it has a face, along the face's normal; null where the mesh is open. */
function thicknessUnder(host: Crossable, middle: Vec3, normal: Vec3): number | null {
  const inward = scale3(normal, -1);
  const stretch = hostStretches(host, middle, inward).find(
    ({ enter, leave }) => enter.at < 1 && leave.at > 1,
  );
  return stretch === undefined ? null : stretch.leave.at - stretch.enter.at;
}

/** Whether a face of this direction can be what the host separates: not a wall's top, not a slab's edge. */
export function mayFace(host: Host, normal: Vec3): boolean {
  if (host.kind === 'wall') return Math.abs(normal[2]) < 0.7;
  if (host.kind === 'slab' || host.kind === 'roof') return Math.abs(normal[2]) > 0.2;
  return true;
}

/** Whether the face met at a point separates two sides of the host: it is thin there. */
export function isSeparatingFace(host: HostBody, point: Vec3, normal: Vec3): boolean {
  if (!mayFace(host.host, normal)) return false;
  const depth = thicknessUnder(host, point, normal);
  if (depth === null) return true;
  const { kind } = host.host;
  const ratio =
    kind === 'footing' || kind === 'chamber' || kind === 'other' ? COMPACT_RATIO : THICKER_RATIO;
  return depth <= host.thicknessMm * ratio;
}

/** The stretch of a line inside the host that holds or is nearest to a place along it. */
export function stretchAt(
  host: HostBody,
  origin: Vec3,
  direction: Vec3,
  withinMm: number,
): Stretch | null {
  let best: Stretch | null = null;
  let least = withinMm;
  for (const stretch of hostStretches(host, origin, direction)) {
    const distance = Math.max(stretch.enter.at, -stretch.leave.at, 0);
    if (distance <= least) {
      least = distance;
      best = stretch;
    }
  }
  return best;
}

/** Direction through the host near a point: square to the face that a line along `hint` meets. */
export function normalAt(host: HostBody, point: Vec3, hint: Vec3 | null): Vec3 {
  if (hint !== null) {
    const stretch = stretchAt(host, point, hint, host.thicknessMm);
    if (stretch !== null && Math.abs(dot3(stretch.enter.normal, hint)) > 0.5) {
      const entry = add3(point, scale3(hint, stretch.enter.at));
      if (isSeparatingFace(host, entry, stretch.enter.normal)) return stretch.enter.normal;
    }
  }
  const main = stretchAt(host, point, host.mainNormal, host.thicknessMm);
  return main?.enter.normal ?? host.mainNormal;
}

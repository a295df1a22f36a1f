import type { Shape } from '../../geometry/shape.ts';
import type { FaceHit, Stretch } from '../../geometry/solid-body.ts';
import { isInsideOutline } from '../../geometry/solid-slice.ts';
import { add3, dot3, scale3, sub3, unit3, type Vec2, type Vec3 } from '../../geometry/vec.ts';
import type { SectionFrame } from '../../model/penetration.ts';

/** A hole that is part of a host's own body, with no opening element: a prism through the host. */
export interface HostHole {
  /** Its origin lies in the middle of the hole. */
  readonly frame: SectionFrame;
  readonly shape: Shape;
  /** In the frame; of a notch closed by its mouth. */
  readonly outline: readonly Vec2[];
  readonly thicknessMm: number;
  /** Whether it is open at an edge of the host. */
  readonly isNotch: boolean;
}

/** A stretch inside the gross host, with the hole that it passes. */
export interface HostStretch extends Stretch {
  readonly hole: HostHole | null;
}

/** Body and hole this near along a line are one stretch, mm. */
const JOIN_MM = 1;

/** Stretches of an endless line inside the prism of a hole. */
function stretchesInHole(hole: HostHole, origin: Vec3, direction: Vec3): readonly HostStretch[] {
  const { frame, thicknessMm, outline } = hole;
  const from = sub3(origin, frame.originMm);
  const [x, y, z] = [dot3(from, frame.right), dot3(from, frame.up), dot3(from, frame.axis)];
  const [dx, dy, dz] = [
    dot3(direction, frame.right),
    dot3(direction, frame.up),
    dot3(direction, frame.axis),
  ];
  const half = thicknessMm / 2;
  const isAlong = Math.abs(dz) < 1e-6;
  if (isAlong && Math.abs(z) > half) return [];
  const ends = isAlong ? [-Infinity, Infinity] : [(-half - z) / dz, (half - z) / dz];
  const [low, high] = [Math.min(...ends), Math.max(...ends)];
  const facing = dz >= 0 ? frame.axis : scale3(frame.axis, -1);
  const cuts: FaceHit[] = [{ at: low, normal: scale3(facing, -1) }];
  for (const { at, normal } of sideCuts(outline, [x, y], [dx, dy])) {
    if (at > low && at < high) {
      const world = add3(scale3(frame.right, normal[0]), scale3(frame.up, normal[1]));
      cuts.push({ at, normal: unit3(world) ?? world });
    }
  }
  cuts.push({ at: high, normal: facing });
  cuts.sort((a, b) => a.at - b.at);
  const stretches: HostStretch[] = [];
  cuts.forEach((leave, n) => {
    const enter = cuts[n - 1];
    if (enter === undefined || !Number.isFinite(enter.at) || !Number.isFinite(leave.at)) return;
    const middle = (enter.at + leave.at) / 2;
    if (!isInsideOutline(outline, [x + dx * middle, y + dy * middle])) return;
    stretches.push({
      enter: facingAlong(enter, direction, -1),
      leave: facingAlong(leave, direction, 1),
      hole,
    });
  });
  return stretches;
}

/** The hit with its normal against (−1) or along (1) the line. */
function facingAlong(hit: FaceHit, direction: Vec3, sign: 1 | -1): FaceHit {
  return dot3(hit.normal, direction) * sign >= 0
    ? hit
    : { at: hit.at, normal: scale3(hit.normal, -1) };
}

interface SideCut {
  readonly at: number;
  /** Across the side, to either hand. */
  readonly normal: Vec2;
}

function sideCuts(outline: readonly Vec2[], from: Vec2, along: Vec2): readonly SideCut[] {
  if (Math.hypot(...along) < 1e-9) return [];
  const cuts: SideCut[] = [];
  let before = outline[outline.length - 1];
  for (const corner of outline) {
    if (before !== undefined) {
      const side: Vec2 = [corner[0] - before[0], corner[1] - before[1]];
      const determinant = along[0] * side[1] - along[1] * side[0];
      if (Math.abs(determinant) > 1e-12) {
        const d: Vec2 = [before[0] - from[0], before[1] - from[1]];
        const ratio = (d[0] * along[1] - d[1] * along[0]) / determinant;
        if (ratio >= 0 && ratio < 1) {
          cuts.push({
            at: (d[0] * side[1] - d[1] * side[0]) / determinant,
            normal: [side[1], -side[0]],
          });
        }
      }
    }
    before = corner;
  }
  return cuts;
}

/** Stretches in the body and in its holes made one where they meet, in order along the line. */
export function withHoles(
  inBody: readonly Stretch[],
  holes: readonly HostHole[],
  origin: Vec3,
  direction: Vec3,
): readonly HostStretch[] {
  const all: HostStretch[] = inBody.map(({ enter, leave }) => ({ enter, leave, hole: null }));
  if (holes.length === 0) return all;
  const before = all.length;
  for (const hole of holes) all.push(...stretchesInHole(hole, origin, direction));
  if (all.length === before) return all;
  all.sort((a, b) => a.enter.at - b.enter.at);
  const merged: HostStretch[] = [];
  for (const stretch of all) {
    const last = merged[merged.length - 1];
    if (last === undefined || stretch.enter.at > last.leave.at + JOIN_MM) {
      merged.push(stretch);
      continue;
    }
    merged[merged.length - 1] = {
      enter: last.enter,
      leave: stretch.leave.at > last.leave.at ? stretch.leave : last.leave,
      hole: last.hole ?? stretch.hole,
    };
  }
  return merged;
}

import { add3, scale3, type Vec3 } from '../../geometry/vec.ts';
import type { PenetrationHost, SectionFrame } from '../../model/penetration.ts';
import { type HostBody, hostStretches } from './host-body.ts';

/**
 * From the middle of an opening to the host's own edges along the section's axes, in the middle of
 * the host's thickness (`range` along the axis). The host is gross, so other openings are no edge.
 * Nothing where the middle lies outside the host.
 */
export function hostEdges(
  host: HostBody,
  { originMm, axis, right, up }: SectionFrame,
  range: readonly [number, number],
): Pick<PenetrationHost, 'toEdgeMm'> {
  const middle = add3(originMm, scale3(axis, (range[0] + range[1]) / 2));
  const across = insideFrom(host, middle, right);
  const upright = insideFrom(host, middle, up);
  if (across === null || upright === null) return {};
  return {
    toEdgeMm: { left: across[0], right: across[1], below: upright[0], above: upright[1] },
  };
}

/** How far one stays inside the host from a point, against and along a direction. */
function insideFrom(
  host: HostBody,
  point: Vec3,
  direction: Vec3,
): readonly [against: number, along: number] | null {
  const stretch = hostStretches(host, point, direction).find(
    ({ enter, leave }) => enter.at <= 0 && leave.at >= 0,
  );
  return stretch === undefined ? null : [-stretch.enter.at, stretch.leave.at];
}

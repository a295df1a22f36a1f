import type { HostDim, OpeningDim, V2, V3, WallDim } from '../dimensions/types.ts';

/** Where an opening's volume begins, which way it is pushed, and how far. World frame, mm. */
export interface OpeningSweep {
  readonly startMm: V3;
  readonly axis: V3;
  /** Direction of the shape's width. */
  readonly right: V3;
  readonly depthMm: number;
}

export function wallDirection(wall: WallDim): V2 {
  const lengthMm = wallLengthMm(wall);
  return [(wall.to[0] - wall.from[0]) / lengthMm, (wall.to[1] - wall.from[1]) / lengthMm];
}

export function wallLengthMm(wall: WallDim): number {
  return Math.hypot(wall.to[0] - wall.from[0], wall.to[1] - wall.from[1]);
}

/**
 * The sweep of an opening: from the right-hand face of a wall (looking along it) to the left-hand
 * one, from the underside of a slab upwards, outwards along x through a ring.
 */
export function openingSweep(
  opening: OpeningDim,
  host: HostDim,
  /** A second leaf that the volume goes through as well. */
  second?: WallDim,
): OpeningSweep {
  const over = opening.overshootMm;
  if (host.form === 'slab') {
    const top = host.baseMm + host.heightMm;
    const bottom = opening.blind === undefined ? host.baseMm - over : top - opening.blind.depthMm;
    return {
      startMm: [opening.at[0], opening.at[1], bottom],
      axis: [0, 0, 1],
      right: [1, 0, 0],
      depthMm: (opening.blind === undefined ? top + over : top) - bottom,
    };
  }
  if (host.form === 'ring') {
    const [x, y] = opening.along ?? [1, 0];
    const halfMm = host.thicknessMm / 2 + over;
    return {
      startMm: [opening.at[0] - x * halfMm, opening.at[1] - y * halfMm, opening.at[2]],
      axis: [x, y, 0],
      right: [-y, x, 0],
      depthMm: 2 * halfMm,
    };
  }
  const [dx, dy] = wallDirection(host);
  const normal: V2 = [-dy, dx];
  const half = host.thicknessMm / 2;
  let from = -half - over;
  let to = half + over;
  if (opening.blind?.from === 'left') from = half - opening.blind.depthMm;
  if (opening.blind?.from === 'right') to = -half + opening.blind.depthMm;
  if (second !== undefined) {
    const apart =
      (second.from[0] - host.from[0]) * normal[0] + (second.from[1] - host.from[1]) * normal[1];
    if (apart > 0) to = apart + second.thicknessMm / 2 + over;
    else from = apart - second.thicknessMm / 2 - over;
  }
  return {
    startMm: [opening.at[0] + normal[0] * from, opening.at[1] + normal[1] * from, opening.at[2]],
    axis: [normal[0], normal[1], 0],
    right: [dx, dy, 0],
    depthMm: to - from,
  };
}

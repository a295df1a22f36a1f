import { signedPolygonAreaMm2 } from './shape.ts';
import { cross2, dot2, sub2, unit2, type Vec2 } from './vec.ts';

/** A notch turns at least this much at its inner corners: more than a chamfered inner corner. */
const LEAST_TURN_RAD = (150 * Math.PI) / 180;
const STRAIGHT_RAD = 0.005;

/**
 * Notches in the side of an outline: each the chain of inward corners between two outward ones,
 * closed by a straight line across its mouth. An inner corner alone is none.
 */
export function notchesOf(outline: readonly Vec2[]): readonly (readonly Vec2[])[] {
  const corners = turningCorners(outline);
  const first = corners.findIndex(({ turnRad }) => turnRad > 0);
  if (first < 0) return [];
  const notches: Vec2[][] = [];
  let chain: Corner[] = [];
  for (let n = 0; n <= corners.length; n += 1) {
    const corner = corners[(first + n) % corners.length];
    if (corner === undefined) continue;
    if (corner.turnRad > 0) {
      const inner = chain.slice(1);
      const turned = -inner.reduce((sum, { turnRad }) => sum + turnRad, 0);
      if (inner.length >= 2 && turned >= LEAST_TURN_RAD) {
        notches.push([...chain.map(({ point }) => point), corner.point]);
      }
      chain = [corner];
    } else chain.push(corner);
  }
  return notches;
}

interface Corner {
  readonly point: Vec2;
  /** Positive outwards: the outline is walked with its inside to the left. */
  readonly turnRad: number;
}

function turningCorners(outline: readonly Vec2[]): readonly Corner[] {
  const walked = signedPolygonAreaMm2(outline) < 0 ? [...outline].reverse() : outline;
  const points = walked.filter((point, n) => {
    const before = walked[(n + walked.length - 1) % walked.length] ?? point;
    return Math.hypot(point[0] - before[0], point[1] - before[1]) > 0.05;
  });
  return points.flatMap((point, n): readonly Corner[] => {
    const a = unit2(sub2(point, points[(n + points.length - 1) % points.length] ?? point));
    const b = unit2(sub2(points[(n + 1) % points.length] ?? point, point));
    if (a === null || b === null) return [];
    const turnRad = Math.atan2(cross2(a, b), dot2(a, b));
    return Math.abs(turnRad) < STRAIGHT_RAD ? [] : [{ point, turnRad }];
  });
}

import { cross3, type Vec2, type Vec3 } from '../../geometry/vec.ts';
import type { DrawnView } from '../../model/drawing.ts';
import type { SectionFrame } from '../../model/penetration.ts';

/** From a view's plane to the world, and the directions that go with it. */
export interface ViewFrame {
  readonly isPlan: boolean;
  /** A point of the drawing in the world; `heightMm` is above the level, for plans. */
  readonly toWorld: (point: Vec2, heightMm: number) => Vec3;
  /** The place in the drawing of a point of the world; a plan is looked at from above. */
  readonly onSheet: (point: Vec3) => Vec2;
  /** A direction of the drawing in the world. */
  readonly direction: (along: Vec2) => Vec3;
  /** Away from the viewer: into the page of a section, down in a plan. */
  readonly intoPage: Vec3;
}

/**
 * A plan keeps its own x and y, and takes z from its level; a section's x stays x and its y becomes
 * z. A base point moves it to where it lies in the world.
 */
export function viewFrame(view: DrawnView): ViewFrame {
  const [px, py] = view.base?.pointMm ?? [0, 0];
  const [ax, ay, az] = view.base?.atMm ?? [0, 0, 0];
  if (view.view === 'plan') {
    const floorMm = view.elevationMm ?? az;
    return {
      isPlan: true,
      toWorld: ([x, y], heightMm) => [x - px + ax, y - py + ay, floorMm + heightMm],
      onSheet: ([x, y]) => [x + px - ax, y + py - ay],
      direction: ([x, y]) => [x, y, 0],
      intoPage: [0, 0, -1],
    };
  }
  const { datum } = view;
  const onPage = (z: number) => (datum === null ? z + py - az : z + datum.yMm - datum.heightMm);
  const height = (y: number) => (datum === null ? y - py + az : y - datum.yMm + datum.heightMm);
  return {
    isPlan: false,
    toWorld: ([x, y]) => [x - px + ax, ay, height(y)],
    onSheet: ([x, , z]) => [x + px - ax, onPage(z)],
    direction: ([x, y]) => [x, 0, y],
    intoPage: [0, 1, 0],
  };
}

/** The frame of a penetration from its centre and its axis; up is the world's z, or north. */
export function sectionFrame(originMm: Vec3, axis: Vec3): SectionFrame {
  const isVertical = Math.abs(axis[2]) > 0.9;
  const up: Vec3 = isVertical ? [0, 1, 0] : [0, 0, 1];
  return { originMm, axis, right: cross3(axis, up), up };
}

/** One of the two ways along an axis, always the same: towards +x, else +y, else +z. */
export function oneWay(axis: Vec2): Vec2 {
  const [x, y] = axis;
  const isForward = Math.abs(x) > 1e-6 ? x > 0 : y > 0;
  return isForward ? axis : [-x, -y];
}

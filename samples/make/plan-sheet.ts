import type { V2 } from '../dimensions/types.ts';

/** Where the model's zero lies in the drawing: the plan is drawn on a site sheet's coordinates. */
export const PLAN_BASE_POINT: V2 = [100_000, 50_000];

/** Heights of texts. */
export const TEXT = 125;
export const SMALL = 100;

/** From the world's x and y to the sheet. */
export const onSheet = ([x, y]: readonly number[]): V2 => [
  (x ?? 0) + PLAN_BASE_POINT[0],
  (y ?? 0) + PLAN_BASE_POINT[1],
];

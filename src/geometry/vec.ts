/** Points and vectors as plain arrays; millimetres unless the name says otherwise. */
export type Vec2 = readonly [number, number];
export type Vec3 = readonly [number, number, number];

export const sub2 = (a: Vec2, b: Vec2): Vec2 => [a[0] - b[0], a[1] - b[1]];
export const add2 = (a: Vec2, b: Vec2): Vec2 => [a[0] + b[0], a[1] + b[1]];
export const scale2 = (a: Vec2, factor: number): Vec2 => [a[0] * factor, a[1] * factor];
export const dot2 = (a: Vec2, b: Vec2): number => a[0] * b[0] + a[1] * b[1];
/** The z of the cross product: positive when b lies to the left of a. */
export const cross2 = (a: Vec2, b: Vec2): number => a[0] * b[1] - a[1] * b[0];
export const length2 = (a: Vec2): number => Math.sqrt(dot2(a, a));
export const distance2 = (a: Vec2, b: Vec2): number => {
  const x = a[0] - b[0];
  const y = a[1] - b[1];
  return Math.sqrt(x * x + y * y);
};

export const sub3 = (a: Vec3, b: Vec3): Vec3 => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
export const add3 = (a: Vec3, b: Vec3): Vec3 => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
export const scale3 = (a: Vec3, factor: number): Vec3 => [
  a[0] * factor,
  a[1] * factor,
  a[2] * factor,
];
export const dot3 = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
export const cross3 = (a: Vec3, b: Vec3): Vec3 => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
export const length3 = (a: Vec3): number => Math.sqrt(dot3(a, a));
export const distance3 = (a: Vec3, b: Vec3): number => length3(sub3(a, b));

/** Point at `ratio` of the way from a to b. */
export const lerp3 = (a: Vec3, b: Vec3, ratio: number): Vec3 => [
  a[0] + (b[0] - a[0]) * ratio,
  a[1] + (b[1] - a[1]) * ratio,
  a[2] + (b[2] - a[2]) * ratio,
];

/** Unit vector, or null for a vector too short to have a direction. */
export function unit3(a: Vec3): Vec3 | null {
  const length = length3(a);
  return length > 1e-12 ? scale3(a, 1 / length) : null;
}

/** Unit vector, or null for a vector too short to have a direction. */
export function unit2(a: Vec2): Vec2 | null {
  const length = length2(a);
  return length > 1e-12 ? scale2(a, 1 / length) : null;
}

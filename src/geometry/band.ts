import type { PlanePiece } from './plane-curve.ts';
import type { Side, Strip } from './plane-rails.ts';
import type { Vec2 } from './vec.ts';

/**
 * A strip of a wall in the plane between two faces that run beside each other: straight (`u` along
 * the direction, `v` along its normal, from `origin`), or curved (`u` the angle, `v` the radius).
 */
export type Band = StraightBand | CurvedBand;

export interface StraightBand extends Strip {
  readonly type: 'straight';
  readonly origin: Vec2;
  readonly direction: Vec2;
}

export interface CurvedBand extends Strip {
  readonly type: 'curved';
  readonly centre: Vec2;
}

export interface BandInput {
  readonly piece: PlanePiece;
  /** Which entity it belongs to. */
  readonly source: number;
  /** What is known of its left and right, seen along it. */
  readonly left: Side;
  readonly right: Side;
  /** Whether it is a chord of a curve rather than a line that was drawn. */
  readonly isChord?: boolean;
}

export const bandThicknessMm = (band: Band): number => band.v1 - band.v0;

export const bandLengthMm = (band: Band): number =>
  band.type === 'straight' ? band.u1 - band.u0 : (band.u1 - band.u0) * ((band.v0 + band.v1) / 2);

/** The world's point of a band's own coordinates. */
export function bandPoint(band: Band, u: number, v: number): Vec2 {
  if (band.type === 'curved') {
    return [band.centre[0] + v * Math.cos(u), band.centre[1] + v * Math.sin(u)];
  }
  const [dx, dy] = band.direction;
  return [band.origin[0] + dx * u - dy * v, band.origin[1] + dy * u + dx * v];
}

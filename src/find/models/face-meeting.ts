import type { Vec3 } from '../../geometry/vec.ts';

/** Where a run meets a face of a host. */
export interface FaceMeeting {
  readonly pointMm: Vec3;
  /** Outward. */
  readonly normal: Vec3;
  readonly service: number;
  /** Whether the face separates two sides; an edge doesn't. */
  readonly isSeparating: boolean;
}

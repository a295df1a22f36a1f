import Flatbush from 'flatbush';
import type { Vec2 } from './vec.ts';

/** A straight line from one point to another. */
export interface Segment {
  readonly from: Vec2;
  readonly to: Vec2;
}

/** Index of the boxes round segments, numbered as they are given. There must be one at least. */
export function indexSegments(segments: readonly Segment[]): Flatbush {
  const index = new Flatbush(segments.length);
  for (const { from, to } of segments) {
    index.add(
      Math.min(from[0], to[0]),
      Math.min(from[1], to[1]),
      Math.max(from[0], to[0]),
      Math.max(from[1], to[1]),
    );
  }
  index.finish();
  return index;
}

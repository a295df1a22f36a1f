import type { Vec2 } from '../geometry/vec.ts';
import type { Body } from '../model/arrangement.ts';
import { n } from './svg.ts';

/** Half the height and width of a body as it lies, for the room its label has. */
export function labelRoomMm(outline: Body['outline']): number {
  return outline.type === 'circle'
    ? outline.diameterMm
    : Math.min(outline.widthMm, outline.heightMm);
}

/** A closed path in paper millimetres. */
export function pathOf(points: readonly Vec2[], toPaper: (point: Vec2) => Vec2): string {
  const commands = points.map((point, at) => {
    const [x, y] = toPaper(point);
    return `${at === 0 ? 'M' : 'L'}${n(x)} ${n(y)}`;
  });
  return `${commands.join('')}Z`;
}

import type { Vec3 } from '../geometry/vec.ts';
import type { GridAxis } from '../model/building.ts';

/** Nearest crossing of two grid axes and the way from it: "B/3 +1200 −350". */
export function gridText(grids: readonly GridAxis[], point: Vec3): string | null {
  const lines = grids
    .map((axis) => ({ axis, offset: offsetFrom(axis, point) }))
    .filter((line) => Number.isFinite(line.offset))
    .sort((a, b) => Math.abs(a.offset) - Math.abs(b.offset) || (a.axis.tag < b.axis.tag ? -1 : 1));
  const [first] = lines;
  if (first === undefined) return null;
  const second = lines.find(({ axis }) => Math.abs(cosine(first.axis, axis)) < 0.5);
  if (second === undefined) return null;
  const [a, b] =
    Math.abs(first.axis.endMm[0] - first.axis.startMm[0]) <
    Math.abs(first.axis.endMm[1] - first.axis.startMm[1])
      ? [first, second]
      : [second, first];
  return `${a.axis.tag}/${b.axis.tag} ${signed(a.offset)} ${signed(b.offset)}`;
}

/** Distance from an axis in plan: to the right of an axis that runs north, above one that runs east. */
function offsetFrom({ startMm, endMm }: GridAxis, point: Vec3): number {
  let dx = endMm[0] - startMm[0];
  let dy = endMm[1] - startMm[1];
  const length = Math.hypot(dx, dy);
  if (length < 1) return Number.NaN;
  dx /= length;
  dy /= length;
  const left = dx * (point[1] - startMm[1]) - dy * (point[0] - startMm[0]);
  // East of an axis that runs north or south, north of one that runs east or west.
  return Math.abs(dy) > Math.abs(dx) ? -left * Math.sign(dy) : left * Math.sign(dx);
}

function cosine(a: GridAxis, b: GridAxis): number {
  const u = [a.endMm[0] - a.startMm[0], a.endMm[1] - a.startMm[1]] as const;
  const v = [b.endMm[0] - b.startMm[0], b.endMm[1] - b.startMm[1]] as const;
  return (u[0] * v[0] + u[1] * v[1]) / (Math.hypot(...u) * Math.hypot(...v));
}

function signed(value: number): string {
  const rounded = Math.round(value);
  return rounded < 0 ? `−${-rounded}` : `+${rounded}`;
}

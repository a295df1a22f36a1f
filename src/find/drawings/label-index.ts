import type Flatbush from 'flatbush';
import type { PlanePath } from '../../geometry/plane-cross.ts';
import { nearestOnSegment, pointToSegment } from '../../geometry/plane-project.ts';
import { indexSegments, type Segment } from '../../geometry/segment-index.ts';
import { add2, cross2, dot2, scale2, sub2, type Vec2 } from '../../geometry/vec.ts';
import type { DrawnText } from '../../model/drawing.ts';
import type { LabelReading } from './read-label.ts';

/** Something that labels may name: a line, or a place with a reach of its own. */
export interface LabelTarget {
  readonly path: PlanePath;
  /** Half the width of what is drawn there. */
  readonly halfWidthMm: number;
  /** Its widths where it is drawn to size; none for a single line or a symbol. */
  readonly drawnMm: readonly number[];
  readonly isOpening: boolean;
  /** A kind of service that is always round: a size of two sides does not speak of it. */
  readonly isRound?: boolean;
}

/** A target that something names, how far it is, and how well it fits: less is better. */
export interface NamedTarget {
  readonly at: number;
  readonly distanceMm: number;
  readonly cost: number;
}

/** The middle line of a text's box. */
function middleLine(text: DrawnText): readonly [Vec2, Vec2] {
  const along: Vec2 = [Math.cos(text.rotationRad), Math.sin(text.rotationRad)];
  const half = scale2(along, text.lengthMm / 2);
  return [sub2(text.centreMm, half), add2(text.centreMm, half)];
}

export function textDistance(text: DrawnText, point: Vec2): number {
  const [a, b] = middleLine(text);
  return Math.max(0, pointToSegment(point, a, b) - text.depthMm / 2);
}

/** The lines of all targets, for what is nearest to a place or a text. */
export class SegmentIndex {
  private readonly targets: readonly LabelTarget[];
  private readonly owners: number[] = [];
  private readonly segments: Segment[] = [];
  private readonly index: Flatbush | null;

  constructor(targets: readonly LabelTarget[]) {
    this.targets = targets;
    targets.forEach(({ path }, at) => {
      path.points.forEach((point, i) => {
        const next = path.points[i + 1] ?? (path.points.length === 1 ? point : undefined);
        if (next === undefined) return;
        this.owners.push(at);
        this.segments.push({ from: point, to: next });
      });
    });
    this.index = this.segments.length === 0 ? null : indexSegments(this.segments);
  }

  /** Whether anything lies in the square round a place: a quick look before a text is read. */
  isNear([x, y]: Vec2, reachMm: number): boolean {
    return this.index?.collides(x - reachMm, y - reachMm, x + reachMm, y + reachMm) ?? false;
  }

  nearest(point: Vec2, reachMm: number): { at: number; distanceMm: number } | null {
    return this.best(
      [point[0] - reachMm, point[1] - reachMm, point[0] + reachMm, point[1] + reachMm],
      (a, b, { halfWidthMm }) => {
        const distanceMm = Math.max(0, pointToSegment(point, a, b) - halfWidthMm);
        return { distanceMm, cost: distanceMm };
      },
      reachMm,
    );
  }

  /**
   * The target that a text names: the nearest, where a line that the text runs along and stands on
   * is taken before one that is as near but crosses it or lies above it. `isFree`: which may be named.
   */
  nearestToText(
    text: DrawnText,
    reading: LabelReading,
    reachMm: number,
    isFree: (at: number) => boolean = () => true,
  ): NamedTarget | null {
    const [start, end] = middleLine(text);
    const reach = reachMm + text.depthMm / 2;
    const up: Vec2 = [-Math.sin(text.rotationRad), Math.cos(text.rotationRad)];
    const along: Vec2 = [up[1], -up[0]];
    return this.best(
      [
        Math.min(start[0], end[0]) - reach,
        Math.min(start[1], end[1]) - reach,
        Math.max(start[0], end[0]) + reach,
        Math.max(start[1], end[1]) + reach,
      ],
      (a, b, target) => {
        const middle = segmentToSegment(start, end, a, b);
        const distanceMm = Math.max(0, middle - text.depthMm / 2 - target.halfWidthMm);
        const run = sub2(b, a);
        const length = Math.hypot(run[0], run[1]);
        const isAlong = length === 0 || Math.abs(dot2(run, along)) > 0.9 * length;
        const isBelow = dot2(sub2(nearestOnSegment(text.centreMm, a, b), text.centreMm), up) <= 0;
        const penalty = (isAlong ? 0 : 0.6) + (isBelow ? 0 : 0.3) + fitPenalty(reading, target);
        return { distanceMm, cost: distanceMm + penalty * text.heightMm };
      },
      reachMm,
      isFree,
    );
  }

  private best(
    [x0, y0, x1, y1]: readonly [number, number, number, number],
    measure: (a: Vec2, b: Vec2, target: LabelTarget) => { distanceMm: number; cost: number },
    reachMm: number,
    isFree: (at: number) => boolean = () => true,
  ): NamedTarget | null {
    let best: NamedTarget | null = null;
    for (const i of this.index?.search(x0, y0, x1, y1) ?? []) {
      const segment = this.segments[i];
      const at = this.owners[i];
      const target = at === undefined ? undefined : this.targets[at];
      if (segment === undefined || at === undefined || target === undefined) continue;
      if (!isFree(at)) continue;
      const { distanceMm, cost } = measure(segment.from, segment.to, target);
      if (distanceMm > reachMm) continue;
      const isBetter = best === null || cost < best.cost || (cost === best.cost && at < best.at);
      if (isBetter) best = { at, distanceMm, cost };
    }
    return best;
  }
}

/** A size that is drawn and written the same settles whose label it is, over this many text heights. */
const SAME_SIZE_BONUS = 8;
const OTHER_SIZE_PENALTY = 3;
/** "Sleeve" and "opening" speak of what is drawn as one. */
const OPENING_WORD_PENALTY = 3;
/** Two sides on a conduit or a pipe: whatever else is near is meant. */
const ROUND_PENALTY = 8;
const SAME_SIZE_RATIO = 0.03;

/** In text heights: how much worse (or, negative, better) a label fits what is drawn. */
function fitPenalty(reading: LabelReading, { drawnMm, isOpening, isRound }: LabelTarget): number {
  const words = reading.isOpening && !isOpening ? OPENING_WORD_PENALTY : 0;
  const section = reading.sizes[0]?.section;
  if (isRound === true && section?.type === 'rectangle') return words + ROUND_PENALTY;
  if (section === undefined || drawnMm.length === 0) return words;
  const size = section.type === 'circle' ? section.diameterMm : section.widthMm;
  const isSame = drawnMm.some((drawn) => Math.abs(size - drawn) <= SAME_SIZE_RATIO * drawn);
  return words + (isSame ? -SAME_SIZE_BONUS : OTHER_SIZE_PENALTY);
}

function segmentToSegment(a: Vec2, b: Vec2, c: Vec2, d: Vec2): number {
  const ab = sub2(b, a);
  const cd = sub2(d, c);
  const turn = cross2(ab, cd);
  if (Math.abs(turn) > 1e-12) {
    const ac = sub2(c, a);
    const t = cross2(ac, cd) / turn;
    const u = cross2(ac, ab) / turn;
    if (t >= 0 && t <= 1 && u >= 0 && u <= 1) return 0;
  }
  return Math.min(
    pointToSegment(a, c, d),
    pointToSegment(b, c, d),
    pointToSegment(c, a, b),
    pointToSegment(d, a, b),
  );
}

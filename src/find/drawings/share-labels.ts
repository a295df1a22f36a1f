import { groupBy } from '../../basics/order.ts';
import type { DrawnText } from '../../model/drawing.ts';
import type { NamedTarget, SegmentIndex } from './label-index.ts';
import type { LabelReading } from './read-label.ts';

/** A text and the target nearest to it. */
export interface Claim {
  readonly text: DrawnText;
  readonly reading: LabelReading;
  readonly target: NamedTarget;
}

export const tellsSize = ({ sizes }: LabelReading): boolean => sizes.length > 0;

/** How much further, in text heights, a label goes to a target that has none rather than share one. */
const SHARED_WITHIN = 0.75;

/**
 * Where two texts with sizes claim one target, and beside it another has none and is nearly as near to
 * one of them, that one names the other: a long text reaches over a line that is its neighbour's.
 */
export function shareOut(
  claims: readonly Claim[],
  isTaken: (at: number) => boolean,
  index: SegmentIndex,
  reachMm: number,
): readonly Claim[] {
  const sized = claims.filter(({ reading }) => tellsSize(reading));
  const byTarget = groupBy(sized, ({ target }) => String(target.at));
  const moved = new Map<Claim, NamedTarget>();
  const taken = new Set(sized.map(({ target }) => target.at));
  for (const shared of byTarget.values()) {
    const offers = shared.flatMap((claim) => {
      const isFree = (at: number) => !taken.has(at) && !isTaken(at);
      const other = index.nearestToText(claim.text, claim.reading, reachMm, isFree);
      const moreMm = other === null ? Infinity : other.cost - claim.target.cost;
      return other === null || moreMm > SHARED_WITHIN * claim.text.heightMm
        ? []
        : [{ claim, other, moreMm }];
    });
    // One stays at least.
    for (const { claim, other } of offers
      .sort((a, b) => a.moreMm - b.moreMm)
      .slice(0, shared.length - 1)) {
      if (taken.has(other.at)) continue;
      taken.add(other.at);
      moved.set(claim, other);
    }
  }
  return claims.map((claim) => ({ ...claim, target: moved.get(claim) ?? claim.target }));
}

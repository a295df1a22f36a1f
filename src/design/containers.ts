import type { Sealant } from '../model/range.ts';
import type { ContainerCount } from '../model/seal.ts';

/**
 * Beyond this a count of the smaller sizes is not looked at: so many of them can be exchanged for
 * the largest size. Our own choice: 310 against 600 ml repeats after 60.
 */
const MOST_OF_A_SMALL_SIZE = 200;
/** Combinations tried at most, whatever the number of sizes. Our own choice. */
const MOST_COMBINATIONS = 40_000;

/**
 * Whole number at or above `value`, where a hair above a whole number still counts as that number:
 * 31 × 220 ml are 22 cartridges of 310 ml, not 23.
 * @source Tolerance 1e-9: shared reference take-off cases, rule "rounding".
 */
export function ceilCount(value: number): number {
  return Math.max(0, Math.ceil(value - 1e-9));
}

/** What of a container ends in the seal, ml: its size less what stays behind in it. */
function usableMl(container: Sealant['containers'][number]): number {
  return Math.max(container.sizeMl - container.lossMl, 0);
}

/**
 * The containers a crew works with: all sizes of the kind listed first in the range. Cartridges,
 * foils and two-part packs need different guns, so a count never mixes kinds; the order of the
 * range says which is preferred.
 */
function workedContainers(sealant: Sealant): Sealant['containers'] {
  const kind = sealant.containers[0]?.kind;
  return sealant.containers.filter((container) => container.kind === kind);
}

/**
 * The mix of sizes that holds `volumeMl` with the least left over; of equal mixes the one with
 * fewest containers. Empty for nothing to fill. Sorted by size, largest first.
 */
export function smallestWasteMix(volumeMl: number, sealant: Sealant): ContainerCount[] {
  const sizes = workedContainers(sealant)
    .map((container) => ({ sizeMl: container.sizeMl, usableMl: usableMl(container) }))
    .filter((size) => size.usableMl > 0)
    .sort((a, b) => b.sizeMl - a.sizeMl);
  const [largest, ...smaller] = sizes;
  if (largest === undefined || ceilCount(volumeMl / largest.usableMl) === 0) return [];
  const cap = Math.min(
    MOST_OF_A_SMALL_SIZE,
    Math.floor(MOST_COMBINATIONS ** (1 / Math.max(1, smaller.length))) - 1,
  );
  let best: { counts: readonly number[]; totalMl: number; pieces: number } | null = null;
  for (const small of combinations(
    smaller.map((size) => Math.min(cap, ceilCount(volumeMl / size.usableMl))),
  )) {
    const bySmallMl = small.reduce((ml, count, at) => ml + count * (smaller[at]?.usableMl ?? 0), 0);
    const large = ceilCount((volumeMl - bySmallMl) / largest.usableMl);
    const counts = [large, ...small];
    const totalMl = counts.reduce((ml, count, at) => ml + count * (sizes[at]?.sizeMl ?? 0), 0);
    const pieces = counts.reduce((all, count) => all + count, 0);
    if (best === null || isLess([totalMl, pieces], [best.totalMl, best.pieces])) {
      best = { counts, totalMl, pieces };
    }
  }
  return (best?.counts ?? [])
    .map((count, at) => ({ sizeMl: sizes[at]?.sizeMl ?? 0, count }))
    .filter(({ count }) => count > 0);
}

/** Counts by size added up, largest size first. */
export function addContainers(lists: readonly (readonly ContainerCount[])[]): ContainerCount[] {
  const bySize = new Map<number, number>();
  for (const { sizeMl, count } of lists.flat()) {
    bySize.set(sizeMl, (bySize.get(sizeMl) ?? 0) + count);
  }
  return [...bySize]
    .map(([sizeMl, count]) => ({ sizeMl, count }))
    .sort((a, b) => b.sizeMl - a.sizeMl);
}

/** All counts from 0 up to and with the limits, the first running fastest; one empty for none. */
function* combinations(limits: readonly number[]): Generator<readonly number[]> {
  const [first, ...rest] = limits;
  if (first === undefined) {
    yield [];
    return;
  }
  for (const tail of combinations(rest)) {
    for (let count = 0; count <= first; count += 1) yield [count, ...tail];
  }
}

/** Compares term by term, a difference below 1e-9 being none. */
function isLess(a: readonly number[], b: readonly number[]): boolean {
  for (let at = 0; at < a.length; at += 1) {
    const difference = (a[at] ?? 0) - (b[at] ?? 0);
    if (Math.abs(difference) > 1e-9) return difference < 0;
  }
  return false;
}

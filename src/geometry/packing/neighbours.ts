import type { GrowthNeeds } from './growth-needs.ts';

/** Pairs further apart than their need plus twice this share of the region's width are not listed. */
const SKIN_RATIO = 0.06;

/** The pairs of parts that are near enough to press each other, in order of their numbers. */
export interface Neighbours {
  /** First and second part by turns. */
  readonly pairs: Int32Array;
  /** What each listed pair must keep, mm. */
  readonly needs: Float64Array;
  /** Lists anew where parts have moved or needs have changed; returns how many pairs are listed. */
  refresh(places: Float64Array): number;
}

/** `reach` is how far a part sticks out from its place, `owner` the piece it belongs to. */
export function neighboursOf(
  owner: Int32Array,
  reach: Float64Array,
  needs: GrowthNeeds,
  regionWidthMm: number,
): Neighbours {
  const count = owner.length;
  const pairs = new Int32Array(count * count);
  const pairNeeds = new Float64Array((count * count) >> 1);
  const listedAt = new Float64Array(2 * count);
  const skin = SKIN_RATIO * regionWidthMm;
  let listed = 0;
  let version = -1;

  function list(places: Float64Array): void {
    const all = needs.pair;
    listed = 0;
    for (let i = 0; i < count; i++) {
      const x = places[2 * i] as number;
      const y = places[2 * i + 1] as number;
      const around = (reach[i] as number) + 2 * skin;
      for (let j = i + 1; j < count; j++) {
        const need = all[i * count + j] as number;
        const near = need + around + (reach[j] as number);
        const dx = (places[2 * j] as number) - x;
        const dy = (places[2 * j + 1] as number) - y;
        if (dx * dx + dy * dy >= near * near || owner[i] === owner[j]) continue;
        pairs[2 * listed] = i;
        pairs[2 * listed + 1] = j;
        pairNeeds[listed++] = need;
      }
    }
    for (let k = 0; k < 2 * count; k++) listedAt[k] = places[k] as number;
    version = needs.version();
  }

  function isStale(places: Float64Array): boolean {
    if (version !== needs.version()) return true;
    const limit = skin * skin;
    for (let k = 0; k < 2 * count; k += 2) {
      const dx = (places[k] as number) - (listedAt[k] as number);
      const dy = (places[k + 1] as number) - (listedAt[k + 1] as number);
      if (!(dx * dx + dy * dy <= limit)) return true;
    }
    return false;
  }

  return {
    pairs,
    needs: pairNeeds,
    refresh: (places) => {
      if (isStale(places)) list(places);
      return listed;
    },
  };
}

/** Numbers in [0, 1) that are the same on every machine for the same seed. */
export interface SeededRandom {
  next(): number;
  /** Whole number in 0 … below − 1. */
  below(limit: number): number;
  /** Roughly normal: mean 0, deviation 1, within ±6. */
  normal(): number;
}

/**
 * Seeded generator of 32-bit words by integer arithmetic alone.
 * @source Mulberry32: a Weyl sequence with a multiply-and-shift mix (public domain); from memory.
 */
export function seededRandom(seed: number): SeededRandom {
  let state = Math.trunc(seed) | 0;
  const next = (): number => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
  return {
    next,
    below: (limit) => Math.floor(next() * limit),
    normal: () => {
      // Twelve uniforms: no logarithm or cosine, whose last digits differ between engines.
      let total = -6;
      for (let k = 0; k < 12; k++) total += next();
      return total;
    },
  };
}

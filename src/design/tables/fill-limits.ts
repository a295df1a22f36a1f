/** Largest share of a complete raceway that conductors may fill, by how many there are. */
export interface FillLimit {
  readonly ratio: number;
  readonly source: string;
}

/**
 * @source NFPA 70 (NEC), chapter 9, table 1: 53 % for one, 31 % for two, 40 % for more than two
 * conductors or cables. A multiconductor cable counts as one conductor (note 9).
 */
export function necFillLimit(cableCount: number): FillLimit {
  const source = 'NFPA 70 (NEC), ch. 9, table 1';
  if (cableCount <= 1) return { ratio: 0.53, source };
  return { ratio: cableCount === 2 ? 0.31 : 0.4, source };
}

/**
 * Raceways of at most 24 in between boxes.
 * @source NFPA 70 (NEC), ch. 9, table 1, note 4: 60 % to 24 in, from memory.
 */
export const NEC_NIPPLE = {
  ratio: 0.6,
  longestMm: 24 * 25.4,
  source: 'NFPA 70 (NEC), ch. 9, table 1, note 4, from memory',
} as const;

/**
 * Space factor of cable trunking: overall sections of the cables over the net inside.
 * @source Guidance to BS 7671 on cable capacity of trunking, as quoted in training books: 45 %.
 * BS 7671 itself does not state it (from memory).
 */
export const TRUNKING_SPACE_FACTOR: FillLimit = {
  ratio: 0.45,
  source: 'guidance to BS 7671, space factor of trunking 45 %',
};

/**
 * Ratios of bore to cable at which three equal conductors may wedge in a bend.
 * @source NFPA 70 (NEC), ch. 9, table 1, informational note on jamming: 2.8 to 3.2.
 */
export const JAM_WINDOW = {
  from: 2.8,
  to: 3.2,
  source: 'NFPA 70 (NEC), ch. 9, table 1, informational note on jam ratio',
} as const;

/** What speaks for a cable passing a penetration. */
export type ClueKind =
  | 'reference on the opening'
  | 'reference in the model'
  | 'route names the opening'
  | 'route names the carrier'
  | 'path between its ends'
  | 'rooms on both sides'
  | 'only candidate';

export const REFERENCE_CLUES: ReadonlySet<ClueKind> = new Set<ClueKind>([
  'reference on the opening',
  'reference in the model',
]);
export const ROUTE_CLUES: ReadonlySet<ClueKind> = new Set<ClueKind>([
  'route names the opening',
  'route names the carrier',
]);
export const CARRIER_CLUES: ReadonlySet<ClueKind> = new Set<ClueKind>(['route names the carrier']);
export const PATH_CLUES: ReadonlySet<ClueKind> = new Set<ClueKind>(['path between its ends']);

export const ALL_CLUES: ReadonlySet<ClueKind> = new Set<ClueKind>([
  ...REFERENCE_CLUES,
  ...ROUTE_CLUES,
  'path between its ends',
  'rooms on both sides',
  'only candidate',
]);

/** What makes a clue too weak to match on alone, whatever it speaks for. */
export type DoubtKind =
  | 'several writings'
  | 'look-alike'
  | 'spelling'
  | 'repeated reference'
  | 'contradiction'
  | 'other way'
  | 'branching carrier'
  | 'unclear end'
  | 'bare number'
  | 'neighbour';

export interface Clue {
  readonly kind: ClueKind;
  /** How directly the text names it: 1 exactly as written, less for words within a sentence. */
  readonly directness: number;
  readonly doubt: DoubtKind | null;
  /** A sentence for people. */
  readonly reason: string;
  /** The name found is that of a carrier, not of a cable or an opening. */
  readonly isCarrier?: boolean;
}

/**
 * Confidence of one clean clue by kind. Our own scale: with the usual threshold of 0.8, references,
 * routes and a single path match alone; rooms match only where they leave no other way; being the
 * only candidate never does.
 */
const CONFIDENCE: Readonly<Record<ClueKind, number>> = {
  'reference on the opening': 0.97,
  'reference in the model': 0.96,
  'route names the opening': 0.93,
  'route names the carrier': 0.87,
  'path between its ends': 0.84,
  'rooms on both sides': 0.81,
  'only candidate': 0.3,
};

/** What a doubt leaves of a clue: always below the usual threshold. */
const CONFIDENCE_IN_DOUBT: Readonly<Record<DoubtKind, number>> = {
  'several writings': 0.6,
  'look-alike': 0.5,
  spelling: 0.4,
  'repeated reference': 0.6,
  contradiction: 0.55,
  'other way': 0.5,
  'branching carrier': 0.6,
  'unclear end': 0.5,
  'bare number': 0.6,
  neighbour: 0.4,
};

const HIGHEST = 0.99;

export interface Score {
  /** 0–1. */
  readonly confidence: number;
  /** Some clue stands without a doubt. */
  readonly isClean: boolean;
}

/**
 * The one place where clues become a confidence. Clean clues of different kinds support each other
 * as independent chances do: 1 − Π(1 − c). Clues in doubt never lift it; they only count where
 * there is no clean one.
 */
export function scoreClues(clues: readonly Clue[]): Score {
  const best = new Map<ClueKind, number>();
  let doubtful = 0;
  for (const clue of clues) {
    if (clue.doubt !== null) {
      doubtful = Math.max(doubtful, CONFIDENCE_IN_DOUBT[clue.doubt] * clue.directness);
      continue;
    }
    const confidence = CONFIDENCE[clue.kind] * clue.directness;
    best.set(clue.kind, Math.max(best.get(clue.kind) ?? 0, confidence));
  }
  if (best.size === 0) return { confidence: doubtful, isClean: false };
  let against = 1;
  for (const confidence of best.values()) against *= 1 - confidence;
  return { confidence: Math.min(HIGHEST, 1 - against), isClean: true };
}

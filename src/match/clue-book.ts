import type { Clue } from './score.ts';

/** Clues for one cable and one penetration. */
export interface PenetrationClues {
  readonly clues: readonly Clue[];
  /** Crossings it was found in: its own element's, or its carrier's. */
  readonly crossingIds: readonly string[];
}

/** All clues of one cable, by penetration. */
export class ClueBook {
  readonly #byPenetration = new Map<string, { clues: Clue[]; crossingIds: Set<string> }>();

  add(penetrationId: string, clue: Clue, crossingId: string | null = null): void {
    let entry = this.#byPenetration.get(penetrationId);
    if (entry === undefined) {
      entry = { clues: [], crossingIds: new Set() };
      this.#byPenetration.set(penetrationId, entry);
    }
    const isKnown = entry.clues.some(
      ({ kind, reason, doubt }) =>
        kind === clue.kind && reason === clue.reason && doubt === clue.doubt,
    );
    if (!isKnown) entry.clues.push(clue);
    if (crossingId !== null) entry.crossingIds.add(crossingId);
  }

  get penetrationIds(): readonly string[] {
    return [...this.#byPenetration.keys()].sort();
  }

  clues(penetrationId: string): PenetrationClues {
    const entry = this.#byPenetration.get(penetrationId);
    return {
      clues: entry?.clues ?? [],
      crossingIds: entry === undefined ? [] : [...entry.crossingIds].sort(),
    };
  }
}

import type { Clue, ClueKind, DoubtKind } from './score.ts';

/** Clues for one cable and one penetration. */
export interface PenetrationClues {
  readonly clues: readonly Clue[];
  /** Crossings it was found in: its own element's, or its carrier's. */
  readonly crossingIds: readonly string[];
}

interface Entry {
  clues: Clue[];
  readonly crossingIds: Set<string>;
}

/** All clues of one cable, by penetration. */
export class ClueBook {
  readonly #entries = new Map<string, Entry>();

  add(penetrationId: string, clue: Clue, crossingId: string | null = null): void {
    let entry = this.#entries.get(penetrationId);
    if (entry === undefined) {
      entry = { clues: [], crossingIds: new Set() };
      this.#entries.set(penetrationId, entry);
    }
    const isKnown = entry.clues.some(
      ({ kind, reason, doubt }) =>
        kind === clue.kind && reason === clue.reason && doubt === clue.doubt,
    );
    if (!isKnown) entry.clues.push(clue);
    if (crossingId !== null) entry.crossingIds.add(crossingId);
  }

  /** Puts a doubt on the clean clues of some kinds at one penetration. */
  putInDoubt(
    penetrationId: string,
    kinds: ReadonlySet<ClueKind>,
    doubt: DoubtKind,
    because: string,
  ): void {
    const entry = this.#entries.get(penetrationId);
    if (entry === undefined) return;
    entry.clues = entry.clues.map((clue) =>
      kinds.has(clue.kind) && clue.doubt === null
        ? { ...clue, doubt, reason: `${clue.reason} But ${because}.` }
        : clue,
    );
  }

  /** Takes away the clues of one kind at one penetration; without clues it is no candidate. */
  drop(penetrationId: string, kind: ClueKind): void {
    const entry = this.#entries.get(penetrationId);
    if (entry === undefined) return;
    entry.clues = entry.clues.filter((clue) => clue.kind !== kind);
    if (entry.clues.length === 0) this.#entries.delete(penetrationId);
  }

  /** Penetrations with a clean clue of some kinds, sorted. */
  cleanlyAt(kinds: ReadonlySet<ClueKind>): readonly string[] {
    return this.penetrationIds.filter((id) =>
      this.clues(id).clues.some(({ kind, doubt }) => kinds.has(kind) && doubt === null),
    );
  }

  get penetrationIds(): readonly string[] {
    return [...this.#entries.keys()].sort();
  }

  clues(penetrationId: string): PenetrationClues {
    const entry = this.#entries.get(penetrationId);
    return {
      clues: entry?.clues ?? [],
      crossingIds: entry === undefined ? [] : [...entry.crossingIds].sort(),
    };
  }
}

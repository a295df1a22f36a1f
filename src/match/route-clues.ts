import { lookAlikeKey, mentionsIn, referenceKey, writtenForm } from '../basics/reference-key.ts';
import type { Cable } from '../model/cable.ts';
import type { ClueBook } from './clue-book.ts';
import {
  isNeighboursLabel,
  type Naming,
  type ReferenceIndex,
  writtenForms,
} from './reference-index.ts';
import type { Clue, DoubtKind } from './score.ts';

/** What the entries of one cable's route were found to name. */
export interface RouteFinding {
  /** Entries that name nothing in the model. */
  readonly unknown: readonly string[];
  /** Services named by the entries, one list an entry. */
  readonly serviceIds: readonly (readonly string[])[];
  /** The same for routes with the same entries. */
  readonly key: string;
  /** Some entry names an opening or a carrier. */
  readonly isFound: boolean;
}

interface EntryClue {
  readonly penetrationId: string;
  readonly crossingId: string | null;
  readonly clue: Clue;
}

interface EntryFinding {
  readonly clues: readonly EntryClue[];
  readonly serviceIds: readonly string[];
}

/** Reads routes against the model. Entries are looked up once: hundreds of cables share a tray. */
export class RouteReader {
  readonly #index: ReferenceIndex;
  readonly #entries = new Map<string, EntryFinding | null>();

  constructor(index: ReferenceIndex) {
    this.#index = index;
  }

  /** Adds clues from a route that lists carriers or openings. */
  addClues(cable: Cable, book: ClueBook): RouteFinding {
    const unknown: string[] = [];
    const serviceIds: (readonly string[])[] = [];
    for (const entry of cable.route) {
      const found = this.#lookUp(entry);
      if (found === null) {
        unknown.push(entry);
        continue;
      }
      serviceIds.push(found.serviceIds);
      for (const { penetrationId, crossingId, clue } of found.clues) {
        book.add(penetrationId, clue, crossingId);
      }
    }
    return {
      unknown,
      serviceIds,
      key: cable.route.map(referenceKey).sort().join('\n'),
      isFound: serviceIds.length > 0,
    };
  }

  #lookUp(entry: string): EntryFinding | null {
    let found = this.#entries.get(entry);
    if (found === undefined) {
      found = readEntry(entry, this.#index);
      this.#entries.set(entry, found);
    }
    return found;
  }
}

function readEntry(entry: string, index: ReferenceIndex): EntryFinding | null {
  const namings = namingsOf(entry, index);
  if (namings.length === 0) return null;
  const forms = writtenForms(namings);
  const isOwned = namings.some(({ target, nearness }) => {
    return nearness === 'own' && target.type !== 'opening';
  });
  const clues: EntryClue[] = [];
  const serviceIds: string[] = [];
  for (const naming of namings) {
    const { target } = naming;
    if (target.type === 'service') {
      serviceIds.push(target.serviceId);
      continue;
    }
    // A route lists carriers: a label beside a bare cable names what it lies in, or a neighbour.
    const isOnCable = target.type === 'crossing' && target.isCable && naming.nearness !== 'own';
    const isNeighbours = isOnCable || isNeighboursLabel(naming, namings);
    // Where a carrier has the name as its own, a label beside another hole says nothing new.
    if (isNeighbours && isOwned) continue;
    const doubt = isNeighbours ? 'neighbour' : routeDoubt(entry, naming, forms, index);
    const isOpening = target.type === 'opening';
    const names = isOpening ? 'the name of the opening' : 'the carrier that crosses there';
    clues.push({
      penetrationId: target.penetrationId,
      crossingId: isOpening ? null : target.crossingId,
      clue: {
        kind: isOpening ? 'route names the opening' : 'route names the carrier',
        directness: naming.mention.kind === 'words' ? 0.95 : 1,
        doubt,
        reason: `Its route lists ${entry}, ${names}${doubtText(doubt)}.`,
      },
    });
  }
  return { clues, serviceIds };
}

/** The entry as a whole; only where that names nothing, words within it ("tray T-01"). */
function namingsOf(entry: string, index: ReferenceIndex): readonly Naming[] {
  for (const mention of mentionsIn(entry)) {
    const namings = index.byKey.get(mention.key);
    if (namings !== undefined) return namings;
  }
  return [];
}

function routeDoubt(
  entry: string,
  naming: Naming,
  forms: ReadonlySet<string>,
  index: ReferenceIndex,
): DoubtKind | null {
  const isExact = writtenForm(entry).includes(writtenForm(naming.mention.written));
  if (forms.size > 1 && !isExact) return 'several writings';
  if (PLAIN_WORDS.test(entry.trim())) return 'bare number';
  return index.lookAlikes.has(lookAlikeKey(naming.mention.written)) ? 'look-alike' : null;
}

/** What people write where a cable has no carrier, or that slipped in from another column. */
const PLAIN_WORDS =
  /^(?:spare|new|existing|future|local|direct|buried|underground|surface|clipped|free|none|open|wall|floor|ceiling|void|reserve|neu|bestand|frei|lokal|libre|nuevo|existente|neuf|existant|r[ée]serve|nieuw|bestaand|reserv|befintlig|ny)$/iu;

function doubtText(doubt: DoubtKind | null): string {
  if (doubt === 'neighbour') return ', but the label may belong to what is beside it';
  if (doubt === 'bare number') return ', but that is a plain word as well';
  if (doubt === 'several writings') return ', but the files write this name in more than one way';
  return doubt === 'look-alike'
    ? ', but another name differs only in characters easily mistaken (O and 0, I and 1)'
    : '';
}

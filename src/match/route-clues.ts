import type { Cable } from '../model/cable.ts';
import type { ClueBook } from './clue-book.ts';
import { type Naming, type ReferenceIndex, writtenForms } from './reference-index.ts';
import { lookAlikeKey, mentionsIn, writtenForm } from './reference-key.ts';
import type { DoubtKind } from './score.ts';

/** What the entries of one cable's route were found to name. */
export interface RouteFinding {
  /** Entries that name nothing in the model. */
  readonly unknown: readonly string[];
  /** Services named by the entries, one list an entry. */
  readonly serviceIds: readonly (readonly string[])[];
  /** Some entry names an opening or a carrier. */
  readonly isFound: boolean;
}

/** Clues from a route that lists carriers or openings. */
export function addRouteClues(cable: Cable, index: ReferenceIndex, book: ClueBook): RouteFinding {
  const unknown: string[] = [];
  const serviceIds: string[][] = [];
  let isFound = false;
  for (const entry of cable.route) {
    const namings = namingsOf(entry, index);
    if (namings.length === 0) {
      unknown.push(entry);
      continue;
    }
    isFound = true;
    const forms = writtenForms(namings);
    const services: string[] = [];
    for (const naming of namings) {
      const { target } = naming;
      if (target.type === 'service') {
        services.push(target.serviceId);
        continue;
      }
      const doubt = routeDoubt(entry, naming, forms, index);
      const isOpening = target.type === 'opening';
      book.add(
        target.penetrationId,
        {
          kind: isOpening ? 'route names the opening' : 'route names the carrier',
          directness: naming.mention.kind === 'words' ? 0.95 : 1,
          doubt,
          reason: `Its route lists ${entry}, ${isOpening ? 'the name of the opening' : 'the carrier that crosses there'}${doubtText(doubt)}.`,
        },
        isOpening ? null : target.crossingId,
      );
    }
    serviceIds.push(services);
  }
  return { unknown, serviceIds, isFound };
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
  return index.lookAlikes.has(lookAlikeKey(naming.mention.written)) ? 'look-alike' : null;
}

function doubtText(doubt: DoubtKind | null): string {
  if (doubt === 'several writings') return ', but the files write this name in more than one way';
  return doubt === 'look-alike'
    ? ', but another name differs only in characters easily mistaken (O and 0, I and 1)'
    : '';
}

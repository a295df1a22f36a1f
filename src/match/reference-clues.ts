import { lookAlikeKey, type MentionKind, writtenForm } from '../basics/reference-key.ts';
import type { Cable } from '../model/cable.ts';
import type { CableReferences } from './cable-references.ts';
import type { ClueBook } from './clue-book.ts';
import {
  isNeighboursLabel,
  type Naming,
  type ReferenceIndex,
  writtenForms,
} from './reference-index.ts';
import type { DoubtKind } from './score.ts';

const DIRECTNESS: Readonly<Record<MentionKind, number>> = { whole: 1, entry: 0.99, words: 0.95 };

/** Clues from the cable's own reference, on openings and in the model. */
export function addReferenceClues(
  cable: Cable,
  cables: CableReferences,
  index: ReferenceIndex,
  book: ClueBook,
): void {
  const key = cables.keyOf.get(cable.id) ?? '';
  const namings = index.byKey.get(key) ?? [];
  if (key === '' || namings.length === 0) return;
  const forms = writtenForms(namings);
  for (const naming of namings) {
    const { target } = naming;
    if (target.type === 'service') continue;
    const isCable = target.type === 'crossing' && target.isCable;
    const doubt = referenceDoubt(cable, cables, index, naming, namings, forms, isCable);
    const isOpening = target.type === 'opening';
    const place = isOpening ? 'on the opening' : 'on what crosses there';
    book.add(
      target.penetrationId,
      {
        kind: isOpening ? 'reference on the opening' : 'reference in the model',
        directness: DIRECTNESS[naming.mention.kind],
        doubt,
        isCarrier: !isOpening && !isCable,
        reason: `“${naming.text}” ${place} names ${cable.ref}${doubtText(doubt)}.`,
      },
      isOpening ? null : target.crossingId,
    );
  }
}

function referenceDoubt(
  cable: Cable,
  cables: CableReferences,
  index: ReferenceIndex,
  naming: Naming,
  namings: readonly Naming[],
  modelForms: ReadonlySet<string>,
  isCable: boolean,
): DoubtKind | null {
  const { key } = naming.mention;
  if (cables.repeated.has(cable.id)) return 'repeated reference';
  const cableForms = cables.forms.get(key) ?? new Set<string>();
  const isExact = writtenForm(naming.mention.written) === writtenForm(cable.ref);
  if ((cableForms.size > 1 || modelForms.size > 1) && !isExact) return 'several writings';
  const look = lookAlikeKey(cable.ref);
  const alike = cables.keysByLook.get(look)?.size ?? 1;
  if (alike > 1 || index.lookAlikes.has(look)) return 'look-alike';
  // An opening numbered 12 need not be that of cable 12; a modelled cable named 12 is.
  if (!isCable && !key.includes(' ')) return 'bare number';
  if (isNeighboursLabel(naming, namings)) return 'neighbour';
  if (isCarrierName(cable, cables, key)) return 'contradiction';
  return null;
}

/** A name that routes use for a carrier says nothing about the cable that happens to share it. */
function isCarrierName(cable: Cable, cables: CableReferences, key: string): boolean {
  return (
    cables.routeKeys.has(key) &&
    !cable.route.some((entry) => writtenForm(entry) === writtenForm(cable.ref))
  );
}

function doubtText(doubt: DoubtKind | null): string {
  switch (doubt) {
    case 'several writings':
      return ', but it is written in more than one way in the files and not exactly so here';
    case 'look-alike':
      return ', but another reference differs only in characters easily mistaken (O and 0, I and 1)';
    case 'repeated reference':
      return ', but several rows of the schedule have this reference';
    case 'bare number':
      return ', but a bare number or word may also be a name of its own';
    case 'neighbour':
      return ', but the label may belong to what is beside it';
    case 'contradiction':
      return ', but routes use this name for a carrier';
    default:
      return '';
  }
}

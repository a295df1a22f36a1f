import { sizeText } from '../geometry/shape.ts';
import type { Vec2 } from '../geometry/vec.ts';
import type { Body } from '../model/arrangement.ts';
import type { Section } from '../model/building.ts';
import type { Cable } from '../model/cable.ts';
import type { Crossing } from '../model/penetration.ts';
import { separationClassOf } from './cable-kinds.ts';
import { bodyAreaMm2 } from './outline-measures.ts';
import type { Passing } from './seal-subject.ts';

/** Below this a crossing counts as square on; our own choice, 1/cos 2° is 1.0006. */
const SQUARE_ON_RAD = (2 * Math.PI) / 180;
/** Beyond this the stretch has no bound worth building; our own choice. */
const STEEPEST_SKEW_RAD = (80 * Math.PI) / 180;

/** Skew that stretches a footprint; 0 for what is square on. */
export function skewOf(crossing: Crossing | null): number {
  const skew = crossing?.skewRad ?? 0;
  return skew > SQUARE_ON_RAD ? Math.min(skew, STEEPEST_SKEW_RAD) : 0;
}

/** A service as one body of the annulus; null when its size is not known. */
export function passingService(
  crossing: Crossing,
  shownAtMm: Vec2 | null,
  skewRad: number,
): Passing | null {
  const { section } = crossing;
  if (section === null) return null;
  const stretch = 1 / Math.cos(skewRad);
  return {
    body: {
      ref: serviceName(crossing),
      outline: stretchedOutline(section, stretch),
    },
    smallestAreaMm2: bodyAreaMm2(plainOutline(section)) * stretch,
    largestSizeMm:
      section.type === 'circle' ? section.diameterMm : Math.max(section.widthMm, section.heightMm),
    cable: null,
    crossing,
    shownAtMm,
    comesAt: null,
    inside: [],
  };
}

/** Stage of a future cable that the schedule gives none. */
const LATER = 'later';

/** Words for a cord that is left in a duct to draw the next cable by. */
const DRAW_CORD = /\b(?:draw|pull|pulling)[ -]?(?:in[ -]?)?(?:cord|rope|wire|string|line)s?\b/i;
/** Diameter of a draw cord where none is given; own choice, it decides nothing but its tube. */
const DRAW_CORD_MM = 6;

/** Whether a row of the schedule is a draw cord, which gets a tube of its own. */
function isDrawCord({ ref, type, construction }: Cable): boolean {
  return [ref, type, construction].some((text) => DRAW_CORD.test((text ?? '').slice(0, 200)));
}

/**
 * The bodies of one row of the schedule. Empty when no diameter is known. Arranged with the
 * largest diameter, counted with the smallest. Existing cables stay where the model shows them;
 * future ones are arranged and keep their place, but are not taken off the sealant of now.
 * @source Engineering rules §4.2: a skew crossing stretches the footprint by 1/cos θ.
 */
export function passingCable(
  cable: Cable,
  place: {
    readonly crossing: Crossing | null;
    readonly shownAtMm: Vec2 | null;
    readonly skewRad: number;
    readonly keepBundles: boolean;
  },
): Passing[] {
  const { crossing, shownAtMm, keepBundles } = place;
  const largestMm = largestCableDiameterMm(cable, crossing);
  if (largestMm === null) return [];
  const smallestMm = Math.min(cable.smallestDiameterMm ?? cable.diameterMm ?? largestMm, largestMm);
  const stretch = 1 / Math.cos(place.skewRad);
  const count = Math.max(1, cable.bodies);
  const separationClass = separationClassOf(cable);
  return Array.from({ length: count }, (_, at): Passing => {
    const body: Body = {
      ref: count === 1 ? cable.ref : `${cable.ref}/${at + 1}`,
      outline: { type: 'circle', diameterMm: largestMm * stretch },
      ...(cable.bundle === null || count === 1
        ? {}
        : { bundle: { id: cable.id, form: keepBundles ? cable.bundle : 'spread' } }),
      ...(separationClass === null ? {} : { separationClass }),
      ...(cable.status === 'existing' && shownAtMm !== null && count === 1
        ? { fixedAt: { xMm: shownAtMm[0], yMm: shownAtMm[1] } }
        : {}),
      ...(cable.massKgPerM === null ? {} : { massKgPerM: cable.massKgPerM / count }),
      ...(isDrawCord(cable) ? { isDrawCord: true } : {}),
    };
    return {
      body,
      smallestAreaMm2: ((Math.PI * smallestMm ** 2) / 4) * stretch,
      largestSizeMm: largestMm,
      cable,
      crossing,
      // One modelled line can't say where each of several bodies lies.
      shownAtMm: count === 1 ? shownAtMm : null,
      comesAt: cable.status === 'future' ? cable.stage?.trim() || LATER : null,
      inside: [],
    };
  });
}

/** Largest diameter of one body of a cable; from the model where the schedule has none. */
export function largestCableDiameterMm(cable: Cable, crossing: Crossing | null): number | null {
  const scheduled = cable.largestDiameterMm ?? cable.diameterMm ?? cable.smallestDiameterMm;
  if (scheduled !== null) return scheduled;
  if (isDrawCord(cable)) return DRAW_CORD_MM;
  if (crossing?.kind !== 'cable' || crossing.sizeBasis !== 'outside') return null;
  return crossing.section?.type === 'circle' ? crossing.section.diameterMm : null;
}

/** A service in a few words: its first reference, else kind and size. */
export function serviceName(crossing: Crossing): string {
  const [reference] = crossing.references;
  if (reference !== undefined && reference.text.trim() !== '') return reference.text.trim();
  const size =
    crossing.section === null
      ? ''
      : crossing.section.type === 'circle'
        ? ` ${sizeText(crossing.section.diameterMm)}`
        : ` ${sizeText(crossing.section.widthMm)} × ${sizeText(crossing.section.heightMm)}`;
  return `${crossing.carrierForm ?? crossing.kind}${size}`;
}

function plainOutline(section: Section): Body['outline'] {
  return section.type === 'circle'
    ? { type: 'circle', diameterMm: section.diameterMm }
    : {
        type: 'rectangle',
        widthMm: section.widthMm,
        heightMm: section.heightMm,
        turns: 'none',
      };
}

/** The circle or box round the stretched footprint: cautious, whichever way it leans. */
function stretchedOutline(section: Section, stretch: number): Body['outline'] {
  return section.type === 'circle'
    ? { type: 'circle', diameterMm: section.diameterMm * stretch }
    : {
        type: 'rectangle',
        widthMm: section.widthMm * stretch,
        heightMm: section.heightMm * stretch,
        turns: 'none',
      };
}

/** Bodies with refs that are unique, in the order given: a second "pipe 110" becomes "pipe 110 (2)". */
export function withUniqueRefs(passing: readonly Passing[]): Passing[] {
  const seen = new Map<string, number>();
  const taken = new Set<string>();
  return passing.map((item) => {
    let ref = item.body.ref;
    while (taken.has(ref)) {
      const count = (seen.get(item.body.ref) ?? 1) + 1;
      seen.set(item.body.ref, count);
      ref = `${item.body.ref} (${count})`;
    }
    taken.add(ref);
    return ref === item.body.ref ? item : { ...item, body: { ...item.body, ref } };
  });
}

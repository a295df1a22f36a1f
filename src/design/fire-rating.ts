/** A fire rating as asked or as tested: which criteria, and for how many minutes. */
export interface FireRating {
  /** E: integrity; I: insulation. Where the text names none, both are asked. */
  readonly needsInsulation: boolean;
  readonly minutes: number;
}

/**
 * Classification periods of penetration seals, minutes.
 * @source EN 13501-2, 7.5.8, from memory.
 */
const FIRE_PERIODS_MIN = [15, 20, 30, 45, 60, 90, 120, 180, 240] as const;

/**
 * Reads "EI 120", "REI120", "E 60", "-/120/120", "60/60/30", "2 h", "2HR", "F90", "120 min" or a
 * bare "90". Null when no period can be read. A text that names no criteria asks for both.
 * @source Letters: EN 13501-2. Three figures: adequacy / integrity / insulation (from memory).
 */
export function parseFireRating(text: string): FireRating | null {
  const upper = text.slice(0, 60).toUpperCase().trim();
  const triple = /^(-|\d{1,3})\s*\/\s*(-|\d{1,3})\s*\/\s*(-|\d{1,3})$/.exec(upper);
  if (triple !== null) return fromTriple(triple[2], triple[3]);
  const hours =
    /^(?:[A-Z-]{0,6}\s{0,2})?(\d{1,2}(?:[.,]\d{1,2})?)\s{0,2}(?:H|HR|HRS|HOUR|HOURS)\b/.exec(upper);
  if (hours !== null) return rating(upper, Number((hours[1] ?? '').replace(',', '.')) * 60);
  const minutes = /(\d{1,3})(?!\d)/.exec(upper);
  return minutes === null ? null : rating(upper, Number(minutes[1]));
}

/**
 * Whether evidence of one rating answers what is asked: EI t answers EI u and E u up to t, E t
 * never answers EI.
 * @source Follows from the class letters of EN 13501-2 (from memory).
 */
export function answersFireRating(tested: FireRating, asked: FireRating): boolean {
  return (
    tested.minutes >= askedPeriodMin(asked.minutes) &&
    (tested.needsInsulation || !asked.needsInsulation)
  );
}

/** The period that answers a requirement between two steps: the next one up. */
function askedPeriodMin(minutes: number): number {
  return FIRE_PERIODS_MIN.find((period) => period >= minutes) ?? minutes;
}

function fromTriple(integrity = '-', insulation = '-'): FireRating | null {
  const e = Number(integrity);
  const i = Number(insulation);
  if (Number.isFinite(i) && i > 0) {
    return { needsInsulation: true, minutes: Number.isFinite(e) ? Math.max(e, i) : i };
  }
  return Number.isFinite(e) && e > 0 ? { needsInsulation: false, minutes: e } : null;
}

function rating(text: string, minutes: number): FireRating | null {
  if (!(minutes > 0)) return null;
  const letters = /^R?E(I?)(?![A-HJ-Z])/.exec(text.replaceAll(' ', ''));
  return { needsInsulation: letters === null || letters[1] === 'I', minutes };
}

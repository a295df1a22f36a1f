import { SealbookError } from '../basics/errors.ts';
import { shapeAreaMm2 } from '../geometry/shape.ts';
import type {
  Arrangement,
  ArrangementProblem,
  Body,
  Effort,
  FillerSize,
} from '../model/arrangement.ts';
import type { Cable } from '../model/cable.ts';
import type { Range, Sealant } from '../model/range.ts';
import type { Duty, Seal } from '../model/seal.ts';
import type { Settings } from '../model/settings.ts';
import { powerFromDataMm } from './cable-kinds.ts';
import type { SealDraft } from './checks/check-parts.ts';
import { checkSeal } from './checks/check-seal.ts';
import { bodyAreaMm2 } from './outline-measures.ts';
import { fillerQuantities, sealantQuantity } from './quantities.ts';
import { whatWouldWork } from './remedies/what-would-work.ts';
import type { SealSubject } from './seal-subject.ts';
import { mayTakeCables } from './spare-policy.ts';
import { textHash } from './text-hash.ts';

/** What seals are designed with, whatever they close. */
export interface DesignContext {
  readonly range: Range;
  readonly design: Omit<Settings['design'], 'effort'> & { readonly effort: Effort };
  readonly arrange: (problem: ArrangementProblem) => Arrangement;
  /** All cables of each circuit of the schedule; empty where there is no schedule. */
  readonly circuits: ReadonlyMap<string, readonly Cable[]>;
}

/**
 * More tubes than this and the hole is no longer closed by packing tubes; own choice, so that an
 * opening of square metres asks for another way of closing it rather than for thousands of tubes.
 */
const MOST_TUBES = 300;
/** Play up to which a hollow body counts as cast into its hole; own choice, no tube goes there. */
const CAST_IN_MM = 1;

/** The design of one leak path for the duties it has. Throws `usage` for sizes that make no sense. */
export function sealOf(
  subject: SealSubject,
  duties: readonly Duty[],
  context: DesignContext,
): Seal {
  const base = emptySeal(subject, duties, context.design);
  const blocking = subject.obstacles.filter(({ isProvisional }) => !isProvisional);
  if (subject.opening === null || blocking.length > 0) {
    const reason =
      blocking.map(({ text }) => text).join('; ') || 'the size of the hole is not known';
    return undesigned(base, 'query', reason);
  }
  const castIn = castInReason(subject);
  return castIn === null ? designed(base, subject, context) : undesigned(base, 'none', castIn);
}

/** The same for input that nobody has checked: what makes no sense ends as a query. */
export function sealOrQuery(
  subject: SealSubject,
  duties: readonly Duty[],
  context: DesignContext,
): Seal {
  try {
    return sealOf(subject, duties, context);
  } catch (error) {
    if (!(error instanceof SealbookError) || error.code !== 'usage') throw error;
    const reason = `the hole or what passes it makes no sense: ${error.message}`;
    return undesigned(emptySeal(subject, duties, context.design), 'query', reason);
  }
}

function emptySeal(
  subject: SealSubject,
  duties: readonly Duty[],
  design: DesignContext['design'],
): SealDraft {
  return {
    id: subject.id,
    penetrationId: subject.penetrationId,
    path: subject.path,
    of: subject.of,
    state: 'query',
    reason: null,
    opening: subject.opening,
    openingBasis: subject.openingBasis,
    bodies: subject.passing.map(({ body }) => body),
    arrangement: null,
    fillers: [],
    fillerQuantities: [],
    spare: null,
    freeAreaMm2: null,
    fillRatio: null,
    setBackMm: design.setBackMm,
    faces: facesFor(duties, design.faces),
    sealant: null,
    duties,
  };
}

/** A seal without a design is built like no other, so its key is its own. */
function undesigned(base: SealDraft, state: 'query' | 'none', reason: string): Seal {
  return { ...base, state, reason, checks: [], typeKey: `${state}:${base.id}` };
}

function designed(base: SealDraft, subject: SealSubject, context: DesignContext): Seal {
  const { design, range } = context;
  const { opening } = subject;
  if (opening === null) throw new TypeError('An opening of unknown shape is not designed.');
  const arrangement = arrangeSubject(subject, context);
  const openingMm2 = shapeAreaMm2(opening);
  const smallestMm2 = subject.passing.reduce((mm2, item) => mm2 + item.smallestAreaMm2, 0);
  const largestMm2 = subject.passing.reduce((mm2, { body }) => mm2 + bodyAreaMm2(body.outline), 0);
  // More passes than there is room for: then there is no layer to speak of.
  const freeAreaMm2 = smallestMm2 > openingMm2 ? null : openingMm2 - smallestMm2;
  const sealant = chosenSealant(range, design.sealant);
  const provisional = subject.obstacles.map(({ text }) => `provisional: ${text}`);
  const unfit =
    arrangement.verdict === 'fits' ? [] : [`${arrangement.verdict}: ${arrangement.proof}`];
  const reasons = [...unfit, ...provisional];
  const draft: SealDraft = {
    ...base,
    state: reasons.length === 0 ? 'designed' : 'query',
    reason: reasons.length === 0 ? null : reasons.join('; '),
    arrangement,
    fillers: arrangement.fillers,
    fillerQuantities: fillerQuantities(arrangement, range, {
      faces: base.faces,
      setBackMm: base.setBackMm,
      thicknessMm: subject.thicknessMm,
    }),
    spare: arrangement.spare,
    freeAreaMm2,
    fillRatio: openingMm2 > 0 ? largestMm2 / openingMm2 : null,
    sealant:
      freeAreaMm2 === null
        ? null
        : sealantQuantity(sealant, freeAreaMm2, base.setBackMm, base.faces, design),
  };
  const input = {
    subject,
    seal: draft,
    range,
    design: { ...design, effort: 'quick' as const },
    circuits: context.circuits,
  };
  const checks = checkSeal(input);
  const remedies = whatWouldWork(input, checks, problemOf(subject, context), context.arrange);
  return {
    ...draft,
    checks,
    ...(remedies.length === 0 ? {} : { remedies }),
    typeKey: typeKeyOf(draft),
  };
}

/**
 * Tries until one fits: bodies where the model shows them, then free; each first with power and
 * data as far apart as their table asks, then without. The last answer stands when none fits.
 */
function arrangeSubject(subject: SealSubject, context: DesignContext): Arrangement {
  const free = problemOf(subject, context);
  const shown = {
    ...free,
    bodies: subject.passing.map(({ body, shownAtMm }) => atShownPlace(body, shownAtMm)),
  };
  const starts = shown.bodies.some(({ fixedAt }, at) => fixedAt !== free.bodies[at]?.fixedAt)
    ? [shown, free]
    : [free];
  const tableMm = powerFromDataMm(subject.passing.flatMap(({ cable }) => cable ?? []));
  const apart = { classes: ['power', 'data'] as const, separationMm: tableMm };
  const tries =
    tableMm > context.design.separationMm
      ? [
          ...starts.map((problem) => ({
            ...problem,
            classSeparations: [...(problem.classSeparations ?? []), apart],
          })),
          ...starts,
        ]
      : starts;
  let answer: Arrangement | null = null;
  for (const problem of tries) {
    answer = context.arrange(problem);
    if (answer.verdict === 'fits') return answer;
  }
  return answer ?? context.arrange(free);
}

/** The question put to the search for one leak path, its bodies free unless they stand already. */
export function problemOf(
  subject: SealSubject,
  { range, design }: Pick<DesignContext, 'range' | 'design'>,
): ArrangementProblem {
  const { opening } = subject;
  if (opening === null) throw new TypeError('An opening of unknown shape is not arranged.');
  return {
    opening,
    bodies: subject.passing.map(({ body }) => body),
    separationMm: design.separationMm,
    // Half of the wander to each side of the middle, where the arrangement stands.
    edgeMm: design.edgeMm + subject.wanderMm / 2,
    classSeparations: subject.classSeparations,
    fillers: fillersFor(subject, range),
    splitTubes: design.splitTubes,
    packingAllowanceRatio: range.packingAllowanceRatio,
    tubeClearanceMm: range.tubeClearanceMm,
    policy: mayTakeCables(subject)
      ? { count: design.spare.count, diameterMm: design.spare.diameterMm }
      : null,
    effort: design.effort,
    seed: design.seed,
  };
}

/** To whole millimetres: the drawing is no better, and seals that are alike stay alike. */
function atShownPlace(body: Body, shownAtMm: readonly [number, number] | null): Body {
  if (shownAtMm === null || body.fixedAt !== undefined) return body;
  return { ...body, fixedAt: { xMm: Math.round(shownAtMm[0]), yMm: Math.round(shownAtMm[1]) } };
}

function fillersFor(subject: SealSubject, range: Range): FillerSize[] {
  const freeMm2 =
    (subject.opening === null ? 0 : shapeAreaMm2(subject.opening)) -
    subject.passing.reduce((mm2, item) => mm2 + item.smallestAreaMm2, 0);
  const tubes = range.fillers.map(
    ({ name, outsideMm, boreMm, lengthMm, takesCableMm }): FillerSize => ({
      name,
      outsideMm,
      boreMm,
      lengthMm,
      takesCableMm,
    }),
  );
  const largestMm = Math.max(...tubes.map(({ outsideMm }) => outsideMm));
  return freeMm2 / largestMm ** 2 > MOST_TUBES ? [] : tubes;
}

/** Two where a duty comes from either side: fire or smoke, or water on both sides. */
function facesFor(duties: readonly Duty[], faces: Settings['design']['faces']): number {
  if (faces !== 'auto') return faces;
  const waterSides = new Set(
    duties.flatMap(({ kind, side }) => (kind === 'water' && side !== null ? [side] : [])),
  );
  const either = duties.some(({ kind }) => kind === 'fire' || kind === 'smoke');
  return either || waterSides.size > 1 ? 2 : 1;
}

/** The sealant of the settings by name, else the first of the range. */
export function chosenSealant(range: Range, name: string | undefined): Sealant {
  const [first] = range.sealants;
  const chosen = range.sealants.find((sealant) => sealant.name === name) ?? first;
  if (chosen === undefined) throw new TypeError('A range without sealant passed its schema.');
  return chosen;
}

function castInReason({ path, opening, passing }: SealSubject): string | null {
  const [only] = passing;
  if (path !== 'annulus' || passing.length !== 1 || only === undefined) return null;
  if (only.crossing === null || opening?.type !== 'circle') return null;
  const { outline } = only.body;
  if (outline.type !== 'circle' || only.crossing.kind === 'cable') return null;
  const playMm = opening.diameterMm - outline.diameterMm;
  if (Math.abs(playMm) > CAST_IN_MM) return null;
  return `${only.body.ref} fills its hole (cast or built in); nothing is left to seal round it`;
}

/** Equal where two seals are built the same: arrangement, tubes and sealant; names play no part. */
export function typeKeyOf(seal: SealDraft): string {
  const { arrangement } = seal;
  const round = (mm: number) => Math.round(mm * 100) / 100;
  const items = (arrangement?.items ?? [])
    .map(({ xMm, yMm, outline, angleRad, tube }) =>
      JSON.stringify([round(xMm), round(yMm), outline, round(angleRad), tube]),
    )
    .sort();
  return textHash(
    JSON.stringify([
      seal.path,
      seal.state,
      seal.opening,
      arrangement?.verdict,
      items,
      seal.fillers,
      seal.fillerQuantities,
      seal.setBackMm,
      seal.faces,
      seal.sealant,
    ]),
  );
}

import { SealbookError } from '../basics/errors.ts';
import { shapeAreaMm2 } from '../geometry/shape.ts';
import type { Range, Sealant } from '../model/range.ts';
import type { Duty, Seal } from '../model/seal.ts';
import type { Settings } from '../model/settings.ts';
import { arrangeSubject, problemOf } from './arrange-subject.ts';
import type { SealDraft } from './checks/check-parts.ts';
import { checkSeal } from './checks/check-seal.ts';
import type { DesignContext } from './design-context.ts';
import { bodyAreaMm2 } from './outline-measures.ts';
import { fillerQuantities, sealantQuantity } from './quantities.ts';
import { whatWouldWork } from './remedies/what-would-work.ts';
import type { SealSubject } from './seal-subject.ts';
import { presentOf, stagesOf } from './stages.ts';
import { textHash } from './text-hash.ts';

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

/** A leak path that people decided not to seal. */
export function sealLeftOut(
  subject: SealSubject,
  duties: readonly Duty[],
  context: DesignContext,
  reason: string,
): Seal {
  return undesigned(emptySeal(subject, duties, context.design), 'none', reason);
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
  const smallestMm2 = presentOf(subject.passing).reduce(
    (mm2, item) => mm2 + item.smallestAreaMm2,
    0,
  );
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
    hole: {
      raceway: subject.raceway,
      substrate: subject.substrate,
      thicknessMm: subject.thicknessMm,
      hostKinds: subject.hostKinds,
    },
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
    spacingMm: context.spacingMm?.(subject.penetrationId) ?? null,
  };
  const checks = checkSeal(input);
  const remedies = whatWouldWork(input, checks, problemOf(subject, context), context.arrange);
  const stages = stagesOf({
    subject,
    seal: draft,
    range,
    sealant,
    allowances: design,
    problemOf: (one) => problemOf(one, context),
    arrange: context.arrange,
    check: (one, seal) => checkSeal({ ...input, subject: one, seal }),
  });
  const now = stages[0];
  const whole = now === undefined ? draft : { ...draft, fillerQuantities: now.fillerQuantities };
  return {
    ...whole,
    ...(now === undefined ? {} : { stages }),
    checks,
    ...(remedies.length === 0 ? {} : { remedies }),
    typeKey: typeKeyOf(whole),
  };
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

import { SealbookError } from '../basics/errors.ts';
import { leastOf } from '../basics/extremes.ts';
import { shapeAreaMm2 } from '../geometry/shape.ts';
import type {
  Arrangement,
  ArrangementProblem,
  Body,
  PlacedBody,
  PlacedFiller,
} from '../model/arrangement.ts';
import type { ExtraCable, TubePlaceMm } from '../model/extra.ts';
import type { Seal } from '../model/seal.ts';
import { arrange as arrangeBodies } from './arrange/arrange.ts';
import { discUnionAreaMm2 } from './disc-union.ts';
import { answer, refillOf, unverifiedOf, withoutTubes } from './extra/extra-answer.ts';
import {
  type AsBuiltState,
  type ExtraInput,
  NOTHING_RECORDED,
  problemWith,
} from './extra/extra-input.ts';

/**
 * One more cable through a seal: by an empty tube, else with tubes taken out and nothing moved,
 * else with the seal opened and its cables moved, else not; what to cut and to refill, and the
 * spare and the checks before and after. Throws `usage` for a diameter that makes no sense.
 */
export function extraCable(
  input: ExtraInput,
  options: { readonly arrange?: (problem: ArrangementProblem) => Arrangement } = {},
): ExtraCable {
  const { seal, diameterMm } = input;
  if (!(diameterMm > 0) || !Number.isFinite(diameterMm)) {
    throw new SealbookError('usage', `A cable of ${diameterMm} mm makes no sense.`, {
      todo: 'Give the outside diameter in mm, above 0.',
    });
  }
  const asBuilt = input.asBuilt ?? NOTHING_RECORDED;
  const refusals = refusalsOf(seal, asBuilt);
  if (refusals.length > 0) return negative(input, 'refused', refusals);
  const arrange = options.arrange ?? arrangeBodies;
  return (
    throughSpareTube(input, asBuilt, arrange) ??
    withTubesOut(input, asBuilt, arrange) ??
    rearranged(input, asBuilt, arrange) ??
    negative(input, 'no', [proofOfNo(input, arrange)])
  );
}

function refusalsOf(seal: Seal, asBuilt: AsBuiltState): string[] {
  const reasons: string[] = [];
  if (seal.state !== 'designed' || seal.arrangement === null) {
    reasons.push(`The seal is not designed: ${seal.reason ?? 'no arrangement'}.`);
  }
  if (asBuilt.isSealed === false) {
    reasons.push('The site record says that the seal is not made yet: lay the cable before it is.');
  }
  if (asBuilt.isAsDrawn === false) {
    reasons.push('The site record says that cables or tubes do not stand as drawn: measure first.');
  }
  if (asBuilt.isOpeningAsDesigned === false) {
    reasons.push('The opening was measured otherwise than designed: design the seal again for it.');
  }
  if (asBuilt.openDefects !== null && asBuilt.openDefects.trim() !== '') {
    reasons.push(`A defect is still open: ${asBuilt.openDefects.trim()}. Mend it first.`);
  }
  return reasons;
}

function negative(
  { seal, asBuilt }: ExtraInput,
  way: 'no' | 'refused',
  reasons: readonly string[],
): ExtraCable {
  return {
    way,
    reasons,
    unverified: unverifiedOf(asBuilt ?? NOTHING_RECORDED),
    tube: null,
    tubesOut: [],
    place: null,
    newTube: null,
    refill: null,
    spareBefore: seal.spare,
    spareAfter: null,
    checksBefore: seal.checks,
    checksAfter: [],
    after: null,
  };
}

/** Every whole tube of the seal that stands empty, smallest bore first, then lowest. */
function emptyTubesOf(fillers: readonly PlacedFiller[]): TubePlaceMm[] {
  return fillers
    .flatMap(({ name, outsideMm, boreMm, positionsMm }) =>
      positionsMm.map(([xMm, yMm]) => ({ name, outsideMm, boreMm, xMm, yMm })),
    )
    .sort((a, b) => a.boreMm - b.boreMm || a.yMm - b.yMm || a.xMm - b.xMm);
}

function throughSpareTube(
  input: ExtraInput,
  asBuilt: AsBuiltState,
  arrange: (problem: ArrangementProblem) => Arrangement,
): ExtraCable | null {
  const { seal, diameterMm, range, ref } = input;
  const tubes = emptyTubesOf(seal.fillers);
  // Line to line is no fit: the bore must be larger by the clearance.
  const tube = tubes.find(({ boreMm }) => diameterMm + range.tubeClearanceMm <= boreMm);
  if (tube === undefined) return null;
  const outline = { type: 'circle', diameterMm } as const;
  const { name, outsideMm, xMm, yMm } = tube;
  const place: PlacedBody = { ref, xMm, yMm, outline, angleRad: 0, tube: { name, outsideMm } };
  const cutAreaMm2 = (Math.PI * tube.boreMm ** 2) / 4;
  return answer(input, asBuilt, arrange, {
    way: 'spare tube',
    reasons: [`The empty tube ${name} takes it: bore ${tube.boreMm} mm.`],
    tube,
    tubesOut: [],
    place,
    refill: refillOf(input, asBuilt, cutAreaMm2, tube.boreMm),
    items: [...(seal.arrangement?.items ?? []), place],
    fillers: withoutTubes(seal.fillers, [tube]),
  });
}

function withTubesOut(
  input: ExtraInput,
  asBuilt: AsBuiltState,
  arrange: (problem: ArrangementProblem) => Arrangement,
): ExtraCable | null {
  const { seal, diameterMm } = input;
  const tubes = emptyTubesOf(seal.fillers);
  const free = placeIn(input, arrange);
  if (free === null) return null;
  const inPlaces = likelyPlaces(input, tubes, tubesUnder(tubes, free, diameterMm).length);
  const place =
    inPlaces.reduce<PlacedBody | null>((found, at) => found ?? placeIn(input, arrange, at), null) ??
    free;
  const builtMm = Math.max(diameterMm, place.tube?.outsideMm ?? 0);
  const tubesOut = tubesUnder(tubes, place, diameterMm);
  const discs = [
    { xMm: place.xMm, yMm: place.yMm, radiusMm: builtMm / 2 },
    ...tubesOut.map(({ xMm, yMm, outsideMm }) => ({ xMm, yMm, radiusMm: outsideMm / 2 })),
  ];
  return answer(input, asBuilt, arrange, {
    way: 'tubes out',
    reasons: [`Nothing else moves; tubes to take out: ${tubesOut.length}.`],
    tube: null,
    tubesOut,
    place,
    refill: refillOf(
      input,
      asBuilt,
      discUnionAreaMm2(discs),
      tubesOut.length === 0 ? builtMm : null,
    ),
    items: [...(seal.arrangement?.items ?? []), place],
    fillers: withoutTubes(seal.fillers, tubesOut),
  });
}

/** Tubes that only touch the new cable stay. */
const TOUCH_MM = 1e-6;
/** Places tried that cost fewer tubes than the one the search found; each is a search. Own choice. */
const MOST_PLACES = 6;

/** Where the new cable lies with all others held, at a place given or found; null if it can't. */
function placeIn(
  input: ExtraInput,
  arrange: (problem: ArrangementProblem) => Arrangement,
  at?: PointMm,
): PlacedBody | null {
  const problem = problemWith(input, standingBodies(input.seal));
  const bodies = problem.bodies.map((body) =>
    body.ref === input.ref && at !== undefined ? { ...body, fixedAt: at } : body,
  );
  const found = arrange({ ...problem, bodies });
  const place = found.items.find(({ ref }) => ref === input.ref);
  return found.verdict === 'fits' ? (place ?? null) : null;
}

/**
 * By plain distance; the search has the last word.
 * @source Engineering rules §4.2: two bare bodies are kept apart by a tube.
 */
function isClearOfCables({ seal, diameterMm, design, range }: ExtraInput, at: PointMm): boolean {
  const tubeMm = leastOf(range.fillers.map(({ outsideMm }) => outsideMm));
  const apartMm = design.splitTubes
    ? Math.max(design.separationMm, tubeMm * (1 - range.packingAllowanceRatio))
    : design.separationMm;
  return (seal.arrangement?.items ?? []).every(({ xMm, yMm, outline }) => {
    const radiusMm = outline.type === 'circle' ? outline.diameterMm / 2 : 0;
    const clearMm = Math.hypot(xMm - at.xMm, yMm - at.yMm) - radiusMm - diameterMm / 2;
    return clearMm >= apartMm - TOUCH_MM;
  });
}

interface PointMm {
  readonly xMm: number;
  readonly yMm: number;
}

/** Empty tubes in the way of a cable at a place, as it is built there. */
function tubesUnder(
  tubes: readonly TubePlaceMm[],
  place: PointMm & Partial<Pick<PlacedBody, 'tube'>>,
  diameterMm: number,
): TubePlaceMm[] {
  const builtMm = Math.max(diameterMm, place.tube?.outsideMm ?? 0);
  return tubes.filter(
    (tube) =>
      Math.hypot(tube.xMm - place.xMm, tube.yMm - place.yMm) <
      (tube.outsideMm + builtMm) / 2 - TOUCH_MM,
  );
}

/**
 * Places that would cost fewer tubes than `below`, cheapest first: where a tube stands, and
 * midway between two, as far off the other cables as bare bodies must be.
 */
function likelyPlaces(
  input: ExtraInput,
  tubes: readonly TubePlaceMm[],
  below: number,
): readonly PointMm[] {
  const { diameterMm } = input;
  const middles = tubes.flatMap((a, at) =>
    tubes.slice(at + 1).flatMap((b) => {
      const isNear = Math.hypot(a.xMm - b.xMm, a.yMm - b.yMm) < a.outsideMm + b.outsideMm;
      return isNear ? [{ xMm: (a.xMm + b.xMm) / 2, yMm: (a.yMm + b.yMm) / 2 }] : [];
    }),
  );
  return [...tubes, ...middles]
    .map(({ xMm, yMm }) => ({ xMm, yMm }))
    .filter((at) => isClearOfCables(input, at))
    .map((at) => ({ at, cost: tubesUnder(tubes, at, diameterMm).length }))
    .filter(({ cost }) => cost < below)
    .sort((a, b) => a.cost - b.cost || a.at.yMm - b.at.yMm || a.at.xMm - b.at.xMm)
    .slice(0, MOST_PLACES)
    .map(({ at }) => at);
}

function rearranged(
  input: ExtraInput,
  asBuilt: AsBuiltState,
  arrange: (problem: ArrangementProblem) => Arrangement,
): ExtraCable | null {
  const { seal } = input;
  const found = arrange(problemWith(input, seal.bodies));
  const place = found.items.find(({ ref }) => ref === input.ref);
  if (found.verdict !== 'fits' || place === undefined || seal.opening === null) return null;
  const cutAreaMm2 = seal.freeAreaMm2 ?? shapeAreaMm2(seal.opening);
  return answer(input, asBuilt, arrange, {
    way: 'rearranged',
    reasons: ['Only with the whole seal taken out and its cables moved.'],
    tube: null,
    tubesOut: emptyTubesOf(seal.fillers),
    place,
    refill: refillOf(input, asBuilt, cutAreaMm2, null),
    items: found.items,
    fillers: found.fillers,
  });
}

function proofOfNo(
  input: ExtraInput,
  arrange: (problem: ArrangementProblem) => Arrangement,
): string {
  const found = arrange(problemWith(input, input.seal.bodies));
  return found.verdict === 'cannot fit'
    ? `It cannot fit: ${found.proof}`
    : `No arrangement was found, which is no proof that there is none: ${found.proof}`;
}

/** The bodies of the seal, held where they stand. */
function standingBodies(seal: Seal): Body[] {
  const items = new Map((seal.arrangement?.items ?? []).map((item) => [item.ref, item]));
  return seal.bodies.map((body) => {
    const item = items.get(body.ref);
    if (item === undefined) return body;
    const { xMm, yMm, angleRad } = item;
    return { ...body, fixedAt: { xMm, yMm, angleRad } };
  });
}

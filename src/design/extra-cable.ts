import { SealbookError } from '../basics/errors.ts';
import { shapeAreaMm2 } from '../geometry/shape.ts';
import type {
  Arrangement,
  ArrangementProblem,
  Body,
  PlacedBody,
  PlacedFiller,
} from '../model/arrangement.ts';
import type { ExtraCable, Refill, TubePlaceMm } from '../model/extra.ts';
import type { Range } from '../model/range.ts';
import type { Seal } from '../model/seal.ts';
import type { Settings } from '../model/settings.ts';
import { arrange as arrangeBodies } from './arrange/arrange.ts';
import { checkSeal } from './checks/check-seal.ts';
import { smallestWasteMix } from './containers.ts';
import { discUnionAreaMm2 } from './disc-union.ts';
import { bodyAreaMm2 } from './outline-measures.ts';
import { grossVolumeMl, layerVolumeMl, sealantQuantity } from './quantities.ts';
import { chosenSealant, problemOf, typeKeyOf } from './seal-of.ts';
import { type HoleFacts, subjectOfBodies } from './subject-of-bodies.ts';

/** What was recorded on site of one seal; null for what nobody recorded. */
export interface AsBuiltState {
  /** Sealed at all. */
  readonly isSealed: boolean | null;
  /** Cables and tubes stand where the drawing shows them. */
  readonly isAsDrawn: boolean | null;
  /** Depth of the layer as measured. */
  readonly depthMm: number | null;
  /** Defects that are still open, in words. */
  readonly openDefects: string | null;
}

export interface ExtraInput extends HoleFacts {
  readonly seal: Seal;
  readonly ref: string;
  readonly diameterMm: number;
  readonly range: Range;
  readonly design: Settings['design'];
  /** Null where the register holds no site record. */
  readonly asBuilt: AsBuiltState | null;
}

const NOTHING_RECORDED: AsBuiltState = {
  isSealed: null,
  isAsDrawn: null,
  depthMm: null,
  openDefects: null,
};

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
  if (asBuilt.isAsDrawn === false) {
    reasons.push('The site record says that cables or tubes do not stand as drawn: measure first.');
  }
  if (asBuilt.openDefects !== null && asBuilt.openDefects.trim() !== '') {
    reasons.push(`A defect is still open: ${asBuilt.openDefects.trim()}. Mend it first.`);
  }
  return reasons;
}

function unverifiedOf(asBuilt: AsBuiltState): string[] {
  const parts: string[] = [];
  if (asBuilt.isSealed === null) parts.push('that the seal was made at all');
  if (asBuilt.isAsDrawn === null) parts.push('that cables and tubes stand as drawn');
  if (asBuilt.depthMm === null) parts.push('the depth of the layer (the designed one is taken)');
  return parts;
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
  const found = arrange(problemWith(input, standingBodies(seal)));
  const place = found.items.find(({ ref }) => ref === input.ref);
  if (found.verdict !== 'fits' || place === undefined) return null;
  const builtMm = Math.max(diameterMm, place.tube?.outsideMm ?? 0);
  const tubesOut = emptyTubesOf(seal.fillers).filter(
    (tube) =>
      Math.hypot(tube.xMm - place.xMm, tube.yMm - place.yMm) <
      (tube.outsideMm + builtMm) / 2 - TOUCH_MM,
  );
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

function problemWith(input: ExtraInput, bodies: readonly Body[]): ArrangementProblem {
  const outline = { type: 'circle', diameterMm: input.diameterMm } as const;
  const all = [...bodies, { ref: input.ref, outline }];
  return problemOf(subjectOf(input, all), input);
}

function subjectOf({ seal, ...facts }: ExtraInput, bodies: readonly Body[]) {
  return subjectOfBodies(seal, seal.opening, bodies, facts);
}

function refillOf(
  { seal, diameterMm, design, range }: ExtraInput,
  asBuilt: AsBuiltState,
  cutAreaMm2: number,
  cutDiameterMm: number | null,
): Refill {
  const cable = bodyAreaMm2({ type: 'circle', diameterMm });
  const freeMm2 = Math.max(0, cutAreaMm2 - cable);
  const depthMm = asBuilt.depthMm ?? seal.setBackMm;
  const withAllowancesMl = grossVolumeMl(freeMm2, depthMm, design) * seal.faces;
  return {
    cutAreaMm2,
    cutDiameterMm,
    faces: seal.faces,
    netMl: layerVolumeMl(freeMm2, depthMm) * seal.faces,
    withAllowancesMl,
    containers: smallestWasteMix(withAllowancesMl, chosenSealant(range, seal.sealant?.name)),
  };
}

function withoutTubes(
  fillers: readonly PlacedFiller[],
  out: readonly TubePlaceMm[],
): PlacedFiller[] {
  return fillers.map((filler) => {
    const positionsMm = filler.positionsMm.filter(
      ([x, y]) => !out.some(({ name, xMm, yMm }) => name === filler.name && xMm === x && yMm === y),
    );
    return { ...filler, positionsMm, count: positionsMm.length };
  });
}

interface Outcome
  extends Pick<ExtraCable, 'way' | 'reasons' | 'tube' | 'tubesOut' | 'place' | 'refill'> {
  readonly items: readonly PlacedBody[];
  readonly fillers: readonly PlacedFiller[];
}

/** The answer with the seal as it is afterwards, its spare and its checks. */
function answer(
  input: ExtraInput,
  asBuilt: AsBuiltState,
  arrange: (problem: ArrangementProblem) => Arrangement,
  { items, fillers, ...outcome }: Outcome,
): ExtraCable {
  const { seal, range, design } = input;
  const newTube = outcome.place?.tube?.name ?? null;
  const counted = outcome.way === 'tubes out' ? withSplit(fillers, newTube, range) : fillers;
  const after = sealAfter(input, items, counted, arrange);
  const subject = subjectOf(input, after.bodies);
  const checks = checkSeal({ subject, seal: after, range, design, circuits: new Map() });
  return {
    ...outcome,
    newTube,
    unverified: unverifiedOf(asBuilt),
    spareBefore: seal.spare,
    spareAfter: after.spare,
    checksBefore: seal.checks,
    checksAfter: checks,
    after: { ...after, checks, typeKey: typeKeyOf(after) },
  };
}

/** One more tube of a size split over the new cable. */
function withSplit(
  fillers: readonly PlacedFiller[],
  name: string | null,
  range: Range,
): readonly PlacedFiller[] {
  const tube = range.fillers.find((one) => one.name === name);
  if (tube === undefined) return fillers;
  if (!fillers.some((filler) => filler.name === name)) {
    const { outsideMm, boreMm } = tube;
    return [
      ...fillers,
      { name: tube.name, outsideMm, boreMm, count: 0, split: 1, positionsMm: [] },
    ];
  }
  return fillers.map((filler) =>
    filler.name === name ? { ...filler, split: filler.split + 1 } : filler,
  );
}

function sealAfter(
  input: ExtraInput,
  items: readonly PlacedBody[],
  fillers: readonly PlacedFiller[],
  arrange: (problem: ArrangementProblem) => Arrangement,
): Seal {
  const { seal, range, design, ref, diameterMm } = input;
  const body: Body = { ref, outline: { type: 'circle', diameterMm } };
  const bodies = [...seal.bodies, body];
  const freeAreaMm2 = Math.max(0, (seal.freeAreaMm2 ?? 0) - bodyAreaMm2(body.outline));
  const openingMm2 = seal.opening === null ? 0 : shapeAreaMm2(seal.opening);
  const sealant = chosenSealant(range, seal.sealant?.name);
  const standing = items.map((item): Body => {
    const known = bodies.find((one) => one.ref === item.ref) ?? body;
    const { xMm, yMm, angleRad } = item;
    return { ...known, fixedAt: { xMm, yMm, angleRad } };
  });
  const room = arrange(problemOf(subjectOf(input, standing), input)).spare;
  const left = fillers.filter(({ count }) => count > 0);
  const spare = {
    ...room,
    emptyTubes: left.reduce((count, filler) => count + filler.count, 0),
    largestThroughTubeMm:
      left.length === 0
        ? null
        : Math.max(...left.map(({ boreMm }) => boreMm)) - range.tubeClearanceMm,
  };
  return {
    ...seal,
    bodies,
    arrangement: seal.arrangement === null ? null : { ...seal.arrangement, items, fillers, spare },
    fillers,
    spare,
    freeAreaMm2,
    fillRatio:
      openingMm2 === 0 ? null : (seal.fillRatio ?? 0) + bodyAreaMm2(body.outline) / openingMm2,
    sealant: sealantQuantity(sealant, freeAreaMm2, seal.setBackMm, seal.faces, design),
  };
}

import { greatestOf } from '../../basics/extremes.ts';
import { shapeAreaMm2 } from '../../geometry/shape.ts';
import type {
  Arrangement,
  ArrangementProblem,
  Body,
  PlacedBody,
  PlacedFiller,
} from '../../model/arrangement.ts';
import type { ExtraCable, Refill, TubePlaceMm } from '../../model/extra.ts';
import type { Range } from '../../model/range.ts';
import type { Check, Seal } from '../../model/seal.ts';
import { problemOf } from '../arrange-subject.ts';
import { notAssessed } from '../checks/check-parts.ts';
import { checkSeal } from '../checks/check-seal.ts';
import { smallestWasteMix } from '../containers.ts';
import { bodyAreaMm2 } from '../outline-measures.ts';
import { fillerQuantities, grossVolumeMl, layerVolumeMl, sealantQuantity } from '../quantities.ts';
import { chosenSealant, typeKeyOf } from '../seal-of.ts';
import { type AsBuiltState, type ExtraInput, subjectOf } from './extra-input.ts';

/** What an answer leans on and nobody recorded. */
export function unverifiedOf(asBuilt: AsBuiltState): string[] {
  const parts: string[] = [];
  if (asBuilt.isSealed === null) parts.push('that the seal was made at all');
  if (asBuilt.isAsDrawn === null) parts.push('that cables and tubes stand as drawn');
  if (asBuilt.depthMm === null) parts.push('the depth of the layer (the designed one is taken)');
  if (asBuilt.isOpeningAsDesigned === null) {
    parts.push('the size of the opening (the designed one is taken)');
  }
  return parts;
}

/** What is cut away and filled again, by the measured depth where there is one. */
export function refillOf(
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

/** The tubes that stay. */
export function withoutTubes(
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

/** What was found, before its seal is worked out. */
export interface Outcome
  extends Pick<ExtraCable, 'way' | 'reasons' | 'tube' | 'tubesOut' | 'place' | 'refill'> {
  readonly items: readonly PlacedBody[];
  readonly fillers: readonly PlacedFiller[];
}

/** The answer with the seal as it is afterwards, its spare and its checks. */
export function answer(
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
  const checks = [
    ...checkSeal({ subject, seal: after, range, design, circuits: new Map() }),
    ...checksKept(seal.checks),
  ];
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

/**
 * Checks that lean on what a register does not keep. What the host is stays as it was judged;
 * circuits and phases are asked again, since the new cable's are not known.
 */
function checksKept(before: readonly Check[]): Check[] {
  const electrical = before
    .filter(({ subject }) => subject === 'electrical')
    .map(({ name, verdict, source }) =>
      notAssessed(name, 'electrical', {
        missing: ['kind, circuit and phase of the new cable and of those that are there'],
        note: `before the new cable: ${verdict}`,
        source,
      }),
    );
  return [...before.filter(({ subject }) => subject === 'structure'), ...electrical];
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
        : greatestOf(left.map(({ boreMm }) => boreMm)) - range.tubeClearanceMm,
  };
  const arrangement =
    seal.arrangement === null ? null : { ...seal.arrangement, items, fillers, spare };
  return {
    ...seal,
    bodies,
    arrangement,
    fillers,
    fillerQuantities:
      arrangement === null
        ? []
        : fillerQuantities(arrangement, range, {
            faces: seal.faces,
            setBackMm: seal.setBackMm,
            thicknessMm: input.thicknessMm ?? null,
          }),
    spare,
    freeAreaMm2,
    fillRatio:
      openingMm2 === 0 ? null : (seal.fillRatio ?? 0) + bodyAreaMm2(body.outline) / openingMm2,
    sealant: sealantQuantity(sealant, freeAreaMm2, seal.setBackMm, seal.faces, design),
  };
}

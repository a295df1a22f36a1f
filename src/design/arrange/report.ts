import { sum } from '../../basics/order.ts';
import type { Impossibility } from '../../geometry/packing/impossibility.ts';
import type { Region } from '../../geometry/packing/region.ts';
import type {
  ArrangementProblem,
  PlacedBody,
  PlacedFiller,
  Spare,
} from '../../model/arrangement.ts';
import { type BuiltBody, memberPlaces, type PlacedPiece } from './as-built.ts';
import { EFFORT } from './effort.ts';
import type { TubePlace } from './fill-tubes.ts';

/** The proof of a `cannot fit`, how a `fits` can be checked, or the effort of a `not found`. */
export function proofText(
  problem: ArrangementProblem,
  proof: Impossibility | null,
  asked: Float64Array | null,
): string {
  if (proof !== null) return `${proof.name}: ${proof.text}`;
  if (asked !== null) {
    return 'coordinates: every distance between bodies and to the wall worked out from them is at least what was asked for.';
  }
  const { gap, asked: sought } = EFFORT[problem.effort];
  return `effort ${problem.effort} (${gap + sought} evaluations of a body's distances) ended without an arrangement, and no proof excludes one.`;
}

export function placedBodies(piece: PlacedPiece): PlacedBody[] {
  return memberPlaces(piece).map(({ member, x, y }) => ({
    ref: member.body.ref,
    xMm: x,
    yMm: y,
    outline: member.body.outline,
    angleRad: piece.angleRad,
    tube: piece.body.tube,
  }));
}

/** A line for each size of the range that is used. */
export function fillersOf(
  problem: ArrangementProblem,
  bodies: readonly BuiltBody[],
  tubes: readonly TubePlace[],
  isLaid: boolean,
): PlacedFiller[] {
  return problem.fillers.flatMap(({ name, outsideMm, boreMm }) => {
    const positionsMm = tubes.filter(({ filler }) => filler.name === name).map(({ at }) => at);
    const worn = bodies.filter((body) => body.tube?.name === name);
    const split = isLaid ? worn.filter(({ isCord }) => !isCord).length : 0;
    if (positionsMm.length === 0 && split === 0) return [];
    return [{ name, outsideMm, boreMm, count: positionsMm.length, split, positionsMm }];
  });
}

export function noSpare(problem: ArrangementProblem): Spare {
  return {
    emptyTubes: 0,
    largestThroughTubeMm: null,
    largestExtraFixedMm: 0,
    largestExtraMovableMm: 0,
    policyMore: problem.policy === null ? null : 0,
  };
}

/** Share of the opening that bodies and tubes cover, tubes by their full outside. */
export function coveredRatio(
  { bodies }: ArrangementProblem,
  region: Region,
  placed: readonly PlacedPiece[],
  tubes: readonly TubePlace[],
): number {
  const worn = new Map(
    placed.flatMap(({ body }) => body.members.map((m) => [m.body.ref, body.tube] as const)),
  );
  const areas = bodies.map(({ ref, outline }) => {
    if (!worn.has(ref)) return 0;
    if (outline.type === 'rectangle') return outline.widthMm * outline.heightMm;
    const diameter = worn.get(ref)?.outsideMm ?? outline.diameterMm;
    return (Math.PI * diameter * diameter) / 4;
  });
  const tubeAreas = tubes.map(({ filler }) => (Math.PI * filler.outsideMm * filler.outsideMm) / 4);
  return Math.min(1, (sum(areas) + sum(tubeAreas)) / region.areaMm2);
}

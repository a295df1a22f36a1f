import { sum } from '../../basics/order.ts';
import { searchFeasible } from '../../geometry/packing/feasible-search.ts';
import { searchGrowth } from '../../geometry/packing/growth-search.ts';
import type { Impossibility } from '../../geometry/packing/impossibility.ts';
import type { Growth } from '../../geometry/packing/largest-growth.ts';
import { PAD_MM, turnOf } from '../../geometry/packing/pack-problem.ts';
import { makePackSolver } from '../../geometry/packing/pack-solver.ts';
import type { Region } from '../../geometry/packing/region.ts';
import type {
  Arrangement,
  ArrangementProblem,
  PlacedBody,
  PlacedFiller,
  Spare,
} from '../../model/arrangement.ts';
import { type BuiltBody, memberPlaces, type PlacedPiece } from './as-built.ts';
import { checkProblem } from './check-problem.ts';
import { EFFORT } from './effort.ts';
import { fillAlike } from './fill-alike.ts';
import { fillTogether } from './fill-together.ts';
import { fillGreedily, pressedRadius, type TubePlace } from './fill-tubes.ts';
import type { Filled } from './filled-solver.ts';
import { gapBound, type Job, jobOf } from './job.ts';
import { latticeLayout } from './lattice-layout.ts';
import { obstaclesOf } from './obstacles.ts';
import { askedProblem, gapProblem, partsOf } from './pack-needs.ts';
import { emptyTubes, largestExtraFixedMm, largestExtraMovableMm, policyMore } from './spare.ts';

/** Above this the pair tables no longer pay; proofs and a lattice are still tried. */
const MOST_SEARCHED = 300;

/**
 * Where every body and filler of an opening lies, with a verdict on what was asked for:
 * `fits` with coordinates, `cannot fit` with a named proof, `not found` otherwise.
 * Throws `usage` for sizes and outlines that make no sense.
 */
export function arrange(problem: ArrangementProblem): Arrangement {
  checkProblem(problem);
  const job = jobOf(problem);
  const { bodies, region } = job;
  const proof = job.impossibleAt(problem.separationMm, problem.edgeMm);
  const gapBoundMm = gapBound(job);
  if (partsOf(bodies).length > MOST_SEARCHED) return arrangeMany(job, proof, gapBoundMm);
  const gap = largestGap(job, gapBoundMm ?? 0);
  const asked = proof === null ? layoutAsAsked(job, gap) : null;
  const gapMm = gap.growth >= 0 && Number.isFinite(gap.growth) ? gap.growth : null;
  const gapPlaced = gapMm === null ? [] : placedPieces(job, gap.at);
  const filled = asked === null ? { placed: gapPlaced, tubes: [] } : fill(job, asked, gap);
  const { placed, tubes } = filled;
  return {
    verdict: proof !== null ? 'cannot fit' : asked !== null ? 'fits' : 'not found',
    proof: proofText(problem, proof, asked),
    separationMm: problem.separationMm,
    edgeMm: problem.edgeMm,
    gapMm,
    gapBoundMm,
    items: placed.flatMap(placedBodies),
    ...(placed === gapPlaced || gapMm === null
      ? {}
      : { gapItems: gapPlaced.flatMap(placedBodies) }),
    fillers: fillersOf(problem, bodies, tubes, asked !== null),
    spare: asked === null ? noSpare(problem) : spareOf(job, placed, tubes),
    coveredRatio: coveredRatio(problem, region, placed, tubes),
  };
}

/**
 * Bodies where they were asked to be, then tubes, then both moved together. Where the largest gap
 * has room for the smallest tube, bare bodies are kept apart by at least that (design rules 4.2).
 */
function fill(job: Job, asked: Float64Array, gap: Growth): Filled {
  const { problem, bodies, region, random } = job;
  const placed = placedPieces(job, asked);
  if (problem.fillers.length === 0) return { placed, tubes: [] };
  const solids = obstaclesOf(placed, (member) => member.builtRadiusMm);
  const greedy = { placed, tubes: fillGreedily(problem, region, solids) };
  const between = Math.min(...problem.fillers.map((filler) => 2 * pressedRadius(filler, problem)));
  const apart = gap.growth >= between ? between : 0;
  const kept = {
    ...problem,
    separationMm: Math.max(problem.separationMm, apart),
    edgeMm: Math.max(problem.edgeMm, apart),
  };
  const { fill: work, alike, alikeEmpty } = EFFORT[problem.effort];
  const share = bodies.length === 0 ? alikeEmpty : alike;
  const grown = fillAlike(kept, bodies, region, greedy, share, random);
  const starts = grown === greedy ? [greedy] : [greedy, grown];
  const filled = starts.map((start) =>
    fillTogether(kept, bodies, region, start, work / starts.length, random),
  );
  return filled.reduce((best, one) => (coverOf(one) > coverOf(best) ? one : best));
}

/** Sum of the squared outsides of the tubes: what they cover, but for a factor. */
function coverOf({ tubes }: Filled): number {
  return sum(tubes.map(({ filler }) => filler.outsideMm * filler.outsideMm));
}

function largestGap({ problem, bodies, region, random }: Job, boundMm: number): Growth {
  const solver = makePackSolver(gapProblem(problem, bodies, region));
  return searchGrowth(
    solver,
    {
      startGrowth: boundMm,
      work: EFFORT[problem.effort].gap,
      enough: boundMm - 1e-6,
      tolerance: 1e-8,
    },
    random,
  );
}

/** The layout of the largest gap when it is enough; else a search for the distances asked for. */
function layoutAsAsked({ problem, bodies, region, random }: Job, gap: Growth): Float64Array | null {
  const solver = makePackSolver(askedProblem(problem, bodies, region));
  if (solver.growthOf(gap.at) > 0) return gap.at;
  const work = EFFORT[problem.effort].asked;
  return searchFeasible(solver, { work, first: gap.at, restarts: true }, random);
}

function proofText(
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

function placedPieces({ problem, bodies, region }: Job, at: Float64Array): PlacedPiece[] {
  const { layout } = makePackSolver(askedProblem(problem, bodies, region));
  return bodies.map((body, i) => ({
    body,
    x: at[2 * i] as number,
    y: at[2 * i + 1] as number,
    angleRad: turnOf(layout, at, i),
  }));
}

function placedBodies(piece: PlacedPiece): PlacedBody[] {
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
function fillersOf(
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

function spareOf(
  { problem, bodies, region, random }: Job,
  placed: readonly PlacedPiece[],
  tubes: readonly TubePlace[],
): Spare {
  const fixed = largestExtraFixedMm(problem, region, placed);
  const { extra } = EFFORT[problem.effort];
  const movable = largestExtraMovableMm(problem, region, bodies, extra, random);
  return {
    ...emptyTubes(problem, tubes),
    largestExtraFixedMm: fixed,
    largestExtraMovableMm: Math.max(fixed, movable),
    policyMore: policyMore(problem, region, placed, tubes),
  };
}

function noSpare(problem: ArrangementProblem): Spare {
  return {
    emptyTubes: 0,
    largestThroughTubeMm: null,
    largestExtraFixedMm: 0,
    largestExtraMovableMm: 0,
    policyMore: problem.policy === null ? null : 0,
  };
}

/** Share of the opening that bodies and tubes cover, tubes by their full outside. */
function coveredRatio(
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

/** More bodies than a search is made for: a proof, or a lattice with room for the largest each. */
function arrangeMany(
  job: Job,
  proof: Impossibility | null,
  gapBoundMm: number | null,
): Arrangement {
  const { problem, bodies, region } = job;
  const parts = partsOf(bodies).map(({ member }) => member);
  const own = parts.reduce((most, part) => Math.max(most, part.ownRadiusMm), 0);
  const built = parts.reduce((most, part) => Math.max(most, part.builtRadiusMm), 0);
  const isLattice = bodies.every(
    ({ members: [first, second] }) =>
      second === undefined && first?.halfX === 0 && first.body.fixedAt === undefined,
  );
  const classes = Math.max(0, ...(problem.classSeparations ?? []).map((pair) => pair.separationMm));
  const layout = (separation: number, edge: number) =>
    latticeLayout(
      region,
      bodies.length,
      Math.max(2 * built, 2 * own + Math.max(classes, separation)) + PAD_MM,
      Math.max(built, own + edge) + PAD_MM,
    );
  const asked = isLattice && proof === null ? layout(problem.separationMm, problem.edgeMm) : null;
  let gapMm: number | null = null;
  if (isLattice && layout(0, 0) !== null) {
    let low = 0;
    let high = gapBoundMm ?? 0;
    for (let step = 0; step < 20; step++) {
      const middle = (low + high) / 2;
      if (layout(middle, middle) === null) high = middle;
      else low = middle;
    }
    gapMm = low;
  }
  const placed =
    asked === null
      ? []
      : bodies.map((body, i) => ({
          body,
          x: asked[2 * i] as number,
          y: asked[2 * i + 1] as number,
          angleRad: 0,
        }));
  return {
    verdict: proof !== null ? 'cannot fit' : asked !== null ? 'fits' : 'not found',
    proof:
      proof === null && asked === null
        ? `${bodies.length} bodies are more than a search is made for (${MOST_SEARCHED}); on a lattice with room for the largest at each point they found none, and no proof excludes an arrangement.`
        : proofText(problem, proof, asked),
    separationMm: problem.separationMm,
    edgeMm: problem.edgeMm,
    gapMm,
    gapBoundMm,
    items: placed.flatMap(placedBodies),
    fillers: fillersOf(problem, bodies, [], asked !== null),
    spare: noSpare(problem),
    coveredRatio: coveredRatio(problem, region, placed, []),
  };
}

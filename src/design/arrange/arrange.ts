import { searchFeasible } from '../../geometry/packing/feasible-search.ts';
import { searchGrowth } from '../../geometry/packing/growth-search.ts';
import type { Impossibility } from '../../geometry/packing/impossibility.ts';
import { turnOf } from '../../geometry/packing/pack-problem.ts';
import { makePackSolver } from '../../geometry/packing/pack-solver.ts';
import { proveBySubdivision } from '../../geometry/packing/subdivision.ts';
import type { Arrangement, ArrangementProblem, Spare, Verdict } from '../../model/arrangement.ts';
import { arrangeMany, MOST_SEARCHED } from './arrange-many.ts';
import type { PlacedPiece } from './as-built.ts';
import { checkProblem } from './check-problem.ts';
import { EFFORT } from './effort.ts';
import { fillAlike } from './fill-alike.ts';
import { fillTogether } from './fill-together.ts';
import { fillGreedily, pressedRadius, type TubePlace } from './fill-tubes.ts';
import type { Filled } from './filled-solver.ts';
import { gapBound, type Job, jobOf } from './job.ts';
import { obstaclesOf } from './obstacles.ts';
import { askedProblem, gapProblem, partsOf } from './pack-needs.ts';
import { preferred } from './preferences.ts';
import { coveredRatio, fillersOf, noSpare, placedBodies, proofText } from './report.ts';
import { emptyTubes, largestExtraFixedMm, largestExtraMovableMm, policyMore } from './spare.ts';

/**
 * Where every body and filler of an opening lies, with a verdict on what was asked for:
 * `fits` with coordinates, `cannot fit` with a named proof, `not found` otherwise.
 * Throws `usage` for sizes and outlines that make no sense.
 */
export function arrange(problem: ArrangementProblem): Arrangement {
  checkProblem(problem);
  const job = jobOf(problem);
  const { bodies, region } = job;
  if (partsOf(bodies).length > MOST_SEARCHED) {
    const early = job.impossibleAt(problem.separationMm, problem.edgeMm);
    return arrangeMany(job, early, gapBound(job));
  }
  const { proof, asked } = verdictOf(job);
  const { gap, gapBoundMm } = commonGap(job, asked);
  const filled = asked === null ? null : fill(job, asked, gap);
  const gapItems = (gap?.placed ?? []).flatMap(placedBodies);
  const { placed, tubes } = filled ?? { placed: gap?.placed ?? [], tubes: [] };
  return {
    verdict: verdictName(proof, asked),
    proof: proofText(problem, proof, asked),
    separationMm: problem.separationMm,
    edgeMm: problem.edgeMm,
    gapMm: gap?.gapMm ?? null,
    gapBoundMm,
    items: placed.flatMap(placedBodies),
    ...(filled === null || gap === null ? {} : { gapItems }),
    fillers: fillersOf(problem, bodies, tubes, asked !== null),
    spare: asked === null ? noSpare(problem) : spareOf(job, placed, tubes),
    coveredRatio: coveredRatio(problem, region, placed, tubes),
  };
}

/** Whether what is asked for can be had, alone: no gap, no tubes, no spare. */
export function decide(problem: ArrangementProblem): Pick<Arrangement, 'verdict' | 'proof'> {
  checkProblem(problem);
  const job = jobOf(problem);
  if (partsOf(job.bodies).length > MOST_SEARCHED) {
    return arrangeMany(job, job.impossibleAt(problem.separationMm, problem.edgeMm), null);
  }
  const { proof, asked } = verdictOf(job);
  return { verdict: verdictName(proof, asked), proof: proofText(problem, proof, asked) };
}

function verdictName(proof: Impossibility | null, asked: Float64Array | null): Verdict {
  if (proof !== null) return 'cannot fit';
  return asked !== null ? 'fits' : 'not found';
}

/** Share of the search that comes before the longer proofs. */
const FIRST_SHARE = 0.2;

/** A proof that what is asked for is impossible, or a layout that has it, or neither. */
function verdictOf(job: Job): {
  readonly proof: Impossibility | null;
  readonly asked: Float64Array | null;
} {
  const { problem, bodies, region, random } = job;
  const proof = job.impossibleAt(problem.separationMm, problem.edgeMm);
  if (proof !== null) return { proof, asked: null };
  const solver = makePackSolver(askedProblem(problem, bodies, region));
  const { asked: work, boxes } = EFFORT[problem.effort];
  const search = (share: number) =>
    searchFeasible(solver, { work: share * work, restarts: true }, random);
  const first = search(FIRST_SHARE);
  if (first !== null) return { proof: null, asked: first };
  const late = proveBySubdivision(job.needs(), boxes);
  return late !== null
    ? { proof: late, asked: null }
    : { proof: null, asked: search(1 - FIRST_SHARE) };
}

/** The largest common gap found, and the layout that keeps it. */
interface CommonGap {
  readonly gapMm: number;
  readonly placed: readonly PlacedPiece[];
}

/**
 * Of the bodies as built; where these have no room together, of the cables alone, bare and whatever
 * their classes, so that the gap is known also where it is less than asked for.
 */
function commonGap(
  job: Job,
  asked: Float64Array | null,
): { readonly gap: CommonGap | null; readonly gapBoundMm: number | null } {
  const gapBoundMm = gapBound(job);
  if (gapBoundMm === null) return { gap: null, gapBoundMm };
  const gap = largestGap(job, gapBoundMm, asked);
  if (gap !== null || asked !== null) return { gap, gapBoundMm };
  const { bareApartMm: _, ...rest } = job.problem;
  const bare = jobOf({ ...rest, splitTubes: false, classSeparations: [] });
  const bareBoundMm = gapBound(bare);
  return { gap: largestGap(bare, bareBoundMm ?? 0, null), gapBoundMm: bareBoundMm };
}

function largestGap(job: Job, boundMm: number, first: Float64Array | null): CommonGap | null {
  const { problem, bodies, region, random } = job;
  const solver = makePackSolver(gapProblem(problem, bodies, region));
  const search = {
    startGrowth: Math.max(boundMm, 1),
    work: EFFORT[problem.effort].gap,
    enough: boundMm - 1e-6,
    tolerance: 1e-8,
    ...(first === null ? {} : { first }),
  };
  const found = searchGrowth(solver, search, random);
  const least = first === null ? Number.NEGATIVE_INFINITY : solver.growthOf(first);
  const best = first !== null && least > found.growth ? { growth: least, at: first } : found;
  if (!(best.growth >= 0 && Number.isFinite(best.growth))) return null;
  return { gapMm: best.growth, placed: placedPieces(job, best.at) };
}

/**
 * Tubes beside bodies that lie as far apart as they can, then both moved together. Where the largest
 * gap has room for the smallest tube, bare bodies are kept apart by at least that (design rules 4.2).
 */
function fill(job: Job, asked: Float64Array, gap: CommonGap | null): Filled {
  const { problem, bodies, region, random } = job;
  const keeps = gap !== null && gap.gapMm >= Math.max(problem.separationMm, problem.edgeMm);
  const placed = keeps ? gap.placed : placedPieces(job, asked);
  if (problem.fillers.length === 0) return preferred(problem, [{ placed, tubes: [] }]);
  const solids = obstaclesOf(placed, (member) => member.builtRadiusMm);
  const greedy = { placed, tubes: fillGreedily(problem, region, solids) };
  const between = Math.min(...problem.fillers.map((filler) => 2 * pressedRadius(filler, problem)));
  const isRoomy = keeps && gap.gapMm >= between;
  const kept = isRoomy ? { ...problem, bareApartMm: between } : problem;
  const { fill, fillEach, alike, alikeEmpty } = EFFORT[problem.effort];
  const share = bodies.length === 0 ? alikeEmpty : alike;
  const grown = fillAlike(kept, bodies, region, greedy, share, random);
  const starts = grown === greedy ? [greedy] : [greedy, grown];
  const pieces = greedy.placed.length + greedy.tubes.length;
  const work = Math.min(fill, fillEach * pieces);
  const filled = starts.map((start) =>
    fillTogether(kept, bodies, region, start, work / starts.length, random),
  );
  return preferred(problem, filled);
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

import { sum } from '../../basics/order.ts';
import { makeDiscSolver } from '../../geometry/packing/disc-solver.ts';
import { type Impossibility, proveImpossible } from '../../geometry/packing/impossibility.ts';
import { type Growth, scatter, searchGrowth } from '../../geometry/packing/largest-growth.ts';
import { type Region, regionOf } from '../../geometry/packing/region.ts';
import { type SeededRandom, seededRandom } from '../../geometry/packing/seeded-random.ts';
import type {
  Arrangement,
  ArrangementProblem,
  Effort,
  PlacedBody,
  PlacedFiller,
  Spare,
} from '../../model/arrangement.ts';
import { type BuiltBody, bodiesAsBuilt } from './as-built.ts';
import { checkProblem } from './check-problem.ts';
import { askedProblem, gapProblem, needsAt, PAD_MM } from './disc-needs.ts';
import { fillGreedily, type TubePlace } from './fill-tubes.ts';
import { latticeLayout } from './lattice-layout.ts';
import {
  emptyTubes,
  largestExtraFixedMm,
  largestExtraMovableMm,
  type PlacedDisc,
  policyMore,
} from './spare.ts';

/** Above this the pair tables no longer pay; proofs are still tried. */
const MOST_SEARCHED = 300;

/** Random starts of each tier: counted, never timed. */
const STARTS: Record<Effort, number> = { quick: 4, normal: 24, thorough: 200 };

/**
 * Where every body and filler of an opening lies, with a verdict on what was asked for:
 * `fits` with coordinates, `cannot fit` with a named proof, `not found` otherwise.
 * Throws `usage` for sizes and outlines that make no sense.
 */
export function arrange(problem: ArrangementProblem): Arrangement {
  checkProblem(problem);
  const region = regionOf(problem.opening);
  const bodies = bodiesAsBuilt(problem);
  const proof = impossibleAt(problem, bodies, problem.separationMm, problem.edgeMm);
  const random = seededRandom(problem.seed);
  const gapBoundMm = gapBound(problem, bodies, region);
  if (bodies.length > MOST_SEARCHED) {
    return arrangeMany(problem, bodies, region, proof, gapBoundMm);
  }
  const gap = largestGap(problem, bodies, region, gapBoundMm ?? 0, random);
  const asked = proof === null ? layoutAsAsked(problem, bodies, region, gap, random) : null;
  const at = asked?.at ?? (gap.growth >= 0 ? gap.at : null);
  const placed = at === null ? [] : bodies.map((body, i) => placeOf(body, at, i));
  const tubes = asked === null ? [] : fillGreedily(problem, region, solidsOf(placed));
  return {
    verdict: proof !== null ? 'cannot fit' : asked !== null ? 'fits' : 'not found',
    proof: proofText(problem, proof, asked),
    separationMm: problem.separationMm,
    edgeMm: problem.edgeMm,
    gapMm: gap.growth >= 0 && Number.isFinite(gap.growth) ? gap.growth : null,
    gapBoundMm,
    items: placed.flatMap((place) => placedBodies(place)),
    fillers: fillersOf(problem, bodies, tubes, asked !== null),
    spare:
      asked === null ? noSpare(problem) : spareOf(problem, bodies, region, placed, tubes, random),
    coveredRatio: coveredRatio(problem, region, placed, tubes),
  };
}

function impossibleAt(
  problem: ArrangementProblem,
  bodies: readonly BuiltBody[],
  separationMm: number,
  edgeMm: number,
): Impossibility | null {
  if (bodies.length === 0) return null;
  return proveImpossible(needsAt(problem, bodies, separationMm, edgeMm));
}

/** Least common gap that is proven impossible, by halving; null without bodies. */
function gapBound(
  problem: ArrangementProblem,
  bodies: readonly BuiltBody[],
  region: Region,
): number | null {
  const cables = bodies.filter(({ isCord }) => !isCord);
  if (cables.length === 0) return null;
  let low = 0;
  let high = region.maxX - region.minX + (region.maxY - region.minY);
  if (impossibleAt(problem, bodies, 0, 0) !== null) return 0;
  for (let step = 0; step < 40; step++) {
    const middle = (low + high) / 2;
    if (impossibleAt(problem, bodies, middle, middle) === null) low = middle;
    else high = middle;
  }
  return high;
}

function largestGap(
  problem: ArrangementProblem,
  bodies: readonly BuiltBody[],
  region: Region,
  boundMm: number,
  random: SeededRandom,
): Growth {
  const solver = makeDiscSolver(gapProblem(problem, bodies, region, PAD_MM));
  return searchGrowth(
    solver,
    {
      startGrowth: boundMm,
      starts: STARTS[problem.effort],
      enough: boundMm - 1e-7,
      toleranceMm: 1e-8,
    },
    random,
  );
}

/** The layout of the largest gap when it is enough; else a search for the distances asked for. */
function layoutAsAsked(
  problem: ArrangementProblem,
  bodies: readonly BuiltBody[],
  region: Region,
  gap: Growth,
  random: SeededRandom,
): Growth | null {
  const judge = makeDiscSolver(askedProblem(problem, bodies, region, 0));
  if (judge.growthOf(gap.at) > 0) return gap;
  const solver = makeDiscSolver(askedProblem(problem, bodies, region, PAD_MM));
  for (let start = 0; start < STARTS[problem.effort]; start++) {
    const at = start === 0 ? gap.at.slice() : scatter(solver, random);
    solver.settle(at, 0, { maxSteps: 600, valueBelow: (PAD_MM * PAD_MM) / 4 });
    if (judge.growthOf(at) > 0) return { growth: judge.growthOf(at), at };
  }
  return null;
}

function proofText(
  problem: ArrangementProblem,
  proof: Impossibility | null,
  asked: Growth | null,
): string {
  if (proof !== null) return `${proof.name}: ${proof.text}`;
  if (asked !== null) {
    return 'coordinates: every distance between bodies and to the wall worked out from them is at least what was asked for.';
  }
  return `${2 * STARTS[problem.effort]} starts (effort ${problem.effort}) ended without an arrangement, and no proof excludes one.`;
}

function placeOf(body: BuiltBody, at: Float64Array, index: number): PlacedDisc {
  return { body, x: at[2 * index] as number, y: at[2 * index + 1] as number };
}

function solidsOf(placed: readonly PlacedDisc[]) {
  return placed.map(({ body, x, y }) => ({ x, y, reach: body.builtRadiusMm }));
}

function placedBodies({ body, x, y }: PlacedDisc): PlacedBody[] {
  return body.members.map(({ body: { ref, outline, fixedAt }, dx, dy }) => ({
    ref,
    xMm: x + dx,
    yMm: y + dy,
    outline,
    angleRad: fixedAt?.angleRad ?? 0,
    tube: body.tube,
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
  problem: ArrangementProblem,
  bodies: readonly BuiltBody[],
  region: Region,
  placed: readonly PlacedDisc[],
  tubes: readonly TubePlace[],
  random: SeededRandom,
): Spare {
  const fixed = largestExtraFixedMm(problem, region, placed);
  const starts = Math.max(2, STARTS[problem.effort] / 2);
  return {
    ...emptyTubes(problem, tubes),
    largestExtraFixedMm: fixed,
    largestExtraMovableMm: Math.max(
      fixed,
      largestExtraMovableMm(problem, region, bodies, starts, random),
    ),
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
  placed: readonly PlacedDisc[],
  tubes: readonly TubePlace[],
): number {
  const worn = new Map(
    placed.flatMap(({ body }) => body.members.map((m) => [m.body.ref, body.tube])),
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

/** More bodies than a search is made for: a proof, or a lattice with room for the largest at each point. */
function arrangeMany(
  problem: ArrangementProblem,
  bodies: readonly BuiltBody[],
  region: Region,
  proof: Impossibility | null,
  gapBoundMm: number | null,
): Arrangement {
  const own = Math.max(...bodies.map(({ ownRadiusMm }) => ownRadiusMm));
  const built = Math.max(...bodies.map(({ builtRadiusMm }) => builtRadiusMm));
  const isLattice = bodies.every(({ members }) => members[0]?.body.fixedAt === undefined);
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
  const placed = asked === null ? [] : bodies.map((body, i) => placeOf(body, asked, i));
  return {
    verdict: proof !== null ? 'cannot fit' : asked !== null ? 'fits' : 'not found',
    proof:
      proof === null && asked === null
        ? `${bodies.length} bodies are more than a search is made for (${MOST_SEARCHED}); on a lattice with room for the largest at each point they found none, and no proof excludes an arrangement.`
        : proofText(problem, proof, asked === null ? null : { growth: 0, at: asked }),
    separationMm: problem.separationMm,
    edgeMm: problem.edgeMm,
    gapMm,
    gapBoundMm,
    items: placed.flatMap((place) => placedBodies(place)),
    fillers: fillersOf(problem, bodies, [], asked !== null),
    spare: noSpare(problem),
    coveredRatio: coveredRatio(problem, region, placed, []),
  };
}

import type { Impossibility } from '../../geometry/packing/impossibility.ts';
import { PAD_MM } from '../../geometry/packing/pack-problem.ts';
import type { Arrangement } from '../../model/arrangement.ts';
import type { Job } from './job.ts';
import { latticeLayout } from './lattice-layout.ts';
import { partsOf } from './pack-needs.ts';
import { coveredRatio, fillersOf, noSpare, placedBodies, proofText } from './report.ts';

/** Above this the pair tables no longer pay; proofs and a lattice are still tried. */
export const MOST_SEARCHED = 300;

/** More bodies than a search is made for: a proof, or a lattice with room for the largest each. */
export function arrangeMany(
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

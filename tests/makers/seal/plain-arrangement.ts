import { shapeAreaMm2 } from '../../../src/geometry/shape.ts';
import type { Arrangement, ArrangementProblem } from '../../../src/model/arrangement.ts';

/**
 * An answer without a search, for tests and benchmarks of what comes after arranging: all bodies
 * at the middle, one tube of each size. Not an arrangement that could be built.
 */
export function plainArrangement(problem: ArrangementProblem): Arrangement {
  return {
    verdict: 'fits',
    proof: 'none: made for a test',
    separationMm: problem.separationMm,
    edgeMm: problem.edgeMm,
    gapMm: problem.separationMm,
    gapBoundMm: null,
    items: problem.bodies.map(({ ref, outline }) => ({
      ref,
      xMm: 0,
      yMm: 0,
      outline,
      angleRad: 0,
      tube: null,
    })),
    fillers: problem.fillers.map(({ name, outsideMm, boreMm }) => ({
      name,
      outsideMm,
      boreMm,
      count: 1,
      split: 0,
      positionsMm: [[0, 0]],
    })),
    spare: {
      emptyTubes: problem.fillers.length,
      largestThroughTubeMm: null,
      largestExtraFixedMm: 0,
      largestExtraMovableMm: 0,
      policyMore: null,
    },
    coveredRatio: shapeAreaMm2(problem.opening) > 0 ? 0.5 : 0,
  };
}

import type { PackProblem } from './pack-problem.ts';

/** What pairs of parts and parts to the wall must keep at one growth. */
export interface GrowthNeeds {
  /** Row by row, parts × parts, mm. */
  readonly pair: Float64Array;
  readonly wall: Float64Array;
  /** Works them out for a growth; counts up `version` when they change. */
  setGrowth(growth: number): void;
  readonly version: () => number;
}

export function growthNeeds(problem: PackProblem): GrowthNeeds {
  const { pairBase, pairSlope, pairFloor, wallBase, wallSlope, wallFloor } = problem;
  const pair = new Float64Array(pairBase.length);
  const wall = new Float64Array(wallBase.length);
  let setAt = Number.NaN;
  let version = 0;
  return {
    pair,
    wall,
    setGrowth: (growth) => {
      if (growth === setAt) return;
      setAt = growth;
      version++;
      needsAt(pair, growth, pairBase, pairSlope, pairFloor);
      needsAt(wall, growth, wallBase, wallSlope, wallFloor);
    },
    version: () => version,
  };
}

function needsAt(
  needs: Float64Array,
  growth: number,
  base: Float64Array,
  slope: Float64Array,
  floor: Float64Array,
): void {
  for (let k = 0; k < needs.length; k++) {
    const need = (base[k] as number) + growth * (slope[k] as number);
    const least = floor[k] as number;
    needs[k] = Math.max(need, least);
  }
}

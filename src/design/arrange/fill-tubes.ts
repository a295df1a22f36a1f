import { PAD_MM } from '../../geometry/packing/pack-problem.ts';
import { type Obstacles, pockets } from '../../geometry/packing/pockets.ts';
import type { Region } from '../../geometry/packing/region.ts';
import type { Vec2 } from '../../geometry/vec.ts';
import type { ArrangementProblem, FillerSize } from '../../model/arrangement.ts';

/** No seal takes more tubes of one size than this. */
const MOST_TUBES = 400;

export interface TubePlace {
  readonly filler: FillerSize;
  readonly at: Vec2;
}

/** Radius a tube takes when packed tight. */
export function pressedRadius(filler: FillerSize, problem: ArrangementProblem): number {
  return (filler.outsideMm / 2) * (1 - problem.packingAllowanceRatio);
}

/** Tubes larger size first, each into the pocket that lies lowest, until none fits. */
export function fillGreedily(
  problem: ArrangementProblem,
  region: Region,
  solids: Obstacles,
): TubePlace[] {
  const placed: TubePlace[] = [];
  const sizes = [...problem.fillers].sort((a, b) => b.outsideMm - a.outsideMm);
  for (const filler of sizes) {
    const radius = pressedRadius(filler, problem) + PAD_MM;
    const most = Math.min(MOST_TUBES, region.areaMm2 / (3 * radius * radius) + 1);
    for (let k = 0; k < most; k++) {
      const tubes = placed.map((tube) => ({
        x: tube.at[0],
        y: tube.at[1],
        reach: pressedRadius(tube.filler, problem),
      }));
      const obstacles = grown({ ...solids, rounds: [...solids.rounds, ...tubes] }, radius);
      const spot = lowest(pockets(region, obstacles, radius));
      if (spot === null) break;
      placed.push({ filler, at: spot });
    }
  }
  return placed;
}

/** Lowest, then leftmost: one fixed choice among the pockets. */
function lowest(spots: readonly Vec2[]): Vec2 | null {
  let best: Vec2 | null = null;
  for (const spot of spots) {
    if (best === null || spot[1] < best[1] || (spot[1] === best[1] && spot[0] < best[0]))
      best = spot;
  }
  return best;
}

/** The obstacles with `more` added to what is kept from each. */
export function grown({ rounds, boxes }: Obstacles, more: number): Obstacles {
  return {
    rounds: rounds.map(({ x, y, reach }) => ({ x, y, reach: reach + more })),
    boxes: boxes.map(({ box, reach }) => ({ box, reach: reach + more })),
  };
}

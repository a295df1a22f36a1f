import { PAD_MM } from '../../geometry/packing/pack-problem.ts';
import { fillPockets, type Obstacles } from '../../geometry/packing/pockets.ts';
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

/** Tubes beside those that stand already, larger size first, each into the pocket that lies lowest, until none fits. */
export function fillGreedily(
  problem: ArrangementProblem,
  region: Region,
  solids: Obstacles,
  standing: readonly TubePlace[] = [],
): TubePlace[] {
  const placed: TubePlace[] = [...standing];
  const sizes = [...problem.fillers].sort((a, b) => b.outsideMm - a.outsideMm);
  for (const filler of sizes) {
    const radius = pressedRadius(filler, problem) + PAD_MM;
    const tubes = placed.map((tube) => ({
      x: tube.at[0],
      y: tube.at[1],
      reach: pressedRadius(tube.filler, problem),
    }));
    const obstacles = grown({ ...solids, rounds: [...solids.rounds, ...tubes] }, radius);
    const spots = fillPockets(region, obstacles, radius, 2 * radius, MOST_TUBES);
    placed.push(...spots.map((at) => ({ filler, at })));
  }
  return placed;
}

/** The obstacles with `more` added to what is kept from each. */
function grown({ rounds, boxes }: Obstacles, more: number): Obstacles {
  return {
    rounds: rounds.map(({ x, y, reach }) => ({ x, y, reach: reach + more })),
    boxes: boxes.map(({ box, reach }) => ({ box, reach: reach + more })),
  };
}

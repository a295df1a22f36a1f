import type { GrowthNeeds } from './growth-needs.ts';
import type { Objective } from './lbfgs.ts';
import type { Neighbours } from './neighbours.ts';
import type { Region } from './region.ts';

/**
 * Squared shortfalls of a layout of single discs, with their gradient: the same as `bodyPressure`
 * gives, for the case that comes up most by far. The unknowns are the places themselves.
 */
export function discPressure(
  region: Region,
  needs: GrowthNeeds,
  neighbours: Neighbours,
  frozen: Int32Array,
): Objective {
  const wallPull = new Float64Array(2);
  return (at, gradient) => {
    const { pairs, needs: pairNeeds } = neighbours;
    const listed = neighbours.refresh(at);
    gradient.fill(0);
    let total = 0;
    for (let k = 0; k < listed; k++) {
      const i = 2 * (pairs[2 * k] as number);
      const j = 2 * (pairs[2 * k + 1] as number);
      const need = pairNeeds[k] as number;
      const dx = (at[j] as number) - (at[i] as number);
      const dy = (at[j + 1] as number) - (at[i + 1] as number);
      const squared = dx * dx + dy * dy;
      if (squared >= need * need || need <= 0) continue;
      const distance = Math.sqrt(squared);
      const short = need - distance;
      total += short * short;
      const push = distance > 0 ? (2 * short) / distance : 0;
      gradient[i] = (gradient[i] as number) + push * dx;
      gradient[i + 1] = (gradient[i + 1] as number) + push * dy;
      gradient[j] = (gradient[j] as number) - push * dx;
      gradient[j + 1] = (gradient[j + 1] as number) - push * dy;
    }
    const { wall } = needs;
    for (let i = 0; i < wall.length; i++) {
      const k = 2 * i;
      wallPull[0] = 0;
      wallPull[1] = 0;
      const need = wall[i] as number;
      const short = region.shortfall(at[k] as number, at[k + 1] as number, need, wallPull);
      if (short <= 0) continue;
      total += short;
      gradient[k] = (gradient[k] as number) + (wallPull[0] as number);
      gradient[k + 1] = (gradient[k + 1] as number) + (wallPull[1] as number);
    }
    for (let k = 0; k < frozen.length; k++) gradient[frozen[k] as number] = 0;
    return total;
  };
}

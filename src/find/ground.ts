import { lowestPointMm } from '../model/lowest-point.ts';
import type { Findings, Penetration, Whereabouts } from '../model/penetration.ts';
import type { Settings } from '../model/settings.ts';

/**
 * Findings with how far each hole lies below the ground and the water, and the face that therefore
 * can't be got at. Nothing is added where the project file gives no levels.
 */
export function withGround(findings: Findings, { ground }: Settings): Findings {
  if (ground.levelMm === undefined && ground.waterLevelMm === undefined) return findings;
  return {
    ...findings,
    penetrations: findings.penetrations.map((penetration) => ({
      ...penetration,
      where: { ...penetration.where, ...belowGround(penetration, ground) },
    })),
  };
}

function belowGround(
  penetration: Penetration,
  { levelMm, waterLevelMm }: Settings['ground'],
): Pick<Whereabouts, 'belowGroundMm' | 'belowWaterMm' | 'outOfReach'> {
  const lowest = lowestPointMm(penetration);
  const below = (level: number | undefined): number =>
    level === undefined ? 0 : Math.round(level - lowest);
  const [groundMm, waterMm] = [below(levelMm), below(waterLevelMm)];
  const { outside } = penetration.where;
  return {
    ...(groundMm > 0 ? { belowGroundMm: groundMm } : {}),
    ...(waterMm > 0 ? { belowWaterMm: waterMm } : {}),
    ...(groundMm > 0 && outside !== null
      ? { outOfReach: { side: outside, why: 'it lies against the ground' } }
      : {}),
  };
}

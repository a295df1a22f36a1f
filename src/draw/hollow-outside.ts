import type { Penetration } from '../model/penetration.ts';
import type { Seal } from '../model/seal.ts';

/** Outside of the hollow body round a sealed bore; null for an annulus or a size that is not known. */
export function hollowOutside(seal: Seal, penetration: Penetration | undefined): number | null {
  if (seal.path !== 'bore' || seal.opening?.type !== 'circle') return null;
  const section = penetration?.crossings.find(({ id }) => id === seal.of)?.section;
  if (section?.type !== 'circle' || section.diameterMm <= seal.opening.diameterMm) return null;
  return section.diameterMm;
}

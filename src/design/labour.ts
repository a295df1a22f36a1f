import type { Penetration } from '../model/penetration.ts';
import type { LabourRate } from '../model/range.ts';
import type { Seal } from '../model/seal.ts';

/**
 * Hours of one rate for one seal: per seal, face and cable, times the factors for height, slabs
 * and wet work that apply.
 * @source The user's rate table; no public norm exists.
 */
export function labourHours(rate: LabourRate, seal: Seal, penetration: Penetration | null): number {
  const plain =
    rate.hoursPerSeal + rate.hoursPerFace * seal.faces + rate.hoursPerCable * bodiesNow(seal);
  const heightMm = penetration?.where.heightAboveLevelMm ?? null;
  const isHigh = rate.high !== undefined && heightMm !== null && heightMm > rate.high.aboveMm;
  const isSlab = penetration?.hosts.some(({ kind }) => kind === 'slab' || kind === 'roof') ?? false;
  const isWet = seal.duties.some(({ kind, headM }) => kind === 'water' && (headM ?? 1) > 0);
  return (
    plain *
    (isHigh ? (rate.high?.factor ?? 1) : 1) *
    (isSlab ? rate.slabFactor : 1) *
    (isWet ? rate.wetFactor : 1)
  );
}

/** What passes at present; cables of later stages are worked round when they come. */
export function bodiesNow({ stages, bodies }: Seal): number {
  return stages?.[0]?.refs.length ?? bodies.length;
}

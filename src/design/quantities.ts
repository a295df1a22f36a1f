import type { Arrangement } from '../model/arrangement.ts';
import type { Range, Sealant } from '../model/range.ts';
import type { FillerQuantity, SealantQuantity } from '../model/seal.ts';
import { smallestWasteMix } from './containers.ts';

const MM3_PER_ML = 1000;

/** What adds to the net volume; always shown apart from it. */
export interface Allowances {
  /** How far the finished face stands proud, so that water runs off; mm over the free area. */
  readonly overfillMm: number;
  /** 0–1, of the volume with overfill. */
  readonly wasteRatio: number;
  /** Sloped or irregular faces; 1 for a plain one. */
  readonly faceFactor?: number;
}

/**
 * Volume of one sealant layer, ml: free area × depth. Fillers stop at the set-back, so the layer is
 * solid across them and only what passes is taken off the area.
 * @source Shared reference take-off cases, rule "net"; `common practice, no source` for the
 * set-back as the layer's depth.
 */
export function layerVolumeMl(freeAreaMm2: number, depthMm: number): number {
  return (freeAreaMm2 * depthMm) / MM3_PER_ML;
}

/**
 * The same with overfill and waste, ml: free area × (depth + overfill) × (1 + waste).
 * @source Engineering rules §5.
 */
export function grossVolumeMl(
  freeAreaMm2: number,
  depthMm: number,
  allowances: Allowances,
): number {
  return (
    layerVolumeMl(freeAreaMm2, depthMm + allowances.overfillMm) *
    (1 + allowances.wasteRatio) *
    (allowances.faceFactor ?? 1)
  );
}

/** Sealant of one seal: net and gross, and the containers this seal alone takes. */
export function sealantQuantity(
  sealant: Sealant,
  freeAreaMm2: number,
  depthMm: number,
  faces: number,
  allowances: Allowances,
): SealantQuantity {
  const perFaceMl = layerVolumeMl(freeAreaMm2, depthMm);
  const withAllowancesMl = grossVolumeMl(freeAreaMm2, depthMm, allowances) * faces;
  return {
    name: sealant.name,
    perFaceMl,
    faces,
    netMl: perFaceMl * faces,
    withAllowancesMl,
    containers: smallestWasteMix(withAllowancesMl, sealant),
  };
}

/**
 * Tubes of one seal by size. Each sealed face needs a set of its own, unless one length reaches
 * from set-back to set-back; it is then cut to that length.
 */
export function fillerQuantities(
  arrangement: Arrangement,
  range: Range,
  place: {
    readonly faces: number;
    readonly setBackMm: number;
    /** Depth of the host; null where it is not known. */
    readonly thicknessMm: number | null;
  },
): FillerQuantity[] {
  const tubes = new Map(range.fillers.map((tube) => [tube.name, tube]));
  return arrangement.fillers
    .filter(({ count, split }) => count + split > 0)
    .map(({ name, count, split }) => {
      const fullMm = tubes.get(name)?.lengthMm ?? 0;
      const betweenMm =
        place.thicknessMm === null ? null : place.thicknessMm - place.faces * place.setBackMm;
      const reachesBoth = place.faces === 2 && betweenMm !== null && fullMm >= betweenMm;
      return {
        name,
        whole: count,
        split,
        lengthMm: betweenMm === null ? fullMm : cutLengthMm(fullMm, betweenMm),
        sets: reachesBoth ? 1 : place.faces,
      };
    });
}

/** What a saw can cut: whole millimetres, so that equal pieces are one line of an order. */
function cutLengthMm(fullMm: number, betweenMm: number): number {
  return betweenMm >= fullMm ? fullMm : Math.max(0, Math.floor(betweenMm + 1e-6));
}

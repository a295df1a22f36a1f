import type { Shape } from '../geometry/shape.ts';
import type { Vec2 } from '../geometry/vec.ts';

/** Weight of fresh water, kN/m³. @source ρ = 1000 kg/m³, g = 9.81 m/s². */
const FRESH_WATER_KN_M3 = 9.81;

/** Pressure at a depth below the water's surface, kPa. @source p = ρ g h. */
export function pressureKPa(headM: number, weightKNM3 = FRESH_WATER_KN_M3): number {
  return Math.max(0, headM) * weightKNM3;
}

/** What water does to a plane opening. */
export interface WaterLoad {
  /** At the lowest point, kPa. */
  readonly peakPressureKPa: number;
  /** On the submerged part, N. */
  readonly thrustN: number;
  readonly submergedAreaMm2: number;
  /** How far below the shape's origin the thrust acts, along the plane, mm; null when dry. */
  readonly centreBelowOriginMm: number | null;
}

/**
 * Water against an opening whose plane leans `slope` (1 upright, 0 level): the surface lies
 * `headAtOriginM` above the shape's origin. Only the part below the surface counts.
 * @source Hydrostatics of plane surfaces: F = γ ∫ h dA, centre of pressure ∫ h y dA / ∫ h dA.
 */
export function waterLoad(
  shape: Shape,
  headAtOriginM: number,
  slope = 1,
  weightKNM3 = FRESH_WATER_KN_M3,
): WaterLoad {
  const strips = stripsOf(shape);
  const headMm = headAtOriginM * 1000;
  let areaMm2 = 0;
  let headAreaMm3 = 0;
  let momentMm4 = 0;
  let lowestMm = Infinity;
  // Highest y that is wet; all of it where the plane lies level under water.
  const surfaceMm = slope > 1e-9 ? headMm / slope : headMm > 0 ? Infinity : -Infinity;
  for (const strip of strips) {
    if (strip.fromMm >= surfaceMm) continue;
    lowestMm = Math.min(lowestMm, strip.fromMm);
    eachSample(strip, Math.min(strip.toMm, surfaceMm), (y, areaHereMm2) => {
      const depthMm = headMm - y * slope;
      areaMm2 += areaHereMm2;
      headAreaMm3 += depthMm * areaHereMm2;
      momentMm4 += depthMm * y * areaHereMm2;
    });
  }
  const newtonPerMm3 = weightKNM3 * 1e-6;
  return {
    peakPressureKPa: Number.isFinite(lowestMm)
      ? pressureKPa((headMm - lowestMm * slope) / 1000, weightKNM3)
      : 0,
    thrustN: Math.max(0, headAreaMm3) * newtonPerMm3,
    submergedAreaMm2: Math.max(0, areaMm2),
    centreBelowOriginMm: headAreaMm3 > 0 ? -momentMm4 / headAreaMm3 : null,
  };
}

/** A horizontal slice of an outline whose width is smooth from bottom to top. */
interface Strip {
  readonly fromMm: number;
  readonly toMm: number;
  /** Width at a height; negative for what is taken off. */
  readonly widthMm: (y: number) => number;
  /** Radius-like half height when the ends are round, so that samples crowd there; else null. */
  readonly round: { readonly centreMm: number; readonly halfMm: number } | null;
}

function stripsOf(shape: Shape): Strip[] {
  switch (shape.type) {
    case 'circle':
      return [ellipseStrip(shape.diameterMm / 2, shape.diameterMm / 2, 0)];
    case 'oval':
      return [ellipseStrip(shape.lengthMm / 2, shape.widthMm / 2, 0)];
    case 'rectangle':
      return [plainStrip(-shape.heightMm / 2, shape.heightMm / 2, () => shape.widthMm)];
    case 'slot': {
      const half = shape.widthMm / 2;
      return [ellipseStrip(half, half, shape.lengthMm - shape.widthMm)];
    }
    case 'polygon':
      return [
        ...polygonStrips(shape.pointsMm, 1),
        ...(shape.islandsMm ?? []).flatMap((island) => polygonStrips(island, -1)),
      ];
  }
}

function plainStrip(fromMm: number, toMm: number, widthMm: Strip['widthMm']): Strip {
  return { fromMm, toMm, widthMm, round: null };
}

function ellipseStrip(semiXMm: number, semiYMm: number, addedMm: number): Strip {
  return {
    fromMm: -semiYMm,
    toMm: semiYMm,
    widthMm: (y) => addedMm + 2 * semiXMm * Math.sqrt(Math.max(0, 1 - (y / semiYMm) ** 2)),
    round: { centreMm: 0, halfMm: semiYMm },
  };
}

/**
 * An outline as one signed strip an edge (Green's theorem): the area left of each edge counts up
 * where the edge runs up and down where it runs down, so the sum is the inside.
 */
function polygonStrips(points: readonly Vec2[], sign: 1 | -1): Strip[] {
  const turn = isAnticlockwise(points) ? sign : -sign;
  const strips: Strip[] = [];
  let previous = points[points.length - 1];
  for (const point of points) {
    if (previous !== undefined && previous[1] !== point[1]) {
      const [low, high] = previous[1] < point[1] ? [previous, point] : [point, previous];
      const direction = previous[1] < point[1] ? turn : -turn;
      strips.push(
        plainStrip(low[1], high[1], (y) => {
          const ratio = (y - low[1]) / (high[1] - low[1]);
          return direction * (low[0] + (high[0] - low[0]) * ratio);
        }),
      );
    }
    previous = point;
  }
  return strips;
}

function isAnticlockwise(points: readonly Vec2[]): boolean {
  let doubled = 0;
  let previous = points[points.length - 1];
  for (const point of points) {
    if (previous !== undefined) doubled += previous[0] * point[1] - point[0] * previous[1];
    previous = point;
  }
  return doubled > 0;
}

/**
 * Calls back with heights and the area each stands for, so that sums are integrals. Exact for
 * straight sides; round ends are integrated over the angle, where their width is smooth.
 * @source Gauss–Legendre quadrature, 8 points a panel (Abramowitz & Stegun, table 25.4).
 */
function eachSample(strip: Strip, topMm: number, take: (y: number, areaMm2: number) => void): void {
  const { fromMm, widthMm, round } = strip;
  if (round === null) {
    eachGauss(fromMm, topMm, 1, (y, weight) => take(y, widthMm(y) * weight));
    return;
  }
  const top = Math.asin(Math.min(1, Math.max(-1, (topMm - round.centreMm) / round.halfMm)));
  eachGauss(-Math.PI / 2, top, 4, (angle, weight) => {
    const y = round.centreMm + round.halfMm * Math.sin(angle);
    take(y, widthMm(y) * round.halfMm * Math.cos(angle) * weight);
  });
}

const GAUSS_8: readonly (readonly [node: number, weight: number])[] = [
  [0.1834346424956498, 0.362683783378362],
  [0.525532409916329, 0.3137066458778873],
  [0.7966664774136267, 0.2223810344533745],
  [0.9602898564975363, 0.1012285362903763],
];

function eachGauss(
  from: number,
  to: number,
  panels: number,
  take: (at: number, weight: number) => void,
): void {
  const half = (to - from) / panels / 2;
  for (let panel = 0; panel < panels; panel += 1) {
    const middle = from + half * (2 * panel + 1);
    for (const [node, weight] of GAUSS_8) {
      take(middle - half * node, half * weight);
      take(middle + half * node, half * weight);
    }
  }
}

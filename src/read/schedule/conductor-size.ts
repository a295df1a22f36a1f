/** One thousand circular mils, mm². Exact: (π/4)·(25.4 mm)²·10⁻³. */
export const KCMIL_MM2 = (Math.PI / 4) * 25.4 ** 2 * 1e-3;

/**
 * Area of a solid wire by American wire gauge, mm². Gauge 0 is 1/0, −1 is 2/0, −2 is 3/0, −3 is 4/0.
 * @source ASTM B258: diameter 0.005 in × 92^((36 − n)/39) (from memory).
 */
export function awgAreaMm2(gauge: number): number {
  const diameterMm = 0.127 * 92 ** ((36 - gauge) / 39);
  return (Math.PI / 4) * diameterMm ** 2;
}

/** Conductor sizes of IEC 60228, mm² (from memory). */
const METRIC_SIZES_MM2 = [
  0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10, 16, 25, 35, 50, 70, 95, 120, 150, 185, 240, 300, 400, 500, 630,
  800, 1000, 1200, 1400, 1600, 1800, 2000, 2500,
];
/** Further sizes of JIS C 3605 and others, mm² (from memory). */
const OTHER_SIZES_MM2 = [1.25, 2, 3.5, 5.5, 8, 14, 22, 38, 60, 80, 100, 125, 200, 250, 325];
const SMALL_SIZE_MM2 = 0.5;

/** Whether conductors are made in this size; below 0.5 mm² in any. */
export function isUsualSize(sizeMm2: number): boolean {
  if (sizeMm2 < SMALL_SIZE_MM2) return sizeMm2 > 0;
  const gauges = Array.from({ length: 24 }, (_, at) => awgAreaMm2(at - 3));
  const kcmils = Array.from({ length: 40 }, (_, at) => (at + 1) * 50 * KCMIL_MM2);
  return [...METRIC_SIZES_MM2, ...OTHER_SIZES_MM2, ...gauges, ...kcmils].some(
    (usual) => Math.abs(sizeMm2 / usual - 1) < 0.015,
  );
}

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
export const STANDARD_SIZES_MM2: readonly number[] = [
  0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10, 16, 25, 35, 50, 70, 95, 120, 150, 185, 240, 300, 400, 500, 630,
  800, 1000, 1200, 1400, 1600, 1800, 2000, 2500,
];

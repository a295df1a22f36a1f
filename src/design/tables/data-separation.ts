/** Segregation class of a data cable: a unscreened and weak, d the best screened. */
export type SegregationClass = 'a' | 'b' | 'c' | 'd';

export type Containment =
  | 'none or non-metallic'
  | 'open metallic'
  | 'perforated metallic'
  | 'solid metallic';

/**
 * Least separation S by class and containment, mm.
 * @source EN 50174-2, table of S: classes b, c, d as printed in an electrical handbook (2017); class
 * a from memory.
 */
const SEPARATION_MM: Readonly<Record<SegregationClass, Readonly<Record<Containment, number>>>> = {
  a: {
    'none or non-metallic': 300,
    'open metallic': 225,
    'perforated metallic': 150,
    'solid metallic': 0,
  },
  b: {
    'none or non-metallic': 100,
    'open metallic': 75,
    'perforated metallic': 50,
    'solid metallic': 0,
  },
  c: {
    'none or non-metallic': 50,
    'open metallic': 38,
    'perforated metallic': 25,
    'solid metallic': 0,
  },
  d: {
    'none or non-metallic': 10,
    'open metallic': 8,
    'perforated metallic': 5,
    'solid metallic': 0,
  },
};

/**
 * Factor P by the number of power circuits (single-phase, at most 20 A each).
 * @source EN 50174-2, table of P, as printed in an electrical handbook (2017).
 */
const POWER_FACTOR: readonly (readonly [most: number, factor: number])[] = [
  [3, 0.2],
  [6, 0.4],
  [9, 0.6],
  [12, 0.8],
  [15, 1],
  [30, 2],
  [45, 3],
  [60, 4],
  [75, 5],
];
const POWER_FACTOR_ABOVE = 6;

/** Factor P for a number of circuits; 0 for none. */
export function powerFactor(circuits: number): number {
  if (circuits <= 0) return 0;
  return POWER_FACTOR.find(([most]) => circuits <= most)?.[1] ?? POWER_FACTOR_ABOVE;
}

/** Least distance between data and power cables, mm. @source EN 50174-2: A = S · P. */
export function dataSeparationMm(
  segregation: SegregationClass,
  containment: Containment,
  circuits: number,
): number {
  return SEPARATION_MM[segregation][containment] * powerFactor(circuits);
}

export const DATA_SEPARATION_SOURCE = 'EN 50174-2, A = S · P';

/** Fixed distance without a divider. @source BS 6701; NFPA 70 800.133 (number from memory). */
export const FIXED_SEPARATION_MM = 50;

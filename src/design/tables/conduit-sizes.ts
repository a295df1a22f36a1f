/** A size of conduit or duct: what it is called, its outside and its clear bore. */
export interface ConduitSize {
  readonly family: string;
  readonly standard: string;
  /** As written on drawings: "110", "1-1/4 in". */
  readonly nominal: string;
  readonly outsideMm: number;
  readonly boreMm: number;
  /** `read` from a published table, or `from memory`: plausible, to be measured. */
  readonly status: 'read' | 'from memory';
}

type Row = readonly [nominal: string, outsideMm: number, boreMm: number];

function family(
  name: string,
  standard: string,
  status: ConduitSize['status'],
  rows: readonly Row[],
): ConduitSize[] {
  return rows.map(([nominal, outsideMm, boreMm]) => ({
    family: name,
    standard,
    nominal,
    outsideMm,
    boreMm,
    status,
  }));
}

/**
 * Common conduits and ducts by family.
 * @source NFPA 70 ch. 9 table 4 for EMT and PVC schedule 40 bores (x 25.4); ASTM D3035 for smooth
 * PE duct SDR 13.5; published dimension table of BS 4568 / EN 61386-21 for threaded steel conduit;
 * EN 61386-24, EN 1401-1 and EN 12201-2 sizes from memory.
 */
export const CONDUIT_SIZES: readonly ConduitSize[] = [
  ...family('EMT', 'NEC ch. 9 table 4', 'read', [
    ['1/2 in', 17.93, 15.8],
    ['3/4 in', 23.42, 20.93],
    ['1 in', 29.54, 26.64],
    ['1-1/4 in', 38.35, 35.05],
    ['1-1/2 in', 44.2, 40.89],
    ['2 in', 55.8, 52.5],
    ['2-1/2 in', 73.02, 69.37],
    ['3 in', 88.9, 85.24],
    ['3-1/2 in', 101.6, 97.38],
    ['4 in', 114.3, 110.08],
  ]),
  ...family('PVC conduit schedule 40', 'NEC ch. 9 table 4', 'read', [
    ['1/2 in', 21.34, 15.29],
    ['3/4 in', 26.67, 20.42],
    ['1 in', 33.4, 26.14],
    ['1-1/4 in', 42.16, 34.54],
    ['1-1/2 in', 48.26, 40.39],
    ['2 in', 60.32, 51.99],
    ['2-1/2 in', 73.02, 62.1],
    ['3 in', 88.9, 77.27],
    ['3-1/2 in', 101.6, 89.43],
    ['4 in', 114.3, 101.55],
    ['5 in', 141.3, 127.41],
    ['6 in', 168.27, 153.19],
  ]),
  ...family('PE duct, smooth, SDR 13.5', 'ASTM D3035', 'read', [
    ['1/2 in', 21.34, 17.68],
    ['3/4 in', 26.67, 22.2],
    ['1 in', 33.4, 27.97],
    ['1-1/4 in', 42.16, 35.41],
    ['1-1/2 in', 48.26, 40.59],
    ['2 in', 60.32, 50.85],
    ['3 in', 88.9, 74.96],
    ['4 in', 114.3, 96.37],
  ]),
  ...family('Steel conduit, threaded', 'EN 61386-21 / BS 4568 sizes, IEC 60423 thread', 'read', [
    ['16', 16.0, 13.2],
    ['20', 20.0, 16.8],
    ['25', 25.0, 21.8],
    ['32', 32.0, 28.8],
    ['40', 40.0, 36.8],
    ['50', 50.0, 46.8],
  ]),
  ...family('Buried conduit, nominal = OD', 'EN 61386-24', 'from memory', [
    ['25', 25.0, 18.0],
    ['32', 32.0, 24.0],
    ['40', 40.0, 30.0],
    ['50', 50.0, 37.0],
    ['63', 63.0, 47.0],
    ['75', 75.0, 56.0],
    ['90', 90.0, 67.0],
    ['110', 110.0, 82.0],
    ['125', 125.0, 94.0],
    ['140', 140.0, 106.0],
    ['160', 160.0, 120.0],
    ['180', 180.0, 135.0],
    ['200', 200.0, 150.0],
    ['225', 225.0, 170.0],
    ['250', 250.0, 188.0],
  ]),
  ...family('Twin-wall corrugated PE duct, typical', 'EN 61386-24', 'from memory', [
    ['40', 40.0, 32.0],
    ['50', 50.0, 41.0],
    ['63', 63.0, 52.0],
    ['75', 75.0, 62.0],
    ['90', 90.0, 76.0],
    ['110', 110.0, 94.0],
    ['125', 125.0, 107.0],
    ['160', 160.0, 136.0],
    ['200', 200.0, 171.0],
  ]),
  ...family('PVC-U solid-wall pipe used as duct', 'EN 1401-1 sizes', 'from memory', [
    ['110', 110.0, 103.6],
    ['125', 125.0, 118.6],
    ['160', 160.0, 152.0],
    ['160', 160.0, 150.6],
    ['200', 200.0, 190.2],
    ['200', 200.0, 188.2],
  ]),
  ...family('PE100 solid-wall pipe SDR 11 used as duct', 'EN 12201-2 sizes', 'from memory', [
    ['32', 32.0, 26.0],
    ['40', 40.0, 32.6],
    ['50', 50.0, 40.8],
    ['63', 63.0, 51.4],
    ['90', 90.0, 73.6],
    ['110', 110.0, 90.0],
    ['125', 125.0, 102.2],
    ['160', 160.0, 130.8],
    ['180', 180.0, 147.2],
    ['200', 200.0, 163.6],
  ]),
];

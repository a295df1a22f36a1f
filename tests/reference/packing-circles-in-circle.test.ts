import { readFileSync } from 'node:fs';
import { expect } from 'vitest';
import { smallestCircle } from '../makers/openings/smallest-circle.ts';
import { sharedPath, testWith } from '../set-up/outside.ts';

interface Table {
  readonly values: readonly {
    readonly n: number;
    readonly ratio?: number;
    readonly R?: number;
    readonly R_computed?: number;
  }[];
}

function tableOf(name: string): Table {
  return JSON.parse(readFileSync(sharedPath('reference', name), 'utf8')) as Table;
}

/** Radius by the coordinates alone: enclosing circle about the origin, after the closest pair. */
function radiusByCoordinates(radii: readonly number[], at: Float64Array): number {
  let scale = 1;
  let radius = 0;
  radii.forEach((a, i) => {
    const x = at[2 * i] ?? 0;
    const y = at[2 * i + 1] ?? 0;
    radius = Math.max(radius, Math.hypot(x, y) + a);
    radii.slice(0, i).forEach((b, j) => {
      const apart = Math.hypot(x - (at[2 * j] ?? 0), y - (at[2 * j + 1] ?? 0));
      scale = Math.max(scale, (a + b) / apart);
    });
  });
  return radius * scale;
}

/** Reached to rounding here; the others are only looked at briefly (the bench takes its time). */
const MUST_REACH = new Set([2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 19, 30, 37, 61]);

// Best known R/r of equal circles in a circle: reference/circles-in-circle.json (public benchmark
// table, checked there against papers and closed forms).
testWith(['shared'], 'equal circles reach the table and never pass below it', () => {
  const { values } = tableOf('circles-in-circle.json');
  const gaps: string[] = [];
  for (const { n, ratio = 0 } of values) {
    const work = MUST_REACH.has(n) ? 20_000_000 : 3000 * n;
    const radii = Array.from({ length: n }, () => 1);
    const found = smallestCircle(radii, { work, seed: 1, enough: ratio * (1 + 1e-9) });
    const gap = found.radius / ratio - 1;
    expect(radiusByCoordinates(radii, found.at) / found.radius - 1).toBeLessThan(1e-12);
    // Below the table would mean an overlap, or a record.
    expect(gap).toBeGreaterThan(-1e-12);
    if (MUST_REACH.has(n)) {
      expect(gap, `n = ${n}`).toBeLessThan(1e-9);
    }
    expect(gap, `n = ${n}`).toBeLessThan(0.03);
    gaps.push(`${n}: ${gap.toExponential(1)}`);
  }
  expect(gaps.length).toBe(values.length);
});

// Radii 1 to n: reference/circles-radii-1-to-n.json (arXiv 1306.0694, table 4; last digit cut off).
testWith(['shared'], 'radii 1 to n come close to the table and never pass below it', () => {
  const { values } = tableOf('circles-radii-1-to-n.json');
  for (const { n, R = 0, R_computed } of values) {
    const best = R_computed ?? R;
    const radii = Array.from({ length: n }, (_, k) => k + 1);
    const work = n <= 10 ? 20_000_000 : 400_000;
    const found = smallestCircle(radii, { work, seed: 1, enough: best * (1 + 1e-7) });
    const gap = found.radius / best - 1;
    expect(radiusByCoordinates(radii, found.at) / found.radius - 1).toBeLessThan(1e-12);
    expect(gap, `n = ${n}`).toBeGreaterThan(-2e-9);
    expect(gap, `n = ${n}`).toBeLessThan(n <= 10 ? 1e-6 : 0.06);
  }
});

import { readFileSync } from 'node:fs';
import { expect } from 'vitest';
import { arrange } from '../../src/design/arrange/arrange.ts';
import { checkArrangement } from '../checker/check-arrangement.ts';
import { cables, problemOf } from '../makers/openings/feasible-openings.ts';
import { smallestCircle } from '../makers/openings/smallest-circle.ts';
import { sharedPath, testWith } from '../set-up/outside.ts';

interface Pins {
  readonly pins: readonly { readonly id: string; readonly value: number }[];
  readonly filler_tubes_empty_opening: {
    readonly cases: readonly {
      readonly duct_bore_mm: number;
      readonly tube_od_mm: number;
      readonly count: number;
    }[];
  };
}

function pins(): Pins {
  return JSON.parse(readFileSync(sharedPath('reference', 'geometry-pins.json'), 'utf8')) as Pins;
}

const pin = (id: string) => pins().pins.find((one) => one.id === id)?.value ?? Number.NaN;

// reference/geometry-pins.json: closed forms, computed there.
testWith(['shared'], 'smallest circles round two, three, four and seven cables', () => {
  for (const [id, count] of [
    ['two-circumscribed-2x37', 2],
    ['trefoil-circumscribed-3x37', 3],
    ['quad-circumscribed-4x37', 4],
    ['seven-circumscribed-7x37', 7],
  ] as const) {
    const radii = Array.from({ length: count }, () => 18.5);
    const found = smallestCircle(radii, { work: 2_000_000, seed: 1, enough: pin(id) / 2 + 1e-9 });
    expect(2 * found.radius, id).toBeCloseTo(pin(id), 6);
  }
});

testWith(['shared'], 'pockets of a trefoil: the largest cable beside three that stand', () => {
  const outer = pin('trefoil-circumscribed-3x37');
  const reach = 37 / Math.sqrt(3);
  const standing = cables([3, 37]).map((body, k) => ({
    ...body,
    fixedAt: {
      xMm: reach * Math.sin((2 * Math.PI * k) / 3),
      yMm: reach * Math.cos((2 * Math.PI * k) / 3),
    },
  }));
  const wide = { type: 'circle' as const, diameterMm: outer + 1e-4 };
  const answer = arrange(problemOf(wide, standing, { separationMm: 0, edgeMm: 0 }));
  expect(answer.verdict).toBe('fits');
  expect(answer.spare.largestExtraFixedMm).toBeCloseTo(pin('trefoil-outer-pocket-3x37'), 3);
});

testWith(['shared'], 'cables held 20 mm apart and off the wall', () => {
  const bore = pin('trefoil-spaced-20-wall-20');
  const asked = { separationMm: 20, edgeMm: 20 };
  const problem = (diameterMm: number) =>
    problemOf({ type: 'circle', diameterMm }, cables([3, 37]), asked);
  expect(arrange(problem(bore + 1e-4)).verdict).toBe('fits');
  expect(arrange(problem(bore - 1e-4)).verdict).toBe('cannot fit');
});

// Counts that certainly fit, from the best known packings; the larger count is only excluded by
// proof up to n = 14 and at 19.
testWith(['shared'], 'tubes in an empty duct reach the counts of the best known packings', () => {
  for (const { duct_bore_mm, tube_od_mm, count } of pins().filler_tubes_empty_opening.cases) {
    const tube = {
      name: 'tube',
      outsideMm: tube_od_mm,
      boreMm: tube_od_mm - 6,
      lengthMm: 150,
      takesCableMm: null,
    };
    const problem = problemOf({ type: 'circle', diameterMm: duct_bore_mm }, [], {
      fillers: [tube],
      effort: 'normal',
    });
    const answer = arrange(problem);
    expect(checkArrangement(problem, answer).faults).toEqual([]);
    expect(answer.fillers[0]?.count, `${tube_od_mm} in ${duct_bore_mm}`).toBe(count);
  }
});

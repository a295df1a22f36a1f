import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import {
  type Containment,
  dataSeparationMm,
  powerFactor,
  type SegregationClass,
} from '../../src/design/tables/data-separation.ts';
import { sharedPath, testWith } from '../set-up/outside.ts';

// EN 50174-2, A = S · P; S for classes b to d and P read from an electrical handbook (2017), class
// a from memory.
test.each([
  ['b', 'none or non-metallic', 7, 60],
  ['c', 'open metallic', 3, 7.6],
  ['d', 'perforated metallic', 30, 10],
  // The handbook prints 400 here; S × P is 450, as in its other 119 cells.
  ['b', 'open metallic', 76, 450],
  ['a', 'none or non-metallic', 3, 60],
  ['b', 'solid metallic', 60, 0],
  ['c', 'none or non-metallic', 15, 50],
  ['c', 'none or non-metallic', 16, 100],
] as const)('class %s, %s, %i circuits: %d mm', (name, containment, circuits, expected) => {
  expect(dataSeparationMm(name, containment, circuits)).toBeCloseTo(expected, 9);
});

testWith(['shared'], 'every row of the reference file', () => {
  const file = JSON.parse(
    readFileSync(sharedPath('reference', 'data-separation.json'), 'utf8'),
  ) as {
    S_by_class: { segregation_class: SegregationClass; S_mm: Record<string, number> }[];
    P_by_circuits: { circuits: string; P: number }[];
  };
  const names: Record<string, Containment> = {
    'none or non-metallic': 'none or non-metallic',
    'open metallic (ladder, mesh)': 'open metallic',
    'perforated metallic tray': 'perforated metallic',
    'solid metallic, closed': 'solid metallic',
  };
  for (const { circuits, P } of file.P_by_circuits) {
    const bounds = [...circuits.matchAll(/\d+/g)].map(([text]) => Number(text));
    const tried = circuits.startsWith('over') ? bounds.map((most) => most + 1) : bounds;
    for (const count of tried) expect(powerFactor(count), circuits).toBe(P);
    for (const row of file.S_by_class) {
      for (const [containment, S] of Object.entries(row.S_mm)) {
        const ours = names[containment];
        if (ours === undefined) throw new Error(`unknown containment ${containment}`);
        const count = tried[0] ?? 0;
        expect(dataSeparationMm(row.segregation_class, ours, count)).toBeCloseTo(S * P, 9);
      }
    }
  }
});

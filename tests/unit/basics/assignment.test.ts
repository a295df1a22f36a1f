import fc from 'fast-check';
import { expect, test } from 'vitest';
import { assign } from '../../../src/basics/assignment.ts';

const UNASSIGNED = 100;

function total(costs: readonly (readonly number[])[], answer: readonly (number | null)[]): number {
  return answer.reduce<number>(
    (sum, column, row) =>
      sum + (column === null ? UNASSIGNED : (costs[row]?.[column] ?? Number.NaN)),
    0,
  );
}

/** Tries every assignment. */
function cheapest(
  costs: readonly (readonly number[])[],
  row = 0,
  taken = new Set<number>(),
): number {
  const line = costs[row];
  if (line === undefined) return 0;
  let best = UNASSIGNED + cheapest(costs, row + 1, taken);
  for (const [column, cost] of line.entries()) {
    if (taken.has(column) || !Number.isFinite(cost)) continue;
    best = Math.min(best, cost + cheapest(costs, row + 1, new Set([...taken, column])));
  }
  return best;
}

test('the textbook trap: the nearest pair first would cost more in all', () => {
  expect(
    assign(
      [
        [1, 2],
        [2, 50],
      ],
      UNASSIGNED,
    ),
  ).toEqual([1, 0]);
});

test('a row with no allowed column stays alone', () => {
  expect(assign([[Number.POSITIVE_INFINITY], [3]], UNASSIGNED)).toEqual([null, 0]);
  expect(assign([], UNASSIGNED)).toEqual([]);
});

test('as cheap as trying every assignment, and one-to-one', () => {
  const cost = fc.oneof(fc.integer({ min: 0, max: 60 }), fc.constant(Number.POSITIVE_INFINITY));
  const matrix = fc
    .tuple(fc.integer({ min: 1, max: 5 }), fc.integer({ min: 1, max: 5 }))
    .chain(([rows, columns]) =>
      fc.array(fc.array(cost, { minLength: columns, maxLength: columns }), {
        minLength: rows,
        maxLength: rows,
      }),
    );
  fc.assert(
    fc.property(matrix, (costs) => {
      const answer = assign(costs, UNASSIGNED);
      expect(total(costs, answer)).toBe(cheapest(costs));
      const used = answer.filter((column) => column !== null);
      expect(new Set(used).size).toBe(used.length);
    }),
    { numRuns: 500 },
  );
});

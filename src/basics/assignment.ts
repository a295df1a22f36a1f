/**
 * Cheapest one-to-one assignment of rows to columns. `costs[row][column]` is finite, or Infinity
 * where the pair is not allowed; leaving a row without a column costs `unassigned`. Gives for each
 * row its column, or null. Of equally cheap answers always the same one is given.
 * Cubic in the size: split large problems into independent parts first.
 * @source Shortest augmenting paths for the linear assignment problem (Kuhn 1955, Munkres 1957).
 */
export function assign(
  costs: readonly (readonly number[])[],
  unassigned: number,
): (number | null)[] {
  const rows = costs.length;
  const columns = costs[0]?.length ?? 0;
  // One spare column a row stands for leaving it unassigned, so that a full assignment always exists.
  const width = columns + rows;
  const cost = (row: number, column: number): number => {
    if (column >= columns) return column - columns === row ? unassigned : Number.POSITIVE_INFINITY;
    return costs[row]?.[column] ?? Number.POSITIVE_INFINITY;
  };
  const rowOf = new Int32Array(width).fill(-1);
  const rowPrice = new Float64Array(rows);
  const columnPrice = new Float64Array(width);
  for (let row = 0; row < rows; row += 1) {
    augment(row, width, cost, rowOf, rowPrice, columnPrice);
  }
  const columnOf: (number | null)[] = Array.from({ length: rows }, () => null);
  rowOf.forEach((row, column) => {
    if (row >= 0 && column < columns) columnOf[row] = column;
  });
  return columnOf;
}

/** Finds the cheapest alternating path from a free row to a free column, and flips it. */
function augment(
  start: number,
  width: number,
  cost: (row: number, column: number) => number,
  rowOf: Int32Array,
  rowPrice: Float64Array,
  columnPrice: Float64Array,
): void {
  const distance = new Float64Array(width).fill(Number.POSITIVE_INFINITY);
  const before = new Int32Array(width).fill(-1);
  const done = new Uint8Array(width);
  let row = start;
  let reached = -1;
  let base = 0;
  while (row >= 0) {
    let best = -1;
    for (let column = 0; column < width; column += 1) {
      if (done[column]) continue;
      const through = base + cost(row, column) - (rowPrice[row] ?? 0) - (columnPrice[column] ?? 0);
      if (through < (distance[column] ?? 0)) {
        distance[column] = through;
        before[column] = reached;
      }
      if (best < 0 || (distance[column] ?? 0) < (distance[best] ?? 0)) best = column;
    }
    base = distance[best] ?? 0;
    done[best] = 1;
    reached = best;
    row = rowOf[best] ?? -1;
  }
  updatePrices(start, base, distance, done, rowOf, rowPrice, columnPrice);
  for (let column = reached; column >= 0; ) {
    const previous = before[column] ?? -1;
    rowOf[column] = previous < 0 ? start : (rowOf[previous] ?? -1);
    column = previous;
  }
}

function updatePrices(
  start: number,
  base: number,
  distance: Float64Array,
  done: Uint8Array,
  rowOf: Int32Array,
  rowPrice: Float64Array,
  columnPrice: Float64Array,
): void {
  rowPrice[start] = (rowPrice[start] ?? 0) + base;
  done.forEach((isDone, column) => {
    if (!isDone) return;
    const gain = base - (distance[column] ?? 0);
    const row = rowOf[column] ?? -1;
    if (row >= 0) rowPrice[row] = (rowPrice[row] ?? 0) + gain;
    columnPrice[column] = (columnPrice[column] ?? 0) - gain;
  });
}

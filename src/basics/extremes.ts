/** Greatest of any number of values, `floor` for none. Unlike `Math.max(...values)` it never overflows the stack. */
export function greatestOf(values: Iterable<number>, floor = -Infinity): number {
  let greatest = floor;
  for (const value of values) if (value > greatest) greatest = value;
  return greatest;
}

/** Least of any number of values, `ceiling` for none. */
export function leastOf(values: Iterable<number>, ceiling = Infinity): number {
  let least = ceiling;
  for (const value of values) if (value < least) least = value;
  return least;
}

/**
 * Order of two texts by code unit: the same on every machine, unlike locale order.
 * Negative, zero or positive, as `Array.sort` wants it.
 */
export function compareText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/** A sorted copy by a text key. */
export function sortedBy<T>(items: readonly T[], key: (item: T) => string): T[] {
  // Most lists of one wall or one hole hold one thing, and sorting costs even then.
  return items.length < 2 ? [...items] : [...items].sort((a, b) => compareText(key(a), key(b)));
}

/** The first of some texts in that order; undefined when there are none. */
export function lowestText(texts: Iterable<string>): string | undefined {
  let lowest: string | undefined;
  for (const text of texts) if (lowest === undefined || text < lowest) lowest = text;
  return lowest;
}

/** Sum in the order given: a float sum depends on it. */
export function sum(values: readonly number[]): number {
  let total = 0;
  for (const value of values) total += value;
  return total;
}

/** Items by key, keys in order of first appearance. */
export function groupBy<T>(items: readonly T[], key: (item: T) => string): Map<string, T[]> {
  const groups = new Map<string, T[]>();
  for (const item of items) {
    const name = key(item);
    const group = groups.get(name);
    if (group === undefined) groups.set(name, [item]);
    else group.push(item);
  }
  return groups;
}

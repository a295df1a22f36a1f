/** Groups of numbers that are joined two at a time. */
export interface UnionFind {
  join(a: number, b: number): void;
  /** The lowest number of the group. */
  groupOf(n: number): number;
}

export function unionFind(count: number): UnionFind {
  const parent = Int32Array.from({ length: count }, (_, n) => n);
  const groupOf = (n: number): number => {
    let root = n;
    while ((parent[root] ?? root) !== root) root = parent[root] ?? root;
    let at = n;
    while (at !== root) {
      const next = parent[at] ?? root;
      parent[at] = root;
      at = next;
    }
    return root;
  };
  return {
    groupOf,
    join(a, b) {
      const [x, y] = [groupOf(a), groupOf(b)];
      if (x !== y) parent[Math.max(x, y)] = Math.min(x, y);
    },
  };
}

/** Members of each group, groups in order of their lowest member. */
export function groupsOf(count: number, sets: UnionFind): readonly (readonly number[])[] {
  const groups = new Map<number, number[]>();
  for (let n = 0; n < count; n += 1) {
    const root = sets.groupOf(n);
    const group = groups.get(root);
    if (group === undefined) groups.set(root, [n]);
    else group.push(n);
  }
  return [...groups.values()];
}

import { type Graph, otherEnd } from './graph.ts';

export interface Path {
  readonly lengthMm: number;
  /** Edges in order from a source to a target. */
  readonly edges: readonly number[];
  readonly fromNode: number;
  readonly toNode: number;
}

/** Shortest ways from a set of sources to every node of its part. */
export interface PathTree {
  /** Infinity where no source reaches. */
  readonly distanceMm: Float64Array;
  /** Edge by which a node is reached; −1 at sources and where none reaches. */
  readonly edgeTo: Int32Array;
}

/** Multiplies the length of an edge; must be 1 or more. */
export type EdgeWeight = (edge: number) => number;

/**
 * Dijkstra's algorithm with a binary heap, from all sources at once. Of ways equally long, the one
 * whose nodes come first wins, so that the answer does not depend on the order of search.
 * @param targets when given, the search ends once the nearest of them is settled
 * @param limitMm ways longer than this (weights counted) are not followed
 * @source E. W. Dijkstra, A note on two problems in connexion with graphs, Numerische Mathematik 1 (1959).
 */
export function pathTree(
  graph: Graph,
  sources: readonly number[],
  weight: EdgeWeight | null = null,
  targets: ReadonlySet<number> | null = null,
  limitMm: number = Number.POSITIVE_INFINITY,
): PathTree {
  const distanceMm = new Float64Array(graph.nodeCount).fill(Number.POSITIVE_INFINITY);
  const edgeTo = new Int32Array(graph.nodeCount).fill(-1);
  const heap = new NodeHeap();
  for (const source of sources) {
    distanceMm[source] = 0;
    heap.push(source, 0);
  }
  for (let node = heap.pop(); node !== -1; node = heap.pop()) {
    const reached = heap.poppedKey;
    if (reached > (distanceMm[node] ?? 0)) continue;
    if (targets?.has(node)) break;
    const last = graph.firstEdge[node + 1] ?? 0;
    for (let at = graph.firstEdge[node] ?? 0; at < last; at++) {
      const edge = graph.edgesAt[at] ?? 0;
      const other = otherEnd(graph, edge, node);
      const length = graph.edgeLengthMm[edge] ?? 0;
      const through = reached + (weight === null ? length : length * weight(edge));
      if (through <= limitMm && through < (distanceMm[other] ?? 0)) {
        distanceMm[other] = through;
        edgeTo[other] = edge;
        heap.push(other, through);
      }
    }
  }
  return { distanceMm, edgeTo };
}

/** The way of a tree to the nearest of some nodes; null where none is reached. */
export function pathTo(graph: Graph, tree: PathTree, targets: Iterable<number>): Path | null {
  let toNode = -1;
  let best = Number.POSITIVE_INFINITY;
  for (const target of targets) {
    const distance = tree.distanceMm[target] ?? Number.POSITIVE_INFINITY;
    if (
      distance < best ||
      (distance === best && distance < Number.POSITIVE_INFINITY && target < toNode)
    ) {
      best = distance;
      toNode = target;
    }
  }
  if (toNode === -1) return null;
  const edges: number[] = [];
  let node = toNode;
  let lengthMm = 0;
  for (let edge = tree.edgeTo[node] ?? -1; edge !== -1; edge = tree.edgeTo[node] ?? -1) {
    edges.push(edge);
    lengthMm += graph.edgeLengthMm[edge] ?? 0;
    node = otherEnd(graph, edge, node);
  }
  return { lengthMm, edges: edges.reverse(), fromNode: node, toNode };
}

/** Smallest key first; of equal keys the smaller node. */
class NodeHeap {
  readonly #nodes: number[] = [];
  readonly #keys: number[] = [];
  poppedKey = 0;

  push(node: number, key: number): void {
    let at = this.#nodes.length;
    this.#nodes.push(node);
    this.#keys.push(key);
    while (at > 0) {
      const parent = (at - 1) >> 1;
      if (!this.#isBefore(at, parent)) break;
      this.#swap(at, parent);
      at = parent;
    }
  }

  /** −1 when empty. */
  pop(): number {
    const node = this.#nodes[0];
    if (node === undefined) return -1;
    this.poppedKey = this.#keys[0] ?? 0;
    const lastNode = this.#nodes.pop() ?? node;
    const lastKey = this.#keys.pop() ?? 0;
    if (this.#nodes.length > 0) {
      this.#nodes[0] = lastNode;
      this.#keys[0] = lastKey;
      this.#sink();
    }
    return node;
  }

  #sink(): void {
    let at = 0;
    for (;;) {
      const left = at * 2 + 1;
      if (left >= this.#nodes.length) return;
      const right = left + 1;
      const child = right < this.#nodes.length && this.#isBefore(right, left) ? right : left;
      if (!this.#isBefore(child, at)) return;
      this.#swap(child, at);
      at = child;
    }
  }

  #isBefore(a: number, b: number): boolean {
    const keyA = this.#keys[a] ?? 0;
    const keyB = this.#keys[b] ?? 0;
    return keyA < keyB || (keyA === keyB && (this.#nodes[a] ?? 0) < (this.#nodes[b] ?? 0));
  }

  #swap(a: number, b: number): void {
    const node = this.#nodes[a] ?? 0;
    const key = this.#keys[a] ?? 0;
    this.#nodes[a] = this.#nodes[b] ?? 0;
    this.#keys[a] = this.#keys[b] ?? 0;
    this.#nodes[b] = node;
    this.#keys[b] = key;
  }
}

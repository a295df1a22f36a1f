import { type Graph, otherEnd } from './graph.ts';

export interface Path {
  readonly lengthMm: number;
  /** Edges in order from a source to a target. */
  readonly edges: readonly number[];
  readonly fromNode: number;
  readonly toNode: number;
}

/** Multiplies the length of an edge; must be 1 or more. */
export type EdgeWeight = (edge: number) => number;

export interface SearchLimits {
  readonly weight?: EdgeWeight;
  /** The search ends once the nearest of these is settled. */
  readonly targets?: ReadonlySet<number>;
  /** Ways longer than this (weights counted) are not followed. */
  readonly limitMm?: number;
  /**
   * Sets of nodes of each of which the nearest is wanted. Once all are settled, the search goes on
   * no further than `reachRatio` times the way to the last.
   */
  readonly groups?: readonly (readonly number[])[];
  readonly reachRatio?: number;
}

/**
 * Shortest ways on one graph by Dijkstra's algorithm with a binary heap. Its arrays are used again
 * for each search, so that a search costs what it visits and not the size of the graph; a search
 * forgets the one before.
 * @source E. W. Dijkstra, A note on two problems in connexion with graphs, Numerische Mathematik 1
 * (1959), 269–271.
 */
export class PathSearch {
  readonly #graph: Graph;
  readonly #distanceMm: Float64Array;
  readonly #edgeTo: Int32Array;
  /** The search in which a node was last reached; older entries count as not reached. */
  readonly #reachedIn: Int32Array;
  #search = 0;
  #visited: number[] = [];

  constructor(graph: Graph) {
    this.#graph = graph;
    this.#distanceMm = new Float64Array(graph.nodeCount);
    this.#edgeTo = new Int32Array(graph.nodeCount);
    this.#reachedIn = new Int32Array(graph.nodeCount);
  }

  /** Starts anew from all sources at once. */
  searchFrom(sources: readonly number[], limits: SearchLimits = {}): void {
    const { weight, targets, reachRatio = 1 } = limits;
    let { limitMm = Number.POSITIVE_INFINITY } = limits;
    const open = new OpenGroups(limits.groups ?? []);
    const graph = this.#graph;
    this.#search += 1;
    this.#visited = [];
    const heap = new NodeHeap();
    for (const source of sources) {
      this.#reach(source, 0, -1);
      heap.push(source, 0);
    }
    for (let node = heap.pop(); node !== -1; node = heap.pop()) {
      const reached = heap.poppedKey;
      if (reached > this.distanceMm(node)) continue;
      if (targets?.has(node)) return;
      if (open.settle(node)) limitMm = Math.min(limitMm, reached * reachRatio);
      const last = graph.firstEdge[node + 1] ?? 0;
      for (let at = graph.firstEdge[node] ?? 0; at < last; at++) {
        const edge = graph.edgesAt[at] ?? 0;
        const other = otherEnd(graph, edge, node);
        const length = graph.edgeLengthMm[edge] ?? 0;
        const through = reached + (weight === undefined ? length : length * weight(edge));
        if (through <= limitMm && through < this.distanceMm(other)) {
          this.#reach(other, through, edge);
          heap.push(other, through);
        }
      }
    }
  }

  #reach(node: number, distanceMm: number, edge: number): void {
    if (this.#reachedIn[node] !== this.#search) this.#visited.push(node);
    this.#distanceMm[node] = distanceMm;
    this.#edgeTo[node] = edge;
    this.#reachedIn[node] = this.#search;
  }

  /** Weighted distance from the nearest source in the last search; Infinity where none reaches. */
  distanceMm(node: number): number {
    const isReached = this.#reachedIn[node] === this.#search;
    return isReached ? (this.#distanceMm[node] ?? 0) : Number.POSITIVE_INFINITY;
  }

  /** Nodes the last search reached, in the order it met them. */
  get visited(): readonly number[] {
    return this.#visited;
  }

  /** Edge by which the last search reached a node; −1 at sources and where it did not. */
  edgeTo(node: number): number {
    return this.#reachedIn[node] === this.#search ? (this.#edgeTo[node] ?? -1) : -1;
  }

  /** The way to the nearest of some nodes, of equally near ones the lowest; null for none. */
  pathTo(targets: Iterable<number>): Path | null {
    let toNode = -1;
    let best = Number.POSITIVE_INFINITY;
    for (const target of targets) {
      const distance = this.distanceMm(target);
      if (distance < best || (distance === best && toNode !== -1 && target < toNode)) {
        best = distance;
        toNode = target;
      }
    }
    if (toNode === -1) return null;
    const edges: number[] = [];
    let node = toNode;
    let lengthMm = 0;
    for (let edge = this.edgeTo(node); edge !== -1; edge = this.edgeTo(node)) {
      edges.push(edge);
      lengthMm += this.#graph.edgeLengthMm[edge] ?? 0;
      node = otherEnd(this.#graph, edge, node);
    }
    return { lengthMm, edges: edges.reverse(), fromNode: node, toNode };
  }
}

/** Counts down groups of which no node is settled yet. */
class OpenGroups {
  readonly #groupsOf = new Map<number, number[]>();
  readonly #open: Set<number>;

  constructor(groups: readonly (readonly number[])[]) {
    this.#open = new Set(groups.keys());
    for (const [group, nodes] of groups.entries()) {
      for (const node of nodes) {
        const list = this.#groupsOf.get(node);
        if (list === undefined) this.#groupsOf.set(node, [group]);
        else list.push(group);
      }
    }
  }

  /** True when this node settles the last open group. */
  settle(node: number): boolean {
    const groups = this.#open.size === 0 ? undefined : this.#groupsOf.get(node);
    for (const group of groups ?? []) this.#open.delete(group);
    return groups !== undefined && this.#open.size === 0;
  }
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

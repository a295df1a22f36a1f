import { edgesOf, type Graph, otherEnd } from './graph.ts';
import type { Path, PathSearch } from './shortest-path.ts';

/**
 * For each edge of a shortest way, the length of the shortest way that does without it; Infinity
 * where there is none within the limit of the search from the targets.
 *
 * Whoever avoids an edge of the way leaves the tree of shortest ways by one other edge (u, v), from
 * the sources' side to the targets' side; so it is enough to look at each such edge once.
 * @param fromSources a finished search from the sources over the whole graph
 * @param fromTargets a finished search from the targets, both without weights
 * @source K. Malik, A. K. Mittal, S. K. Gupta, The k most vital arcs in the shortest path problem,
 * Operations Research Letters 8 (1989), 223–227, for undirected graphs (from memory).
 */
export function replacementLengthsMm(
  graph: Graph,
  path: Path,
  fromSources: PathSearch,
  fromTargets: PathSearch,
  targets: readonly number[],
): Float64Array {
  const places = new BranchPlaces(graph, path, fromSources);
  const onPath = new Set(path.edges);
  const candidates: Candidate[] = [];
  for (const v of fromTargets.visited) {
    const place = places.of(v);
    if (place === null) continue;
    for (const edge of edgesOf(graph, v)) {
      if (onPath.has(edge)) continue;
      const u = otherEnd(graph, edge, v);
      const before = places.of(u);
      if (before === null || before >= place) continue;
      const through =
        fromSources.distanceMm(u) + (graph.edgeLengthMm[edge] ?? 0) + fromTargets.distanceMm(v);
      candidates.push({ from: before, to: place, lengthMm: through });
    }
  }
  // Another target may be reached without the rest of the way.
  for (const target of targets) {
    const before = places.of(target);
    if (target === path.toNode || before === null) continue;
    candidates.push({
      from: before,
      to: path.edges.length + 1,
      lengthMm: fromSources.distanceMm(target),
    });
  }
  return leastCovering(candidates, path.edges.length);
}

interface Candidate {
  /** It leaves the way at its node of this number (0: from another source) … */
  readonly from: number;
  /** … and comes back at this one. */
  readonly to: number;
  readonly lengthMm: number;
}

/** Edge k of the way lies between its nodes k + 1 and k + 2, node 0 being what all sources share. */
function leastCovering(candidates: Candidate[], edgeCount: number): Float64Array {
  const least = new Float64Array(edgeCount).fill(Number.POSITIVE_INFINITY);
  candidates.sort((a, b) => a.lengthMm - b.lengthMm);
  // Each edge is settled by the first candidate that covers it: skip what is settled.
  const next = Int32Array.from({ length: edgeCount + 1 }, (_, at) => at);
  const firstOpen = (at: number): number => {
    let open = at;
    while (next[open] !== open) open = next[open] ?? open;
    for (let step = at; next[step] !== open; ) {
      const after = next[step] ?? open;
      next[step] = open;
      step = after;
      if (step === open) break;
    }
    return open;
  };
  for (const { from, to, lengthMm } of candidates) {
    const first = Math.max(0, from - 1);
    const last = Math.min(edgeCount, to - 1);
    for (let edge = firstOpen(first); edge < last; edge = firstOpen(edge)) {
      least[edge] = lengthMm;
      next[edge] = edge + 1;
    }
  }
  return least;
}

/** Where the tree of shortest ways branches off the way, for each node. */
class BranchPlaces {
  readonly #graph: Graph;
  readonly #search: PathSearch;
  readonly #places = new Map<number, number>();

  constructor(graph: Graph, path: Path, search: PathSearch) {
    this.#graph = graph;
    this.#search = search;
    let node = path.fromNode;
    this.#places.set(node, 1);
    path.edges.forEach((edge, at) => {
      node = otherEnd(graph, edge, node);
      this.#places.set(node, at + 2);
    });
  }

  /** Null for a node that no source reaches; 0 for one that another source reaches. */
  of(node: number): number | null {
    const climbed: number[] = [];
    let at = node;
    let place = this.#places.get(at);
    while (place === undefined) {
      if (this.#search.distanceMm(at) === Number.POSITIVE_INFINITY) return null;
      climbed.push(at);
      const edge = this.#search.edgeTo(at);
      if (edge === -1) place = 0;
      else {
        at = otherEnd(this.#graph, edge, at);
        place = this.#places.get(at);
      }
    }
    for (const below of climbed) this.#places.set(below, place);
    return place;
  }
}

/** A graph in flat arrays; edges run both ways. */
export interface Graph {
  readonly nodeCount: number;
  readonly edgeFrom: Int32Array;
  readonly edgeTo: Int32Array;
  readonly edgeLengthMm: Float64Array;
  /** Edges at node n: `edgesAt[firstEdge[n]]` up to `firstEdge[n + 1]`. */
  readonly firstEdge: Int32Array;
  readonly edgesAt: Int32Array;
}

/** The other end of an edge. */
export function otherEnd(graph: Graph, edge: number, node: number): number {
  const from = graph.edgeFrom[edge] ?? 0;
  return from === node ? (graph.edgeTo[edge] ?? 0) : from;
}

/** Edges at a node. */
export function edgesOf(graph: Graph, node: number): Int32Array {
  return graph.edgesAt.subarray(graph.firstEdge[node] ?? 0, graph.firstEdge[node + 1] ?? 0);
}

/** Lists of edges by node, from the two ends of each edge. */
export function adjacency(
  nodeCount: number,
  from: Int32Array,
  to: Int32Array,
): Pick<Graph, 'firstEdge' | 'edgesAt'> {
  const firstEdge = new Int32Array(nodeCount + 1);
  for (const ends of [from, to]) {
    for (const node of ends) firstEdge[node + 1] = (firstEdge[node + 1] ?? 0) + 1;
  }
  for (let node = 0; node < nodeCount; node++) {
    firstEdge[node + 1] = (firstEdge[node + 1] ?? 0) + (firstEdge[node] ?? 0);
  }
  const next = firstEdge.slice();
  const edgesAt = new Int32Array(from.length * 2);
  for (let edge = 0; edge < from.length; edge++) {
    for (const node of [from[edge] ?? 0, to[edge] ?? 0]) {
      const place = next[node] ?? 0;
      edgesAt[place] = edge;
      next[node] = place + 1;
    }
  }
  return { firstEdge, edgesAt };
}

/** The connected part of each node, numbered from 0 in order of their lowest node. */
export function connectedParts(graph: Graph): Int32Array {
  const partOf = new Int32Array(graph.nodeCount).fill(-1);
  let parts = 0;
  for (let start = 0; start < graph.nodeCount; start++) {
    if (partOf[start] !== -1) continue;
    const open = [start];
    partOf[start] = parts;
    for (let node = open.pop(); node !== undefined; node = open.pop()) {
      for (const edge of edgesOf(graph, node)) {
        const other = otherEnd(graph, edge, node);
        if (partOf[other] !== -1) continue;
        partOf[other] = parts;
        open.push(other);
      }
    }
    parts += 1;
  }
  return partOf;
}

import type { CarrierNetwork, EdgeCrossing } from './carrier-network.ts';
import { adjacency, edgesOf, type Graph, otherEnd } from './graph.ts';

/** A network whose unbranched stretches are one edge each. */
export interface ContractedNetwork extends Graph {
  /** New number of an old node; −1 for one inside a stretch. */
  readonly nodeOf: Int32Array;
  /** Crossings along an edge. */
  readonly crossingsAlong: readonly (readonly EdgeCrossing[])[];
  /** Edges of the original network along an edge, in order. */
  readonly piecesAlong: readonly (readonly number[])[];
}

/**
 * Leaves ends, branchings and the nodes to keep, and makes one edge of each stretch between them:
 * a run of a hundred segments costs the search one step. Rings without a node to keep fall away.
 */
export function contractChains(
  network: CarrierNetwork,
  keep: ReadonlySet<number>,
): ContractedNetwork {
  const nodeOf = new Int32Array(network.nodeCount).fill(-1);
  let nodeCount = 0;
  for (let node = 0; node < network.nodeCount; node++) {
    const isKept = keep.has(node) || edgesOf(network, node).length !== 2;
    if (isKept) nodeOf[node] = nodeCount++;
  }
  const from: number[] = [];
  const to: number[] = [];
  const lengths: number[] = [];
  const piecesAlong: number[][] = [];
  const isUsed = new Uint8Array(network.edgeFrom.length);
  for (let node = 0; node < network.nodeCount; node++) {
    if (nodeOf[node] === -1) continue;
    for (const first of edgesOf(network, node)) {
      if (isUsed[first] === 1) continue;
      const stretch = followStretch(network, nodeOf, node, first, isUsed);
      from.push(nodeOf[node] ?? 0);
      to.push(nodeOf[stretch.end] ?? 0);
      lengths.push(stretch.lengthMm);
      piecesAlong.push(stretch.pieces);
    }
  }
  const edgeFrom = Int32Array.from(from);
  const edgeTo = Int32Array.from(to);
  return {
    nodeCount,
    edgeFrom,
    edgeTo,
    edgeLengthMm: Float64Array.from(lengths),
    ...adjacency(nodeCount, edgeFrom, edgeTo),
    nodeOf,
    piecesAlong,
    crossingsAlong: piecesAlong.map((pieces) =>
      pieces.flatMap((piece) => network.crossingsOfEdge.get(piece) ?? []),
    ),
  };
}

function followStretch(
  network: CarrierNetwork,
  nodeOf: Int32Array,
  start: number,
  first: number,
  isUsed: Uint8Array,
): { readonly end: number; readonly lengthMm: number; readonly pieces: number[] } {
  const pieces: number[] = [];
  let lengthMm = 0;
  let node = start;
  let edge = first;
  for (;;) {
    isUsed[edge] = 1;
    pieces.push(edge);
    lengthMm += network.edgeLengthMm[edge] ?? 0;
    node = otherEnd(network, edge, node);
    if (nodeOf[node] !== -1) return { end: node, lengthMm, pieces };
    const next = edgesOf(network, node).find((other) => isUsed[other] === 0);
    if (next === undefined) return { end: start, lengthMm, pieces };
    edge = next;
  }
}

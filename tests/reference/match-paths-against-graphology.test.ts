import Graphology from 'graphology';
import { dijkstra } from 'graphology-shortest-path';
import { expect, test } from 'vitest';
import type { CarrierNetwork } from '../../src/match/carrier-network.ts';
import { contractChains } from '../../src/match/contract-chains.ts';
import { adjacency, connectedParts, type Graph } from '../../src/match/graph.ts';
import { replacementLengthsMm } from '../../src/match/replacement-paths.ts';
import { PathSearch } from '../../src/match/shortest-path.ts';
import { seeded } from '../makers/schedule/corrupt.ts';

// Checked against graphology and graphology-shortest-path (MIT), a general graph library.

interface RandomNetwork extends Graph {
  readonly reference: InstanceType<typeof Graphology.UndirectedGraph>;
}

/** A random network; long chains among its edges, as trays have. Parallel edges are left out. */
function randomNetwork(seed: number): RandomNetwork {
  const random = seeded(seed);
  const pick = (count: number) => Math.min(count - 1, Math.floor(random() * count));
  const hubs = 3 + pick(12);
  const from: number[] = [];
  const to: number[] = [];
  const length: number[] = [];
  let nodeCount = hubs;
  const joined = new Set<string>();
  const join = (a: number, b: number) => {
    const key = a < b ? `${a} ${b}` : `${b} ${a}`;
    if (a === b || joined.has(key)) return;
    joined.add(key);
    from.push(a);
    to.push(b);
    length.push(1 + pick(1000));
  };
  for (let at = 0; at < hubs * 2; at++) {
    const [a, b, pieces] = [pick(hubs), pick(hubs), pick(6)];
    let last = a;
    for (let piece = 0; piece < pieces; piece++) {
      join(last, nodeCount);
      last = nodeCount;
      nodeCount += 1;
    }
    join(last, b);
  }
  const edgeFrom = Int32Array.from(from);
  const edgeTo = Int32Array.from(to);
  const reference = new Graphology.UndirectedGraph();
  for (let node = 0; node < nodeCount; node++) reference.addNode(String(node));
  from.forEach((a, edge) => {
    reference.addEdge(String(a), String(to[edge]), { weight: length[edge] });
  });
  return {
    nodeCount,
    edgeFrom,
    edgeTo,
    edgeLengthMm: Float64Array.from(length),
    ...adjacency(nodeCount, edgeFrom, edgeTo),
    reference,
  };
}

/** Length of the library's shortest path; null for none. */
function referenceLength({ reference }: RandomNetwork, a: number, b: number): number | null {
  const path = dijkstra.bidirectional(reference, String(a), String(b), 'weight');
  if (path === null || path === undefined) return null;
  let total = 0;
  for (let at = 1; at < path.length; at++) {
    const edge = reference.edge(path[at - 1], path[at]);
    total += Number(reference.getEdgeAttribute(edge, 'weight'));
  }
  return total;
}

test('lengths of shortest paths agree on 150 random networks', () => {
  let compared = 0;
  for (let seed = 1; seed <= 150; seed++) {
    const network = randomNetwork(seed);
    const search = new PathSearch(network);
    search.searchFrom([0]);
    for (let node = 1; node < network.nodeCount; node += 3) {
      const expected = referenceLength(network, 0, node);
      expect(search.pathTo([node])?.lengthMm ?? null).toBe(expected);
      compared += 1;
    }
  }
  expect(compared).toBeGreaterThan(900);
});

test('a path is one: its edges join and add up to its length', () => {
  for (let seed = 1; seed <= 50; seed++) {
    const network = randomNetwork(seed);
    const search = new PathSearch(network);
    search.searchFrom([0, 1]);
    const path = search.pathTo([network.nodeCount - 1]);
    if (path === null) continue;
    let node = path.fromNode;
    let total = 0;
    for (const edge of path.edges) {
      const ends = [network.edgeFrom[edge], network.edgeTo[edge]];
      expect(ends).toContain(node);
      node = (ends[0] === node ? ends[1] : ends[0]) ?? -1;
      total += network.edgeLengthMm[edge] ?? 0;
    }
    expect([0, 1]).toContain(path.fromNode);
    expect(node).toBe(path.toNode);
    expect(total).toBe(path.lengthMm);
  }
});

test('contracting chains leaves all lengths between kept nodes as they are', () => {
  for (let seed = 1; seed <= 100; seed++) {
    const network = randomNetwork(seed);
    const keep = new Set([0, 1, 2]);
    const whole: CarrierNetwork = {
      ...network,
      positionsMm: [],
      edgeService: [],
      crossingsOfEdge: new Map(
        [...network.edgeFrom.keys()].map((edge) => [
          edge,
          [{ penetrationId: `p${edge}`, crossingId: `c${edge}` }],
        ]),
      ),
      nodesOfService: new Map(),
      partOf: connectedParts(network),
    };
    const small = contractChains(whole, keep);
    expect(small.nodeCount).toBeLessThanOrEqual(network.nodeCount);
    const search = new PathSearch(small);
    search.searchFrom([small.nodeOf[0] ?? -1]);
    for (const node of [1, 2]) {
      const path = search.pathTo([small.nodeOf[node] ?? -1]);
      expect(path?.lengthMm ?? null).toBe(referenceLength(network, 0, node));
      // Every piece of the way keeps its crossing.
      const pieces = path?.edges.flatMap((edge) => small.piecesAlong[edge] ?? []) ?? [];
      const crossings = path?.edges.flatMap((edge) => small.crossingsAlong[edge] ?? []) ?? [];
      expect(crossings.map(({ penetrationId }) => penetrationId).sort()).toEqual(
        pieces.map((piece) => `p${piece}`).sort(),
      );
    }
  }
});

test('the shortest way without an edge is what the library finds once the edge is taken out', () => {
  let compared = 0;
  for (let seed = 1; seed <= 120; seed++) {
    const network = randomNetwork(seed);
    const target = network.nodeCount - 1;
    const search = new PathSearch(network);
    search.searchFrom([0]);
    const path = search.pathTo([target]);
    if (path === null) continue;
    const back = new PathSearch(network);
    back.searchFrom([target]);
    const without = replacementLengthsMm(network, path, search, back, [target]);
    path.edges.forEach((edge, at) => {
      const ends = [String(network.edgeFrom[edge]), String(network.edgeTo[edge])] as const;
      network.reference.dropEdge(...ends);
      const expected = referenceLength(network, 0, target) ?? Number.POSITIVE_INFINITY;
      network.reference.addEdge(...ends, { weight: network.edgeLengthMm[edge] });
      expect([seed, at, without[at]]).toEqual([seed, at, expected]);
      compared += 1;
    });
  }
  expect(compared).toBeGreaterThan(300);
});

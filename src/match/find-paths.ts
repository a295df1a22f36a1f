import type { CableEnd } from './cable-ends.ts';
import type { CarrierNetwork, EdgeCrossing } from './carrier-network.ts';
import { type ContractedNetwork, contractChains } from './contract-chains.ts';
import { connectedParts, edgesOf, otherEnd } from './graph.ts';
import { replacementLengthsMm } from './replacement-paths.ts';
import { type Path, PathSearch } from './shortest-path.ts';

/** One way between two ends, with what it crosses. */
export interface CableWay {
  readonly lengthMm: number;
  readonly crossings: readonly EdgeCrossing[];
  /** Services it runs along. */
  readonly serviceIds: ReadonlySet<string>;
}

export interface CableWays {
  readonly best: CableWay;
  /** Penetrations of the best way that some way hardly longer does without. */
  readonly avoidable: ReadonlySet<string>;
  /** One such way, for people to choose from; null where nothing is avoidable. */
  readonly other: CableWay | null;
}

const NOTHING: ReadonlySet<string> = new Set();

/** Crossings of the best way cost this much more when another is looked for. */
const AVOID = 4;
/** Carriers that a route does not list cost this much more than those it lists. */
const UNLISTED = 20;

export interface EndPair {
  readonly from: CableEnd;
  readonly to: CableEnd;
}

export function pairKey({ from, to }: EndPair): string {
  return from.key < to.key ? `${from.key}\n${to.key}` : `${to.key}\n${from.key}`;
}

/** Ways between ends along the carriers. Trees are shared by all pairs that have an end in common. */
export class WayFinder {
  readonly #network: CarrierNetwork;
  readonly #small: ContractedNetwork;
  readonly #parts: Int32Array;
  readonly #hasRing: readonly boolean[];
  /** One search stays open over all targets of a source while the other looks for second ways. */
  readonly #search: PathSearch;
  readonly #secondSearch: PathSearch;

  /** Another way counts as a rival while it is less than this times as long. */
  readonly #rivalRatio: number;

  constructor(network: CarrierNetwork, ends: readonly CableEnd[], rivalRatio: number) {
    this.#network = network;
    this.#rivalRatio = rivalRatio;
    this.#small = contractChains(network, nodesToKeep(network, ends));
    this.#parts = connectedParts(this.#small);
    this.#hasRing = partsWithRings(this.#small, this.#parts);
    this.#search = new PathSearch(this.#small);
    this.#secondSearch = new PathSearch(this.#small);
  }

  /** The ways of many pairs by `pairKey`; pairs that no carrier joins are left out. */
  findAll(pairs: readonly EndPair[]): Map<string, CableWays> {
    const found = new Map<string, CableWays>();
    for (const { source, targets } of starsOf(pairs)) {
      const sources = this.#nodesOf(source);
      if (sources.length === 0) continue;
      const groups = targets.map((target) => this.#nodesOf(target));
      this.#search.searchFrom(sources, { groups, reachRatio: 1 + this.#rivalRatio });
      for (const target of targets) {
        const ways = this.#ways(sources, this.#nodesOf(target));
        if (ways !== null) found.set(pairKey({ from: source, to: target }), ways);
      }
    }
    return found;
  }

  /** The shortest way that keeps to the carriers a route lists as far as they go. */
  findAlong(pair: EndPair, listed: ReadonlySet<string>): CableWay | null {
    const sources = this.#nodesOf(pair.from);
    const targets = this.#nodesOf(pair.to);
    const weights = new Map<number, number>();
    const weight = (edge: number) => {
      let value = weights.get(edge);
      if (value === undefined) {
        value = this.#listedWeight(edge, listed);
        weights.set(edge, value);
      }
      return value;
    };
    this.#secondSearch.searchFrom(sources, { weight, targets: new Set(targets) });
    const path = this.#secondSearch.pathTo(targets);
    return path === null ? null : this.#way(path);
  }

  #listedWeight(edge: number, listed: ReadonlySet<string>): number {
    let total = 0;
    let weighted = 0;
    for (const piece of this.#small.piecesAlong[edge] ?? []) {
      const length = this.#network.edgeLengthMm[piece] ?? 0;
      const service = this.#network.edgeService[piece] ?? null;
      total += length;
      weighted += length * (service === null || listed.has(service) ? 1 : UNLISTED);
    }
    return total === 0 ? 1 : weighted / total;
  }

  #nodesOf(end: CableEnd): number[] {
    const nodes = end.nodes.map((node) => this.#small.nodeOf[node] ?? -1);
    return [...new Set(nodes.filter((node) => node !== -1))].sort((a, b) => a - b);
  }

  #ways(sources: readonly number[], targets: readonly number[]): CableWays | null {
    const path = this.#search.pathTo(targets);
    if (path === null) return null;
    const best = this.#way(path);
    if (best.crossings.length === 0 || !this.#mayHaveOther(sources, targets)) {
      return { best, avoidable: NOTHING, other: null };
    }
    const avoidable = this.#avoidable(path, targets);
    const other = avoidable.size === 0 ? null : this.#otherWay(path, sources, targets);
    return { best, avoidable, other };
  }

  #avoidable(path: Path, targets: readonly number[]): ReadonlySet<string> {
    const limitMm = path.lengthMm * this.#rivalRatio;
    this.#secondSearch.searchFrom(targets, { limitMm });
    const without = replacementLengthsMm(
      this.#small,
      path,
      this.#search,
      this.#secondSearch,
      targets,
    );
    const crossed = path.edges.flatMap((edge, at) =>
      (without[at] ?? 0) <= limitMm ? (this.#small.crossingsAlong[edge] ?? []) : [],
    );
    return new Set(crossed.map(({ penetrationId }) => penetrationId));
  }

  /** A second search in which what the best way crosses is dear. */
  #otherWay(path: Path, sources: readonly number[], targets: readonly number[]): CableWay | null {
    const avoided = new Set(
      path.edges.filter((edge) => (this.#small.crossingsAlong[edge] ?? []).length > 0),
    );
    const weight = (edge: number) => (avoided.has(edge) ? AVOID : 1);
    const limitMm = path.lengthMm * this.#rivalRatio * AVOID;
    this.#secondSearch.searchFrom(sources, { weight, targets: new Set(targets), limitMm });
    const second = this.#secondSearch.pathTo(targets);
    return second === null ? null : this.#way(second);
  }

  /** A ring, or more than one network that reaches both ends. */
  #mayHaveOther(sources: readonly number[], targets: readonly number[]): boolean {
    const partOf = (node: number) => this.#parts[node] ?? 0;
    const reached = new Set(targets.map(partOf));
    const common = new Set(sources.map(partOf).filter((part) => reached.has(part)));
    return common.size > 1 || [...common].some((part) => this.#hasRing[part]);
  }

  #way(path: Path): CableWay {
    const pieces = path.edges.flatMap((edge) => this.#small.piecesAlong[edge] ?? []);
    return {
      lengthMm: path.lengthMm,
      crossings: path.edges.flatMap((edge) => this.#small.crossingsAlong[edge] ?? []),
      serviceIds: new Set(pieces.flatMap((piece) => this.#network.edgeService[piece] ?? [])),
    };
  }
}

/**
 * Pairs grouped round the end that most of them share, so that a switchboard with a hundred cables
 * costs one search.
 */
function starsOf(pairs: readonly EndPair[]): { source: CableEnd; targets: CableEnd[] }[] {
  const distinct = new Map(pairs.map((pair) => [pairKey(pair), pair]));
  const uses = new Map<string, number>();
  for (const { from, to } of distinct.values()) {
    for (const { key } of [from, to]) uses.set(key, (uses.get(key) ?? 0) + 1);
  }
  const stars = new Map<string, { source: CableEnd; targets: CableEnd[] }>();
  for (const { from, to } of distinct.values()) {
    const fromUses = uses.get(from.key) ?? 0;
    const toUses = uses.get(to.key) ?? 0;
    const isFrom = fromUses > toUses || (fromUses === toUses && from.key <= to.key);
    const [source, target] = isFrom ? [from, to] : [to, from];
    const star = stars.get(source.key);
    if (star === undefined) stars.set(source.key, { source, targets: [target] });
    else star.targets.push(target);
  }
  return [...stars.values()];
}

/**
 * Of an end that is a room, the nodes at its edge are enough: a way out of the room passes one of
 * them. Of a carrier, all its nodes.
 */
function nodesToKeep(network: CarrierNetwork, ends: readonly CableEnd[]): ReadonlySet<number> {
  const keep = new Set<number>();
  const seen = new Set<string>();
  for (const { key, nodes } of ends) {
    if (seen.has(key)) continue;
    seen.add(key);
    const inside = new Set(nodes);
    for (const node of nodes) {
      const isEdge = [...edgesOf(network, node)].some(
        (edge) => !inside.has(otherEnd(network, edge, node)),
      );
      if (isEdge) keep.add(node);
    }
  }
  return keep;
}

function partsWithRings(graph: ContractedNetwork, parts: Int32Array): boolean[] {
  const surplus: number[] = [];
  for (const part of parts) surplus[part] = (surplus[part] ?? 0) - 1;
  for (const node of graph.edgeFrom) {
    const part = parts[node] ?? 0;
    surplus[part] = (surplus[part] ?? 0) + 1;
  }
  // A tree has one edge less than nodes.
  return surplus.map((extra) => extra > -1);
}

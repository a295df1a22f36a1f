import { lerp3, type Vec3 } from '../geometry/vec.ts';
import type { Building, Service } from '../model/building.ts';
import type { Crossing, Penetration } from '../model/penetration.ts';
import { type AxisPlace, axisLengthMm, nearestOnAxis, pointOnAxis } from './axis.ts';
import { adjacency, connectedParts, type Graph } from './graph.ts';
import { type Link, linkServices } from './network-links.ts';

/** A crossing that lies on an edge of the network. */
export interface EdgeCrossing {
  readonly penetrationId: string;
  readonly crossingId: string;
}

/**
 * The carriers of a building as a graph: nodes are ends, joints and branching points, edges are the
 * pieces of carrier between them. Flat arrays: a large building has 100,000 nodes.
 */
export interface CarrierNetwork extends Graph {
  readonly positionsMm: readonly (Vec3 | null)[];
  /** Service an edge belongs to; null for a joint between two. */
  readonly edgeService: readonly (string | null)[];
  readonly crossingsOfEdge: ReadonlyMap<number, readonly EdgeCrossing[]>;
  readonly nodesOfService: ReadonlyMap<string, readonly number[]>;
  /** Connected part a node belongs to, numbered from 0. */
  readonly partOf: Int32Array;
}

/** Whether cables may be laid in it: trays, ladders, trunking, conduits and cable ducts. */
function isCableCarrier(service: Service): boolean {
  if (service.kind === 'carrier' || service.kind === 'conduit') return true;
  // A model's ducts move air; a drawing's ducts are what cables are drawn into.
  return service.kind === 'duct' && !service.ifcClass.startsWith('Ifc');
}

/** Builds the network from axes, joints of the model and ends that touch. */
export function buildCarrierNetwork(
  building: Building,
  penetrations: readonly Penetration[],
): CarrierNetwork {
  const carriers = building.services.filter(isCableCarrier);
  const links = linkServices(carriers, building.joints);
  const draft = new NetworkDraft(carriers);
  for (const link of links) draft.addLink(link);
  return draft.finish(penetrations);
}

interface Stop {
  readonly placeMm: number;
  readonly node: number;
}

/** Places closer than this along one axis are one node. */
const SAME_PLACE_MM = 1;

/** Collects nodes and edges; turned into flat arrays once at the end. */
class NetworkDraft {
  readonly #services = new Map<string, Service>();
  readonly #lengths = new Map<string, number>();
  readonly #stops = new Map<string, Stop[]>();
  readonly #positions: (Vec3 | null)[] = [];
  readonly #from: number[] = [];
  readonly #to: number[] = [];
  readonly #length: number[] = [];
  readonly #service: (string | null)[] = [];

  constructor(carriers: readonly Service[]) {
    for (const service of carriers) {
      this.#services.set(service.id, service);
      if (service.axisMm === null) {
        this.#stops.set(service.id, [{ placeMm: 0, node: this.#node(null) }]);
        continue;
      }
      const length = axisLengthMm(service.axisMm);
      this.#lengths.set(service.id, length);
      this.#stops.set(service.id, [
        { placeMm: 0, node: this.#node(service.axisMm[0] ?? null) },
        { placeMm: length, node: this.#node(service.axisMm[service.axisMm.length - 1] ?? null) },
      ]);
    }
  }

  addLink({ a, b, lengthMm }: Link): void {
    const from = this.#nodeAt(a);
    const to = this.#nodeAt(b);
    if (from !== null && to !== null && from !== to) this.#edge(from, to, lengthMm, null);
  }

  #nodeAt({ serviceId, placeMm }: AxisPlace): number | null {
    const stops = this.#stops.get(serviceId);
    const [first] = stops ?? [];
    if (stops === undefined || first === undefined) return null;
    const axis = this.#services.get(serviceId)?.axisMm ?? null;
    if (axis === null) return first.node;
    const known = stops.find((stop) => Math.abs(stop.placeMm - placeMm) <= SAME_PLACE_MM);
    if (known !== undefined) return known.node;
    const node = this.#node(pointOnAxis(axis, placeMm));
    stops.push({ placeMm, node });
    return node;
  }

  #node(position: Vec3 | null): number {
    this.#positions.push(position);
    return this.#positions.length - 1;
  }

  #edge(from: number, to: number, lengthMm: number, serviceId: string | null): number {
    this.#from.push(from);
    this.#to.push(to);
    this.#length.push(lengthMm);
    this.#service.push(serviceId);
    return this.#from.length - 1;
  }

  finish(penetrations: readonly Penetration[]): CarrierNetwork {
    this.#addStopsBetween(penetrations);
    const pieces = this.#addPieces();
    const crossingsOfEdge = this.#placeCrossings(penetrations, pieces);
    const nodeCount = this.#positions.length;
    const edgeFrom = Int32Array.from(this.#from);
    const edgeTo = Int32Array.from(this.#to);
    const graph: Graph = {
      nodeCount,
      edgeFrom,
      edgeTo,
      edgeLengthMm: Float64Array.from(this.#length),
      ...adjacency(nodeCount, edgeFrom, edgeTo),
    };
    const nodesOfService = new Map(
      [...this.#stops].map(([id, stops]) => [id, stops.map(({ node }) => node)]),
    );
    return {
      ...graph,
      positionsMm: this.#positions,
      edgeService: this.#service,
      crossingsOfEdge,
      nodesOfService,
      partOf: connectedParts(graph),
    };
  }

  /** A stop between two walls that one service crosses, so that the room between them has a node. */
  #addStopsBetween(penetrations: readonly Penetration[]): void {
    const places = new Map<string, number[]>();
    for (const { crossings } of penetrations) {
      for (const crossing of crossings) {
        for (const id of crossing.serviceIds) {
          const axis = this.#services.get(id)?.axisMm ?? null;
          if (axis === null) continue;
          const { placeMm } = nearestOnAxis(axis, middleOf(crossing));
          const list = places.get(id);
          if (list === undefined) places.set(id, [placeMm]);
          else list.push(placeMm);
        }
      }
    }
    for (const [serviceId, list] of places) {
      list.sort((a, b) => a - b);
      for (let at = 1; at < list.length; at++) {
        this.#nodeAt({ serviceId, placeMm: ((list[at - 1] ?? 0) + (list[at] ?? 0)) / 2 });
      }
    }
  }

  /** Pieces of each axis between its stops: edge and where it ends along the axis. */
  #addPieces(): Map<string, { readonly edge: number; readonly endMm: number }[]> {
    const pieces = new Map<string, { edge: number; endMm: number }[]>();
    for (const [id, stops] of this.#stops) {
      stops.sort((a, b) => a.placeMm - b.placeMm || a.node - b.node);
      const list: { edge: number; endMm: number }[] = [];
      for (let at = 1; at < stops.length; at++) {
        const from = stops[at - 1];
        const to = stops[at];
        if (from === undefined || to === undefined) continue;
        const edge = this.#edge(from.node, to.node, to.placeMm - from.placeMm, id);
        list.push({ edge, endMm: to.placeMm });
      }
      pieces.set(id, list);
    }
    return pieces;
  }

  /** A crossing lies on the piece of its run that is nearest to the middle of the hole. */
  #placeCrossings(
    penetrations: readonly Penetration[],
    pieces: ReadonlyMap<string, readonly { readonly edge: number; readonly endMm: number }[]>,
  ): Map<number, EdgeCrossing[]> {
    const found = new Map<number, EdgeCrossing[]>();
    for (const penetration of penetrations) {
      for (const crossing of penetration.crossings) {
        const edge = this.#nearestPiece(crossing.serviceIds, middleOf(crossing), pieces);
        if (edge === null) continue;
        const entry = { penetrationId: penetration.id, crossingId: crossing.id };
        const list = found.get(edge);
        if (list === undefined) found.set(edge, [entry]);
        else list.push(entry);
      }
    }
    return found;
  }

  #nearestPiece(
    serviceIds: readonly string[],
    middle: Vec3,
    pieces: ReadonlyMap<string, readonly { readonly edge: number; readonly endMm: number }[]>,
  ): number | null {
    let best: number | null = null;
    let bestMm = Number.POSITIVE_INFINITY;
    for (const id of serviceIds) {
      const axis = this.#services.get(id)?.axisMm ?? null;
      const list = pieces.get(id) ?? [];
      const [first] = list;
      if (axis === null || first === undefined) continue;
      const { placeMm, distanceMm } = nearestOnAxis(axis, middle);
      if (distanceMm >= bestMm) continue;
      bestMm = distanceMm;
      best = (list.find(({ endMm }) => placeMm <= endMm) ?? list[list.length - 1] ?? first).edge;
    }
    return best;
  }
}

function middleOf({ entryMm, exitMm }: Crossing): Vec3 {
  return lerp3(entryMm, exitMm, 0.5);
}

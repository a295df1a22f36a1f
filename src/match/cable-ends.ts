import { mentionsIn } from '../basics/reference-key.ts';
import type { Cable } from '../model/cable.ts';
import type { CarrierNetwork } from './carrier-network.ts';
import type { EquipmentEnds } from './equipment-ends.ts';
import type { ReferenceIndex } from './reference-index.ts';
import { type PointFinder, type Rooms, roomNamed } from './rooms.ts';

/** Where one end of a cable is in the network of carriers. */
export interface CableEnd {
  /** The same for ends that are the same place. */
  readonly key: string;
  readonly nodes: readonly number[];
  /** For people: "carrier PUMP-1", "room Switch room". */
  readonly label: string;
}

export interface CableEnds {
  readonly from: CableEnd | null;
  readonly to: CableEnd | null;
}

/** Finds ends by carriers named like the equipment, else by the equipment itself, else by the room. */
export class EndFinder {
  readonly #network: CarrierNetwork;
  readonly #index: ReferenceIndex;
  readonly #rooms: Rooms;
  readonly #points: PointFinder;
  readonly #equipment: EquipmentEnds;
  readonly #cache = new Map<string, CableEnd | null>();

  constructor(
    network: CarrierNetwork,
    index: ReferenceIndex,
    rooms: Rooms,
    points: PointFinder,
    equipment: EquipmentEnds,
  ) {
    this.#network = network;
    this.#equipment = equipment;
    this.#index = index;
    this.#rooms = rooms;
    this.#points = points;
  }

  endsOf(cable: Cable): CableEnds {
    return {
      from: this.#end(cable.from, cable.fromRoom),
      to: this.#end(cable.to, cable.toRoom),
    };
  }

  #end(text: string | null, room: string | null | undefined): CableEnd | null {
    const key = `${text ?? ''}\n${room ?? ''}`;
    const known = this.#cache.get(key);
    if (known !== undefined) return known;
    const end =
      this.#byCarrier(text) ?? this.#byEquipment(text) ?? this.#byRoom(room) ?? this.#byRoom(text);
    this.#cache.set(key, end);
    return end;
  }

  /** A carrier that is named after the equipment ends there. */
  #byCarrier(text: string | null): CableEnd | null {
    if (text === null) return null;
    for (const { key, kind } of mentionsIn(text)) {
      if (kind === 'words' || !/\d/u.test(key)) continue;
      const nodes = (this.#index.byKey.get(key) ?? []).flatMap(({ target, mention }) =>
        target.type === 'service' && mention.kind === 'whole'
          ? (this.#network.nodesOfService.get(target.serviceId) ?? [])
          : [],
      );
      if (nodes.length > 0) return { key: `carrier ${key}`, nodes: unique(nodes), label: text };
    }
    return null;
  }

  /** Equipment of that name in a model: the cable leaves its carriers where they come nearest. */
  #byEquipment(text: string | null): CableEnd | null {
    if (text === null) return null;
    for (const { key, kind } of mentionsIn(text)) {
      if (kind === 'words') continue;
      const nodes = this.#equipment.nodesNear(key);
      if (nodes.length > 0) return { key: `equipment ${key}`, nodes, label: text };
    }
    return null;
  }

  #byRoom(text: string | null | undefined): CableEnd | null {
    const room = roomNamed(this.#rooms, text);
    if (room === null) return null;
    const nodes = this.#points.inside(room);
    return nodes.length === 0 ? null : { key: `room ${room}`, nodes, label: text ?? room };
  }
}

function unique(nodes: readonly number[]): readonly number[] {
  return [...new Set(nodes)].sort((a, b) => a - b);
}

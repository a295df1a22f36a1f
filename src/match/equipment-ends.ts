import { referenceKey } from '../basics/reference-key.ts';
import { distance3, type Vec3 } from '../geometry/vec.ts';
import type { Equipment } from '../model/building.ts';

/** Cables leave their carrier this near to what they feed. Our choice. */
const REACH_MM = 4000;
/** Equipment of one name that stands no farther apart is one, in two files or in parts. */
const SAME_PLACE_MM = 1000;

/** Where the carriers come nearest to a piece of equipment. */
export interface EquipmentEnds {
  /** Nodes of the network by the key of a name; empty where none is so named, or several are. */
  readonly nodesNear: (key: string) => readonly number[];
}

/**
 * Prepares the look-up of equipment by name. A name that stands at several places names none of
 * them. Null positions of nodes are never found.
 */
export function indexEquipment(
  equipment: readonly Equipment[],
  positionsMm: readonly (Vec3 | null)[],
): EquipmentEnds {
  const places = placesByKey(equipment);
  let cells: ReadonlyMap<string, readonly number[]> | null = null;
  return {
    nodesNear(key) {
      const [first, ...more] = places.get(key) ?? [];
      if (first === undefined) return [];
      if (more.some((place) => distance3(first, place) > SAME_PLACE_MM)) return [];
      cells ??= cellsOf(positionsMm);
      return nearestTo(first, cells, positionsMm);
    },
  };
}

function placesByKey(equipment: readonly Equipment[]): ReadonlyMap<string, Vec3[]> {
  const places = new Map<string, Vec3[]>();
  for (const { names, positionMm } of equipment) {
    for (const key of new Set(names.map(referenceKey))) {
      // A word alone ("Pump") is a kind, not a name.
      if (!/\d/u.test(key)) continue;
      const known = places.get(key);
      if (known === undefined) places.set(key, [positionMm]);
      else known.push(positionMm);
    }
  }
  return places;
}

function cellsOf(positionsMm: readonly (Vec3 | null)[]): ReadonlyMap<string, readonly number[]> {
  const cells = new Map<string, number[]>();
  positionsMm.forEach((position, node) => {
    if (position === null) return;
    const key = cellKey(Math.floor(position[0] / REACH_MM), Math.floor(position[1] / REACH_MM));
    const known = cells.get(key);
    if (known === undefined) cells.set(key, [node]);
    else known.push(node);
  });
  return cells;
}

function cellKey(x: number, y: number): string {
  return `${x},${y}`;
}

function nearestTo(
  place: Vec3,
  cells: ReadonlyMap<string, readonly number[]>,
  positionsMm: readonly (Vec3 | null)[],
): readonly number[] {
  const [cx, cy] = [Math.floor(place[0] / REACH_MM), Math.floor(place[1] / REACH_MM)];
  let nearest: number | null = null;
  let leastMm = REACH_MM;
  for (let x = cx - 1; x <= cx + 1; x++) {
    for (let y = cy - 1; y <= cy + 1; y++) {
      for (const node of cells.get(cellKey(x, y)) ?? []) {
        const position = positionsMm[node];
        if (position == null) continue;
        const distanceMm = distance3(place, position);
        if (distanceMm > leastMm || (distanceMm === leastMm && nearest !== null)) continue;
        leastMm = distanceMm;
        nearest = node;
      }
    }
  }
  return nearest === null ? [] : [nearest];
}

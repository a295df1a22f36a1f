import type { Vec2 } from '../vec.ts';
import { type Box, boxToBox, cornerX, cornerY, pointToBox } from './box-distance.ts';
import { sineCosine } from './exact-trigonometry.ts';
import { type Layout, type PackProblem, type Part, turnOf } from './pack-problem.ts';

/** The parts of all pieces, where a layout puts them, and their distances there. */
export interface PlacedParts {
  readonly count: number;
  readonly parts: readonly Part[];
  /** The piece each part belongs to. */
  readonly owner: Int32Array;
  /** 1 for a rectangle, 0 for a point. */
  readonly isFlat: Uint8Array;
  /** Farthest point of each part from its place, mm. */
  readonly reach: Float64Array;
  /** Whether each piece is a single point, so that a layout is its places. */
  readonly isPlain: boolean;
  /** x and y of each part by turns. */
  readonly places: Float64Array;
  readonly boxes: readonly Box[];
  /** Sides of an outline that a rectangle can meet between its corners, as boxes without thickness. */
  readonly segments: readonly Box[];
  place(at: Float64Array): void;
  /** Between two parts as placed; negative where rectangles overlap. */
  distance(i: number, j: number): number;
  /** From a part to the wall, as placed; negative outside. */
  clearance(i: number): number;
}

export function placedParts({ region, pieces }: PackProblem, layout: Layout): PlacedParts {
  const parts: readonly Part[] = pieces.flatMap((piece) => piece.parts);
  const owner = Int32Array.from(pieces.flatMap((piece, i) => piece.parts.map(() => i)));
  const count = parts.length;
  const isFlat = Uint8Array.from(parts, ({ halfX, halfY }) => (halfX > 0 || halfY > 0 ? 1 : 0));
  const isPlain = layout.size === 2 * pieces.length;
  const reach = Float64Array.from(parts, (p) => Math.sqrt(p.halfX * p.halfX + p.halfY * p.halfY));
  const places = new Float64Array(2 * count);
  const segments = region.isConvex || isPlain ? [] : wallSegments(region.rings);
  const boxes: Box[] = isPlain
    ? []
    : parts.map(({ halfX, halfY }) => ({ x: 0, y: 0, cosine: 1, sine: 0, halfX, halfY }));

  function place(at: Float64Array): void {
    if (isPlain) {
      for (let k = 0; k < 2 * count; k++) places[k] = at[k] as number;
      return;
    }
    let part = 0;
    for (let i = 0; i < pieces.length; i++) {
      const [sine, cosine] = sineCosine(turnOf(layout, at, i));
      const x = at[2 * i] as number;
      const y = at[2 * i + 1] as number;
      while (part < count && owner[part] === i) {
        const { dx, dy } = parts[part] as Part;
        const box = boxes[part] as Box;
        box.x = x + dx * cosine - dy * sine;
        box.y = y + dx * sine + dy * cosine;
        box.cosine = cosine;
        box.sine = sine;
        places[2 * part] = box.x;
        places[2 * part + 1] = box.y;
        part++;
      }
    }
  }

  function distance(i: number, j: number): number {
    const x = places[2 * i] as number;
    const y = places[2 * i + 1] as number;
    const ox = places[2 * j] as number;
    const oy = places[2 * j + 1] as number;
    if (isFlat[i] === 0 && isFlat[j] === 0) {
      return Math.sqrt((ox - x) * (ox - x) + (oy - y) * (oy - y));
    }
    if (isFlat[i] === 0) return pointToBox(x, y, boxes[j] as Box);
    if (isFlat[j] === 0) return pointToBox(ox, oy, boxes[i] as Box);
    return boxToBox(boxes[i] as Box, boxes[j] as Box);
  }

  function clearance(i: number): number {
    if (isFlat[i] === 0) {
      return region.clearance(places[2 * i] as number, places[2 * i + 1] as number);
    }
    const box = boxes[i] as Box;
    let least = Number.POSITIVE_INFINITY;
    for (let corner = 0; corner < 4; corner++) {
      least = Math.min(least, region.clearance(cornerX(box, corner), cornerY(box, corner)));
    }
    for (const segment of segments) least = Math.min(least, boxToBox(box, segment));
    return least;
  }

  return {
    count,
    parts,
    owner,
    isFlat,
    reach,
    isPlain,
    places,
    boxes,
    segments,
    place,
    distance,
    clearance,
  };
}

function wallSegments(rings: readonly (readonly Vec2[])[]): Box[] {
  return rings.flatMap((ring) =>
    ring.flatMap((from, k) => {
      const to = ring[(k + 1) % ring.length] ?? from;
      const dx = to[0] - from[0];
      const dy = to[1] - from[1];
      const length = Math.sqrt(dx * dx + dy * dy);
      if (length === 0) return [];
      return [
        {
          x: (from[0] + to[0]) / 2,
          y: (from[1] + to[1]) / 2,
          cosine: dx / length,
          sine: dy / length,
          halfX: length / 2,
          halfY: 0,
        },
      ];
    }),
  );
}

import type { Box } from './box-distance.ts';
import type { GrowthNeeds } from './growth-needs.ts';
import type { Layout, PackProblem, Part } from './pack-problem.ts';
import type { PlacedParts } from './placed-parts.ts';

/** A pair or wall too close, linearised: distance − need ≈ rest + Σ pulls · change. */
export interface Contact {
  /** The parts that touch; the second is minus one less the number of a wall. */
  readonly first: number;
  readonly second: number;
  /** Distance less need; negative when too close. */
  readonly rest: number;
  /** Unknowns of the layout, and the rate of the distance by each. */
  readonly unknowns: readonly number[];
  readonly rates: readonly number[];
  /** Rate of the need by the growth. */
  readonly slope: number;
}

export interface Contacts {
  /** Contacts of the parts as placed that fall short of their needs; null among rectangles. */
  pressed(): Contact[] | null;
  /** The same contacts with the parts as placed now, touching or not. */
  again(contacts: readonly Contact[]): Contact[];
}

export function contactsOf(
  { region, pairSlope, pairFloor, wallSlope, wallFloor }: PackProblem,
  layout: Layout,
  placed: PlacedParts,
  needs: GrowthNeeds,
  frozen: Int32Array,
): Contacts {
  const { count, parts, owner, isFlat, places, boxes } = placed;
  const isFrozen = new Uint8Array(layout.size);
  for (const k of frozen) isFrozen[k] = 1;
  const hasFlat = isFlat.includes(1);

  function pressed(): Contact[] | null {
    if (hasFlat) return null;
    const found: Contact[] = [];
    for (let i = 0; i < count; i++) {
      for (let j = i + 1; j < count; j++) {
        if (owner[i] === owner[j]) continue;
        const distance = placed.distance(i, j);
        if (distance > 0 && distance < (needs.pair[i * count + j] as number)) {
          found.push(pairContact(i, j, distance));
        }
      }
      const x = places[2 * i] as number;
      const y = places[2 * i + 1] as number;
      region.walls(x, y, needs.wall[i] as number, (...seen) => {
        found.push(wallContact(i, ...seen));
      });
    }
    return found;
  }

  function again(known: readonly Contact[]): Contact[] {
    return known.map((contact) => {
      const { first, second } = contact;
      if (second >= 0) return pairContact(first, second, placed.distance(first, second));
      let same = contact;
      const x = places[2 * first] as number;
      const y = places[2 * first + 1] as number;
      region.walls(x, y, Number.POSITIVE_INFINITY, (distance, awayX, awayY, wall) => {
        if (wall === -1 - second) same = wallContact(first, distance, awayX, awayY, wall);
      });
      return same;
    });
  }

  function pairContact(i: number, j: number, distance: number): Contact {
    const k = i * count + j;
    const need = needs.pair[k] as number;
    const slope = need <= (pairFloor[k] as number) ? 0 : (pairSlope[k] as number);
    const ux = ((places[2 * j] as number) - (places[2 * i] as number)) / distance;
    const uy = ((places[2 * j + 1] as number) - (places[2 * i + 1] as number)) / distance;
    const contact = { first: i, second: j, rest: distance - need, slope, unknowns: [], rates: [] };
    addMove(contact, i, -ux, -uy);
    addMove(contact, j, ux, uy);
    return contact;
  }

  function wallContact(
    i: number,
    distance: number,
    awayX: number,
    awayY: number,
    wall: number,
  ): Contact {
    const need = needs.wall[i] as number;
    const slope = need <= (wallFloor[i] as number) ? 0 : (wallSlope[i] as number);
    const rest = distance - need;
    const contact = { first: i, second: -1 - wall, rest, slope, unknowns: [], rates: [] };
    addMove(contact, i, awayX, awayY);
    return contact;
  }

  /** A part's share in a contact, by the unknowns of its piece. */
  function addMove(
    { unknowns, rates }: { readonly unknowns: number[]; readonly rates: number[] },
    part: number,
    rateX: number,
    rateY: number,
  ): void {
    const i = owner[part] as number;
    if (isFrozen[2 * i] === 1) return;
    unknowns.push(2 * i, 2 * i + 1);
    rates.push(rateX, rateY);
    const turn = layout.turnAt[i] as number;
    if (turn < 0 || isFrozen[turn] === 1) return;
    const { dx, dy } = parts[part] as Part;
    const { cosine, sine } = boxes[part] as Box;
    const rx = dx * cosine - dy * sine;
    const ry = dx * sine + dy * cosine;
    unknowns.push(turn);
    rates.push((rx * rateY - ry * rateX) / (layout.arm[i] as number));
  }

  return { pressed, again };
}

import type { Associations } from './associate.ts';
import type { HostCrossing } from './crossings.ts';
import { type EmptyHole, emptyHolesOf } from './empty-holes.ts';
import type { Scene } from './scene.ts';
import { groupsOf, unionFind } from './union-find.ts';

/** What makes one penetration: numbers of crossings and of openings. */
export interface HoleGroup {
  /** Crossings of each run through the assembly. */
  readonly runs: readonly (readonly number[])[];
  readonly openings: readonly number[];
  /** Holes of hosts' own bodies that nothing passes. */
  readonly emptyHoles: readonly EmptyHole[];
}

export interface Grouped {
  readonly groups: readonly HoleGroup[];
  /** Crossing and the door, window or shaft that it passes instead. */
  readonly swallowed: ReadonlyMap<number, number>;
}

/** Joins crossings and openings to penetrations. */
export function groupHoles(
  scene: Scene,
  crossings: readonly HostCrossing[],
  together: Associations,
): Grouped {
  const swallowed = swallowedCrossings(scene, together);
  const takesPart = (opening: number): boolean => scene.classes[opening]?.takesPart === true;
  const count = crossings.length + scene.openings.length;
  const sets = unionFind(count);
  const runs = unionFind(crossings.length);
  for (const [a, b] of together.leaves) {
    if (swallowed.has(a) || swallowed.has(b)) continue;
    sets.join(a, b);
    runs.join(a, b);
  }
  for (const [a, b] of [...together.carried, ...together.close]) {
    if (!swallowed.has(a) && !swallowed.has(b)) sets.join(a, b);
  }
  for (const [crossing, opening] of together.inOpening) {
    if (!swallowed.has(crossing) && takesPart(opening))
      sets.join(crossing, crossings.length + opening);
  }
  for (const [a, b] of together.openings) {
    if (takesPart(a) && takesPart(b)) sets.join(crossings.length + a, crossings.length + b);
  }
  const groups: HoleGroup[] = [];
  for (const members of groupsOf(count, sets)) {
    const passing = members.filter((n) => n < crossings.length && !swallowed.has(n));
    const openings = members
      .filter((n) => n >= crossings.length)
      .map((n) => n - crossings.length)
      .filter(takesPart);
    if (passing.length === 0 && openings.length === 0) continue;
    groups.push({ runs: byRun(passing, runs.groupOf), openings, emptyHoles: [] });
  }
  for (const emptyHoles of emptyHolesOf(scene, crossings)) {
    groups.push({ runs: [], openings: [], emptyHoles });
  }
  return { groups, swallowed };
}

/** A carrier's contents go where it goes, into a shaft or a door as well. */
function swallowedCrossings(scene: Scene, together: Associations): ReadonlyMap<number, number> {
  const inside = new Map<number, number[]>();
  for (const [crossing, opening] of together.inOpening) {
    inside.set(crossing, [...(inside.get(crossing) ?? []), opening]);
  }
  const swallowed = new Map<number, number>();
  for (const [crossing, openings] of inside) {
    if (openings.some((n) => scene.classes[n]?.takesPart === true)) continue;
    const swallower = openings.find((n) => scene.classes[n]?.swallows === true);
    if (swallower !== undefined) swallowed.set(crossing, swallower);
  }
  return swallowed;
}

function byRun(
  passing: readonly number[],
  groupOf: (n: number) => number,
): readonly (readonly number[])[] {
  const runs = new Map<number, number[]>();
  for (const n of passing) {
    const run = groupOf(n);
    const members = runs.get(run);
    if (members === undefined) runs.set(run, [n]);
    else members.push(n);
  }
  return [...runs.values()];
}

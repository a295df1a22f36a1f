import { PointGrid } from '../../geometry/plane-grid.ts';
import { distance2, dot2, sub2, type Vec2 } from '../../geometry/vec.ts';
import type { Settings } from '../../model/settings.ts';
import { chooseSize, halfWidthMm } from './choose-size.ts';
import type { CrossingDraft, SizeChoice } from './crossing-draft.ts';
import type { OpeningDraft } from './openings.ts';

/** Crossings that share one hole. */
export interface CrossingGroup {
  readonly opening: OpeningDraft | null;
  readonly members: readonly {
    readonly draft: CrossingDraft;
    readonly size: SizeChoice;
    /** How many bodies the one line stands for. */
    readonly count: number;
  }[];
}

/** Crossings farther apart than this share no opening that is not drawn. */
const FARTHEST_APART_MM = 1500;
/** Lines of one bundle lie no farther apart than this many times what passes. */
const BUNDLE_PITCH = 4;
const SMALLEST_PITCH_MM = 200;
/** Pitches of lines drawn wide apart for clearness, tried in turn. Our choice. */
const WIDER_PITCHES_MM = [300, 450] as const;

/** Gathers crossings: in one drawn opening, named by one count, or touching. */
export function groupCrossings(
  drafts: readonly CrossingDraft[],
  openings: readonly OpeningDraft[],
  settings: Settings,
): CrossingGroup[] {
  const sizes = drafts.map((draft) => sizeOf(draft));
  const grouping = new Grouping(drafts.length);
  const openingsNear = openingIndex(openings);
  const openingOf = drafts.map((draft) => openingAt(draft, openingsNear(draft.middle)));
  joinByOpening(grouping, openingOf);
  const near = neighbours(drafts);
  const shared = shareCounts(drafts, sizes, near, grouping);
  joinBySpacing(grouping, drafts, sizes, near, openingOf, settings.find.sharedOpeningSpacingMm);
  const groups = grouping.groups().map(
    (members): CrossingGroup => ({
      opening: members.map((i) => openingOf[i]).find((opening) => opening != null) ?? null,
      members: members.flatMap((i) => {
        const draft = drafts[i];
        const size = shared.get(i)?.size ?? sizes[i];
        if (draft === undefined || size === undefined) return [];
        return [{ draft, size, count: shared.get(i)?.count ?? size.count }];
      }),
    }),
  );
  const used = new Set(openingOf);
  const empty = openings
    .filter((opening) => !used.has(opening))
    .map((opening): CrossingGroup => ({ opening, members: [] }));
  return [...groups, ...empty];
}

function sizeOf(draft: CrossingDraft): SizeChoice {
  const kind = draft.items[0]?.kind ?? 'cable';
  return chooseSize(draft.labels, draft.middle, kind, draft.drawnWidthMm);
}

/** An opening lies within its own width of a crossing, and within a thick wall's depth. */
const OPENING_REACH_MM = 2500;

/** Openings near a place, in their given order. */
function openingIndex(openings: readonly OpeningDraft[]): (place: Vec2) => OpeningDraft[] {
  const grid = new PointGrid<number>(OPENING_REACH_MM);
  openings.forEach(({ centre }, i) => {
    grid.add(centre, i);
  });
  return (place) =>
    grid
      .near(place)
      .sort((a, b) => a - b)
      .flatMap((i) => openings[i] ?? []);
}

/** The opening in whose width a crossing lies. */
function openingAt(draft: CrossingDraft, openings: readonly OpeningDraft[]): OpeningDraft | null {
  const across: Vec2 = [-draft.axis[1], draft.axis[0]];
  let best: OpeningDraft | null = null;
  let bestDistance = Number.POSITIVE_INFINITY;
  for (const opening of openings) {
    if (opening.hostIds.every((id) => !draft.hosts.some((host) => host.id === id))) continue;
    const from = sub2(draft.middle, opening.centre);
    const aside = Math.abs(dot2(from, across));
    const along = Math.abs(dot2(from, draft.axis));
    if (aside > opening.halfWidthMm + 1 || along > draft.thicknessMm + 50) continue;
    if (aside < bestDistance) {
      best = opening;
      bestDistance = aside;
    }
  }
  return best;
}

function joinByOpening(grouping: Grouping, openingOf: readonly (OpeningDraft | null)[]): void {
  const first = new Map<OpeningDraft, number>();
  openingOf.forEach((opening, i) => {
    if (opening === null) return;
    const known = first.get(opening);
    if (known === undefined) first.set(opening, i);
    else grouping.join(known, i);
  });
}

/** For each crossing the others of the same host nearby that run the same way, by distance aside. */
function neighbours(
  drafts: readonly CrossingDraft[],
): (readonly { readonly at: number; readonly asideMm: number }[])[] {
  const grid = new PointGrid<number>(FARTHEST_APART_MM);
  drafts.forEach((draft, i) => {
    grid.add(draft.middle, i);
  });
  return drafts.map((draft, i) =>
    grid
      .near(draft.middle)
      .filter((j) => {
        const other = drafts[j];
        return j !== i && other !== undefined && shareHost(draft, other);
      })
      .map((j) => {
        const other = drafts[j];
        return { at: j, asideMm: other === undefined ? 0 : distance2(draft.middle, other.middle) };
      })
      .sort((a, b) => a.asideMm - b.asideMm || a.at - b.at),
  );
}

function shareHost(a: CrossingDraft, b: CrossingDraft): boolean {
  const isSameWay = Math.abs(dot2(a.axis, b.axis)) > 0.98;
  return isSameWay && a.hosts.some(({ id }) => b.hosts.some((host) => host.id === id));
}

/**
 * A label such as "4 no. 100 ducts" beside four lines names the four, not four times each: where
 * there are just so many lines of the same kind beside each other, they share it.
 */
function shareCounts(
  drafts: readonly CrossingDraft[],
  sizes: readonly SizeChoice[],
  near: readonly (readonly { readonly at: number; readonly asideMm: number }[])[],
  grouping: Grouping,
): ReadonlyMap<number, { readonly size: SizeChoice; readonly count: number }> {
  const shared = new Map<number, { size: SizeChoice; count: number }>();
  sizes.forEach((size, i) => {
    if (size.count < 2 || shared.has(i)) return;
    const narrow = Math.max(SMALLEST_PITCH_MM, 2 * halfWidthMm(size.section) * BUNDLE_PITCH);
    // Lines farther apart are meant as well where there are just so many of them.
    const bundle = [narrow, ...WIDER_PITCHES_MM]
      .map((pitch) => bundleOf(i, drafts, sizes, near, size, pitch))
      .find(({ length }) => length === size.count);
    for (const member of bundle ?? []) {
      shared.set(member, { size, count: 1 });
      grouping.join(i, member);
    }
  });
  return shared;
}

function bundleOf(
  start: number,
  drafts: readonly CrossingDraft[],
  sizes: readonly SizeChoice[],
  near: readonly (readonly { readonly at: number; readonly asideMm: number }[])[],
  size: SizeChoice,
  pitch: number,
): number[] {
  const kind = drafts[start]?.items[0]?.kind;
  const bundle = new Set([start]);
  const waiting = [start];
  for (let at = waiting.pop(); at !== undefined; at = waiting.pop()) {
    for (const { at: other, asideMm } of near[at] ?? []) {
      if (asideMm > pitch || bundle.has(other)) continue;
      const isUnnamed = sizes[other]?.label === null || sizes[other]?.label === size.label;
      if (!isUnnamed || drafts[other]?.items[0]?.kind !== kind) continue;
      bundle.add(other);
      waiting.push(other);
    }
  }
  return [...bundle].sort((a, b) => a - b);
}

function joinBySpacing(
  grouping: Grouping,
  drafts: readonly CrossingDraft[],
  sizes: readonly SizeChoice[],
  near: readonly (readonly { readonly at: number; readonly asideMm: number }[])[],
  openingOf: readonly (OpeningDraft | null)[],
  spacingMm: number,
): void {
  drafts.forEach((draft, i) => {
    for (const { at: j, asideMm } of near[i] ?? []) {
      const other = drafts[j];
      if (j < i || other === undefined) continue;
      // A drawn opening says which services share it.
      if ((openingOf[i] ?? null) !== (openingOf[j] ?? null)) continue;
      const clear =
        asideMm - halfWidthMm(sizes[i]?.section ?? null) - halfWidthMm(sizes[j]?.section ?? null);
      const isLevel = (heightOf(draft) ?? 0) === (heightOf(other) ?? 0);
      if (isLevel && clear <= spacingMm) grouping.join(i, j);
    }
  });
}

function heightOf(draft: CrossingDraft): number | null {
  return (
    draft.labels.find(({ reading }) => reading.height !== null)?.reading.height?.heightMm ?? null
  );
}

/** Sets that can be joined; the lowest number leads each. */
class Grouping {
  private readonly parents: number[];

  constructor(count: number) {
    this.parents = Array.from({ length: count }, (_, i) => i);
  }

  join(a: number, b: number): void {
    const [low, high] = [this.root(a), this.root(b)].sort((x, y) => x - y);
    if (low !== undefined && high !== undefined) this.parents[high] = low;
  }

  groups(): number[][] {
    const groups = new Map<number, number[]>();
    this.parents.forEach((_, i) => {
      const root = this.root(i);
      const group = groups.get(root);
      if (group === undefined) groups.set(root, [i]);
      else group.push(i);
    });
    return [...groups.values()];
  }

  private root(i: number): number {
    let at = i;
    for (let up = this.parents[at]; up !== undefined && up !== at; up = this.parents[at]) at = up;
    return at;
  }
}

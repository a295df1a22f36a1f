import { compareText, groupBy, sortedBy } from '../basics/order.ts';
import { makeQuery, type Query, type WithQueries } from '../basics/query.ts';
import { PointGrid } from '../geometry/plane-grid.ts';
import { type Shape, shapeExtentMm, shapeText, sizeText } from '../geometry/shape.ts';
import { dot3, sub3, type Vec3 } from '../geometry/vec.ts';
import type { Findings, LedgerEntry, Penetration } from '../model/penetration.ts';
import type { Settings } from '../model/settings.ts';

/** Two centres of one hole lie no farther apart than this, or than half its size. */
const SAME_PLACE_MM = 100;
/** Holes seen in two views go the same way through the host. */
const SAME_WAY_COSINE = 0.95;
/** A storey's height: a plan without heights shows what lies this far above its level. */
const STOREY_MM = 4500;
const BELOW_LEVEL_MM = 500;
/** Sizes agree within this. */
const SAME_SIZE_RATIO = 0.05;

/** Findings with each hole once, and where those went that are part of another now. */
export interface MergedFindings extends WithQueries<Findings> {
  readonly keptIds: ReadonlyMap<string, string>;
}

/**
 * What models and drawings show, each hole once. A drawing takes part only where its base point
 * puts it into the models' frame; its penetrations are otherwise kept beside those of the models.
 * The model's penetration stays and takes over the drawing's evidence and references; what does not
 * agree becomes a query. Both ledgers are kept, the drawing's pointing to where its finds went.
 */
export function mergeFindings(
  models: Findings,
  drawings: Findings,
  settings: Settings,
): MergedFindings {
  const placed = drawings.penetrations.filter((each) => isPlaced(each, settings));
  const { pairs, queries } = pairUp(models.penetrations, placed);
  return joinPairs(models, drawings, pairs, queries);
}

/**
 * Plans and sections of drawings, each hole once. Views with base points are in one frame; where one
 * has none, a plan's x and a section's x may still be the same, so there a reference in common is
 * asked for, or the same size at the same x through a wall of the same thickness.
 */
export function mergeViews(findings: Findings, settings: Settings): MergedFindings {
  const { penetrations, ledger } = findings;
  const plans = penetrations.filter(({ drawnIn }) => drawnIn === 'plan');
  const others = penetrations.filter(({ drawnIn }) => drawnIn !== 'plan');
  const { pairs, queries } = pairUp(plans, others, (candidate) => {
    const { kept, other } = candidate;
    const arePlaced = isPlaced(kept, settings) && isPlaced(other, settings);
    return candidate.isNamed || arePlaced || isSameAtX(candidate);
  });
  const none: Findings = { penetrations: [], ledger: { services: [], openings: [] } };
  return joinPairs({ penetrations, ledger }, none, pairs, queries);
}

const SAME_X_MM = 20;

function isSameAtX({ kept, other }: Candidate): boolean {
  const apart = Math.abs(kept.frame.originMm[0] - other.frame.originMm[0]);
  const areAsThick = Math.abs(kept.thicknessMm - other.thicknessMm) < 1;
  return apart <= SAME_X_MM && areAsThick && sizesAgree(kept, other) === true;
}

/** The same hole in two views: the one that stays, and the one that is taken into it. */
export interface MergedPair {
  readonly kept: Penetration;
  readonly other: Penetration;
}

/** Whether every view of the drawing that a penetration comes from has a base point. */
function isPlaced(penetration: Penetration, settings: Settings): boolean {
  const file = settings.files[fileKeyOf(penetration)];
  if (file?.kind !== 'dxf' || file.views === undefined || file.views.length === 0) return false;
  return file.views.every(({ basePoint, atMm }) => basePoint !== undefined || atMm !== undefined);
}

function fileKeyOf({ hosts, openings, crossings }: Penetration): string {
  const ref = hosts[0]?.ref ?? openings[0]?.ref ?? crossings[0]?.refs[0];
  return ref?.fileKey ?? '';
}

/**
 * Pairs of one hole, each penetration in one pair at most: those with a reference in common first,
 * then the nearest. Two that fit equally well are left apart with a query.
 */
function pairUp(
  kept: readonly Penetration[],
  others: readonly Penetration[],
  mayPair: (candidate: Candidate) => boolean = () => true,
): { readonly pairs: readonly MergedPair[]; readonly queries: readonly Query[] } {
  const candidates = candidatePairs(kept, others).filter(mayPair);
  const rivals = groupBy(candidates, ({ other }) => other.id);
  const pairs: MergedPair[] = [];
  const queries: Query[] = [];
  const used = new Set<string>();
  const joined = new Map<string, number>();
  for (const candidate of candidates) {
    const isTaken = used.has(candidate.kept.id) && !holdsOneMore(candidate, joined);
    if (isTaken || used.has(candidate.other.id)) continue;
    const rival = (rivals.get(candidate.other.id) ?? []).find(
      (each) =>
        each !== candidate &&
        !used.has(each.kept.id) &&
        each.rank === candidate.rank &&
        Math.abs(each.distanceMm - candidate.distanceMm) < 1,
    );
    used.add(candidate.other.id);
    if (rival !== undefined) {
      queries.push(ambiguous(candidate, rival));
      continue;
    }
    used.add(candidate.kept.id);
    joined.set(candidate.kept.id, (joined.get(candidate.kept.id) ?? 0) + 1);
    pairs.push(candidate);
    const disagreement = sizeDisagreement(candidate);
    if (disagreement !== null) queries.push(disagreement);
  }
  return { pairs, queries };
}

/** A plan draws each run that shares an opening by itself: the opening takes as many as pass it. */
function holdsOneMore({ kept, other }: Candidate, joined: ReadonlyMap<string, number>): boolean {
  const room = kept.crossings.length - (joined.get(kept.id) ?? 0);
  return kept.shape !== null && other.shape === null && room > 0;
}

/** Two that may be one hole, and how well they agree. */
export interface Candidate extends MergedPair {
  /** 0: a reference in common and the size agrees · 1: a reference · 2: the size · 3: the place only. */
  readonly rank: number;
  /** A reference stands on both. */
  readonly isNamed: boolean;
  readonly distanceMm: number;
}

function candidatePairs(kept: readonly Penetration[], others: readonly Penetration[]): Candidate[] {
  // Sections lack y and plans may lack z: x alone is in every view, along it the search is narrow.
  const byX = new PointGrid<Penetration>(CELL_MM);
  for (const each of kept) byX.add([each.frame.originMm[0], 0], each);
  const candidates: Candidate[] = [];
  for (const other of others) {
    for (const each of byX.near([other.frame.originMm[0], 0])) {
      const distanceMm = distanceInCommon(each, other);
      if (distanceMm === null) continue;
      const named = haveReferenceInCommon(each, other);
      const sized = sizesAgree(each, other);
      candidates.push({
        kept: each,
        other,
        rank: (named ? 0 : 2) + (sized === false ? 1 : 0),
        isNamed: named,
        distanceMm,
      });
    }
  }
  return candidates.sort(
    (a, b) =>
      a.rank - b.rank ||
      a.distanceMm - b.distanceMm ||
      compareText(a.kept.id, b.kept.id) ||
      compareText(a.other.id, b.other.id),
  );
}

/** Wider than any distance at which two finds are one hole. */
const CELL_MM = 1500;

/**
 * Distance of two centres in the directions that both views show, across the hole's axis; null when
 * they are not the same hole.
 */
function distanceInCommon(a: Penetration, b: Penetration): number | null {
  const shown = (drawnIn: Penetration['drawnIn']): Vec3 => {
    if (drawnIn === undefined) return [1, 1, 1];
    return drawnIn === 'plan' ? [1, 1, 0] : [1, 0, 1];
  };
  const shownA = shown(a.drawnIn);
  const shownB = shown(b.drawnIn);
  const both = [0, 1, 2].map((i) => (shownA[i] ?? 0) * (shownB[i] ?? 0));
  const isTurned = Math.abs(dot3(a.frame.axis, b.frame.axis)) < SAME_WAY_COSINE;
  if (isTurned) return null;
  const apart = sub3(a.frame.originMm, b.frame.originMm);
  // Along the axis the two may be judged at different leaves of one assembly.
  const deepest = Math.max(a.thicknessMm, b.thicknessMm) + SAME_PLACE_MM;
  let aside = 0;
  for (let i = 0; i < 3; i++) {
    const distance = Math.abs(apart[i] ?? 0) * (both[i] ?? 0);
    const isAlong = Math.abs(a.frame.axis[i] ?? 0) > SAME_WAY_COSINE;
    if (isAlong ? distance > deepest : distance > reachOf(a, b)) return null;
    if (!isAlong) aside = Math.hypot(aside, distance);
  }
  return isHeightPossible(a, b) && isHeightPossible(b, a) ? aside : null;
}

function reachOf(a: Penetration, b: Penetration): number {
  const size = Math.max(sizeMm(a) ?? 0, sizeMm(b) ?? 0);
  return Math.min(CELL_MM, Math.max(SAME_PLACE_MM, size / 2));
}

/** What a plan shows lies on its storey. */
function isHeightPossible(plan: Penetration, other: Penetration): boolean {
  if (plan.drawnIn !== 'plan' || other.drawnIn === 'plan') return true;
  const levelMm = plan.where.levelElevationMm;
  if (levelMm === null) return true;
  const height = other.frame.originMm[2] - levelMm;
  return height >= -BELOW_LEVEL_MM - plan.thicknessMm && height <= STOREY_MM;
}

function haveReferenceInCommon(a: Penetration, b: Penetration): boolean {
  const own = new Set(referencesOf(a));
  return referencesOf(b).some((text) => own.has(text));
}

const referencesOf = ({ references, crossings }: Penetration): string[] =>
  [...references, ...crossings.flatMap((crossing) => crossing.references)].map(({ text }) =>
    text.toUpperCase().replace(/[^\p{L}\p{N}]/gu, ''),
  );

/**
 * Whether the sizes agree, like with like: openings where both show one, else what passes. A nominal
 * size, or one that only one of the two has, says neither.
 */
function sizesAgree(a: Penetration, b: Penetration): boolean | null {
  if (a.shape !== null && b.shape !== null) return areAlike(largest(a.shape), largest(b.shape));
  const first = serviceSizesMm(a);
  const second = serviceSizesMm(b);
  if (first.length === 0 || second.length === 0) return null;
  return areAmong(first, second) || areAmong(second, first);
}

/** A view may show only some of what passes. */
function areAmong(some: readonly number[], all: readonly number[]): boolean {
  return some.every((size) => all.some((other) => areAlike(size, other)));
}

function areAlike(first: number, second: number): boolean {
  return Math.abs(first - second) <= SAME_SIZE_RATIO * Math.max(first, second);
}

function serviceSizesMm({ crossings }: Penetration): number[] {
  return crossings.flatMap(({ section, sizeBasis }) =>
    section === null || sizeBasis === 'nominal' ? [] : [largest(section)],
  );
}

/** Largest width of the opening, else of what passes, mm. */
function sizeMm({ shape, crossings }: Penetration): number | null {
  if (shape !== null) return largest(shape);
  const sizes = crossings.flatMap(({ section }) => (section === null ? [] : [largest(section)]));
  return sizes.length === 0 ? null : Math.max(...sizes);
}

function largest(shape: Shape): number {
  const { widthMm, heightMm } = shapeExtentMm(shape);
  return Math.max(widthMm, heightMm);
}

function ambiguous(candidate: Candidate, rival: Candidate): Query {
  return makeQuery('duplicate-element', {
    about: candidate.other.id,
    severity: 'ask',
    penetrationId: candidate.other.id,
    text: `This penetration may be the same as ${candidate.kept.id} or ${rival.kept.id}: both lie as near.`,
    why: 'The same hole would be listed and sealed twice.',
    settles: 'Which of them it is, for instance by a reference on both.',
    evidence: candidate.other.evidence,
  });
}

function sizeDisagreement({ kept, other }: MergedPair): Query | null {
  if (sizesAgree(kept, other) !== false) return null;
  return makeQuery('size-conflict', {
    about: `${kept.id}/${other.id}`,
    penetrationId: kept.id,
    text: `Two views show ${sizeWords(kept, other)}.`,
    why: 'One of the two is out of date, and the seal is made for one size.',
    settles: 'Which size is right.',
    evidence: [...kept.evidence, ...other.evidence],
  });
}

function sizeWords(kept: Penetration, other: Penetration): string {
  if (kept.shape !== null && other.shape !== null) {
    return `this hole in different sizes: ${shapeText(kept.shape)} and ${shapeText(other.shape)}`;
  }
  const [first, second] = [kept, other].map((each) =>
    serviceSizesMm(each)
      .map((size) => sizeText(size))
      .join(', '),
  );
  return `what passes here in different sizes: ${first} mm and ${second} mm`;
}

/** Both sides' findings with every pair as one penetration. */
function joinPairs(
  first: Findings,
  second: Findings,
  pairs: readonly MergedPair[],
  queries: readonly Query[],
): MergedFindings {
  const keptIds = new Map(pairs.map(({ kept, other }) => [other.id, kept.id]));
  const merged = new Map<string, Penetration>();
  for (const { kept, other } of pairs) {
    merged.set(kept.id, mergePair({ kept: merged.get(kept.id) ?? kept, other }));
  }
  const all = [...first.penetrations, ...second.penetrations].filter(({ id }) => !keptIds.has(id));
  const redirect = <Outcome extends string>(entry: LedgerEntry<Outcome>): LedgerEntry<Outcome> => ({
    ...entry,
    penetrationIds: [...new Set(entry.penetrationIds.map((id) => keptIds.get(id) ?? id))],
  });
  return {
    result: {
      penetrations: sortedBy(
        all.map((each) => merged.get(each.id) ?? each),
        ({ id }) => id,
      ),
      ledger: {
        services: sortedBy(
          [...first.ledger.services, ...second.ledger.services].map(redirect),
          ({ id }) => id,
        ),
        openings: sortedBy(
          [...first.ledger.openings, ...second.ledger.openings].map(redirect),
          ({ id }) => id,
        ),
      },
    },
    queries,
    keptIds,
  };
}

/** The kept one with what only the other knows. */
function mergePair({ kept, other }: MergedPair): Penetration {
  const known = new Set(kept.references.map(({ text }) => text));
  const isLifted = kept.drawnIn === 'plan' && other.drawnIn !== 'plan';
  const placed = isLifted ? atHeight(kept, other.frame.originMm[2]) : kept;
  const crossings =
    placed.crossings.length > 0 || other.crossings.length === 0
      ? placed.crossings.map((crossing) => withSize(crossing, other))
      : other.crossings;
  const hosts = kept.hosts.length > 0 ? kept.hosts : other.hosts;
  return {
    ...placed,
    kind: kept.kind === 'unopened' && other.shape !== null ? other.kind : kept.kind,
    hosts: hosts.map((host, i) =>
      host.thicknessMm > 0 ? host : { ...host, thicknessMm: other.hosts[i]?.thicknessMm ?? 0 },
    ),
    thicknessMm: kept.thicknessMm > 0 ? kept.thicknessMm : other.thicknessMm,
    openings: kept.openings.length > 0 ? kept.openings : other.openings,
    crossings,
    shape: kept.shape ?? other.shape,
    references: [
      ...kept.references,
      ...otherReferences(other).filter(({ text }) => !known.has(text)),
    ],
    where: { ...placed.where, grid: placed.where.grid ?? other.where.grid },
    evidence: [...kept.evidence, ...other.evidence],
  };
}

/** A plan's penetration at the height that a section or a model gives it. */
function atHeight(penetration: Penetration, zMm: number): Penetration {
  const { frame, crossings, where } = penetration;
  const up = zMm - frame.originMm[2];
  const lift = ([x, y, z]: Vec3): Vec3 => [x, y, z + up];
  return {
    ...penetration,
    frame: { ...frame, originMm: lift(frame.originMm) },
    crossings: crossings.map((crossing) => ({
      ...crossing,
      entryMm: lift(crossing.entryMm),
      exitMm: lift(crossing.exitMm),
    })),
    where: {
      ...where,
      heightAboveLevelMm: where.levelElevationMm === null ? null : zMm - where.levelElevationMm,
    },
  };
}

/** A service without a size takes that of the only one the other view shows. */
function withSize(
  crossing: Penetration['crossings'][number],
  other: Penetration,
): Penetration['crossings'][number] {
  const [only] = other.crossings;
  if (crossing.section !== null || only === undefined || other.crossings.length > 1)
    return crossing;
  const { section, sizeBasis, boreMm } = only;
  return {
    ...crossing,
    section,
    sizeBasis,
    boreMm,
    evidence: [...crossing.evidence, ...only.evidence],
  };
}

const otherReferences = ({ references, crossings }: Penetration) => [
  ...references,
  ...crossings.flatMap((crossing) => crossing.references),
];

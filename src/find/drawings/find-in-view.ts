import type { Query, WithQueries } from '../../basics/query.ts';
import type { Drawing, DrawnView } from '../../model/drawing.ts';
import type { Findings, Penetration } from '../../model/penetration.ts';
import type { Settings } from '../../model/settings.ts';
import { buildEndOn, type EndOnFind } from './build-end-on.ts';
import { buildPenetration } from './build-penetration.ts';
import type { CrossingDraft } from './crossing-draft.ts';
import { type CrossingLayer, crossingLayers } from './crossing-layers.ts';
import { doorSwings } from './door-swings.ts';
import { endOnHoles } from './end-on.ts';
import { findCrossings } from './find-crossings.ts';
import { groupCrossings } from './group-crossings.ts';
import { guessServices, guessWalls } from './guess-roles.ts';
import { type HostBands, hostBands } from './host-bands.ts';
import { hostFaces } from './host-faces.ts';
import type { LabelTarget } from './label-index.ts';
import { chainTarget, itemTarget, pointTarget } from './label-targets.ts';
import { type Label, type LabelSources, labelReader, labelsOf } from './labels.ts';
import { draftOpenings, type OpeningDraft } from './openings.ts';
import { planGrid } from './plan-grid.ts';
import { withPlaces } from './plan-places.ts';
import { planRooms } from './plan-rooms.ts';
import { type PointItem, pointItemsOf } from './point-items.ts';
import type { ServiceChain } from './service-chains.ts';
import { makeSheet, type ServiceItem, type Sheet } from './sheet.ts';
import { boxOfItem, type SheetItem } from './sheet-item.ts';
import { type ViewFrame, viewFrame } from './view-frame.ts';
import { viewLedger } from './view-ledger.ts';
import { hostlessQuery, penetrationQueries, sizeQueries, viewQueries } from './view-queries.ts';
import { attachedDrafts, symbolDraft, viewServices } from './view-services.ts';

/** What one view shows, and lines in it that nobody has spoken for. */
export interface ViewFindings extends WithQueries<Findings> {
  /** Layers whose names tell nothing and whose lines go through hosts. */
  readonly crossingLayers: readonly CrossingLayer[];
}

/** What one view shows: penetrations, and what became of each item on its service and opening layers. */
export function findInView(drawing: Drawing, view: DrawnView, settings: Settings): ViewFindings {
  const { unit } = drawing.units;
  const read = labelReader(unit === 'in' || unit === 'ft');
  const sheet = withGuesses(makeSheet(drawing, view, settings), read, settings);
  const frame = viewFrame(view);
  const openingBoxes = sheet.openings.flatMap((item) => {
    const box = boxOfItem(item);
    return box === null ? [] : [box];
  });
  const swings = doorSwings(drawing.entities);
  const hosts = hostBands(sheet.walls, sheet.slabs, settings, {
    openings: openingBoxes,
    masks: drawing.masks,
    swings: frame.isPlan ? swings : [],
    others: sheet.others,
  });
  const { chains, points } = viewServices(sheet, read, settings);
  const named = assignLabels(chains, points, sheet, read, settings);
  const crossings = findCrossings(chains, named.chains, hosts, settings);
  const openings = draftOpenings(sheet.openings, named.openings, hosts);
  const crossed = openings.filter((opening) => isAcrossWall(opening, frame));
  const { drafts, rest } = addSymbols(crossings.drafts, points, named.points, hosts, frame);
  const queries: Query[] = [...crossings.queries];
  const penetrations: Penetration[] = [];
  const doors = new Set<string>();
  const doorLayers = new Set(swings.map(({ layer }) => layer));
  for (const group of groupCrossings(drafts, crossed, settings)) {
    if (
      group.opening !== null &&
      group.members.length === 0 &&
      isDoorOrWindow(group.opening, doorLayers)
    ) {
      doors.add(group.opening.item.id);
      continue;
    }
    const penetration = buildPenetration(group, sheet, frame);
    if (penetration === null) continue;
    penetrations.push(penetration);
    for (const { draft, size } of group.members) {
      const [item] = draft.items;
      if (item !== undefined) queries.push(...sizeQueries(penetration, item, size));
    }
    queries.push(...penetrationQueries(penetration, group.opening));
  }
  const endOn = findEndOn(
    rest,
    openings.filter((each) => !crossed.includes(each)),
    sheet,
    frame,
    settings,
  );
  for (const { penetration, sizes } of endOn.found) {
    penetrations.push(penetration);
    for (const { point, size } of sizes)
      queries.push(...sizeQueries(penetration, point.item, size));
    queries.push(...penetrationQueries(penetration, null));
  }
  queries.push(...endOn.hostless.map(hostlessQuery), ...viewQueries(sheet, hosts, penetrations));
  return {
    result: {
      penetrations: withPlaces(penetrations, {
        frame,
        axes: planGrid(sheet, frame),
        rooms: planRooms(sheet, hosts, swings),
      }),
      ledger: viewLedger(sheet, penetrations, endOn.found, crossings.fates, doors),
    },
    queries,
    crossingLayers: crossingLayers(
      sheet,
      [...chains.map(chainTarget), ...points.map(pointTarget), ...sheet.openings.map(itemTarget)],
      hosts,
      read,
      settings,
    ),
  };
}

/** Where no layer tells of walls, or none of services, the lines themselves are asked. */
function withGuesses(sheet: Sheet, read: LabelSources['read'], settings: Settings): Sheet {
  const hasHosts = sheet.walls.length > 0 || sheet.slabs.length > 0;
  const hasServices = sheet.services.length > 0 || sheet.openings.length > 0;
  if (hasHosts && hasServices) return sheet;
  const guessed = hasHosts
    ? { walls: sheet.walls, reasons: [] }
    : guessWalls(sheet.others, settings);
  // Services alone prove nothing: without walls there is nothing that they go through.
  if (guessed.walls.length === 0 && !hasHosts) return sheet;
  const taken = new Set(guessed.walls);
  const rest = sheet.others.filter((entity) => !taken.has(entity));
  const services = hasServices
    ? { services: sheet.services, reasons: [] }
    : guessServices(rest, sheet.texts, read, settings);
  const used = new Set(services.services.flatMap(({ entities }) => entities));
  return {
    ...sheet,
    others: rest.filter((entity) => !used.has(entity)),
    walls: guessed.walls,
    services: services.services,
    guesses: [...guessed.reasons, ...services.reasons],
  };
}

/** From this width on an opening in a plan that nothing names or passes is for people or light. */
const DOOR_MM = 550;

function isDoorOrWindow(
  { halfWidthMm, labels, item }: OpeningDraft,
  doorLayers: ReadonlySet<string>,
): boolean {
  const isUnnamed = labels.length === 0 && item.symbol === null;
  return isUnnamed && (2 * halfWidthMm >= DOOR_MM || doorLayers.has(item.layer));
}

/** An opening drawn across a wall, as plans and cut walls show it, rather than in a wall's face. */
function isAcrossWall({ hosts, spansMm, item }: OpeningDraft, frame: ViewFrame): boolean {
  const [host] = hosts;
  if (host === undefined) return false;
  return frame.isPlan || item.symbol !== null || spansMm >= ACROSS_RATIO * host.thicknessMm;
}

const ACROSS_RATIO = 0.7;

interface NamedTargets {
  readonly chains: readonly (readonly Label[])[];
  readonly points: readonly (readonly Label[])[];
  readonly openings: readonly (readonly Label[])[];
}

/** Each text goes to the one line, symbol or opening that it names. */
function assignLabels(
  chains: readonly ServiceChain[],
  points: readonly PointItem[],
  sheet: Sheet,
  read: LabelSources['read'],
  settings: Settings,
): NamedTargets {
  const targets: LabelTarget[] = [
    ...chains.map(chainTarget),
    ...points.map(pointTarget),
    ...sheet.openings.map(itemTarget),
  ];
  const { texts, leaders, tags } = sheet;
  const labels = labelsOf(targets, { texts, leaders, tags, read }, settings.find.labelReachMm);
  const firstOpening = chains.length + points.length;
  return {
    chains: labels.slice(0, chains.length),
    points: labels.slice(chains.length, firstOpening),
    openings: labels.slice(firstOpening),
  };
}

/**
 * Symbols on a line that goes through a wall name that crossing; those alone in a wall of a plan are
 * crossings themselves. The rest is seen end on or lies free.
 */
function addSymbols(
  drafts: readonly CrossingDraft[],
  points: readonly PointItem[],
  labels: readonly (readonly Label[])[],
  hosts: HostBands,
  frame: ViewFrame,
): {
  readonly drafts: readonly CrossingDraft[];
  readonly rest: readonly { readonly point: PointItem; readonly labels: readonly Label[] }[];
} {
  const attached = attachedDrafts(points, drafts);
  const extra = new Map<number, { items: ServiceItem[]; labels: Label[] }>();
  const own: CrossingDraft[] = [];
  const done = new Set<SheetItem>();
  const rest: { point: PointItem; labels: readonly Label[] }[] = [];
  points.forEach((point, i) => {
    const named =
      point.attribute === null ? (labels[i] ?? []) : [point.attribute, ...(labels[i] ?? [])];
    const at = attached[i] ?? null;
    if (at !== null && point.service !== null) {
      const known = extra.get(at) ?? { items: [], labels: [] };
      known.items.push(point.service);
      known.labels.push(...named.filter((label) => !known.labels.includes(label)));
      extra.set(at, known);
      done.add(point.item);
      return;
    }
    const draft = frame.isPlan && !done.has(point.item) ? symbolDraft(point, named, hosts) : null;
    if (draft === null) {
      if (!done.has(point.item)) rest.push({ point, labels: labels[i] ?? [] });
      return;
    }
    own.push(draft);
    done.add(point.item);
  });
  const joined = drafts.map((draft, i): CrossingDraft => {
    const more = extra.get(i);
    if (more === undefined) return draft;
    return {
      ...draft,
      items: [...new Set([...draft.items, ...more.items])],
      labels: [...more.labels, ...draft.labels],
    };
  });
  return { drafts: [...joined, ...own], rest };
}

/** Holes in the faces of walls (sections, elevations) and of slabs (plans). */
function findEndOn(
  services: readonly { readonly point: PointItem; readonly labels: readonly Label[] }[],
  openings: readonly OpeningDraft[],
  sheet: Sheet,
  frame: ViewFrame,
  settings: Settings,
): { readonly found: readonly EndOnFind[]; readonly hostless: readonly SheetItem[] } {
  const entries = [
    ...services,
    ...openings.flatMap(({ item, labels }) =>
      pointItemsOf(item, null).map((point) => ({ point, labels })),
    ),
  ];
  if (entries.length === 0) return { found: [], hostless: [] };
  const hosts = hostFaces(
    frame.isPlan
      ? [['slab', sheet.slabs]]
      : [
          ['wall', sheet.walls],
          ['slab', sheet.slabs],
        ],
    sheet.texts,
    settings,
  );
  const holes = endOnHoles(
    entries.map(({ point }) => point),
    entries.map(({ labels }) => labels),
    hosts,
  );
  const found: EndOnFind[] = [];
  const hostless: SheetItem[] = [];
  for (const hole of holes) {
    const find = buildEndOn(hole, sheet, frame);
    if (find !== null) found.push(find);
    else if (hole.root.service === null) hostless.push(hole.root.item);
  }
  return { found, hostless: [...new Set(hostless)] };
}

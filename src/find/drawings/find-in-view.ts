import { makeQuery, type Query, type WithQueries } from '../../basics/query.ts';
import { planePath } from '../../geometry/plane-cross.ts';
import { sizeText } from '../../geometry/shape.ts';
import type { Section } from '../../model/building.ts';
import type { Drawing, DrawnView } from '../../model/drawing.ts';
import type {
  Findings,
  LedgerEntry,
  OpeningOutcome,
  Penetration,
  ServiceOutcome,
} from '../../model/penetration.ts';
import type { Settings } from '../../model/settings.ts';
import { buildPenetration } from './build-penetration.ts';
import { findCrossings, type ItemFate } from './find-crossings.ts';
import { type CrossingGroup, groupCrossings } from './group-crossings.ts';
import { type HostBands, hostBands } from './host-bands.ts';
import { attributeLabel, type Label, type LabelTarget, labelsOf } from './labels.ts';
import { draftOpenings } from './openings.ts';
import { chainsOf, pathsOfItem, type ServiceChain } from './service-chains.ts';
import { boxOfItem, makeSheet, type ServiceItem, type Sheet, type SheetItem } from './sheet.ts';
import { viewFrame } from './view-frame.ts';

/** What one view shows: penetrations, and what became of each item on its service and opening layers. */
export function findInView(
  drawing: Drawing,
  view: DrawnView,
  settings: Settings,
): WithQueries<Findings> {
  const sheet = makeSheet(drawing, view, settings);
  const hosts = hostBands(sheet.walls, sheet.slabs, settings);
  const { chains, symbols } = servicesOf(sheet, settings);
  const { chainLabels, openingLabels } = assignLabels(chains, symbols, sheet, settings);
  const crossings = findCrossings(chains, chainLabels, hosts, settings);
  const openings = draftOpenings(sheet.openings, openingLabels, hosts);
  const groups = groupCrossings(
    crossings.drafts,
    openings.filter(({ hostIds }) => hostIds.length > 0),
    settings,
  );
  const frame = viewFrame(view);
  const penetrations: Penetration[] = [];
  const queries: Query[] = [...crossings.queries];
  for (const group of groups) {
    const penetration = buildPenetration(group, sheet, frame);
    if (penetration === null) continue;
    penetrations.push(penetration);
    queries.push(...groupQueries(group, penetration));
  }
  const hostless = openings.filter(({ hostIds }) => hostIds.length === 0);
  queries.push(...hostless.map(({ item }) => hostlessQuery(item)));
  queries.push(...viewQueries(sheet, hosts, penetrations));
  return {
    result: {
      penetrations,
      ledger: {
        services: [
          ...sheet.services.map((item) => serviceEntry(item, penetrations, crossings.fates)),
          ...sheet.excluded.map((item) => ({
            ...entryOf(item),
            outcome: 'excluded' as const,
            reason: 'its layer is excluded by the project file',
            penetrationIds: [],
          })),
        ],
        openings: sheet.openings.map((item) => openingEntry(item, penetrations)),
      },
    },
    queries,
  };
}

interface Services {
  readonly chains: readonly ServiceChain[];
  /** Blocks that stand at a place rather than draw a line. */
  readonly symbols: readonly ServiceItem[];
}

/** A block larger than this draws services rather than marks a place. */
const LARGEST_SYMBOL_MM = 1500;

function servicesOf(sheet: Sheet, settings: Settings): Services {
  const symbols = sheet.services.filter(isSymbol);
  const lines = sheet.services.filter((item) => !isSymbol(item));
  const chains = chainsOf(lines.flatMap(pathsOfItem), settings.find.thickestWallMm);
  return { chains, symbols };
}

function isSymbol(item: ServiceItem): boolean {
  if (item.symbol === null) return false;
  const box = boxOfItem(item);
  return box === null || Math.max(box[2] - box[0], box[3] - box[1]) <= LARGEST_SYMBOL_MM;
}

function assignLabels(
  chains: readonly ServiceChain[],
  symbols: readonly ServiceItem[],
  sheet: Sheet,
  settings: Settings,
): { chainLabels: Label[][]; openingLabels: Label[][] } {
  const targets: LabelTarget[] = [
    ...chains.map(({ path }) => ({ path, halfWidthMm: 0 })),
    ...sheet.openings.map(openingTarget),
  ];
  const marks = symbols.flatMap(({ symbol }) => {
    const label = symbol === null ? null : attributeLabel(symbol);
    return label === null ? [] : [label];
  });
  const { texts, leaders } = sheet;
  const labels = labelsOf(targets, { texts, leaders, marks }, settings.find.labelReachMm);
  return {
    chainLabels: labels.slice(0, chains.length),
    openingLabels: labels.slice(chains.length),
  };
}

function openingTarget(item: SheetItem): LabelTarget {
  const box = boxOfItem(item);
  const [x, y] = item.symbol?.positionMm ?? [0, 0];
  const [x0, y0, x1, y1] = box ?? [x, y, x, y];
  return {
    path: planePath([
      [x0, y0],
      [x1, y0],
      [x1, y1],
      [x0, y1],
      [x0, y0],
    ]),
    halfWidthMm: 0,
  };
}

function entryOf(item: SheetItem) {
  return {
    id: item.id,
    ref: item.ref,
    name: item.symbol?.blockName ?? `${item.type} on ${item.layer}`,
  };
}

function serviceEntry(
  item: ServiceItem,
  penetrations: readonly Penetration[],
  fates: ReadonlyMap<string, ItemFate>,
): LedgerEntry<ServiceOutcome> {
  const ids = penetrations
    .filter(({ crossings }) => crossings.some(({ serviceIds }) => serviceIds.includes(item.id)))
    .map(({ id }) => id);
  if (ids.length > 0) {
    return { ...entryOf(item), outcome: 'through', reason: null, penetrationIds: ids };
  }
  const fate = fates.get(item.id) ?? clearFate(item);
  return { ...entryOf(item), ...fate, penetrationIds: [] };
}

function clearFate(item: ServiceItem): ItemFate {
  const drawsNothing = item.entities.length === 0;
  return drawsNothing
    ? { outcome: 'noGeometry', reason: 'draws no line' }
    : { outcome: 'clear', reason: 'goes through no host of this view' };
}

function openingEntry(
  item: SheetItem,
  penetrations: readonly Penetration[],
): LedgerEntry<OpeningOutcome> {
  const ids = penetrations
    .filter(({ openings }) => openings.some(({ id }) => id === item.id))
    .map(({ id }) => id);
  return ids.length > 0
    ? { ...entryOf(item), outcome: 'inPenetration', reason: null, penetrationIds: ids }
    : {
        ...entryOf(item),
        outcome: 'noHost',
        reason: 'lies in no wall or slab of this view',
        penetrationIds: [],
      };
}

function groupQueries(group: CrossingGroup, penetration: Penetration): Query[] {
  const queries: Query[] = [];
  const about = { penetrationId: penetration.id };
  for (const { size, draft } of group.members) {
    const [item] = draft.items;
    if (item === undefined) continue;
    const key = `${penetration.id}/${item.id}`;
    if (size.section === null) {
      queries.push(
        makeQuery('size-unknown', {
          ...about,
          about: key,
          text: `Nothing tells the size of the ${item.kind} on layer ${item.layer}.`,
          why: 'Without its size the seal cannot be designed.',
          settles: 'The outside size of this service, as a label, an attribute or an answer.',
          evidence: penetration.evidence,
        }),
      );
    }
    if (size.rival !== null && size.section !== null) {
      queries.push(
        makeQuery('size-conflict', {
          ...about,
          about: key,
          text: `Two sizes are as near: ${sectionText(size.section)} and ${sectionText(size.rival.section)} ("${size.rival.label.text}").`,
          why: 'One of them is wrong or belongs to another service.',
          settles: 'Which size is right.',
          evidence: [
            ...size.evidence,
            {
              fact: 'size',
              text: size.rival.label.text,
              place: { fileKey: size.rival.label.ref.fileKey, id: size.rival.label.ref.id },
            },
          ],
        }),
      );
    }
    if (size.section !== null && size.basis === 'nominal') {
      queries.push(
        makeQuery('size-nominal', {
          ...about,
          about: key,
          text: `${sectionText(size.section)} is a nominal size: the ${item.kind}'s bore and outside are not given.`,
          why: 'Bore and outside decide what fits and how wide the gap round it is.',
          settles: 'The series, or outside and bore, of this service.',
          evidence: size.evidence,
        }),
      );
    }
  }
  const { opening, members } = group;
  if (opening === null && members.length > 0) {
    queries.push(
      makeQuery('service-without-opening', {
        ...about,
        about: penetration.id,
        text: 'A service goes through and no opening is drawn.',
        why: 'The hole must be made, or the drawing is behind what is built.',
        settles: 'The size of the opening, or word that it is cored to suit.',
        evidence: penetration.evidence,
      }),
    );
  }
  if (opening !== null && members.length === 0) {
    queries.push(
      makeQuery('opening-without-service', {
        ...about,
        about: penetration.id,
        text: 'An opening is drawn and no service goes through it in this drawing.',
        why: 'It may be spare, or its service is on a drawing that is not here.',
        settles: 'What passes, or word that it is closed for now.',
        evidence: penetration.evidence,
      }),
    );
  }
  if (opening !== null && opening.shape === null) {
    queries.push(
      makeQuery('size-unknown', {
        ...about,
        about: penetration.id,
        text: `The plan shows the opening's width (${sizeText(opening.halfWidthMm * 2)} mm), not its height.`,
        why: 'Without its shape the seal cannot be designed.',
        settles: 'Width and height of the opening, as a label or an answer.',
        evidence: penetration.evidence,
      }),
    );
  }
  return queries;
}

function sectionText(section: Section): string {
  return section.type === 'circle'
    ? `${sizeText(section.diameterMm)} dia`
    : `${sizeText(section.widthMm)} × ${sizeText(section.heightMm)}`;
}

function hostlessQuery(item: SheetItem): Query {
  return makeQuery('opening-without-host', {
    about: item.id,
    text: `An opening on layer ${item.layer} lies in no wall or slab of this view.`,
    why: 'What it goes through decides the seal.',
    settles: 'The wall or slab it belongs to, on a layer that counts as host.',
    evidence: [
      {
        fact: 'opening',
        text: `${item.type} on layer ${item.layer}`,
        place: { fileKey: item.ref.fileKey, id: item.ref.id },
      },
    ],
  });
}

function viewQueries(
  sheet: Sheet,
  hosts: HostBands,
  penetrations: readonly Penetration[],
): Query[] {
  const { drawing, view } = sheet;
  const about = view.name === null ? drawing.fileKey : `${drawing.fileKey}/${view.name}`;
  const queries: Query[] = [];
  const place = { fileKey: drawing.fileKey };
  if (
    view.view === 'plan' &&
    view.elevationMm === null &&
    view.base === null &&
    penetrations.length > 0
  ) {
    queries.push(
      makeQuery('drawing-level-unknown', {
        about,
        text: `${drawing.name}: nothing tells at which level this plan lies; heights are given above 0.`,
        why: 'Water heads and the merging with sections and models need the height.',
        settles: `level and elevationMm under files.${drawing.fileKey} in the project file.`,
        evidence: [{ fact: 'level', text: 'no level given', place }],
      }),
    );
  }
  const lacks = [
    ...(hosts.bands.length === 0 ? ['walls or slabs'] : []),
    ...(sheet.services.length === 0 && sheet.openings.length === 0 ? ['services'] : []),
  ];
  if (lacks.length > 0 && drawing.entities.length > 0) {
    queries.push(
      makeQuery('drawing-layers-unknown', {
        about,
        text: `${drawing.name}: no ${lacks.join(' and no ')} found on layers whose names tell what is on them.`,
        why: 'No penetration can be found where the drawing does not tell hosts and services apart.',
        settles:
          'hosts.layers and services.layers in the project file; "sealbook look" lists the layers with a guess for each.',
        evidence: [{ fact: 'layers', text: layersText(drawing), place }],
      }),
    );
  }
  return queries;
}

function layersText(drawing: Drawing): string {
  const counts = new Map<string, number>();
  for (const { layer } of drawing.entities) counts.set(layer, (counts.get(layer) ?? 0) + 1);
  const most = [...counts].sort(([, a], [, b]) => b - a).slice(0, 8);
  return most.map(([layer, count]) => `${layer} (${count})`).join(', ');
}

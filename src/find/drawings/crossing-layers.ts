import { compareText, groupBy } from '../../basics/order.ts';
import { makeQuery, type Query } from '../../basics/query.ts';
import { insideStretches, type PlanePath, planePath } from '../../geometry/plane-cross.ts';
import type { ServiceKind } from '../../model/building.ts';
import type { Drawing, DrawnEntity } from '../../model/drawing.ts';
import { type ElementRef, elementId } from '../../model/ids.ts';
import type { Settings } from '../../model/settings.ts';
import { findCrossings } from './find-crossings.ts';
import type { HostBands } from './host-bands.ts';
import { chainTarget } from './label-targets.ts';
import { type Label, type LabelSources, type LabelTarget, labelsOf } from './labels.ts';
import { chainsOf, pathsOfItem, type ServiceChain, type ServicePath } from './service-chains.ts';
import type { ServiceItem, Sheet } from './sheet.ts';

/*
 * A layer whose name tells nothing may hold services. Where its lines go in by one face of a host and
 * out by the other, somebody must say what they are.
 */

/** A layer of unknown role with lines that go through hosts. */
export interface CrossingLayer {
  readonly layer: string;
  /** The entities whose lines go through. */
  readonly lines: readonly ElementRef[];
  /** Texts, attributes and leaders that stand on those lines. */
  readonly labels: readonly Label[];
}

/** Layers of unknown role that go through hosts of a view; `known` are the targets of its labels. */
export function crossingLayers(
  sheet: Sheet,
  known: readonly LabelTarget[],
  hosts: HostBands,
  read: LabelSources['read'],
  settings: Settings,
): CrossingLayer[] {
  if (hosts.bands.length === 0) return [];
  const lines = sheet.others.filter(
    ({ form, layer }) => form === 'curve' && sheet.isUnknown(layer),
  );
  const paths = lines
    .flatMap((entity) => pathsOfItem(asItem(entity)))
    .filter(({ points }) => comesNear(planePath(points), hosts));
  const byLayer = [...groupBy(paths, ({ item }) => item.layer)].sort(([a], [b]) =>
    compareText(a, b),
  );
  const chains = byLayer.flatMap(([, own]) => crossingChains(own, hosts, settings));
  if (chains.length === 0) return [];
  // What names a known service names no line beside it.
  const labels = labelsOf(
    [...known, ...chains.map(({ chain }) => chainTarget(chain))],
    { texts: sheet.texts, leaders: sheet.leaders, tags: sheet.tags, read },
    settings.find.labelReachMm,
  ).slice(known.length);
  return byLayer.flatMap(([layer]) => {
    const own = chains.flatMap((each, i) =>
      each.layer === layer ? [{ ...each, labels: labels[i] ?? [] }] : [],
    );
    if (own.length === 0) return [];
    return [
      {
        layer,
        lines: own.flatMap(({ lines }) => lines),
        labels: own.flatMap((each) => each.labels),
      },
    ];
  });
}

function asItem(entity: DrawnEntity): ServiceItem {
  const { ref, layer, type } = entity;
  return {
    id: elementId(ref),
    ref,
    layer,
    type,
    symbol: null,
    entities: [entity],
    kind: 'conduit',
    carrierForm: null,
  };
}

/** Ends of lines this near a face stop at it. */
const AT_FACE_MM = 5;

/** Whether a line comes to a host and is more than a stroke from face to face, as shading is. */
function comesNear(path: PlanePath, { index }: HostBands): boolean {
  const isNear = path.points.some((point, i) => {
    const next = path.points[i + 1] ?? point;
    return (
      index.search(
        Math.min(point[0], next[0]) - AT_FACE_MM,
        Math.min(point[1], next[1]) - AT_FACE_MM,
        Math.max(point[0], next[0]) + AT_FACE_MM,
        Math.max(point[1], next[1]) + AT_FACE_MM,
      ).length > 0
    );
  });
  if (!isNear) return false;
  const length = path.distances[path.distances.length - 1] ?? 0;
  return insideStretches(path, index).every(({ s0, s1 }) => s1 - s0 < length - 1);
}

interface CrossingChain {
  readonly layer: string;
  readonly chain: ServiceChain;
  readonly lines: readonly ElementRef[];
}

function crossingChains(
  paths: readonly ServicePath[],
  hosts: HostBands,
  settings: Settings,
): CrossingChain[] {
  return chainsOf(paths, settings.find.thickestWallMm).flatMap((chain) => {
    const { drafts } = findCrossings([chain], [[]], hosts, settings);
    const items = new Set(drafts.flatMap((draft) => draft.items));
    const layer = chain.members[0]?.path.item.layer;
    if (items.size === 0 || layer === undefined) return [];
    return [{ layer, chain, lines: [...items].map(({ ref }) => ref) }];
  });
}

const MOST_LABELS = 8;

/** One query for each layer of a drawing that goes through hosts unspoken for. */
export function crossingLayerQueries(drawing: Drawing, layers: readonly CrossingLayer[]): Query[] {
  return [...groupBy(layers, ({ layer }) => layer)].map(([layer, views]) => {
    const ids = sortedIds(views);
    const lines = ids.length;
    const linesText = lines === 1 ? '1 line' : `${lines} lines`;
    const labels = views.flatMap((view) => view.labels);
    const texts = [...new Set(labels.map(({ text }) => text.replace(/\s+/g, ' ').trim()))];
    const shown = texts.slice(0, MOST_LABELS).map((text) => `"${text}"`);
    const more = texts.length > MOST_LABELS ? ` and ${texts.length - MOST_LABELS} more` : '';
    const said = texts.length === 0 ? 'No label stands' : `Labels ${shown.join(', ')}${more} stand`;
    return makeQuery('drawing-layers-unknown', {
      about: `${drawing.fileKey}/layer ${layer}`,
      text:
        `${drawing.name}: the name of layer ${layer} does not tell what is on it, and ` +
        `${linesText} of it ${lines === 1 ? 'goes' : 'go'} through walls or slabs. ` +
        `${said} on ${lines === 1 ? 'it' : 'them'}. The layer was not used.`,
      why: 'If these lines are services, their penetrations are missing from the schedule.',
      settles:
        `If they are services, a line under services.layers in the project file: { pattern: ${JSON.stringify(layer)}, ` +
        `kind: ${likelyKind(labels)} }, where the kind is cable, carrier, conduit, duct or pipe. If not, ` +
        `${JSON.stringify(layer)} under services.excludeLayers.`,
      evidence: [
        {
          fact: 'layers',
          text: `${linesText} through hosts on layer ${layer}`,
          place: { fileKey: drawing.fileKey, id: ids[0] ?? layer },
        },
        ...labels.slice(0, MOST_LABELS).map(({ text, ref }) => ({
          fact: 'label',
          text,
          place: { fileKey: ref.fileKey, id: ref.id },
        })),
      ],
    });
  });
}

function sortedIds(views: readonly CrossingLayer[]): string[] {
  return [...new Set(views.flatMap(({ lines }) => lines.map(({ id }) => id)))].sort(compareText);
}

/** The kind that most labels name; conduits where none does, the commonest single lines. */
function likelyKind(labels: readonly Label[]): ServiceKind {
  const kinds = groupBy(
    labels.flatMap(({ reading }) => reading.kind ?? []),
    (kind) => kind,
  );
  const [most] = [...kinds.values()].sort((a, b) => b.length - a.length);
  return most?.[0] ?? 'conduit';
}

import { compareText, groupBy } from '../../basics/order.ts';
import { makeQuery, type Query } from '../../basics/query.ts';
import { boxOfLoops, type PlaneBox } from '../../geometry/plane-box.ts';
import { insideStretches, type PlanePath, planePath } from '../../geometry/plane-cross.ts';
import type { ServiceKind } from '../../model/building.ts';
import type { Drawing, DrawnEntity } from '../../model/drawing.ts';
import { type ElementRef, elementId } from '../../model/ids.ts';
import type { Settings } from '../../model/settings.ts';
import { findCrossings } from './find-crossings.ts';
import type { HostBands } from './host-bands.ts';
import { hostFaces } from './host-faces.ts';
import type { LabelTarget } from './label-index.ts';
import { chainTarget, pointTarget } from './label-targets.ts';
import { type Label, type LabelSources, labelsOf } from './labels.ts';
import { pointItemsOf } from './point-items.ts';
import { chainsOf, pathsOfItem, type ServicePath } from './service-chains.ts';
import type { ServiceItem, Sheet } from './sheet.ts';

/*
 * A layer whose name tells nothing may hold services. Where its lines go in by one face of a host and
 * out by the other, or a section shows its circles in the face of a host, somebody must say what they
 * are.
 */

/** A layer of unknown role that goes through hosts. */
export interface CrossingLayer {
  readonly layer: string;
  /** The entities whose lines go through. */
  readonly lines: readonly ElementRef[];
  /** The circles in faces of hosts. */
  readonly circles: readonly ElementRef[];
  /** Texts, attributes and leaders that stand on them. */
  readonly labels: readonly Label[];
  /** Others of the layer were taken for walls or services by the way they are drawn. */
  readonly isPartlyUsed: boolean;
}

/** Something on such a layer that goes through. */
interface CrossingThing {
  readonly layer: string;
  readonly target: LabelTarget;
  readonly lines: readonly ElementRef[];
  readonly circles: readonly ElementRef[];
}

/** Layers of unknown role that go through hosts of a view; `known` are the targets of its labels. */
export function crossingLayers(
  sheet: Sheet,
  known: readonly LabelTarget[],
  hosts: HostBands,
  read: LabelSources['read'],
  settings: Settings,
): CrossingLayer[] {
  const unknown = sheet.others.filter(
    ({ form, layer }) => form === 'curve' && sheet.isUnknown(layer),
  );
  // Most of a drawing lies far from any host: the box tells so before its lines are followed.
  const paths = unknown
    .filter((entity) => isByHost(boxOfLoops(entity.loops), hosts))
    .flatMap((entity) => pathsOfItem(asItem(entity)))
    .filter(({ points }) => comesNear(planePath(points), hosts));
  const things = [
    ...[...groupBy(paths, ({ item }) => item.layer).values()].flatMap((own) =>
      crossingLines(own, hosts, settings),
    ),
    ...circlesInFaces(unknown, sheet, settings),
  ];
  if (things.length === 0) return [];
  // What names a known service names no line beside it.
  const labels = labelsOf(
    [...known, ...things.map(({ target }) => target)],
    { texts: sheet.texts, leaders: sheet.leaders, tags: sheet.tags, read },
    settings.find.labelReachMm,
  ).slice(known.length);
  const used = new Set(
    [...sheet.walls, ...sheet.slabs, ...sheet.services].map(({ layer }) => layer),
  );
  const named = things.map((thing, i) => ({ ...thing, labels: labels[i] ?? [] }));
  return [...groupBy(named, ({ layer }) => layer)]
    .sort(([a], [b]) => compareText(a, b))
    .map(([layer, own]) => ({
      layer,
      lines: own.flatMap(({ lines }) => lines),
      circles: own.flatMap(({ circles }) => circles),
      labels: own.flatMap((each) => each.labels),
      isPartlyUsed: used.has(layer),
    }));
}

/** Larger circles are rooms or tanks. */
const LARGEST_CIRCLE_MM = 1500;

/** In a section or an elevation a circle in the face of a host may be a service seen end on. */
function circlesInFaces(
  unknown: readonly DrawnEntity[],
  { view, walls, slabs }: Sheet,
  settings: Settings,
): CrossingThing[] {
  if (view.view === 'plan') return [];
  const circles = unknown
    .filter(({ type }) => type === 'CIRCLE')
    .flatMap((entity) => pointItemsOf(asItem(entity), asItem(entity)))
    .filter(({ shape }) => shape?.type === 'circle' && shape.diameterMm <= LARGEST_CIRCLE_MM);
  if (circles.length === 0) return [];
  const faces = hostFaces(
    [
      ['wall', walls],
      ['slab', slabs],
    ],
    [],
    settings,
  );
  return circles
    .filter(({ centre }) => faces.at(centre) !== null)
    .map((point) => ({
      layer: point.item.layer,
      target: pointTarget(point),
      lines: [],
      circles: [point.item.ref],
    }));
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

function isByHost(box: PlaneBox | null, { index }: HostBands): boolean {
  if (box === null) return false;
  const [x1, y1, x2, y2] = box;
  return (
    index.search(x1 - AT_FACE_MM, y1 - AT_FACE_MM, x2 + AT_FACE_MM, y2 + AT_FACE_MM).length > 0
  );
}

/** Whether a line comes to a host and is more than a stroke from face to face, as shading is. */
function comesNear(path: PlanePath, hosts: HostBands): boolean {
  const isNear = path.points.some((point, i) => {
    const next = path.points[i + 1] ?? point;
    const box: PlaneBox = [
      Math.min(point[0], next[0]),
      Math.min(point[1], next[1]),
      Math.max(point[0], next[0]),
      Math.max(point[1], next[1]),
    ];
    return isByHost(box, hosts);
  });
  if (!isNear) return false;
  const length = path.distances[path.distances.length - 1] ?? 0;
  return insideStretches(path, hosts.index).every(({ s0, s1 }) => s1 - s0 < length - 1);
}

function crossingLines(
  paths: readonly ServicePath[],
  hosts: HostBands,
  settings: Settings,
): CrossingThing[] {
  return chainsOf(paths, settings.find.thickestWallMm).flatMap((chain) => {
    const { drafts } = findCrossings([chain], [[]], hosts, settings);
    const items = [...new Set(drafts.flatMap((draft) => draft.items))];
    const [first] = items;
    if (first === undefined) return [];
    return [
      {
        layer: first.layer,
        target: chainTarget(chain),
        lines: items.map(({ ref }) => ref),
        circles: [],
      },
    ];
  });
}

const MOST_LABELS = 8;
const LONGEST_LABEL = 60;

/** One query for each layer of a drawing that goes through hosts unspoken for. */
export function crossingLayerQueries(drawing: Drawing, layers: readonly CrossingLayer[]): Query[] {
  return [...groupBy(layers, ({ layer }) => layer)].map(([layer, views]) => {
    const lines = idsOf(views.flatMap((view) => view.lines));
    const circles = idsOf(views.flatMap((view) => view.circles));
    const labels = views.flatMap((view) => view.labels);
    const isPartlyUsed = views.some((view) => view.isPartlyUsed);
    const found = [
      ...(lines.length === 0
        ? []
        : [`${counted(lines, 'line goes', 'lines go')} through walls or slabs`]),
      ...(circles.length === 0
        ? []
        : [`${counted(circles, 'circle lies', 'circles lie')} in the face of a wall or slab`]),
    ].join(', ');
    return makeQuery('drawing-layers-unknown', {
      about: `${drawing.fileKey}/layer ${layer}`,
      text:
        `${drawing.name}: the name of layer ${layer} does not tell what is on it: ${found}. ` +
        `${labelsText(labels)} ${isPartlyUsed ? 'Only others on this layer were used.' : 'The layer was not used.'}`,
      why: 'If these are services, their penetrations are missing from the schedule.',
      settles: isPartlyUsed
        ? 'These services on a layer of their own, or word that they are none.'
        : settledBy(layer, labels),
      evidence: [
        {
          fact: 'layers',
          text: `${layer}: ${found}`,
          place: { fileKey: drawing.fileKey, id: lines[0] ?? circles[0] ?? layer },
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

const counted = ({ length }: readonly string[], one: string, many: string): string =>
  `${length} ${length === 1 ? one : many}`;

function settledBy(layer: string, labels: readonly Label[]): string {
  const name = JSON.stringify(layer);
  return (
    'If they are services, a line under services.layers in the project file: ' +
    `{ pattern: ${name}, kind: ${likelyKind(labels)} }, where the kind is cable, carrier, conduit, duct ` +
    `or pipe. If not, ${name} under services.excludeLayers.`
  );
}

function labelsText(labels: readonly Label[]): string {
  const texts = [...new Set(labels.map(({ text }) => shortened(text)))];
  if (texts.length === 0) return 'No label stands there.';
  const shown = texts.slice(0, MOST_LABELS).map((text) => `"${text}"`);
  const more = texts.length > MOST_LABELS ? ` and ${texts.length - MOST_LABELS} more` : '';
  return `${texts.length === 1 ? 'Label' : 'Labels'} there: ${shown.join(', ')}${more}.`;
}

function shortened(text: string): string {
  const line = text.replace(/\s+/g, ' ').trim();
  const letters = Array.from(line);
  return letters.length > LONGEST_LABEL ? `${letters.slice(0, LONGEST_LABEL).join('')}…` : line;
}

const idsOf = (refs: readonly ElementRef[]): string[] =>
  [...new Set(refs.map(({ id }) => id))].sort(compareText);

/** The kind that most labels name; conduits where none does, the commonest single lines. */
function likelyKind(labels: readonly Label[]): ServiceKind {
  const kinds = groupBy(
    labels.flatMap(({ reading }) => reading.kind ?? []),
    (kind) => kind,
  );
  const [most] = [...kinds.values()].sort((a, b) => b.length - a.length);
  return most?.[0] ?? 'conduit';
}

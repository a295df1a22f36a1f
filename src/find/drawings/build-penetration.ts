import type { Evidence } from '../../basics/evidence.ts';
import { compareText } from '../../basics/order.ts';
import { shapeText } from '../../geometry/shape.ts';
import { dot3, sub3, type Vec2, type Vec3 } from '../../geometry/vec.ts';
import type { Reference } from '../../model/building.ts';
import { penetrationId } from '../../model/ids.ts';
import type { Crossing, Penetration, PenetrationHost } from '../../model/penetration.ts';
import { halfWidthMm } from './choose-size.ts';
import type { CrossingDraft, SizeChoice } from './crossing-draft.ts';
import { roundMm } from './find-crossings.ts';
import type { CrossingGroup } from './group-crossings.ts';
import { type Label, labelEvidence } from './labels.ts';
import type { Sheet } from './sheet.ts';
import { oneWay, sectionFrame, type ViewFrame } from './view-frame.ts';

/** One penetration from crossings that share a hole, an opening, or both. */
export function buildPenetration(
  group: CrossingGroup,
  sheet: Sheet,
  frame: ViewFrame,
): Penetration | null {
  const { opening, members } = group;
  const lead = members[0];
  const axis2 = oneWay(lead?.draft.axis ?? opening?.axis ?? [1, 0]);
  const hosts = orderedHosts(lead?.draft, opening?.hosts ?? [], axis2);
  if (hosts.length === 0 && opening === null) return null;
  const serviceHeight = sheet.view.serviceHeightMm ?? 0;
  const centre = opening?.centre ?? middleOf(members.map(({ draft }) => draft.middle));
  const heights = members.map(({ draft }) => heightAbove(draft.labels, serviceHeight));
  const openingHeight = opening === null ? null : heightAbove(opening.labels, Number.NaN);
  const height =
    openingHeight !== null && Number.isFinite(openingHeight)
      ? openingHeight
      : heights.length > 0
        ? (Math.min(...heights) + Math.max(...heights)) / 2
        : serviceHeight;
  const origin = frame.toWorld(centreInHost(centre, members, axis2), height);
  const axis = frame.direction(axis2);
  const section = sectionFrame(roundPoint(origin), axis);
  const crossings = members.flatMap(({ draft, size, count }, i) =>
    crossingsOf(draft, size, count, heights[i] ?? height, frame, section),
  );
  const hostIds = hosts.map(({ id }) => id);
  const id = penetrationId(
    hostIds,
    opening !== null
      ? { openingIds: [opening.item.id] }
      : {
          serviceIds: members.flatMap(({ draft }) => draft.items.map((item) => item.id)),
          crossing: Math.min(...members.map(({ draft }) => draft.count)),
        },
  );
  const { level, elevationMm } = sheet.view;
  const thicknessMm = roundMm(
    lead?.draft.thicknessMm ?? hosts.reduce((sum, host) => sum + host.thicknessMm, 0),
  );
  return {
    id,
    kind: opening === null ? 'unopened' : 'opening',
    frame: section,
    hosts,
    thicknessMm,
    openings:
      opening === null
        ? []
        : [
            {
              id: opening.item.id,
              ref: opening.item.ref,
              kind: 'opening',
              name:
                opening.item.symbol?.blockName ?? `${opening.item.type} on ${opening.item.layer}`,
            },
          ],
    crossings: withIds(crossings, id),
    shape: opening?.shape ?? null,
    where: {
      level,
      levelElevationMm: elevationMm,
      heightAboveLevelMm: elevationMm === null ? null : roundMm(origin[2] - elevationMm),
      grid: null,
      spaces: { near: null, far: null },
      outside: null,
    },
    references: referencesOf(opening?.labels ?? []),
    evidence: evidenceOf(group, hosts, sheet),
    drawnIn: sheet.view.view,
  };
}

/** Leaves in order along the penetration's axis. */
function orderedHosts(
  draft: CrossingDraft | undefined,
  fallback: readonly PenetrationHost[],
  axis: Vec2,
): readonly PenetrationHost[] {
  if (draft === undefined) return fallback;
  const isSameWay = draft.axis[0] * axis[0] + draft.axis[1] * axis[1] > 0;
  return isSameWay ? draft.hosts : [...draft.hosts].reverse();
}

/** The opening's centre lies midway through the host, wherever its symbol stands. */
function centreInHost(centre: Vec2, members: CrossingGroup['members'], axis: Vec2): Vec2 {
  const lead = members[0];
  if (lead === undefined) return centre;
  const { middle } = lead.draft;
  const off = (middle[0] - centre[0]) * axis[0] + (middle[1] - centre[1]) * axis[1];
  return [centre[0] + axis[0] * off, centre[1] + axis[1] * off];
}

function middleOf(points: readonly Vec2[]): Vec2 {
  const xs = points.map(([x]) => x);
  const ys = points.map(([, y]) => y);
  return [(Math.min(...xs) + Math.max(...xs)) / 2, (Math.min(...ys) + Math.max(...ys)) / 2];
}

function heightAbove(labels: readonly Label[], otherwise: number): number {
  const label = labels.find(({ reading }) => reading.height !== null);
  const height = label?.reading.height;
  if (label === undefined || !height) return otherwise;
  const half = halfHeight(label);
  switch (height.point) {
    case 'underside':
    case 'invert':
      return height.heightMm + half;
    case 'top':
      return height.heightMm - half;
    default:
      return height.heightMm;
  }
}

function halfHeight(label: Label): number {
  const section = label.reading.sizes[0]?.section;
  if (section === undefined) return 0;
  return section.type === 'circle' ? section.diameterMm / 2 : section.heightMm / 2;
}

function crossingsOf(
  draft: CrossingDraft,
  size: SizeChoice,
  count: number,
  height: number,
  frame: ViewFrame,
  section: { readonly originMm: Vec3; readonly right: Vec3; readonly up: Vec3 },
): Omit<Crossing, 'id' | 'carriedBy'>[] {
  const entryMm = roundPoint(frame.toWorld(draft.entry, height));
  const exitMm = roundPoint(frame.toWorld(draft.exit, height));
  const centre = frame.toWorld(draft.middle, height);
  const from = sub3(centre, section.originMm);
  const offset: Vec2 = [roundMm(dot3(from, section.right)), roundMm(dot3(from, section.up))];
  const [item] = draft.items;
  if (item === undefined) return [];
  const references = referencesOf(draft.labels);
  const isOneEach = references.length === count && count > 1;
  const kind = draft.labels.find(({ reading }) => reading.kind !== null)?.reading.kind;
  return Array.from({ length: count }, (_, i) => ({
    serviceIds: draft.items.map(({ id }) => id),
    refs: draft.items.map(({ ref }) => ref),
    kind: item.kind === 'cable' && kind ? kind : item.kind,
    carrierForm: item.carrierForm,
    section: size.section,
    sizeBasis: size.basis,
    boreMm:
      size.basis === 'bore' && size.section?.type === 'circle' ? size.section.diameterMm : null,
    material: null,
    entryMm,
    exitMm,
    lengthMm: roundMm(draft.lengthMm),
    skewRad: draft.skewRad,
    offsetMm: count > 1 ? null : offset,
    references: isOneEach ? references.slice(i, i + 1) : references,
    systems: [],
    evidence: [
      ...size.evidence,
      ...draft.items.map((each) => ({
        fact: 'service',
        text: `${each.type} on layer ${each.layer}`,
        place: { fileKey: each.ref.fileKey, id: each.ref.id },
      })),
    ],
  }));
}

/** Ids from the services; those that share one are numbered. A cable inside a tray is carried by it. */
function withIds(crossings: readonly Omit<Crossing, 'id' | 'carriedBy'>[], id: string): Crossing[] {
  const names = crossings.map(({ serviceIds }) => `${id}/${serviceIds[0] ?? 'service'}`);
  const seen = new Map<string, number>();
  const named = crossings.map((crossing, i) => {
    const name = names[i] ?? id;
    const number = (seen.get(name) ?? 0) + 1;
    seen.set(name, number);
    const isAlone = names.filter((other) => other === name).length === 1;
    return { ...crossing, id: isAlone ? name : `${name}#${number}` };
  });
  return named
    .map((crossing) => ({ ...crossing, carriedBy: carrierOf(crossing, named)?.id ?? null }))
    .sort((a, b) => compareText(a.id, b.id));
}

type Named = Omit<Crossing, 'carriedBy'>;

function carrierOf(crossing: Named, all: readonly Named[]): Named | null {
  if (crossing.kind !== 'cable' || crossing.offsetMm === null) return null;
  const [x] = crossing.offsetMm;
  return (
    all.find(
      (other) =>
        other.kind !== 'cable' &&
        other.kind !== 'pipe' &&
        other.section !== null &&
        other.offsetMm !== null &&
        Math.abs(other.offsetMm[0] - x) <= halfWidthMm(other.section),
    ) ?? null
  );
}

export function referencesOf(labels: readonly Label[]): Reference[] {
  const seen = new Set<string>();
  const references: Reference[] = [];
  for (const label of labels) {
    for (const text of label.reading.references) {
      if (seen.has(text)) continue;
      seen.add(text);
      references.push({ text, evidence: labelEvidence(label, 'reference') });
    }
  }
  return references;
}

function evidenceOf(
  { opening }: CrossingGroup,
  hosts: readonly PenetrationHost[],
  sheet: Sheet,
): Evidence[] {
  const viewName = sheet.view.name ?? sheet.drawing.name;
  return [
    {
      fact: 'view',
      text: `${sheet.view.view} ${viewName}`,
      place: { fileKey: sheet.drawing.fileKey },
    },
    ...hosts.map((host) => ({
      fact: 'host',
      text: host.name,
      place: { fileKey: host.ref.fileKey, id: host.ref.id },
    })),
    ...(opening === null
      ? []
      : [
          {
            fact: 'opening',
            text:
              opening.shape === null
                ? 'drawn opening of unknown height'
                : `drawn opening, ${shapeText(opening.shape)}`,
            place: { fileKey: opening.item.ref.fileKey, id: opening.item.ref.id },
          },
        ]),
  ];
}

const roundPoint = ([x, y, z]: Vec3): Vec3 => [roundMm(x), roundMm(y), roundMm(z)];

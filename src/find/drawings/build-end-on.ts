import type { Evidence } from '../../basics/evidence.ts';
import { compareText } from '../../basics/order.ts';
import { type Shape, shapeText } from '../../geometry/shape.ts';
import { dot3, sub3 } from '../../geometry/vec.ts';
import type { Section, SizeBasis } from '../../model/building.ts';
import { penetrationId } from '../../model/ids.ts';
import type { Crossing, Penetration, PenetrationHost } from '../../model/penetration.ts';
import { referencesOf } from './build-penetration.ts';
import { chooseSize, isSameSize } from './choose-size.ts';
import type { SizeChoice } from './crossing-draft.ts';
import type { EndOnBody, EndOnHole } from './end-on.ts';
import { roundMm } from './find-crossings.ts';
import { type Label, labelEvidence } from './labels.ts';
import type { PointItem } from './point-items.ts';
import { readLabel } from './read-label.ts';
import type { Sheet } from './sheet.ts';
import { sectionFrame, type ViewFrame } from './view-frame.ts';

/** A penetration seen end on, with the sizes that were chosen for its bodies. */
export interface EndOnFind {
  readonly penetration: Penetration;
  readonly hole: EndOnHole;
  readonly sizes: readonly { readonly point: PointItem; readonly size: SizeChoice }[];
}

/** One penetration from a hole seen end on. Null when it lies in no host. */
export function buildEndOn(hole: EndOnHole, sheet: Sheet, frame: ViewFrame): EndOnFind | null {
  const { root, host } = hole;
  if (host === null) return null;
  const bodies = bodiesOf(hole);
  const sized = bodies.map((body) => ({ ...body, size: sizeOf(body.point, body.labels) }));
  const isHole = root.service === null || hole.inside.length > 0 || isCastIn(root);
  const rootSize = sizeOf(root, hole.labels);
  const shape = isHole ? shapeOf(root, rootSize) : null;
  const serviceIds = bodies.flatMap(({ point }) => (point.service === null ? [] : [point.item.id]));
  const id = penetrationId(
    [host.id],
    isHole ? { openingIds: [root.item.id] } : { serviceIds, crossing: 0 },
  );
  const origin = frame.toWorld(root.centre, sheet.view.serviceHeightMm ?? 0);
  const section = sectionFrame(
    [roundMm(origin[0]), roundMm(origin[1]), roundMm(origin[2])],
    frame.intoPage,
  );
  const { level, elevationMm } = sheet.view;
  const makeCrossing = (body: (typeof sized)[number]): Crossing => {
    const centre = frame.toWorld(body.point.centre, sheet.view.serviceHeightMm ?? 0);
    const from = sub3(centre, section.originMm);
    const half = host.thicknessMm / 2;
    const along = (sign: number) =>
      [0, 1, 2].map((i) => roundMm((centre[i] ?? 0) + sign * half * (frame.intoPage[i] ?? 0)));
    const [ex = 0, ey = 0, ez = 0] = along(-1);
    const [fx = 0, fy = 0, fz = 0] = along(1);
    const { service } = body.point;
    return {
      id: `${id}/${body.point.item.id}`,
      serviceIds: [body.point.item.id],
      refs: [body.point.item.ref],
      kind: service?.kind ?? 'duct',
      carrierForm: service?.carrierForm ?? null,
      section: body.size.section,
      sizeBasis: body.size.basis,
      boreMm: boreOf(body.point, body.size, root, hole),
      material: null,
      entryMm: [ex, ey, ez],
      exitMm: [fx, fy, fz],
      lengthMm: host.thicknessMm,
      skewRad: 0,
      offsetMm: [roundMm(dot3(from, section.right)), roundMm(dot3(from, section.up))],
      carriedBy: body.within === null ? null : `${id}/${body.within.item.id}`,
      references: referencesOf(withAttribute(body.point, body.labels)),
      systems: [],
      evidence: [...body.size.evidence, drawnEvidence(body.point)],
    };
  };
  const crossings = numbered(sized.map(makeCrossing));
  const penetration: Penetration = {
    id,
    kind: isHole ? 'opening' : 'unopened',
    frame: section,
    hosts: [host],
    thicknessMm: host.thicknessMm,
    openings: isHole
      ? [
          {
            id: root.item.id,
            ref: root.item.ref,
            kind: 'opening',
            name: root.item.symbol?.blockName ?? `${root.item.type} on ${root.item.layer}`,
          },
        ]
      : [],
    crossings: crossings.sort((a, b) => compareText(a.id, b.id)),
    shape,
    where: {
      level,
      levelElevationMm: elevationMm,
      heightAboveLevelMm: elevationMm === null ? null : roundMm(origin[2] - elevationMm),
      grid: null,
      spaces: { near: null, far: null },
      outside: null,
    },
    references:
      hole.inside.length > 0 || root.service === null
        ? referencesOf(withAttribute(root, hole.labels))
        : [],
    evidence: evidenceOf(hole, host, sheet, shape),
    drawnIn: sheet.view.view,
  };
  return {
    penetration,
    hole,
    sizes: sized.map(({ point, size }) => ({ point, size })),
  };
}

/** What passes: the bodies inside the hole, or the root itself where it is a service alone. */
function bodiesOf({ root, inside, labels }: EndOnHole): readonly EndOnBody[] {
  if (inside.length > 0) {
    // What is drawn as an opening inside another is its edge or frame, not a body.
    return inside.filter(({ point }) => point.service !== null);
  }
  return root.service === null ? [] : [{ point: root, labels, within: null }];
}

/** Ducts and conduits without a hole drawn round them are cast in: they are the hole themselves. */
function isCastIn({ kind }: PointItem): boolean {
  return kind === 'duct' || kind === 'conduit';
}

/** What the block itself says stands before what is written beside it. */
function withAttribute({ attribute }: PointItem, labels: readonly Label[]): readonly Label[] {
  return attribute === null ? labels : [attribute, ...labels];
}

function sizeOf(point: PointItem, labels: readonly Label[]): SizeChoice {
  const chosen = chooseSize(withAttribute(point, labels), point.centre, point.kind ?? 'duct', null);
  const drawn = sectionOf(point.shape);
  if (drawn === null) return chosen;
  if (chosen.section !== null) {
    // A block's own outline is a sign; lines and circles are drawn to size.
    const disagrees =
      chosen.rival === null &&
      point.item.symbol === null &&
      point.shape?.type === 'circle' &&
      !isSameSize(chosen.section, drawn);
    return disagrees ? { ...chosen, rival: drawnRival(point, drawn) } : chosen;
  }
  return {
    ...chosen,
    section: drawn,
    basis: basisOfDrawn(point),
    evidence: [drawnEvidence(point)],
  };
}

/** What is drawn, as a reading beside that of a label. */
function drawnRival({ item, centre }: PointItem, section: Section): SizeChoice['rival'] {
  const label: Label = {
    reading: readLabel(''),
    text: 'as drawn',
    ref: item.ref,
    from: 'text',
    placeMm: centre,
    distanceMm: 0,
  };
  return { section, label };
}

const basisOfDrawn = ({ kind }: PointItem): SizeBasis => (kind === null ? 'unknown' : 'outside');

function sectionOf(shape: Shape | null): Section | null {
  return shape?.type === 'circle' || shape?.type === 'rectangle' ? shape : null;
}

/** An opening's shape: as drawn, or by its label where only a symbol is drawn. */
function shapeOf(root: PointItem, size: SizeChoice): Shape | null {
  if (root.shape !== null && root.shape.type !== 'circle') return root.shape;
  return size.section ?? root.shape;
}

/** A duct that is cast in has the drawn circle as its bore: that is what cables pass and what is sealed. */
function boreOf(
  point: PointItem,
  { section, basis }: SizeChoice,
  root: PointItem,
  hole: EndOnHole,
): number | null {
  if (section?.type !== 'circle') return null;
  if (basis === 'bore') return section.diameterMm;
  return point === root && hole.inside.length === 0 && isCastIn(point) ? section.diameterMm : null;
}

function drawnEvidence({ item, shape }: PointItem): Evidence {
  return {
    fact: 'service',
    text: `${shape === null ? item.type : shapeText(shape)} drawn on layer ${item.layer}`,
    place: { fileKey: item.ref.fileKey, id: item.ref.id },
  };
}

function numbered(crossings: readonly Crossing[]): Crossing[] {
  const seen = new Map<string, number>();
  for (const { id } of crossings) seen.set(id, (seen.get(id) ?? 0) + 1);
  const next = new Map<string, number>();
  return crossings.map((crossing) => {
    if ((seen.get(crossing.id) ?? 0) < 2) return crossing;
    const number = (next.get(crossing.id) ?? 0) + 1;
    next.set(crossing.id, number);
    return { ...crossing, id: `${crossing.id}#${number}` };
  });
}

function evidenceOf(
  hole: EndOnHole,
  host: PenetrationHost,
  sheet: Sheet,
  shape: Shape | null,
): Evidence[] {
  const { root, place } = hole;
  const viewName = sheet.view.name ?? sheet.drawing.name;
  const at = { fileKey: root.item.ref.fileKey, id: root.item.ref.id };
  return [
    { fact: 'view', text: `${sheet.view.view} ${viewName}`, place: { fileKey: at.fileKey } },
    { fact: 'host', text: host.name, place: { fileKey: host.ref.fileKey, id: host.ref.id } },
    ...(shape === null
      ? []
      : [{ fact: 'opening', text: `${shapeText(shape)} on layer ${root.item.layer}`, place: at }]),
    ...hole.labels.slice(0, 1).map((label) => labelEvidence(label, 'opening')),
    ...(place === null
      ? []
      : [
          {
            fact: 'place in array',
            text: `number ${place.number} of ${place.total}: row ${place.row} from the top, column ${place.column} from the left`,
            place: at,
          },
        ]),
  ];
}

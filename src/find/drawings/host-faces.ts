import Flatbush from 'flatbush';
import { compareText } from '../../basics/order.ts';
import { pathPoints } from '../../geometry/plane-curve.ts';
import { isInsideOutline } from '../../geometry/plane-project.ts';
import { indexSegments } from '../../geometry/segment-index.ts';
import { polygonAreaMm2, sizeText } from '../../geometry/shape.ts';
import { distance2, type Vec2 } from '../../geometry/vec.ts';
import type { HostKind } from '../../model/building.ts';
import type { DrawnEntity, DrawnText } from '../../model/drawing.ts';
import { elementId } from '../../model/ids.ts';
import type { PenetrationHost } from '../../model/penetration.ts';
import type { Settings } from '../../model/settings.ts';
import { readLabel } from './read-label.ts';

/** Where hosts' faces are seen. */
export interface HostFaces {
  readonly at: (point: Vec2) => PenetrationHost | null;
}

interface Face {
  readonly entity: DrawnEntity;
  readonly kind: HostKind;
  readonly outline: readonly Vec2[];
  readonly areaMm2: number;
  readonly box: readonly [number, number, number, number];
}

/** Smaller closed outlines on host layers are columns or details. */
const SMALLEST_FACE_MM2 = 150 * 150;

/**
 * Faces of hosts from closed outlines and fills, and where those are missing from lines that stand
 * round a place on three sides at least. A text such as "300 thk" tells a face's thickness.
 */
export function hostFaces(
  entities: readonly (readonly [HostKind, readonly DrawnEntity[]])[],
  texts: readonly DrawnText[],
  settings: Settings,
): HostFaces {
  const faces = entities.flatMap(([kind, list]) =>
    list.flatMap((entity) =>
      entity.loops
        .filter(({ isClosed }) => isClosed)
        .map(({ pieces }): Face => {
          const outline = pathPoints(pieces);
          return { entity, kind, outline, areaMm2: polygonAreaMm2(outline), box: boxOf(outline) };
        }),
    ),
  );
  const large = faces.filter(({ areaMm2 }) => areaMm2 >= SMALLEST_FACE_MM2);
  const index = large.length === 0 ? null : new Flatbush(large.length);
  for (const { box } of large) index?.add(...box);
  index?.finish();
  const walled = enclosure(entities);
  const faceAt = (point: Vec2): { entity: DrawnEntity; kind: HostKind } | null => {
    let best: Face | null = null;
    for (const at of index?.search(point[0], point[1], point[0], point[1]) ?? []) {
      const face = large[at];
      if (face === undefined || !isInsideOutline(point, face.outline)) continue;
      const isSmaller =
        best === null ||
        face.areaMm2 < best.areaMm2 ||
        (face.areaMm2 === best.areaMm2 && compareText(face.entity.ref.id, best.entity.ref.id) < 0);
      if (isSmaller) best = face;
    }
    return best ?? walled(point);
  };
  const thicknesses = thicknessTexts(texts).map((each) => ({
    ...each,
    face: faceAt(each.at)?.entity ?? null,
  }));
  const thicknessOf = (host: DrawnEntity, point: Vec2): number => {
    const own = thicknesses.filter(({ face }) => face === host);
    const near =
      own.length > 0
        ? own
        : thicknesses.filter(({ at }) => distance2(at, point) <= settings.find.labelReachMm);
    const [nearest] = [...near].sort((a, b) => distance2(a.at, point) - distance2(b.at, point));
    return nearest?.thicknessMm ?? 0;
  };
  return {
    at: (point) => {
      const face = faceAt(point);
      if (face === null) return null;
      const { entity, kind } = face;
      const thicknessMm = thicknessOf(entity, point);
      return {
        id: elementId(entity.ref),
        ref: entity.ref,
        kind,
        name: `${thicknessMm > 0 ? `${sizeText(thicknessMm)} mm ` : ''}${kind} on layer ${entity.layer}`,
        thicknessMm,
        material: null,
        fireRating: null,
        isExternal: null,
        isLoadBearing: null,
      };
    },
  };
}

function boxOf(outline: readonly Vec2[]): [number, number, number, number] {
  let [x0, y0, x1, y1] = [
    Number.POSITIVE_INFINITY,
    Number.POSITIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
  ];
  for (const [x, y] of outline) {
    x0 = Math.min(x0, x);
    y0 = Math.min(y0, y);
    x1 = Math.max(x1, x);
    y1 = Math.max(y1, y);
  }
  return [x0, y0, x1, y1];
}

function thicknessTexts(
  texts: readonly DrawnText[],
): readonly { readonly at: Vec2; readonly thicknessMm: number }[] {
  return texts.flatMap(({ text, centreMm }) => {
    if (!/THK|THICK|DICK|\bEP\b|\bÉP/i.test(text)) return [];
    const { thicknessMm } = readLabel(text);
    return thicknessMm === null ? [] : [{ at: centreMm, thicknessMm }];
  });
}

/** Host lines to the left, right, above and below: three of the four make an inside. */
const FEWEST_SIDES = 3;

function enclosure(
  entities: readonly (readonly [HostKind, readonly DrawnEntity[]])[],
): (point: Vec2) => { entity: DrawnEntity; kind: HostKind } | null {
  const lines = entities.flatMap(([kind, list]) =>
    list.flatMap((entity) =>
      entity.loops.flatMap(({ pieces }) =>
        pieces.flatMap((piece) =>
          piece.type === 'line' ? [{ entity, kind, from: piece.from, to: piece.to }] : [],
        ),
      ),
    ),
  );
  if (lines.length === 0) return () => null;
  const index = indexSegments(lines);
  return ([x, y]) => {
    const rays = [
      [Number.NEGATIVE_INFINITY, y, x, y],
      [x, y, Number.POSITIVE_INFINITY, y],
      [x, Number.NEGATIVE_INFINITY, x, y],
      [x, y, x, Number.POSITIVE_INFINITY],
    ] as const;
    const hits = rays.map(([x0, y0, x1, y1]) => index.search(x0, y0, x1, y1).map((i) => lines[i]));
    if (hits.filter((found) => found.length > 0).length < FEWEST_SIDES) return null;
    const all = hits.flat().filter((hit) => hit !== undefined);
    const [first] = all.sort((a, b) => compareText(a.entity.ref.id, b.entity.ref.id));
    return first ?? null;
  };
}

import { type Frame3, frameInside, framePoint } from '../../geometry/frame3.ts';
import { recogniseOutline } from '../../geometry/outline-shape.ts';
import type { Shape } from '../../geometry/shape.ts';
import type { Vec2 } from '../../geometry/vec.ts';
import { curvePoints } from './curves.ts';
import { axisFrame, operatorFrame } from './placements.ts';
import type { ModelRecords } from './records.ts';
import type { ModelUnits } from './units.ts';
import { numberOf, refOf, refsOf, textOf } from './values.ts';

/** The outline of a swept body across its path, millimetres in the profile's own plane. */
export interface ReadProfile {
  readonly shape: Shape;
  /** Centre of the shape in the profile's plane. */
  readonly centreMm: Vec2;
  /** Unit vector of the shape's own x in the profile's plane. */
  readonly right: Vec2;
  /** Clear inside of a hollow round profile. */
  readonly boreMm: number | null;
  readonly name: string | null;
}

const DEEPEST_PROFILE = 6;

/** Outline of a profile record; null for one that isn't understood. */
export function readProfile(
  step: ModelRecords,
  id: number | null,
  units: ModelUnits,
  depth = 0,
): ReadProfile | null {
  if (id === null || depth > DEEPEST_PROFILE) return null;
  const attributes = step.attributes(id);
  const mm = (n: number): number => (numberOf(attributes[n]) ?? Number.NaN) * units.mmPerUnit;
  const placed = (shape: Shape, boreMm: number | null = null): ReadProfile | null => {
    const frame = axisFrame(step, refOf(attributes[2]));
    const centre = frame?.origin ?? [0, 0, 0];
    return checked({
      shape,
      centreMm: [centre[0] * units.mmPerUnit, centre[1] * units.mmPerUnit],
      right: frame === null ? [1, 0] : [frame.x[0], frame.x[1]],
      boreMm,
      name: textOf(attributes[1]),
    });
  };
  switch (step.typeOf(id)) {
    case 'IFCCIRCLEPROFILEDEF':
      return placed({ type: 'circle', diameterMm: 2 * mm(3) });
    case 'IFCCIRCLEHOLLOWPROFILEDEF':
      return placed({ type: 'circle', diameterMm: 2 * mm(3) }, 2 * (mm(3) - mm(4)));
    case 'IFCELLIPSEPROFILEDEF':
      return placed({ type: 'oval', lengthMm: 2 * mm(3), widthMm: 2 * mm(4) });
    case 'IFCROUNDEDRECTANGLEPROFILEDEF':
      return turnedAlong(placed(roundedRectangle(mm(3), mm(4), mm(5))), mm(4) > mm(3));
    case 'IFCRECTANGLEPROFILEDEF':
    case 'IFCRECTANGLEHOLLOWPROFILEDEF':
      return placed({ type: 'rectangle', widthMm: mm(3), heightMm: mm(4) });
    // Depth of these is along y, width along x.
    case 'IFCUSHAPEPROFILEDEF':
    case 'IFCTSHAPEPROFILEDEF':
      return placed({ type: 'rectangle', widthMm: mm(4), heightMm: mm(3) });
    case 'IFCISHAPEPROFILEDEF':
    case 'IFCCSHAPEPROFILEDEF':
      return placed(
        step.typeOf(id) === 'IFCCSHAPEPROFILEDEF'
          ? { type: 'rectangle', widthMm: mm(4), heightMm: mm(3) }
          : { type: 'rectangle', widthMm: mm(3), heightMm: mm(4) },
      );
    case 'IFCLSHAPEPROFILEDEF':
      return placed({
        type: 'rectangle',
        widthMm: Number.isFinite(mm(4)) ? mm(4) : mm(3),
        heightMm: mm(3),
      });
    case 'IFCARBITRARYCLOSEDPROFILEDEF':
    case 'IFCARBITRARYPROFILEDEFWITHVOIDS':
      return arbitraryProfile(step, id, units);
    case 'IFCDERIVEDPROFILEDEF':
    case 'IFCMIRROREDPROFILEDEF':
      return derivedProfile(step, id, units, depth);
    case 'IFCCOMPOSITEPROFILEDEF':
      return compositeProfile(step, id, units, depth);
    default:
      return null;
  }
}

function checked(profile: ReadProfile): ReadProfile | null {
  const isSize = (value: unknown): boolean =>
    typeof value !== 'number' || (Number.isFinite(value) && value > 0);
  return Object.values(profile.shape).every(isSize) ? profile : null;
}

function arbitraryProfile(step: ModelRecords, id: number, units: ModelUnits): ReadProfile | null {
  const attributes = step.attributes(id);
  const outer = curvePoints(step, refOf(attributes[2]), units.radPerUnit);
  if (outer === null) return null;
  const outline = outer.points.map(([x, y]): Vec2 => [x * units.mmPerUnit, y * units.mmPerUnit]);
  const name = textOf(attributes[1]);
  if (outer.circleRadius !== null) {
    const diameterMm = 2 * outer.circleRadius * units.mmPerUnit;
    const [first, , ,] = outline;
    const half = outline[Math.floor((outline.length - 1) / 2)];
    if (first === undefined || half === undefined) return null;
    return checked({
      shape: { type: 'circle', diameterMm },
      centreMm: [(first[0] + half[0]) / 2, (first[1] + half[1]) / 2],
      right: [1, 0],
      boreMm: innerBore(step, refsOf(attributes[3]), units),
      name,
    });
  }
  const recognised = recogniseOutline(outline);
  if (recognised === null) return null;
  return checked({
    shape: recognised.shape,
    centreMm: recognised.centre,
    right: recognised.right,
    boreMm:
      recognised.shape.type === 'circle' ? innerBore(step, refsOf(attributes[3]), units) : null,
    name,
  });
}

/** Diameter of the only round hole of a profile. */
function innerBore(step: ModelRecords, holes: readonly number[], units: ModelUnits): number | null {
  const [hole] = holes;
  if (hole === undefined || holes.length !== 1) return null;
  const curve = curvePoints(step, hole, units.radPerUnit);
  if (curve === null) return null;
  if (curve.circleRadius !== null) return 2 * curve.circleRadius * units.mmPerUnit;
  const shape = recogniseOutline(
    curve.points.map(([x, y]): Vec2 => [x * units.mmPerUnit, y * units.mmPerUnit]),
  )?.shape;
  return shape?.type === 'circle' ? shape.diameterMm : null;
}

function derivedProfile(
  step: ModelRecords,
  id: number,
  units: ModelUnits,
  depth: number,
): ReadProfile | null {
  const attributes = step.attributes(id);
  const parent = readProfile(step, refOf(attributes[2]), units, depth + 1);
  if (parent === null) return null;
  const mirror: Frame3 = { origin: [0, 0, 0], x: [-1, 0, 0], y: [0, 1, 0], z: [0, 0, 1] };
  const frame =
    operatorFrame(step, refOf(attributes[3])) ??
    (step.typeOf(id) === 'IFCMIRROREDPROFILEDEF' ? mirror : null);
  if (frame === null) return null;
  const inMm: Frame3 = {
    ...frame,
    origin: [frame.origin[0] * units.mmPerUnit, frame.origin[1] * units.mmPerUnit, 0],
  };
  const scale = Math.hypot(...frame.x);
  const [cx, cy] = framePoint(inMm, [...parent.centreMm, 0]);
  const turned = frameInside(frame, {
    origin: [0, 0, 0],
    x: [...parent.right, 0],
    y: [-parent.right[1], parent.right[0], 0],
    z: [0, 0, 1],
  });
  return checked({
    ...parent,
    shape: scaledShape(parent.shape, scale),
    centreMm: [cx, cy],
    right: [turned.x[0] / scale, turned.x[1] / scale],
    boreMm: parent.boreMm === null ? null : parent.boreMm * scale,
  });
}

/** The same shape, larger or smaller. */
export function scaledShape(shape: Shape, factor: number): Shape {
  switch (shape.type) {
    case 'circle':
      return { type: 'circle', diameterMm: shape.diameterMm * factor };
    case 'rectangle':
      return {
        type: 'rectangle',
        widthMm: shape.widthMm * factor,
        heightMm: shape.heightMm * factor,
      };
    case 'slot':
    case 'oval':
      return {
        type: shape.type,
        lengthMm: shape.lengthMm * factor,
        widthMm: shape.widthMm * factor,
      };
    case 'polygon':
      return {
        type: 'polygon',
        pointsMm: shape.pointsMm.map(([x, y]): Vec2 => [x * factor, y * factor]),
      };
  }
}

/** A profile of several parts: the one of largest area stands for all. */
function compositeProfile(
  step: ModelRecords,
  id: number,
  units: ModelUnits,
  depth: number,
): ReadProfile | null {
  const parts = refsOf(step.attributes(id)[2])
    .slice(0, 50)
    .map((part) => readProfile(step, part, units, depth + 1));
  return parts.length === 1 ? (parts[0] ?? null) : null;
}

/** Chords of a quarter circle where corners are rounded. */
const CORNER_CHORDS = 6;

/** A rectangle with round corners: a slot or a circle where the corners meet, else its outline. */
function roundedRectangle(widthMm: number, heightMm: number, radiusMm: number): Shape {
  const narrowMm = Math.min(widthMm, heightMm);
  const isRoundEnded = radiusMm >= narrowMm / 2 - narrowMm * 1e-6;
  if (isRoundEnded && Math.abs(widthMm - heightMm) <= narrowMm * 1e-6) {
    return { type: 'circle', diameterMm: narrowMm };
  }
  if (isRoundEnded) {
    return { type: 'slot', lengthMm: Math.max(widthMm, heightMm), widthMm: narrowMm };
  }
  if (!(radiusMm > 0)) return { type: 'rectangle', widthMm, heightMm };
  const corners = [
    [1, 1, 0],
    [-1, 1, 1],
    [-1, -1, 2],
    [1, -1, 3],
  ] as const;
  const pointsMm = corners.flatMap(([x, y, quarter]) =>
    Array.from({ length: CORNER_CHORDS + 1 }, (_, step): Vec2 => {
      const angleRad = ((quarter + step / CORNER_CHORDS) * Math.PI) / 2;
      return [
        x * (widthMm / 2 - radiusMm) + radiusMm * Math.cos(angleRad),
        y * (heightMm / 2 - radiusMm) + radiusMm * Math.sin(angleRad),
      ];
    }),
  );
  return { type: 'polygon', pointsMm };
}

/** A slot lies along its own x: one that stands upright in its profile has its x turned. */
function turnedAlong(profile: ReadProfile | null, isUpright: boolean): ReadProfile | null {
  if (profile === null || profile.shape.type !== 'slot' || !isUpright) return profile;
  const [x, y] = profile.right;
  return { ...profile, right: [-y, x] };
}

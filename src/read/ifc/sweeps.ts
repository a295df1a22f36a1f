import {
  type Frame3,
  frameDirection,
  frameInside,
  framePoint,
  scaledFrame,
} from '../../geometry/frame3.ts';
import type { Shape } from '../../geometry/shape.ts';
import { add3, cross3, dot3, length3, scale3, sub3, unit3, type Vec3 } from '../../geometry/vec.ts';
import { curvePoints } from './curves.ts';
import { axisFrame, operatorFrame, pointOf } from './placements.ts';
import { readProfile, scaledShape } from './profiles.ts';
import type { ModelRecords } from './records.ts';
import type { ModelUnits } from './units.ts';
import { enumOf, numberOf, refOf, refsOf, textOf } from './values.ts';

/** A body swept along a path, in the world frame, mm. */
export interface Sweep {
  /** Path of the outline's centre. */
  readonly pathMm: readonly Vec3[];
  readonly shape: Shape;
  /** Unit vectors of the outline's x and y at the path's start. */
  readonly right: Vec3;
  readonly up: Vec3;
  readonly boreMm: number | null;
  readonly profileName: string | null;
  readonly isStraight: boolean;
  /** Whether the outline lies square to the path. */
  readonly isSquare: boolean;
  /** Whether something is cut off the sweep, so that its ends may lie elsewhere. */
  readonly isClipped: boolean;
}

export interface ReadShape {
  readonly sweeps: readonly Sweep[];
  /** Types of items that are no sweeps: breps, meshes, unknown. */
  readonly otherItems: readonly string[];
  /** Points of a curve given as the element's axis. */
  readonly axisMm: readonly Vec3[] | null;
}

const DEEPEST_ITEM = 16;
const MOST_ITEMS = 500;
const BEND_CHORDS = 12;

interface Reading {
  readonly step: ModelRecords;
  readonly units: ModelUnits;
  readonly sweeps: Sweep[];
  readonly otherItems: string[];
}

/**
 * Swept bodies and axis of an element.
 * @param shapeId its product definition shape
 * @param placement its frame, file units
 */
export function readShape(
  step: ModelRecords,
  shapeId: number,
  placement: Frame3,
  units: ModelUnits,
): ReadShape {
  const reading: Reading = { step, units, sweeps: [], otherItems: [] };
  let axisMm: readonly Vec3[] | null = null;
  let bodies = 0;
  for (const representation of refsOf(step.attributes(shapeId)[2])) {
    const [, identifier, , items] = step.attributes(representation);
    const name = textOf(identifier)?.toLowerCase() ?? '';
    if (name === 'axis') axisMm = axisMm ?? readAxis(reading, refsOf(items), placement);
    else if (NOT_BODIES.has(name)) continue;
    else {
      bodies += 1;
      if (bodies > 1 && name !== 'body') continue;
      for (const item of refsOf(items).slice(0, MOST_ITEMS)) {
        readItem(reading, item, placement, 0, false);
      }
    }
  }
  return { sweeps: reading.sweeps, otherItems: reading.otherItems, axisMm };
}

const NOT_BODIES = new Set([
  'footprint',
  'box',
  'annotation',
  'plan',
  'profile',
  'reference',
  'clearance',
  'lighting',
  'cog',
  'surface',
]);

function readAxis(
  { step, units }: Reading,
  items: readonly number[],
  placement: Frame3,
  depth = 0,
): readonly Vec3[] | null {
  const [item] = items;
  if (item === undefined || items.length !== 1 || depth > DEEPEST_ITEM) return null;
  if (step.typeOf(item) === 'IFCMAPPEDITEM') {
    const map = mappedItem(step, item, placement);
    return map === null
      ? null
      : readAxis({ step, units, sweeps: [], otherItems: [] }, map.items, map.frame, depth + 1);
  }
  const curve = curvePoints(step, item, units.radPerUnit);
  if (curve === null) return null;
  return curve.points.map((point) => scale3(framePoint(placement, point), units.mmPerUnit));
}

function mappedItem(
  step: ModelRecords,
  item: number,
  placement: Frame3,
): { items: readonly number[]; frame: Frame3 } | null {
  const [source, target] = step.attributes(item);
  const map = refOf(source);
  const operator = operatorFrame(step, refOf(target));
  if (map === null || operator === null) return null;
  const [origin, representation] = step.attributes(map);
  const inner = refOf(representation);
  if (inner === null) return null;
  const moved = frameInside(placement, operator);
  const originFrame = axisFrame(step, refOf(origin));
  return {
    items: refsOf(step.attributes(inner)[3]),
    frame: originFrame === null ? moved : frameInside(moved, originFrame),
  };
}

function readItem(
  reading: Reading,
  item: number,
  frame: Frame3,
  depth: number,
  isClipped: boolean,
): void {
  const { step } = reading;
  if (depth > DEEPEST_ITEM || reading.sweeps.length + reading.otherItems.length > MOST_ITEMS) {
    return;
  }
  const attributes = step.attributes(item);
  const type = step.typeOf(item);
  switch (type) {
    case 'IFCMAPPEDITEM': {
      const map = mappedItem(step, item, frame);
      if (map === null) reading.otherItems.push(type);
      else for (const inner of map.items) readItem(reading, inner, map.frame, depth + 1, isClipped);
      return;
    }
    case 'IFCBOOLEANCLIPPINGRESULT':
    case 'IFCBOOLEANRESULT': {
      const first = refOf(attributes[1]);
      const cuts = enumOf(attributes[0]) !== 'UNION';
      if (first !== null && cuts) readItem(reading, first, frame, depth + 1, true);
      else reading.otherItems.push(type);
      return;
    }
    case 'IFCCSGSOLID': {
      const root = refOf(attributes[0]);
      if (root !== null) readItem(reading, root, frame, depth + 1, isClipped);
      return;
    }
    default: {
      const sweep = SWEEPS[type]?.(reading, item, frame, isClipped);
      if (sweep?.pathMm.every((point) => point.every(Number.isFinite))) reading.sweeps.push(sweep);
      else reading.otherItems.push(type);
    }
  }
}

type SweepReader = (
  reading: Reading,
  item: number,
  frame: Frame3,
  isClipped: boolean,
) => Sweep | null;

/** Solids that are one outline swept along a path. */
const SWEEPS: Readonly<Partial<Record<string, SweepReader>>> = {
  IFCEXTRUDEDAREASOLID: extrusion,
  IFCEXTRUDEDAREASOLIDTAPERED: extrusion,
  IFCREVOLVEDAREASOLID: revolution,
  IFCREVOLVEDAREASOLIDTAPERED: revolution,
  IFCSWEPTDISKSOLID: sweptDisk,
  IFCSWEPTDISKSOLIDPOLYGONAL: sweptDisk,
  IFCFIXEDREFERENCESWEPTAREASOLID: sweptArea,
  IFCSURFACECURVESWEPTAREASOLID: sweptArea,
  IFCRIGHTCIRCULARCYLINDER: cylinder,
  IFCBLOCK: block,
};

/** Frame of a solid's own position within its element, as mm. */
function solidFrame(reading: Reading, position: number | null, frame: Frame3): Frame3 {
  const own = axisFrame(reading.step, position);
  return scaledFrame(own === null ? frame : frameInside(frame, own), reading.units.mmPerUnit);
}

function extrusion(
  reading: Reading,
  item: number,
  frame: Frame3,
  isClipped: boolean,
): Sweep | null {
  const { step, units } = reading;
  const [area, position, direction, depth] = step.attributes(item);
  const profile = readProfile(step, refOf(area), units);
  const along = unit3(pointOf(step, direction) ?? [0, 0, 1]);
  const length = numberOf(depth);
  if (profile === null || along === null || length === null || length === 0) return null;
  const solid = solidFrame(reading, refOf(position), frame);
  // The profile is in millimetres already; the frame's steps are those of one file unit.
  const unit = scaledFrame(solid, 1 / units.mmPerUnit);
  const start = add3(solid.origin, frameDirection(unit, [...profile.centreMm, 0]));
  const end = add3(start, frameDirection(solid, scale3(along, length)));
  const x = frameDirection(unit, [...profile.right, 0]);
  const y = frameDirection(unit, [-profile.right[1], profile.right[0], 0]);
  const right = unit3(x);
  const up = unit3(y);
  if (right === null || up === null) return null;
  const path = unit3(sub3(end, start));
  return {
    pathMm: [start, end],
    shape: scaledShape(profile.shape, length3(x)),
    right,
    up,
    boreMm: profile.boreMm === null ? null : profile.boreMm * length3(x),
    profileName: profile.name,
    isStraight: true,
    isSquare: path !== null && Math.abs(Math.abs(dot3(path, cross3(right, up))) - 1) < 1e-4,
    isClipped,
  };
}

function revolution(
  reading: Reading,
  item: number,
  frame: Frame3,
  isClipped: boolean,
): Sweep | null {
  const { step, units } = reading;
  const [area, position, axis, angle] = step.attributes(item);
  const profile = readProfile(step, refOf(area), units);
  const axisLine = axisFrame(step, refOf(axis));
  const turn = (numberOf(angle) ?? 0) * units.radPerUnit;
  if (profile === null || axisLine === null || !(Math.abs(turn) > 1e-6)) return null;
  const solid = solidFrame(reading, refOf(position), frame);
  const unit = scaledFrame(solid, 1 / units.mmPerUnit);
  const centre = add3(solid.origin, frameDirection(unit, [...profile.centreMm, 0]));
  const pivot = framePoint(solid, axisLine.origin);
  const pole = unit3(frameDirection(unit, axisLine.z));
  const right = unit3(frameDirection(unit, [...profile.right, 0]));
  const up = unit3(frameDirection(unit, [-profile.right[1], profile.right[0], 0]));
  if (pole === null || right === null || up === null) return null;
  const pathMm = Array.from({ length: BEND_CHORDS + 1 }, (_, n) =>
    turned(centre, pivot, pole, (turn * n) / BEND_CHORDS),
  );
  return {
    pathMm,
    shape: profile.shape,
    right,
    up,
    boreMm: profile.boreMm,
    profileName: profile.name,
    isStraight: false,
    isSquare: true,
    isClipped,
  };
}

/** The point turned about an axis. Rodrigues' formula. */
function turned(point: Vec3, pivot: Vec3, axis: Vec3, angle: number): Vec3 {
  const d = sub3(point, pivot);
  const along = scale3(axis, dot3(axis, d) * (1 - Math.cos(angle)));
  const around = scale3(cross3(axis, d), Math.sin(angle));
  return add3(pivot, add3(scale3(d, Math.cos(angle)), add3(around, along)));
}

function sweptDisk(
  reading: Reading,
  item: number,
  frame: Frame3,
  isClipped: boolean,
): Sweep | null {
  const { step, units } = reading;
  const [directrix, radius, inner] = step.attributes(item);
  const curve = curvePoints(step, refOf(directrix), units.radPerUnit);
  const size = numberOf(radius);
  if (curve === null || size === null || !(size > 0)) return null;
  const world = scaledFrame(frame, units.mmPerUnit);
  const scale = length3(frame.x);
  const innerSize = numberOf(inner);
  return alongPath(
    curve.points.map((point) => framePoint(world, point)),
    { type: 'circle', diameterMm: 2 * size * units.mmPerUnit * scale },
    innerSize === null ? null : 2 * innerSize * units.mmPerUnit * scale,
    isClipped,
  );
}

function alongPath(
  pathMm: readonly Vec3[],
  shape: Shape,
  boreMm: number | null,
  isClipped: boolean,
): Sweep | null {
  const [first, second] = pathMm;
  if (first === undefined || second === undefined) return null;
  const along = unit3(sub3(second, first));
  if (along === null) return null;
  const right = unit3(cross3(along, Math.abs(along[2]) < 0.99 ? [0, 0, 1] : [0, 1, 0]));
  if (right === null) return null;
  return {
    pathMm,
    shape,
    right,
    up: cross3(right, along),
    boreMm,
    profileName: null,
    isStraight: pathMm.length === 2,
    isSquare: true,
    isClipped,
  };
}

function sweptArea(
  reading: Reading,
  item: number,
  frame: Frame3,
  isClipped: boolean,
): Sweep | null {
  const { step, units } = reading;
  const [area, position, directrix] = step.attributes(item);
  const profile = readProfile(step, refOf(area), units);
  const curve = curvePoints(step, refOf(directrix), units.radPerUnit);
  if (profile === null || curve === null) return null;
  const world = solidFrame(reading, refOf(position), frame);
  return alongPath(
    curve.points.map((point) => framePoint(world, point)),
    profile.shape,
    profile.boreMm,
    isClipped,
  );
}

function cylinder(reading: Reading, item: number, frame: Frame3, isClipped: boolean): Sweep | null {
  const [position, height, radius] = reading.step.attributes(item);
  const size = numberOf(radius);
  const length = numberOf(height);
  if (size === null || length === null || !(size > 0)) return null;
  const solid = solidFrame(reading, refOf(position), frame);
  return alongPath(
    [solid.origin, framePoint(solid, [0, 0, length])],
    { type: 'circle', diameterMm: 2 * size * length3(solid.x) },
    null,
    isClipped,
  );
}

/** A block, taken as swept along its z. */
function block(reading: Reading, item: number, frame: Frame3, isClipped: boolean): Sweep | null {
  const [position, x, y, z] = reading.step.attributes(item);
  const sizes = [numberOf(x), numberOf(y), numberOf(z)];
  const [width, height, depth] = sizes;
  if (width == null || height == null || depth == null) return null;
  const solid = solidFrame(reading, refOf(position), frame);
  const right = unit3(solid.x);
  const up = unit3(solid.y);
  if (right === null || up === null) return null;
  return {
    pathMm: [
      framePoint(solid, [width / 2, height / 2, 0]),
      framePoint(solid, [width / 2, height / 2, depth]),
    ],
    shape: {
      type: 'rectangle',
      widthMm: width * length3(solid.x),
      heightMm: height * length3(solid.y),
    },
    right,
    up,
    boreMm: null,
    profileName: null,
    isStraight: true,
    isSquare: true,
    isClipped,
  };
}

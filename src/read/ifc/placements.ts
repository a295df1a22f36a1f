import type { StepValue } from '../../formats/ifc/step-values.ts';
import { type Frame3, frameFromAxes, frameInside, WORLD_FRAME } from '../../geometry/frame3.ts';
import { cross3, scale3, type Vec3 } from '../../geometry/vec.ts';
import type { ModelRecords } from './records.ts';
import { numberOf, refOf } from './values.ts';

/** What is wrong with the placement of an element. */
export type PlacementFault = 'missing' | 'circular' | 'not understood' | 'not a number';

export interface PlacedFrame {
  /** Frame in file units. */
  readonly frame: Frame3;
  readonly fault: PlacementFault | null;
}

/** Longest chain of placements that is followed: far beyond any honest model. */
const DEEPEST_CHAIN = 200;

/** Frames of object placements, in file units, each worked out once. */
export function placementReader(step: ModelRecords): (id: number | null) => PlacedFrame {
  const known = new Map<number, PlacedFrame>();
  const open = new Set<number>();
  const read = (id: number | null): PlacedFrame => {
    if (id === null || !step.has(id)) return { frame: WORLD_FRAME, fault: 'missing' };
    const before = known.get(id);
    if (before !== undefined) return before;
    if (open.has(id) || open.size > DEEPEST_CHAIN) {
      return { frame: WORLD_FRAME, fault: 'circular' };
    }
    open.add(id);
    const placed = placedFrame(step, id, read);
    open.delete(id);
    known.set(id, placed);
    return placed;
  };
  return read;
}

function placedFrame(
  step: ModelRecords,
  id: number,
  read: (id: number | null) => PlacedFrame,
): PlacedFrame {
  const attributes = step.attributes(id);
  const type = step.typeOf(id);
  if (type === 'IFCLOCALPLACEMENT') {
    const local = axisFrame(step, refOf(attributes[1]));
    if (local === null || !hasSoundAxes(step, refOf(attributes[1]))) {
      return { frame: WORLD_FRAME, fault: 'not understood' };
    }
    const parent = refOf(attributes[0]);
    const outer = parent === null ? ({ frame: WORLD_FRAME, fault: null } as const) : read(parent);
    const frame = frameInside(outer.frame, local);
    const broken = !frame.origin.every(Number.isFinite);
    return { frame, fault: outer.fault ?? (broken ? 'not a number' : null) };
  }
  // A linear placement carries the same place as plain coordinates, for readers without alignments.
  if (type === 'IFCLINEARPLACEMENT') {
    const plain = axisFrame(step, refOf(attributes[2]));
    if (plain !== null) return { frame: plain, fault: null };
  }
  return { frame: WORLD_FRAME, fault: 'not understood' };
}

/** Whether the directions that an axis placement gives are directions: else the element stands anyhow. */
function hasSoundAxes(step: ModelRecords, id: number | null): boolean {
  if (id === null) return true;
  return step
    .attributes(id)
    .slice(1)
    .every((value) => {
      const direction = refOf(value);
      if (direction === null) return true;
      const ratios = step.coordinates(direction);
      return (
        ratios.length >= 2 && ratios.every(Number.isFinite) && ratios.some((each) => each !== 0)
      );
    });
}

/** Frame of an axis placement, 2D or 3D, in file units; null when the record is none. */
export function axisFrame(step: ModelRecords, id: number | null): Frame3 | null {
  if (id === null) return null;
  const attributes = step.attributes(id);
  switch (step.typeOf(id)) {
    case 'IFCAXIS2PLACEMENT3D':
      return frameFromAxes(
        pointOf(step, attributes[0]) ?? [0, 0, 0],
        pointOf(step, attributes[1]),
        pointOf(step, attributes[2]),
      );
    case 'IFCAXIS2PLACEMENT2D':
      return frameFromAxes(
        pointOf(step, attributes[0]) ?? [0, 0, 0],
        [0, 0, 1],
        pointOf(step, attributes[1]),
      );
    case 'IFCAXIS1PLACEMENT':
      return frameFromAxes(
        pointOf(step, attributes[0]) ?? [0, 0, 0],
        pointOf(step, attributes[1]),
        null,
      );
    default:
      return null;
  }
}

/** Frame of a transformation operator, 2D or 3D, uniform or not. */
export function operatorFrame(step: ModelRecords, id: number | null): Frame3 | null {
  if (id === null || !step.typeOf(id).startsWith('IFCCARTESIANTRANSFORMATIONOPERATOR')) return null;
  const [axis1, axis2, origin, scale, fifth, sixth, seventh] = step.attributes(id);
  const is3d = step.typeOf(id).includes('3D');
  const factor = numberOf(scale) ?? 1;
  const z = (is3d ? pointOf(step, fifth) : null) ?? [0, 0, 1];
  const square = frameFromAxes(pointOf(step, origin) ?? [0, 0, 0], z, pointOf(step, axis1));
  // The second axis tells a mirrored map from a plain one.
  const given = pointOf(step, axis2);
  const mirrored =
    given !== null && given[0] * square.y[0] + given[1] * square.y[1] + given[2] * square.y[2] < 0;
  const nonUniform = step.typeOf(id).endsWith('NONUNIFORM');
  const scaleY = (nonUniform ? numberOf(is3d ? sixth : fifth) : null) ?? factor;
  const scaleZ = (nonUniform && is3d ? numberOf(seventh) : null) ?? factor;
  return {
    origin: square.origin,
    x: scale3(square.x, factor),
    y: scale3(cross3(square.z, square.x), mirrored ? -scaleY : scaleY),
    z: scale3(square.z, scaleZ),
  };
}

/** Coordinates of a point or direction record; the third is 0 where the record has two. */
export function pointOf(step: ModelRecords, value: StepValue | undefined): Vec3 | null {
  const id = refOf(value);
  if (id === null) return null;
  const numbers = step.coordinates(id);
  if (numbers.length < 2) return null;
  return [numbers[0] ?? 0, numbers[1] ?? 0, numbers[2] ?? 0];
}

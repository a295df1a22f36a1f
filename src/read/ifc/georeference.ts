import { pointOf } from './placements.ts';
import type { ModelRecords } from './records.ts';
import type { ModelUnits } from './units.ts';
import { numberOf, textOf } from './values.ts';

/** Where a model's own frame lies on the map. */
export interface MapConversion {
  readonly kind: 'map conversion' | 'rigid operation';
  readonly eastingMm: number;
  readonly northingMm: number;
  readonly heightMm: number;
  /** From the map's east to the model's x, anticlockwise. */
  readonly turnRad: number;
  /** Map lengths for one model length, after both are in millimetres. */
  readonly scale: number;
}

/** What a file says of its frame; needed to join it with others. */
export interface ModelFrame {
  readonly fileKey: string;
  readonly fileName: string;
  readonly lengthName: string | null;
  readonly mmPerUnit: number;
  /** Angle from the model's y to true north, anticlockwise; null when the file gives none. */
  readonly trueNorthRad: number | null;
  readonly map: MapConversion | null;
}

/** Angle to true north of the model's context; null when it gives none. */
export function readTrueNorth(step: ModelRecords): number | null {
  for (const id of step.idsOf('IFCGEOMETRICREPRESENTATIONCONTEXT')) {
    const attributes = step.attributes(id);
    const kind = textOf(attributes[1])?.toLowerCase();
    if (kind === 'plan') continue;
    const north = pointOf(step, attributes[5]);
    if (north !== null && Math.hypot(north[0], north[1]) > 1e-9) {
      return Math.atan2(-north[0], north[1]);
    }
  }
  return null;
}

/**
 * The map conversion or rigid operation of a file; null when there is none.
 * @source ISO 16739-1:2024, IfcMapConversion: scale turns the model's length unit into the map's;
 * its offsets are in the map's unit, taken as metres where the reference system names none and the
 * scale says so.
 */
export function readMapConversion(step: ModelRecords, units: ModelUnits): MapConversion | null {
  for (const type of ['IFCMAPCONVERSION', 'IFCMAPCONVERSIONSCALED']) {
    const [id] = step.idsOf(type);
    if (id === undefined) continue;
    const attributes = step.attributes(id);
    const scale = numberOf(attributes[7]) ?? 1;
    // A scale of 0.001 says that the model is in millimetres and the map in metres.
    const mapUnitMm = units.mmPerUnit / scale;
    const isUnitScale = [1, 1000, 304.8, 25.4, 10].some(
      (known) => Math.abs(mapUnitMm / known - 1) < 0.01,
    );
    const mapMm = isUnitScale ? nearestUnit(mapUnitMm) : units.mmPerUnit;
    return {
      kind: 'map conversion',
      eastingMm: (numberOf(attributes[2]) ?? 0) * mapMm,
      northingMm: (numberOf(attributes[3]) ?? 0) * mapMm,
      heightMm: (numberOf(attributes[4]) ?? 0) * mapMm,
      turnRad: Math.atan2(numberOf(attributes[6]) ?? 0, numberOf(attributes[5]) ?? 1),
      scale: (scale * mapMm) / units.mmPerUnit,
    };
  }
  const [rigid] = step.idsOf('IFCRIGIDOPERATION');
  if (rigid === undefined) return null;
  const attributes = step.attributes(rigid);
  return {
    kind: 'rigid operation',
    eastingMm: (numberOf(attributes[2]) ?? 0) * units.mmPerUnit,
    northingMm: (numberOf(attributes[3]) ?? 0) * units.mmPerUnit,
    heightMm: (numberOf(attributes[4]) ?? 0) * units.mmPerUnit,
    turnRad: 0,
    scale: 1,
  };
}

function nearestUnit(mm: number): number {
  return [1, 10, 25.4, 304.8, 1000].reduce((a, b) =>
    Math.abs(b / mm - 1) < Math.abs(a / mm - 1) ? b : a,
  );
}

import { real, type StepToken, text, typed } from '../../formats/ifc/step-lines.ts';
import type { StepUnits } from '../../formats/ifc/step-units.ts';
import type { TagField, TagValue } from '../../model/tag-edit.ts';

const MM_PER_M = 1e3;
const MM2_PER_M2 = 1e6;
const ML_PER_M3 = 1e6;

/** Values of tags in the units of a model. */
export class TagValues {
  readonly #lengthM: number;
  readonly #areaM2: number;
  readonly #volumeM3: number;

  constructor(units: StepUnits) {
    this.#lengthM = units.ofMeasure('IFCLENGTHMEASURE').factor;
    // Without an area or volume unit of its own a file counts in squares and cubes of its length.
    this.#areaM2 = units.ofUnitType('AREAUNIT')?.factor ?? this.#lengthM ** 2;
    this.#volumeM3 = units.ofUnitType('VOLUMEUNIT')?.factor ?? this.#lengthM ** 3;
  }

  length(valueMm: number): StepToken {
    return real(tidy(valueMm / MM_PER_M / this.#lengthM));
  }

  area(valueMm2: number): StepToken {
    return real(tidy(valueMm2 / MM2_PER_M2 / this.#areaM2));
  }

  volume(valueMl: number): StepToken {
    return real(tidy(valueMl / ML_PER_M3 / this.#volumeM3));
  }

  /** A single value with its type, as a property holds it. */
  token(value: Exclude<TagValue, { kind: 'labels' }>): StepToken {
    switch (value.kind) {
      case 'label':
        return typed('IfcLabel', text(value.text));
      case 'text':
        return typed('IfcText', text(value.text));
      case 'identifier':
        return typed('IfcIdentifier', text(value.text));
      case 'lengthMm':
        return typed('IfcLengthMeasure', this.length(value.value));
      case 'areaMm2':
        return typed('IfcAreaMeasure', this.area(value.value));
      case 'volumeMl':
        return typed('IfcVolumeMeasure', this.volume(value.value));
      case 'ratio':
        return typed('IfcRatioMeasure', real(tidy(value.value)));
      case 'count':
        return typed('IfcInteger', String(Math.round(value.value)));
    }
  }
}

/** Class and attributes of a quantity. @source IFC2X3 TC1, IFC4 ADD2 TC1, IfcPhysicalSimpleQuantity. */
export function quantityLine(
  { name, value }: TagField,
  values: TagValues,
): { readonly className: string; readonly values: Record<string, StepToken> } {
  const named = { Name: text(name) };
  switch (value.kind) {
    case 'lengthMm':
      return {
        className: 'IfcQuantityLength',
        values: { ...named, LengthValue: values.length(value.value) },
      };
    case 'areaMm2':
      return {
        className: 'IfcQuantityArea',
        values: { ...named, AreaValue: values.area(value.value) },
      };
    case 'volumeMl':
      return {
        className: 'IfcQuantityVolume',
        values: { ...named, VolumeValue: values.volume(value.value) },
      };
    case 'count':
      return {
        className: 'IfcQuantityCount',
        values: { ...named, CountValue: String(Math.round(value.value)) },
      };
    default:
      throw new RangeError(`A quantity can't be a ${value.kind}.`);
  }
}

/** Twelve digits: enough for any measure, and no tails of binary fractions. */
function tidy(value: number): number {
  return Number(value.toPrecision(12));
}

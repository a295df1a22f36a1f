import { SI_PREFIXES } from './si-prefixes.ts';
import type { StepFile, StepRecord } from './step-file.ts';
import { attributeIndex, type IfcSchema } from './step-schema.ts';
import type { StepValue } from './step-values.ts';

/** SI value = (written value + `offset`) × `factor`. */
export interface UnitScale {
  readonly factor: number;
  readonly offset: number;
}

const SI: UnitScale = { factor: 1, offset: 0 };

/**
 * Units of a file: what the project assigns, and what single units come to in SI (metre, kilogram,
 * second, kelvin, radian and what is made of them).
 */
export class StepUnits {
  readonly #file: StepFile;
  readonly #schema: IfcSchema;
  /** By unit type: `LENGTHUNIT`, `THERMALTRANSMITTANCEUNIT`. */
  readonly #assigned = new Map<string, UnitScale>();

  constructor(file: StepFile, schema: IfcSchema) {
    this.#file = file;
    this.#schema = schema;
    for (const unit of this.#assignedUnits()) {
      const type = this.#unitType(unit);
      if (type !== null && !this.#assigned.has(type)) this.#assigned.set(type, this.scaleOf(unit));
    }
  }

  /** Scale of a measure type (upper case) by the project's units; SI where it assigns none. */
  ofMeasure(measure: string): UnitScale {
    const unitType = unitTypeOf(measure);
    return unitType === null ? SI : (this.#assigned.get(unitType) ?? SI);
  }

  /** Scale of a unit type by the project's units, or null where it assigns none. */
  ofUnitType(unitType: string): UnitScale | null {
    return this.#assigned.get(unitType) ?? null;
  }

  /** What one of a unit's own comes to in SI. */
  scaleOf(unit: StepRecord, depth = 0): UnitScale {
    if (depth > 8) return SI;
    switch (unit.type) {
      case 'IFCSIUNIT':
        return siScale(unit);
      case 'IFCCONVERSIONBASEDUNIT':
      case 'IFCCONVERSIONBASEDUNITWITHOFFSET':
        return this.#convertedScale(unit, depth);
      case 'IFCDERIVEDUNIT':
        return this.#derivedScale(unit, depth);
      default:
        return SI;
    }
  }

  #assignedUnits(): StepRecord[] {
    for (const project of ['IFCPROJECT', 'IFCPROJECTLIBRARY']) {
      for (const record of this.#file.recordsOf(project)) {
        const at = attributeIndex(this.#schema, project, 'UnitsInContext');
        const assignment = this.#file.follow(record.values[at]);
        if (assignment !== null) return this.#file.followAll(assignment.values[0]);
      }
    }
    return [];
  }

  #unitType(unit: StepRecord): string | null {
    // IfcSIUnit derives its first attribute, the other units hold it: the place is the same.
    const value = unit.values[1];
    return value?.kind === 'enum' ? value.name : null;
  }

  /** @source IFC4 ADD2 TC1, IfcConversionBasedUnit and IfcConversionBasedUnitWithOffset. */
  #convertedScale(unit: StepRecord, depth: number): UnitScale {
    const measure = this.#file.follow(unit.values[3]);
    const amount = plainNumber(measure?.values[0]);
    const base = this.#file.follow(measure?.values[1]);
    if (amount === null) return SI;
    const within = base === null ? SI : this.scaleOf(base, depth + 1);
    return { factor: amount * within.factor, offset: plainNumber(unit.values[4]) ?? 0 };
  }

  #derivedScale(unit: StepRecord, depth: number): UnitScale {
    let factor = 1;
    for (const element of this.#file.followAll(unit.values[0])) {
      const base = this.#file.follow(element.values[0]);
      const exponent = plainNumber(element.values[1]) ?? 1;
      if (base !== null) factor *= this.scaleOf(base, depth + 1).factor ** exponent;
    }
    return { factor, offset: 0 };
  }
}

/** Unit type a measure is given in, or null for plain numbers, ratios and texts. */
function unitTypeOf(measure: string): string | null {
  const special = SPECIAL_UNIT_TYPES[measure];
  if (special !== undefined) return special;
  const stem = /^IFC(\w+)MEASURE$/.exec(measure)?.[1];
  return stem === undefined || PLAIN_MEASURES.has(stem) ? null : `${stem}UNIT`;
}

/** @source IDS 1.0, `units.md`, column "Unit enumeration": those not named after the measure. */
const SPECIAL_UNIT_TYPES: Readonly<Record<string, string>> = {
  IFCPOSITIVELENGTHMEASURE: 'LENGTHUNIT',
  IFCNONNEGATIVELENGTHMEASURE: 'LENGTHUNIT',
  IFCPOSITIVEPLANEANGLEMEASURE: 'PLANEANGLEUNIT',
  IFCTHERMALCONDUCTIVITYMEASURE: 'THERMALCONDUCTANCEUNIT',
};

const PLAIN_MEASURES: ReadonlySet<string> = new Set([
  'RATIO',
  'POSITIVERATIO',
  'NORMALISEDRATIO',
  'COUNT',
  'NUMERIC',
  'CONTEXTDEPENDENT',
  'DESCRIPTIVE',
  'MONETARY',
]);

/** A prefix of a square or cubic metre belongs to the metre: a milli square metre is a mm². */
function siScale(unit: StepRecord): UnitScale {
  const prefix = enumName(unit.values[2]);
  const name = enumName(unit.values[3]) ?? '';
  const power = name === 'SQUARE_METRE' ? 2 : name === 'CUBIC_METRE' ? 3 : 1;
  const scale = prefix === null ? 1 : (SI_PREFIXES[prefix] ?? 1) ** power;
  // IDS and SI count mass in kilograms, IfcSIUnit in grams.
  return {
    factor: name === 'GRAM' ? scale / 1000 : scale,
    offset: name === 'DEGREE_CELSIUS' ? 273.15 : 0,
  };
}

function enumName(value: StepValue | undefined): string | null {
  return value?.kind === 'enum' ? value.name : null;
}

function plainNumber(value: StepValue | undefined): number | null {
  if (value?.kind === 'number') return value.value;
  return value?.kind === 'typed' ? plainNumber(value.value) : null;
}

import { SI_PREFIXES } from '../../formats/ifc/si-prefixes.ts';
import type { ModelRecords } from './records.ts';
import { enumOf, numberOf, refOf, refsOf, textOf } from './values.ts';

export interface ModelUnits {
  /** Millimetres in one length unit of the file. */
  readonly mmPerUnit: number;
  readonly radPerUnit: number;
  /** For people: "millimetre", "inch"; null when the file names no length unit. */
  readonly lengthName: string | null;
}

/** Length and angle units of the project; metres and radians where it names none. */
export function readUnits(step: ModelRecords): ModelUnits {
  let mmPerUnit = 1000;
  let radPerUnit = 1;
  let lengthName: string | null = null;
  const [project] = step.idsOf('IFCPROJECT');
  const assignment = project === undefined ? null : refOf(step.attributes(project)[8]);
  const units = assignment === null ? [] : refsOf(step.attributes(assignment)[0]);
  for (const unit of units) {
    const attributes = step.attributes(unit);
    const kind = enumOf(attributes[1]);
    const factor = siFactor(step, unit, 0);
    if (factor === null || !(factor > 0)) continue;
    if (kind === 'LENGTHUNIT') {
      mmPerUnit = factor * 1000;
      lengthName = unitName(step, unit);
    } else if (kind === 'PLANEANGLEUNIT') radPerUnit = factor;
  }
  return { mmPerUnit, radPerUnit, lengthName };
}

/** Metres or radians in one of this unit; null when the record is no such unit. */
function siFactor(step: ModelRecords, id: number, depth: number): number | null {
  if (depth > 4) return null;
  const attributes = step.attributes(id);
  const type = step.typeOf(id);
  if (type === 'IFCSIUNIT') {
    const name = enumOf(attributes[3]);
    if (name !== 'METRE' && name !== 'RADIAN') return null;
    const prefix = enumOf(attributes[2]);
    return prefix === null ? 1 : (SI_PREFIXES[prefix] ?? null);
  }
  if (!type.startsWith('IFCCONVERSIONBASEDUNIT')) return null;
  const measure = refOf(attributes[3]);
  if (measure === null) return null;
  const [value, unit] = step.attributes(measure);
  const factor = numberOf(value);
  const base = refOf(unit);
  const inner = base === null ? null : siFactor(step, base, depth + 1);
  return factor === null || inner === null ? null : factor * inner;
}

function unitName(step: ModelRecords, id: number): string {
  const attributes = step.attributes(id);
  if (step.typeOf(id) !== 'IFCSIUNIT') return (textOf(attributes[2]) ?? 'unnamed').toLowerCase();
  const prefix = enumOf(attributes[2]);
  return `${prefix ?? ''}${enumOf(attributes[3]) ?? ''}`.toLowerCase();
}

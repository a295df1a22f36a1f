import type { ComparedValue } from '../../formats/ids/match-value.ts';
import type { StepRecord } from '../../formats/ifc/step-file.ts';
import type { UnitScale } from '../../formats/ifc/step-units.ts';
import type { StepValue } from '../../formats/ifc/step-values.ts';
import type { ModelFacts } from './model-facts.ts';

/**
 * A parameter as IDS compares it, in IDS units; null where it is empty (`$`, `*`, an empty text, an
 * unknown logical) or nothing that has a value (an element, a list).
 *
 * @param type Defined type in upper case, where the attribute or the value tells.
 * @param unit Scale of a unit given with the value; else the project's.
 */
export function comparedValue(
  facts: ModelFacts,
  value: StepValue | undefined,
  type: string | null,
  unit: UnitScale | null = null,
): ComparedValue | null {
  switch (value?.kind) {
    case 'typed':
      return comparedValue(facts, value.value, value.type, unit);
    case 'text':
      return value.text === '' ? null : { kind: 'text', text: value.text };
    case 'enum':
      return comparedEnum(value.name);
    case 'number': {
      const scale = unit ?? (type === null ? null : facts.units.ofMeasure(type));
      if (scale === null) return { kind: 'number', value: value.value };
      return { kind: 'number', value: (value.value + scale.offset) * scale.factor };
    }
    default:
      return null;
  }
}

function comparedEnum(name: string): ComparedValue | null {
  if (name === 'T' || name === 'F') return { kind: 'boolean', value: name === 'T' };
  return name === 'U' ? null : { kind: 'text', text: name };
}

/** Whether a parameter holds something: an element and a filled list do, though IDS can't compare them. */
export function isFilled(value: StepValue | undefined): boolean {
  switch (value?.kind) {
    case 'ref':
    case 'number':
    case 'binary':
      return true;
    case 'text':
      return value.text !== '';
    case 'enum':
      return value.name !== 'U';
    case 'list':
      return value.items.length > 0;
    case 'typed':
      return isFilled(value.value);
    default:
      return false;
  }
}

/** Scale of the unit that an attribute refers to, or null where it is empty. */
export function ownUnit(
  facts: ModelFacts,
  record: StepRecord,
  attribute: string,
): UnitScale | null {
  const unit = facts.file.follow(facts.value(record, attribute));
  return unit === null ? null : facts.units.scaleOf(unit);
}

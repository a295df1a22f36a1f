import type { IdsFacet, IdsValue } from '../../formats/ids/ids-file.ts';
import {
  type ComparedValue,
  hasBounds,
  idsNumber,
  isEqualNumber,
  matchesText,
  matchesValue,
  writtenValues,
} from '../../formats/ids/match-value.ts';
import type { StepRecord } from '../../formats/ifc/step-file.ts';
import { enumValues } from '../../formats/ifc/step-schema.ts';
import type { StepValue } from '../../formats/ifc/step-values.ts';
import { comparedValue, ownUnit } from './compared-value.ts';
import type { FacetOutcome } from './facet-outcome.ts';
import type { ModelFacts } from './model-facts.ts';

/** A value of a property with its defined type in upper case; null where the schema doesn't tell. */
interface TypedValue {
  readonly type: string | null;
  readonly value: ComparedValue;
}

/** A property or quantity, ready to be compared. */
type Property =
  | { readonly kind: 'values'; readonly values: readonly TypedValue[] }
  | {
      readonly kind: 'bounded';
      readonly lower: TypedValue | null;
      readonly upper: TypedValue | null;
    }
  /** Complex and reference properties, which IDS leaves out. */
  | { readonly kind: 'unsupported' };

type PropertySet = ReadonlyMap<string, Property>;
type PropertyFacet = Extract<IdsFacet, { kind: 'property' }>;

/**
 * Every property set of a matching name must hold the property, and every property of a matching
 * name must be as asked.
 *
 * @source IDS 1.0, `property-facet.md`.
 */
export function checkProperty(
  facts: ModelFacts,
  record: StepRecord,
  facet: PropertyFacet,
): FacetOutcome {
  const sets = [...setsByName(facts, record)].filter(([name]) =>
    matchesText(facet.propertySet, name),
  );
  if (sets.length === 0) return { state: 'absent', found: 'no such property set' };
  let isAbsent = false;
  for (const [setName, set] of sets) {
    const properties = [...set].filter(([name]) => matchesText(facet.baseName, name));
    if (properties.length === 0) isAbsent = true;
    for (const [name, property] of properties) {
      const problem = propertyProblem(facts, property, facet);
      if (problem !== null) return { state: 'not met', found: `${setName}.${name} ${problem}` };
    }
  }
  if (isAbsent) return { state: 'absent', found: 'no such property' };
  return { state: 'met', found: sets.map(([name]) => name).join(', ') };
}

function propertyProblem(
  facts: ModelFacts,
  property: Property,
  facet: PropertyFacet,
): string | null {
  switch (property.kind) {
    case 'unsupported':
      return 'is of a kind that can not be checked';
    case 'bounded':
      return boundedProblem(property, facet);
    case 'values': {
      const values = property.values.filter(({ type, value }) =>
        isOfType(facts, type, value, facet.dataType),
      );
      if (property.values.length === 0) return 'has no value';
      if (values.length === 0) return `is ${property.values[0]?.type}, not ${facet.dataType}`;
      return facet.value === null || meets(facet.value, values) ? null : 'has another value';
    }
  }
}

/** Bounds bind all values of a list, anything else any one of them. */
function meets(asked: IdsValue, values: readonly TypedValue[]): boolean {
  const isMet = ({ value }: TypedValue) => matchesValue(asked, value);
  return hasBounds(asked) ? values.every(isMet) : values.some(isMet);
}

/** @source IDS 1.0, `property-facet.md`, table of bounded values. */
function boundedProblem(
  { lower, upper }: Extract<Property, { kind: 'bounded' }>,
  { dataType, value: asked }: PropertyFacet,
): string | null {
  const type = lower?.type ?? upper?.type ?? null;
  if (lower === null && upper === null) return 'has neither bound';
  if (dataType !== null && type !== dataType) return `is ${type}, not ${dataType}`;
  if (asked === null) return null;
  if (hasBounds(asked)) {
    const isInside = (bound: TypedValue | null) =>
      bound !== null && matchesValue(asked, bound.value);
    return isInside(lower) && isInside(upper) ? null : 'reaches beyond the range';
  }
  const isBetween = writtenValues(asked).some((written) => {
    const number = idsNumber(written);
    return number !== null && reaches(lower, number, -1) && reaches(upper, number, 1);
  });
  return isBetween ? null : 'excludes the value';
}

/** Whether a bound lets a number through; `side` −1 for a lower bound, 1 for an upper one. */
function reaches(bound: TypedValue | null, number: number, side: -1 | 1): boolean {
  if (bound === null) return true;
  if (bound.value.kind !== 'number') return false;
  return (bound.value.value - number) * side >= 0 || isEqualNumber(bound.value.value, number);
}

function isOfType(
  facts: ModelFacts,
  type: string | null,
  value: ComparedValue,
  asked: string | null,
): boolean {
  if (asked === null || type === asked) return true;
  // Attributes of predefined sets hold enumerations, whose name the schema tables don't give.
  if (type !== null || value.kind !== 'text') return false;
  return enumValues(facts.schema, asked)?.includes(value.text) ?? false;
}

/** Properties by set and name; the element's own come before those of its type. */
function setsByName(facts: ModelFacts, record: StepRecord): Map<string, Map<string, Property>> {
  const sets = new Map<string, Map<string, Property>>();
  const type = facts.typeObject(record);
  const inherited = type === null ? [] : facts.propertySets(type);
  for (const set of [...inherited, ...facts.propertySets(record)]) {
    const name = facts.text(set, 'Name');
    if (name === null) continue;
    const merged = sets.get(name) ?? new Map<string, Property>();
    for (const [property, value] of readSet(facts, set)) merged.set(property, value);
    sets.set(name, merged);
  }
  return sets;
}

function readSet(facts: ModelFacts, set: StepRecord): PropertySet {
  const listed =
    facts.value(set, 'HasProperties') ??
    facts.value(set, 'Quantities') ??
    facts.value(set, 'Properties') ??
    facts.value(set, 'ExtendedProperties');
  const properties = new Map<string, Property>();
  if (listed === undefined) {
    readPredefinedSet(facts, set, properties);
    return properties;
  }
  for (const record of facts.file.followAll(listed)) {
    const name = facts.text(record, 'Name');
    if (name !== null) properties.set(name, readProperty(facts, record));
  }
  return properties;
}

/** Sets such as IfcDoorPanelProperties carry their properties as attributes of their own. */
function readPredefinedSet(
  facts: ModelFacts,
  set: StepRecord,
  properties: Map<string, Property>,
): void {
  const ofRoot = 4;
  for (const [at, attribute] of facts.attributes(set).entries()) {
    if (at < ofRoot) continue;
    const value = comparedValue(facts, set.values[at], attribute.type);
    if (value === null) continue;
    properties.set(attribute.name, { kind: 'values', values: [{ type: attribute.type, value }] });
  }
}

function readProperty(facts: ModelFacts, record: StepRecord): Property {
  const values = (attribute: string, unitAttribute: string) =>
    typedValues(facts, record, attribute, unitAttribute);
  switch (record.type) {
    case 'IFCPROPERTYSINGLEVALUE':
      return { kind: 'values', values: values('NominalValue', 'Unit') };
    case 'IFCPROPERTYLISTVALUE':
      return { kind: 'values', values: values('ListValues', 'Unit') };
    case 'IFCPROPERTYENUMERATEDVALUE':
      return { kind: 'values', values: values('EnumerationValues', '') };
    case 'IFCPROPERTYTABLEVALUE':
      return {
        kind: 'values',
        values: [
          ...values('DefiningValues', 'DefiningUnit'),
          ...values('DefinedValues', 'DefinedUnit'),
        ],
      };
    case 'IFCPROPERTYBOUNDEDVALUE':
      return {
        kind: 'bounded',
        lower: values('LowerBoundValue', 'Unit')[0] ?? null,
        upper: values('UpperBoundValue', 'Unit')[0] ?? null,
      };
    default:
      return readQuantity(facts, record);
  }
}

function readQuantity(facts: ModelFacts, record: StepRecord): Property {
  if (!facts.isKind(record, 'IFCPHYSICALSIMPLEQUANTITY')) return { kind: 'unsupported' };
  const at = 3;
  const type = facts.attributes(record)[at]?.type ?? null;
  const value = comparedValue(facts, record.values[at], type, ownUnit(facts, record, 'Unit'));
  return { kind: 'values', values: value === null ? [] : [{ type, value }] };
}

function typedValues(
  facts: ModelFacts,
  record: StepRecord,
  attribute: string,
  unitAttribute: string,
): TypedValue[] {
  const written = facts.value(record, attribute);
  const unit = unitAttribute === '' ? null : ownUnit(facts, record, unitAttribute);
  const items: readonly (StepValue | undefined)[] =
    written?.kind === 'list' ? written.items : [written];
  return items.flatMap((item) => {
    const value = comparedValue(facts, item, null, unit);
    return value === null ? [] : [{ type: item?.kind === 'typed' ? item.type : null, value }];
  });
}

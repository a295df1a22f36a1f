import type { StepValue } from '../../formats/ifc/step-values.ts';
import type { ModelRecords } from './records.ts';
import type { Relations } from './relations.ts';
import type { ModelUnits } from './units.ts';
import { enumOf, listOf, numberOf, refOf, refsOf, textOf } from './values.ts';

/** A property with the set it stands in; lengths are in file units as written. */
export interface ElementProperty {
  readonly set: string;
  readonly name: string;
  readonly value: StepValue;
  readonly onType: boolean;
}

/** What the records say of an element beside its geometry. */
export interface ElementFacts {
  readonly globalId: string;
  readonly name: string;
  readonly objectType: string | null;
  readonly tag: string | null;
  readonly description: string | null;
  readonly typeName: string | null;
  readonly typeClass: string;
  /** Predefined type of the element, or else of its type; capitals, null for none or NOTDEFINED. */
  readonly predefined: string | null;
  /** Own properties before those of the type. */
  readonly properties: readonly ElementProperty[];
}

const MOST_PROPERTIES = 2000;

/** Name, marks, type and properties of an element. */
export function elementFacts(step: ModelRecords, relations: Relations, id: number): ElementFacts {
  const attributes = step.attributes(id);
  const typeId = relations.typeOf.get(id) ?? null;
  const typeAttributes = typeId === null ? [] : step.attributes(typeId);
  const own = usefulEnum(attributes, 8) ?? usefulEnum(attributes, 7);
  const typed = typeId === null ? null : usefulEnum(typeAttributes, 9);
  return {
    globalId: textOf(attributes[0]) ?? '',
    name: textOf(attributes[2]) ?? '',
    description: textOf(attributes[3]),
    objectType: textOf(attributes[4]),
    tag: textOf(attributes[7]),
    typeName: textOf(typeAttributes[2]),
    typeClass: typeId === null ? '' : step.typeOf(typeId),
    predefined: own ?? typed,
    properties: readProperties(step, relations, id, typeId),
  };
}

function usefulEnum(attributes: readonly StepValue[], at: number): string | null {
  const value = enumOf(attributes[at]);
  if (value === null || value === 'NOTDEFINED' || value === 'T' || value === 'F') return null;
  return value;
}

function readProperties(
  step: ModelRecords,
  relations: Relations,
  id: number,
  typeId: number | null,
): readonly ElementProperty[] {
  const properties: ElementProperty[] = [];
  for (const set of relations.setsOf.get(id) ?? []) addSet(step, set, false, properties);
  if (typeId !== null) {
    for (const set of refsOf(step.attributes(typeId)[5])) addSet(step, set, true, properties);
  }
  return properties;
}

function addSet(step: ModelRecords, set: number, onType: boolean, into: ElementProperty[]): void {
  const type = step.typeOf(set);
  if (type !== 'IFCPROPERTYSET' && type !== 'IFCELEMENTQUANTITY') return;
  const attributes = step.attributes(set);
  const setName = textOf(attributes[2]) ?? '';
  const members = refsOf(attributes[type === 'IFCPROPERTYSET' ? 4 : 5]);
  for (const member of members) {
    if (into.length >= MOST_PROPERTIES) return;
    const [name, , third, fourth] = step.attributes(member);
    const value = propertyValue(step.typeOf(member), third, fourth);
    const text = textOf(name);
    if (text !== null && value !== null) into.push({ set: setName, name: text, value, onType });
  }
}

function propertyValue(
  type: string,
  third: StepValue | undefined,
  fourth: StepValue | undefined,
): StepValue | null {
  if (type === 'IFCPROPERTYSINGLEVALUE') return third ?? null;
  if (type === 'IFCPROPERTYENUMERATEDVALUE' || type === 'IFCPROPERTYLISTVALUE') {
    return listOf(third)[0] ?? null;
  }
  if (type === 'IFCPROPERTYBOUNDEDVALUE') return third ?? fourth ?? null;
  if (type.startsWith('IFCQUANTITY')) return fourth ?? null;
  return null;
}

/** First property of one of these names (in order of the names), text or number as text. */
export function propertyText(facts: ElementFacts, names: readonly string[]): string | null {
  for (const name of names) {
    for (const property of facts.properties) {
      if (property.name.toLowerCase() !== name.toLowerCase()) continue;
      const text = textOf(property.value) ?? enumOf(property.value);
      if (text !== null && text.trim() !== '') return text;
    }
  }
  return null;
}

/** First length of one of these names, mm; null unless positive. */
export function propertyLengthMm(
  facts: ElementFacts,
  names: readonly string[],
  units: ModelUnits,
): { readonly valueMm: number; readonly name: string } | null {
  for (const name of names) {
    for (const property of facts.properties) {
      if (property.name.toLowerCase() !== name.toLowerCase()) continue;
      const value = numberOf(property.value);
      if (value !== null && value > 0) {
        return { valueMm: value * units.mmPerUnit, name: property.name };
      }
    }
  }
  return null;
}

/** First true or false of one of these names. */
export function propertyFlag(facts: ElementFacts, names: readonly string[]): boolean | null {
  for (const name of names) {
    for (const property of facts.properties) {
      if (property.name.toLowerCase() !== name.toLowerCase()) continue;
      const value = enumOf(property.value);
      if (value === 'T' || value === 'TRUE') return true;
      if (value === 'F' || value === 'FALSE') return false;
    }
  }
  return null;
}

/** Names of the materials and, for layers, their thickness together; file units to mm. */
export function materialOf(
  step: ModelRecords,
  relations: Relations,
  id: number,
  units: ModelUnits,
): { readonly name: string | null; readonly layersMm: number | null } {
  const typeId = relations.typeOf.get(id);
  const material =
    relations.materialOf.get(id) ??
    (typeId === undefined ? undefined : relations.materialOf.get(typeId));
  if (material === undefined) return { name: null, layersMm: null };
  return readMaterial(step, material, units, 0);
}

function readMaterial(
  step: ModelRecords,
  id: number,
  units: ModelUnits,
  depth: number,
): { readonly name: string | null; readonly layersMm: number | null } {
  const attributes = step.attributes(id);
  const none = { name: null, layersMm: null };
  if (depth > 4) return none;
  switch (step.typeOf(id)) {
    case 'IFCMATERIAL':
      return { name: textOf(attributes[0]), layersMm: null };
    case 'IFCMATERIALLAYERSETUSAGE':
    case 'IFCMATERIALPROFILESETUSAGE': {
      const set = refOf(attributes[0]);
      return set === null ? none : readMaterial(step, set, units, depth + 1);
    }
    case 'IFCMATERIALLAYERSET':
      return layerSet(step, refsOf(attributes[0]), units, depth);
    case 'IFCMATERIALPROFILESET':
      return joined(step, refsOf(attributes[2]), 2, units, depth);
    case 'IFCMATERIALCONSTITUENTSET':
      return joined(step, refsOf(attributes[2]), 2, units, depth);
    case 'IFCMATERIALLIST':
      return {
        name: namesOf(
          refsOf(attributes[0]).map((m) => readMaterial(step, m, units, depth + 1).name),
        ),
        layersMm: null,
      };
    default:
      return none;
  }
}

function layerSet(
  step: ModelRecords,
  layers: readonly number[],
  units: ModelUnits,
  depth: number,
): { readonly name: string | null; readonly layersMm: number | null } {
  let total = 0;
  const names: (string | null)[] = [];
  for (const layer of layers) {
    const [material, thickness] = step.attributes(layer);
    total += (numberOf(thickness) ?? 0) * units.mmPerUnit;
    const ref = refOf(material);
    names.push(ref === null ? null : readMaterial(step, ref, units, depth + 1).name);
  }
  return { name: namesOf(names), layersMm: total > 0 ? total : null };
}

function joined(
  step: ModelRecords,
  parts: readonly number[],
  materialAt: number,
  units: ModelUnits,
  depth: number,
): { readonly name: string | null; readonly layersMm: number | null } {
  const names = parts.map((part) => {
    const ref = refOf(step.attributes(part)[materialAt]);
    return ref === null ? null : readMaterial(step, ref, units, depth + 1).name;
  });
  return { name: namesOf(names), layersMm: null };
}

function namesOf(names: readonly (string | null)[]): string | null {
  const known = [...new Set(names.filter((name): name is string => name !== null && name !== ''))];
  return known.length === 0 ? null : known.join(' / ');
}

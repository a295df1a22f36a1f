import { SealbookError } from '../../basics/errors.ts';
import { type ReadLimits, USUAL_LIMITS } from '../../basics/limits.ts';
import { childOf, childrenOf, childText, readXml, type XmlElement } from '../shared/read-xml.ts';
import type {
  Cardinality,
  EntityFacet,
  IdsFacet,
  IdsFile,
  IdsRequirement,
  IdsRestriction,
  IdsSpecification,
  IdsValue,
} from './ids-file.ts';

const NAMESPACE_ROOT = 'ids';

/**
 * The content of an IDS 1.0 file. What a specification leaves out is listed in its problems.
 *
 * @throws SealbookError `input-unreadable` if it is no XML or no IDS.
 */
export function parseIds(bytes: Uint8Array, limits: ReadLimits = USUAL_LIMITS): IdsFile {
  const root = readXml(bytes, limits);
  if (root.name !== NAMESPACE_ROOT) {
    throw new SealbookError('input-unreadable', `The file is no IDS: its root is "${root.name}".`, {
      where: { line: root.line },
      todo: 'Give an .ids file of version 1.0.',
    });
  }
  const info = childOf(root, 'info');
  return {
    title: childText(info, 'title') ?? '',
    version: childText(info, 'version'),
    purpose: childText(info, 'purpose'),
    specifications: childrenOf(childOf(root, 'specifications'), 'specification').map(
      readSpecification,
    ),
  };
}

function readSpecification(element: XmlElement): IdsSpecification {
  const problems: string[] = [];
  const applicability = childOf(element, 'applicability');
  if (applicability === null) problems.push(`line ${element.line}: no applicability`);
  const attribute = (name: string) => element.attributes.get(name) ?? null;
  return {
    name: attribute('name') ?? '',
    identifier: attribute('identifier'),
    description: attribute('description'),
    instructions: attribute('instructions'),
    ifcVersions: (attribute('ifcVersion') ?? '').split(/\s+/).filter((part) => part !== ''),
    cardinality: specificationCardinality(applicability, problems),
    applicability: (applicability?.children ?? []).flatMap(
      (child) => readFacet(child, problems) ?? [],
    ),
    requirements: (childOf(element, 'requirements')?.children ?? []).flatMap(
      (child) => readRequirement(child, problems) ?? [],
    ),
    problems,
  };
}

/** @source IDS 1.0, developer guide, "Optionality": both limits default to 1 in the schema. */
function specificationCardinality(
  applicability: XmlElement | null,
  problems: string[],
): Cardinality {
  const least = applicability?.attributes.get('minOccurs') ?? '1';
  const most = applicability?.attributes.get('maxOccurs') ?? '1';
  if (most === '0') {
    if (least !== '0') problems.push(`minOccurs ${least} with maxOccurs 0`);
    return 'prohibited';
  }
  return least === '0' ? 'optional' : 'required';
}

function readRequirement(element: XmlElement, problems: string[]): IdsRequirement | null {
  const facet = readFacet(element, problems);
  if (facet === null) return null;
  const written = element.attributes.get('cardinality') ?? 'required';
  const cardinality = CARDINALITIES.find((each) => each === written);
  if (cardinality === undefined) {
    problems.push(`line ${element.line}: unknown cardinality "${written}"`);
  }
  return {
    facet,
    cardinality: cardinality ?? 'required',
    instructions: element.attributes.get('instructions') ?? null,
  };
}

const CARDINALITIES: readonly Cardinality[] = ['required', 'optional', 'prohibited'];

function readFacet(element: XmlElement, problems: string[]): IdsFacet | null {
  const value = (name: string) => readValue(childOf(element, name), problems);
  const needed = (name: string): IdsValue => {
    const found = value(name);
    if (found === null) problems.push(`line ${element.line}: ${element.name} without ${name}`);
    return found ?? { kind: 'simple', text: '' };
  };
  switch (element.name) {
    case 'entity':
      return readEntity(element, problems);
    case 'attribute':
      return { kind: 'attribute', name: needed('name'), value: value('value') };
    case 'property':
      return {
        kind: 'property',
        propertySet: needed('propertySet'),
        baseName: needed('baseName'),
        dataType: element.attributes.get('dataType') ?? null,
        value: value('value'),
      };
    case 'classification':
      return { kind: 'classification', system: value('system'), value: value('value') };
    case 'material':
      return { kind: 'material', value: value('value') };
    case 'partOf':
      return {
        kind: 'partOf',
        entity: readEntity(childOf(element, 'entity') ?? element, problems),
        relation: element.attributes.get('relation') ?? null,
      };
    default:
      problems.push(`line ${element.line}: unknown facet "${element.name}"`);
      return null;
  }
}

function readEntity(element: XmlElement, problems: string[]): EntityFacet {
  const name = readValue(childOf(element, 'name'), problems);
  if (name === null) problems.push(`line ${element.line}: ${element.name} without name`);
  return {
    kind: 'entity',
    name: name ?? { kind: 'simple', text: '' },
    predefinedType: readValue(childOf(element, 'predefinedType'), problems),
  };
}

function readValue(element: XmlElement | null, problems: string[]): IdsValue | null {
  if (element === null) return null;
  const simple = childOf(element, 'simpleValue');
  // Spaces belong to a value: "simpleValue" is an xs:string, whose white space is kept.
  if (simple !== null) return { kind: 'simple', text: simple.text };
  const restriction = childOf(element, 'restriction');
  if (restriction !== null) return readRestriction(restriction, problems);
  problems.push(`line ${element.line}: ${element.name} holds no value`);
  return null;
}

function readRestriction(element: XmlElement, problems: string[]): IdsRestriction {
  const all = (name: string) =>
    childrenOf(element, name).map((child) => child.attributes.get('value') ?? '');
  const one = (name: string) => all(name)[0] ?? null;
  const count = (name: string) => {
    const text = one(name);
    if (text === null) return null;
    if (!/^\d{1,9}$/.test(text)) problems.push(`line ${element.line}: ${name} is "${text}"`);
    return Number(text);
  };
  const base = element.attributes.get('base') ?? '';
  return {
    kind: 'restriction',
    base: base.slice(base.indexOf(':') + 1),
    enumeration: all('enumeration'),
    patterns: all('pattern'),
    minInclusive: one('minInclusive'),
    maxInclusive: one('maxInclusive'),
    minExclusive: one('minExclusive'),
    maxExclusive: one('maxExclusive'),
    length: count('length'),
    minLength: count('minLength'),
    maxLength: count('maxLength'),
  };
}

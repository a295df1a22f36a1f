import type {
  EntityFacet,
  IdsFacet,
  IdsRequirement,
  IdsSpecification,
  IdsValue,
} from '../../formats/ids/ids-file.ts';
import {
  hasBounds,
  matchesText,
  patternMatcher,
  WRITTEN_AS,
  writtenValues,
} from '../../formats/ids/match-value.ts';
import {
  hasDefinedType,
  type IfcAttribute,
  type IfcSchema,
  ifcClass,
  ifcClassNames,
  ifcSchemaOf,
} from '../../formats/ifc/step-schema.ts';
import { TYPED_2X3_CLASSES } from './element-kind.ts';

/**
 * What is wrong with a specification itself, whatever the model: names that no schema has, values
 * that no model could hold, configurations the standard excludes. Empty when nothing is.
 *
 * @source IDS 1.0, user manual (one page a facet), `facet-configurations.md`, `DataTypes.md`.
 */
export function auditSpecification(specification: IdsSpecification): string[] {
  const schemas = specification.ifcVersions.flatMap((name) => ifcSchemaOf(name) ?? []);
  if (schemas.length === 0) {
    return [...specification.problems, `names no schema we know: "${specification.ifcVersions}"`];
  }
  const { applicability, requirements } = specification;
  const subject = applicability.find((facet) => facet.kind === 'entity') ?? null;
  const problems = [...specification.problems];
  if (specification.cardinality === 'prohibited' && requirements.length > 0) {
    problems.push('prohibits what it applies to, and still states requirements');
  }
  if (applicability.length === 0) problems.push('applies to nothing in particular');
  for (const facet of applicability) problems.push(...auditFacet(facet, subject, schemas));
  for (const requirement of requirements) {
    problems.push(...auditFacet(requirement.facet, subject, schemas));
    problems.push(...auditConfiguration(requirement));
    problems.push(...auditSubject(requirement, subject, schemas));
  }
  return problems;
}

function auditFacet(
  facet: IdsFacet,
  subject: EntityFacet | null,
  schemas: readonly IfcSchema[],
): string[] {
  switch (facet.kind) {
    case 'entity':
      return auditEntity(facet, schemas);
    case 'attribute':
      return [...auditPatterns(facet.name), ...auditAttribute(facet, subject, schemas)];
    case 'property':
      return auditProperty(facet, schemas);
    case 'classification':
      return [facet.system, facet.value].flatMap((value) => auditPatterns(value));
    case 'material':
      return auditPatterns(facet.value);
    case 'partOf':
      return auditEntity(facet.entity, schemas);
  }
}

function auditEntity(facet: EntityFacet, schemas: readonly IfcSchema[]): string[] {
  const problems = [...auditPatterns(facet.name), ...auditPatterns(facet.predefinedType)];
  for (const name of writtenValues(facet.name)) {
    if (!schemas.some((schema) => isNameInIds(schema, name))) {
      problems.push(`"${name}" is no class of ${schemas.join(', ')} in capitals`);
    }
  }
  if (problems.length > 0) return problems;
  if (classesOf(facet, schemas).length === 0)
    problems.push('no class matches the entity asked for');
  if (facet.predefinedType === null) return problems;
  for (const schema of schemas) {
    const classes = classesOf(facet, [schema]);
    if (classes.length > 0 && !classes.some((name) => takesPredefinedType(schema, name))) {
      problems.push(`${classes.join(', ')} has no predefined type in ${schema}`);
    }
  }
  return problems;
}

/** In capitals, and a class of the schema or one that IFC2X3 tells apart by type only. */
function isNameInIds(schema: IfcSchema, name: string): boolean {
  if (name !== name.toUpperCase()) return false;
  return ifcClass(schema, name) !== null || is2x3Alias(schema, name);
}

function is2x3Alias(schema: IfcSchema, name: string): boolean {
  return occurrenceOf2x3Alias(schema, name) !== null;
}

/** The class that IFC2X3 uses for what IDS names by its type, in upper case; null for others. */
function occurrenceOf2x3Alias(schema: IfcSchema, name: string): string | null {
  if (schema !== 'IFC2X3') return null;
  const above = ifcClass(schema, `${name}TYPE`)?.ancestors ?? [];
  const occurrences = above.map((ancestor) => ancestor.replace(/TYPE$/, ''));
  return occurrences.find((occurrence) => TYPED_2X3_CLASSES.has(occurrence)) ?? null;
}

function takesPredefinedType(schema: IfcSchema, name: string): boolean {
  const has = (className: string) =>
    ifcClass(schema, className)?.attributes.some((each) => each.name === 'PredefinedType') ?? false;
  return has(name) || has(`${name}TYPE`);
}

/** Names in capitals that a facet's name matches, in any of the schemas. */
function classesOf(facet: EntityFacet, schemas: readonly IfcSchema[]): string[] {
  const names = new Set(schemas.flatMap((schema) => ifcClassNames(schema)));
  for (const name of writtenValues(facet.name)) names.add(name);
  return [...names].filter((name) => matchesText(facet.name, name));
}

function auditAttribute(
  facet: Extract<IdsFacet, { kind: 'attribute' }>,
  subject: EntityFacet | null,
  schemas: readonly IfcSchema[],
): string[] {
  const found = schemas.flatMap((schema) =>
    subjectClasses(subject, schema).flatMap((name) =>
      attributesOf(schema, name).filter((each) => matchesText(facet.name, each.name)),
    ),
  );
  if (found.length === 0) return ['no class it applies to has such an attribute'];
  const { value } = facet;
  if (value === null) return [];
  const problems = found.map((attribute) => attributeValueProblem(attribute, value));
  // With a restricted name some attributes may be of another kind; one that fits is enough.
  return problems.some((each) => each === null) && facet.name.kind === 'restriction'
    ? []
    : [...new Set(problems)].flatMap((each) => each ?? []);
}

function attributesOf(schema: IfcSchema, name: string): readonly IfcAttribute[] {
  const known =
    ifcClass(schema, name) ?? ifcClass(schema, occurrenceOf2x3Alias(schema, name) ?? '');
  return known?.attributes ?? [];
}

function subjectClasses(subject: EntityFacet | null, schema: IfcSchema): string[] {
  return subject === null ? ifcClassNames(schema) : classesOf(subject, [schema]);
}

function attributeValueProblem(attribute: IfcAttribute, value: IdsValue): string | null {
  switch (attribute.holds) {
    case 'list':
    case 'entity':
      return `${attribute.name} holds no single value that could be compared`;
    case 'open':
      return null;
    case 'value':
      return valueProblem(value, baseOf(attribute.type ?? ''), attribute.name);
  }
}

function auditProperty(
  facet: Extract<IdsFacet, { kind: 'property' }>,
  schemas: readonly IfcSchema[],
): string[] {
  const problems = [facet.propertySet, facet.baseName].flatMap((value) => auditPatterns(value));
  const { dataType, value } = facet;
  if (dataType === null) {
    if (value !== null) problems.push('asks for a value of a property without its data type');
    return problems;
  }
  if (!schemas.some((schema) => hasDefinedType(schema, dataType))) {
    problems.push(`"${dataType}" is no data type of ${schemas.join(', ')}`);
  } else if (value !== null) {
    const problem = valueProblem(value, baseOf(dataType), dataType);
    if (problem !== null) problems.push(problem);
  }
  return problems;
}

/** Configurations that could never fail. @source IDS 1.0, `facet-configurations.md`. */
function auditConfiguration({ facet, cardinality }: IdsRequirement): string[] {
  if (cardinality !== 'optional') return [];
  const isEmpty =
    (facet.kind === 'attribute' && facet.value === null) ||
    (facet.kind === 'material' && facet.value === null) ||
    (facet.kind === 'property' && facet.value === null && facet.dataType === null);
  return isEmpty ? [`an optional ${facet.kind} that asks for nothing`] : [];
}

/** A required entity must be one that the specification applies to. */
function auditSubject(
  { facet, cardinality }: IdsRequirement,
  subject: EntityFacet | null,
  schemas: readonly IfcSchema[],
): string[] {
  if (facet.kind !== 'entity' || cardinality !== 'required' || subject === null) return [];
  const asked = new Set(classesOf(facet, schemas));
  return classesOf(subject, schemas).some((name) => asked.has(name))
    ? []
    : ['requires a class that it does not apply to'];
}

function valueProblem(value: IdsValue, base: string, what: string): string | null {
  const [pattern] = auditPatterns(value);
  if (pattern !== undefined) return pattern;
  const form = WRITTEN_AS[base];
  if (value.kind === 'restriction') {
    const isNumber = base === 'double' || base === 'integer';
    if (isNumber && value.base === 'string') {
      return `restricts ${what} as a text, but it holds a number`;
    }
    if (base === 'string' && (hasBounds(value) || ['double', 'integer'].includes(value.base))) {
      return `restricts ${what} as a number, but it holds a text`;
    }
  }
  const wrong = writtenValues(value).find(
    (written) =>
      form !== undefined && (!form.test(written) || (base !== 'string' && written === '')),
  );
  return wrong === undefined ? null : `"${wrong}" is no value of ${what}`;
}

function auditPatterns(value: IdsValue | null): string[] {
  if (value?.kind !== 'restriction') return [];
  return value.patterns
    .filter((pattern) => patternMatcher(pattern) === null)
    .map((pattern) => `"${pattern}" is no pattern of XML Schema that can be run`);
}

/** XML base type of a data type. @source IDS 1.0, `DataTypes.md`, column "Restriction base type". */
function baseOf(dataType: string): string {
  const special = SPECIAL_BASES[dataType];
  if (special !== undefined) return special;
  return dataType.endsWith('MEASURE') && dataType !== 'IFCDESCRIPTIVEMEASURE' ? 'double' : 'string';
}

const SPECIAL_BASES: Readonly<Record<string, string>> = {
  IFCBOOLEAN: 'boolean',
  IFCSTRIPPEDOPTIONAL: 'boolean',
  IFCDATE: 'date',
  IFCDATETIME: 'dateTime',
  IFCDURATION: 'duration',
  IFCTIME: 'time',
  IFCURIREFERENCE: 'anyUri',
  IFCREAL: 'double',
  IFCPARAMETERVALUE: 'double',
  IFCSECONDINMINUTE: 'double',
  IFCSPECULAREXPONENT: 'double',
  IFCSPECULARROUGHNESS: 'double',
  IFCCARDINALPOINTREFERENCE: 'integer',
  IFCCOUNTMEASURE: 'integer',
  IFCDAYINMONTHNUMBER: 'integer',
  IFCDAYINWEEKNUMBER: 'integer',
  IFCDAYLIGHTSAVINGHOUR: 'integer',
  IFCDIMENSIONCOUNT: 'integer',
  IFCHOURINDAY: 'integer',
  IFCINTEGER: 'integer',
  IFCINTEGERCOUNTRATEMEASURE: 'integer',
  IFCMINUTEINHOUR: 'integer',
  IFCMONTHINYEARNUMBER: 'integer',
  IFCPOSITIVEINTEGER: 'integer',
  IFCTIMESTAMP: 'integer',
  IFCYEARNUMBER: 'integer',
};

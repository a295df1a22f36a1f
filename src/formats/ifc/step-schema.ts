/**
 * What the three schemas say of their classes: which there are, what they inherit from, their
 * attributes in order and what those hold. All of it is read from the tables that web-ifc carries
 * (generated from buildingSMART's EXPRESS files), none written down here.
 */
import { FromRawLineData, IFC2X3, IFC4, IFC4X3 } from 'web-ifc';

export type IfcSchema = 'IFC2X3' | 'IFC4' | 'IFC4X3';

/** What an attribute holds. `open`: an enumeration, or a choice of entities or values. */
export type AttributeHolds = 'value' | 'entity' | 'list' | 'open';

export interface IfcAttribute {
  readonly name: string;
  readonly holds: AttributeHolds;
  /** Defined type of a value in upper case, e.g. `IFCLABEL`; null for the others. */
  readonly type: string | null;
}

export interface IfcClass {
  /** As the schema spells it. */
  readonly name: string;
  /** Classes it inherits from, nearest first, in upper case. */
  readonly ancestors: readonly string[];
  /** Without those that the class derives, which a file writes as `*`: see `storedValues`. */
  readonly attributes: readonly IfcAttribute[];
}

/** Schema of a FILE_SCHEMA name, or null for one we don't know. */
export function ifcSchemaOf(name: string | null): IfcSchema | null {
  if (name === null) return null;
  if (name === 'IFC2X3' || name === 'IFC2X_FINAL' || name.startsWith('IFC2X3_')) return 'IFC2X3';
  if (name === 'IFC4' || name.startsWith('IFC4_')) return 'IFC4';
  if (/^IFC4X[1-3]/.test(name)) return 'IFC4X3';
  return null;
}

/** A class by its name in any case, or null where the schema has none of that name. */
export function ifcClass(schema: IfcSchema, name: string): IfcClass | null {
  const tables = tablesOf(schema);
  const upper = name.toUpperCase();
  const known = tables.read.get(upper);
  if (known !== undefined) return known;
  const maker = tables.entities.get(upper);
  if (maker === undefined) return null;
  const read = readClass(tables, maker);
  tables.read.set(upper, read);
  return read;
}

/** Names of all entity classes in upper case, abstract ones too. */
export function ifcClassNames(schema: IfcSchema): string[] {
  return [...tablesOf(schema).entities.keys()];
}

/** Whether a class is the given one or inherits from it; names in upper case. */
export function isKindOf(schema: IfcSchema, name: string, ancestor: string): boolean {
  if (name === ancestor) return true;
  return ifcClass(schema, name)?.ancestors.includes(ancestor) ?? false;
}

/** Values of an enumeration by its name in upper case, or null where there is none. */
export function enumValues(schema: IfcSchema, name: string): readonly string[] | null {
  return tablesOf(schema).enums.get(name) ?? null;
}

/** Whether the schema defines a value type of that name (upper case). */
export function hasDefinedType(schema: IfcSchema, name: string): boolean {
  return tablesOf(schema).definedTypes.has(name);
}

/** Offset of an attribute among what a class stores, or -1. */
export function attributeIndex(schema: IfcSchema, className: string, attribute: string): number {
  return ifcClass(schema, className)?.attributes.findIndex(({ name }) => name === attribute) ?? -1;
}

type Maker = new (...values: unknown[]) => object;

interface Tables {
  readonly number: 1 | 2 | 3;
  /** By name in upper case. */
  readonly entities: ReadonlyMap<string, Maker>;
  readonly nameOf: ReadonlyMap<object, string>;
  readonly definedTypes: ReadonlySet<string>;
  readonly enums: ReadonlyMap<string, readonly string[]>;
  readonly read: Map<string, IfcClass>;
}

const NAMESPACES = { IFC2X3: [1, IFC2X3], IFC4: [2, IFC4], IFC4X3: [3, IFC4X3] } as const;

const read = new Map<IfcSchema, Tables>();

function tablesOf(schema: IfcSchema): Tables {
  const known = read.get(schema);
  if (known !== undefined) return known;
  const [number, namespace] = NAMESPACES[schema];
  const tables = readTables(number, namespace);
  read.set(schema, tables);
  return tables;
}

/** Sorts the members of a web-ifc schema namespace: entities inherit, value types carry a name. */
function readTables(number: 1 | 2 | 3, namespace: object): Tables {
  const entities = new Map<string, Maker>();
  const nameOf = new Map<object, string>();
  const definedTypes = new Set<string>();
  const enums = new Map<string, readonly string[]>();
  for (const [name, member] of Object.entries(namespace)) {
    if (typeof member !== 'function') continue;
    const upper = name.toUpperCase();
    const values = Object.keys(member);
    if (upper.endsWith('ENUM') || values.length > 0) {
      enums.set(upper, values);
      definedTypes.add(upper);
      continue;
    }
    const maker = member as Maker;
    const sample = new maker();
    if ('expressID' in sample) {
      entities.set(upper, maker);
      nameOf.set(maker, name);
    } else definedTypes.add(upper);
  }
  return { number, entities, nameOf, definedTypes, enums, read: new Map() };
}

function readClass(tables: Tables, maker: Maker): IfcClass {
  const ancestors: string[] = [];
  for (
    let above = Object.getPrototypeOf(maker);
    above !== null;
    above = Object.getPrototypeOf(above)
  ) {
    const name = tables.nameOf.get(above);
    if (name !== undefined) ancestors.push(name.toUpperCase());
  }
  return {
    name: tables.nameOf.get(maker) ?? '',
    ancestors,
    attributes: readAttributes(tables, maker),
  };
}

/**
 * The constructor takes the attributes in order: given numbered marks, the object's members tell
 * which name stands at which place. The reader of raw lines wraps each mark in what it holds.
 */
function readAttributes(tables: Tables, maker: Maker): IfcAttribute[] {
  const places = Array.from({ length: 64 }, (_, place) => ({ place }));
  const sample = new maker(...places) as Record<string, unknown>;
  const names: string[] = [];
  for (const [name, value] of Object.entries(sample)) {
    const place = isPlace(value) ? value.place : -1;
    if (place >= 0) names[place] = name;
  }
  const wrapped = wrapMarks(tables, maker, names.length);
  return names.map((name) => ({ name, ...held(wrapped?.[name]) }));
}

function isPlace(value: unknown): value is { readonly place: number } {
  return typeof value === 'object' && value !== null && 'place' in value;
}

/** Stands for a raw value; a list when asked for its items. */
const MARK = { value: '1', type: 0, map: (each: (item: unknown) => unknown) => [each(MARK)] };

function wrapMarks(tables: Tables, maker: Maker, count: number): Record<string, unknown> | null {
  const code = (new maker() as { type?: number }).type;
  const reader: unknown = FromRawLineData[tables.number]?.[code ?? -1];
  if (typeof reader !== 'function') return null;
  return reader(Array.from({ length: count }, () => MARK));
}

function held(value: unknown): { holds: AttributeHolds; type: string | null } {
  if (Array.isArray(value)) return { holds: 'list', type: null };
  if (value === MARK || typeof value !== 'object' || value === null) {
    return { holds: 'open', type: null };
  }
  if ('name' in value && typeof value.name === 'string') {
    return { holds: 'value', type: value.name };
  }
  return { holds: 'entity', type: null };
}

import { StepFile, type StepRecord, storedValues } from '../../formats/ifc/step-file.ts';
import {
  attributeIndex,
  type IfcAttribute,
  type IfcSchema,
  ifcClass,
  ifcSchemaOf,
  isKindOf,
} from '../../formats/ifc/step-schema.ts';
import { StepUnits } from '../../formats/ifc/step-units.ts';
import type { StepValue } from '../../formats/ifc/step-values.ts';

/** Records of a model and how they hang together, as far as IDS asks for it. */
export class ModelFacts {
  readonly file: StepFile;
  readonly schema: IfcSchema;
  readonly units: StepUnits;
  readonly #typeOf = new Map<number, number>();
  readonly #setsOf = new Map<number, number[]>();
  readonly #materialsOf = new Map<number, number[]>();
  readonly #classesOf = new Map<number, number[]>();
  /** By relation: the wholes a part belongs to. */
  readonly #wholes = new Map<string, Map<number, number[]>>();

  /** @param leftOut Classes in upper case that nobody will ask for. */
  constructor(bytes: Uint8Array, leftOut: ReadonlySet<string> = new Set()) {
    this.file = new StepFile(bytes, { except: leftOut });
    // A file that names no schema we know is judged by the one IDS is mostly written for.
    this.schema = ifcSchemaOf(this.file.layout.schema) ?? 'IFC4';
    this.units = new StepUnits(this.file, this.schema);
    this.#collect();
  }

  /** A parameter by the attribute's name; undefined where the class has none of that name. */
  value(record: StepRecord, attribute: string): StepValue | undefined {
    const at = attributeIndex(this.schema, record.type, attribute);
    return at === -1 ? undefined : storedValues(record)[at];
  }

  text(record: StepRecord, attribute: string): string | null {
    return textOf(this.value(record, attribute));
  }

  attributes(record: StepRecord): readonly IfcAttribute[] {
    return ifcClass(this.schema, record.type)?.attributes ?? [];
  }

  isKind(record: StepRecord, ancestor: string): boolean {
    return isKindOf(this.schema, record.type, ancestor);
  }

  typeObject(record: StepRecord): StepRecord | null {
    const id = this.#typeOf.get(record.id);
    return id === undefined ? null : this.file.record(id);
  }

  /** Property sets, quantities and predefined sets of the record itself, in file order. */
  propertySets(record: StepRecord): StepRecord[] {
    const own = this.file.followAll(this.value(record, 'HasPropertySets'));
    return [...own, ...this.#all(this.#setsOf.get(record.id))];
  }

  materials(record: StepRecord): StepRecord[] {
    return this.#all(this.#materialsOf.get(record.id));
  }

  classifications(record: StepRecord): StepRecord[] {
    return this.#all(this.#classesOf.get(record.id));
  }

  /** Wholes that a part directly belongs to by any of the relations, each with its relation. */
  wholes(record: StepRecord, relations: readonly string[]): StepRecord[] {
    return relations.flatMap((relation) => this.#all(this.#wholes.get(relation)?.get(record.id)));
  }

  #all(ids: readonly number[] | undefined): StepRecord[] {
    return (ids ?? []).flatMap((id) => this.file.record(id) ?? []);
  }

  #collect(): void {
    this.#each('IFCRELDEFINESBYTYPE', 'RelatedObjects', 'RelatingType', (part, whole) =>
      this.#typeOf.set(part, whole),
    );
    this.#each(
      'IFCRELDEFINESBYPROPERTIES',
      'RelatedObjects',
      'RelatingPropertyDefinition',
      (part, set) => push(this.#setsOf, part, set),
    );
    this.#each('IFCRELASSOCIATESMATERIAL', 'RelatedObjects', 'RelatingMaterial', (part, material) =>
      push(this.#materialsOf, part, material),
    );
    this.#each(
      'IFCRELASSOCIATESCLASSIFICATION',
      'RelatedObjects',
      'RelatingClassification',
      (part, reference) => push(this.#classesOf, part, reference),
    );
    this.#each(
      'IFCEXTERNALREFERENCERELATIONSHIP',
      'RelatedResourceObjects',
      'RelatingReference',
      (part, reference) => push(this.#classesOf, part, reference),
    );
    this.#collectResourceProperties();
    for (const [relation, part, whole] of PART_OF) {
      const wholes = new Map<number, number[]>();
      this.#each(relation, part, whole, (a, b) => push(wholes, a, b));
      this.#wholes.set(relation, wholes);
    }
  }

  /** Properties of materials and profiles, which hang on them without a relation. */
  #collectResourceProperties(): void {
    for (const type of ['IFCMATERIALPROPERTIES', 'IFCEXTENDEDMATERIALPROPERTIES']) {
      for (const record of this.file.recordsOf(type)) {
        const material = this.value(record, 'Material');
        if (material?.kind === 'ref') push(this.#setsOf, material.id, record.id);
      }
    }
    for (const record of this.file.recordsOf('IFCPROFILEPROPERTIES')) {
      const profile = this.value(record, 'ProfileDefinition');
      if (profile?.kind === 'ref') push(this.#setsOf, profile.id, record.id);
    }
  }

  #each(
    relation: string,
    partAttribute: string,
    wholeAttribute: string,
    tell: (part: number, whole: number) => void,
  ): void {
    for (const record of this.file.recordsOf(relation)) {
      for (const whole of refsOf(this.value(record, wholeAttribute))) {
        for (const part of refsOf(this.value(record, partAttribute))) tell(part, whole);
      }
    }
  }
}

/** Relations of IDS's partOf, with the attributes of the part and the whole. */
const PART_OF = [
  ['IFCRELAGGREGATES', 'RelatedObjects', 'RelatingObject'],
  ['IFCRELASSIGNSTOGROUP', 'RelatedObjects', 'RelatingGroup'],
  ['IFCRELASSIGNSTOGROUPBYFACTOR', 'RelatedObjects', 'RelatingGroup'],
  ['IFCRELCONTAINEDINSPATIALSTRUCTURE', 'RelatedElements', 'RelatingStructure'],
  ['IFCRELNESTS', 'RelatedObjects', 'RelatingObject'],
  ['IFCRELVOIDSELEMENT', 'RelatedOpeningElement', 'RelatingBuildingElement'],
  ['IFCRELFILLSELEMENT', 'RelatedBuildingElement', 'RelatingOpeningElement'],
] as const;

export const PART_OF_RELATIONS: readonly string[] = PART_OF.map(([relation]) => relation);

/** Text of a parameter, or null where it holds none. */
export function textOf(value: StepValue | undefined): string | null {
  if (value?.kind === 'text') return value.text;
  return value?.kind === 'typed' ? textOf(value.value) : null;
}

/** Ids that a parameter refers to: one, a list, or a typed list of sets. */
function refsOf(value: StepValue | undefined): number[] {
  if (value?.kind === 'ref') return [value.id];
  if (value?.kind === 'list') return value.items.flatMap(refsOf);
  return value?.kind === 'typed' ? refsOf(value.value) : [];
}

function push(map: Map<number, number[]>, key: number, id: number): void {
  const ids = map.get(key);
  if (ids === undefined) map.set(key, [id]);
  else ids.push(id);
}

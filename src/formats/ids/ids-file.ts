/**
 * The content of an IDS file (Information Delivery Specification), as its schema defines it.
 *
 * @source buildingSMART IDS 1.0, `ids.xsd`.
 */

export interface IdsFile {
  readonly title: string;
  readonly version: string | null;
  readonly purpose: string | null;
  readonly specifications: readonly IdsSpecification[];
}

export type Cardinality = 'required' | 'optional' | 'prohibited';

export interface IdsSpecification {
  readonly name: string;
  readonly identifier: string | null;
  readonly description: string | null;
  readonly instructions: string | null;
  /** As written: `IFC2X3`, `IFC4`, `IFC4X3_ADD2`. */
  readonly ifcVersions: readonly string[];
  readonly cardinality: Cardinality;
  readonly applicability: readonly IdsFacet[];
  readonly requirements: readonly IdsRequirement[];
  /** What the file leaves out or writes against the schema. */
  readonly problems: readonly string[];
}

export interface IdsRequirement {
  readonly facet: IdsFacet;
  readonly cardinality: Cardinality;
  readonly instructions: string | null;
}

export interface EntityFacet {
  readonly kind: 'entity';
  readonly name: IdsValue;
  readonly predefinedType: IdsValue | null;
}

export type IdsFacet =
  | EntityFacet
  | { readonly kind: 'attribute'; readonly name: IdsValue; readonly value: IdsValue | null }
  | {
      readonly kind: 'property';
      readonly propertySet: IdsValue;
      readonly baseName: IdsValue;
      /** Defined type in upper case. */
      readonly dataType: string | null;
      readonly value: IdsValue | null;
    }
  | {
      readonly kind: 'classification';
      readonly system: IdsValue | null;
      readonly value: IdsValue | null;
    }
  | { readonly kind: 'material'; readonly value: IdsValue | null }
  | {
      readonly kind: 'partOf';
      readonly entity: EntityFacet;
      /** Upper case; null for any relation. */
      readonly relation: string | null;
    };

export interface IdsRestriction {
  readonly kind: 'restriction';
  /** `string`, `double`, `integer`, …: without its prefix. */
  readonly base: string;
  /** Empty where there is none; else one must hold. */
  readonly enumeration: readonly string[];
  /** Empty where there is none; else one must match. */
  readonly patterns: readonly string[];
  readonly minInclusive: string | null;
  readonly maxInclusive: string | null;
  readonly minExclusive: string | null;
  readonly maxExclusive: string | null;
  readonly length: number | null;
  readonly minLength: number | null;
  readonly maxLength: number | null;
}

export type IdsValue = { readonly kind: 'simple'; readonly text: string } | IdsRestriction;

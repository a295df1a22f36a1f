import type { IdsFacet, IdsRequirement, IdsValue } from '../../formats/ids/ids-file.ts';

const CARDINALITY_WORDS = {
  required: 'must have',
  optional: 'may have',
  prohibited: 'must not have',
};

/** A requirement in words, for reports. */
export function requirementText({ facet, cardinality }: IdsRequirement): string {
  return `${CARDINALITY_WORDS[cardinality]} ${facetText(facet)}`;
}

function facetText(facet: IdsFacet): string {
  switch (facet.kind) {
    case 'entity':
      return `class ${valueText(facet.name)}${withValue(', predefined type', facet.predefinedType)}`;
    case 'attribute':
      return `attribute ${valueText(facet.name)}${withValue(' =', facet.value)}`;
    case 'property':
      return (
        `property ${valueText(facet.propertySet)}.${valueText(facet.baseName)}` +
        (facet.dataType === null ? '' : ` (${facet.dataType})`) +
        withValue(' =', facet.value)
      );
    case 'classification':
      return `classification${withValue(' in', facet.system)}${withValue(' as', facet.value)}`;
    case 'material':
      return `material${withValue('', facet.value)}`;
    case 'partOf':
      return (
        `a whole of ${facetText(facet.entity)}` +
        (facet.relation === null ? '' : ` by ${facet.relation}`)
      );
  }
}

function withValue(before: string, value: IdsValue | null): string {
  return value === null ? '' : `${before} ${valueText(value)}`;
}

function valueText(value: IdsValue): string {
  if (value.kind === 'simple') return value.text;
  const parts = [
    value.enumeration.length > 0 ? `one of ${value.enumeration.join(' | ')}` : null,
    value.patterns.length > 0 ? `like ${value.patterns.join(' | ')}` : null,
    bound('≥', value.minInclusive),
    bound('>', value.minExclusive),
    bound('≤', value.maxInclusive),
    bound('<', value.maxExclusive),
    bound('length', value.length),
    bound('length ≥', value.minLength),
    bound('length ≤', value.maxLength),
  ];
  return `[${parts.filter((part) => part !== null).join(', ')}]`;
}

function bound(sign: string, limit: string | number | null): string | null {
  return limit === null ? null : `${sign} ${limit}`;
}

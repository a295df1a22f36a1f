import type { EntityFacet, IdsFacet } from '../../formats/ids/ids-file.ts';
import { matchesText, matchesValue } from '../../formats/ids/match-value.ts';
import { type StepRecord, storedValues } from '../../formats/ifc/step-file.ts';
import { checkProperty } from './check-property.ts';
import { comparedValue, isFilled } from './compared-value.ts';
import { classNameForIds, predefinedTexts } from './element-kind.ts';
import type { FacetOutcome } from './facet-outcome.ts';
import { type ModelFacts, PART_OF_RELATIONS } from './model-facts.ts';

/** Whether an element has what a facet asks. @source IDS 1.0, user manual, one page a facet. */
export function checkFacet(facts: ModelFacts, record: StepRecord, facet: IdsFacet): FacetOutcome {
  switch (facet.kind) {
    case 'entity':
      return checkEntity(facts, record, facet);
    case 'attribute':
      return checkAttribute(facts, record, facet);
    case 'property':
      return checkProperty(facts, record, facet);
    case 'classification':
      return checkClassification(facts, record, facet);
    case 'material':
      return checkMaterial(facts, record, facet);
    case 'partOf':
      return checkPartOf(facts, record, facet);
  }
}

function outcome(isMet: boolean, found: string): FacetOutcome {
  return { state: isMet ? 'met' : 'not met', found };
}

function checkEntity(facts: ModelFacts, record: StepRecord, facet: EntityFacet): FacetOutcome {
  const name = classNameForIds(facts, record);
  if (!matchesText(facet.name, record.type) && !matchesText(facet.name, name)) {
    return outcome(false, `class ${record.type}`);
  }
  const asked = facet.predefinedType;
  if (asked === null) return outcome(true, record.type);
  const texts = predefinedTexts(facts, record);
  return outcome(
    texts.some((text) => matchesText(asked, text)),
    texts.length === 0 ? 'no predefined type' : `predefined type ${texts.join(', ')}`,
  );
}

function checkAttribute(
  facts: ModelFacts,
  record: StepRecord,
  facet: Extract<IdsFacet, { kind: 'attribute' }>,
): FacetOutcome {
  const found: string[] = [];
  let isPresent = false;
  const values = storedValues(record);
  for (const [at, attribute] of facts.attributes(record).entries()) {
    if (!matchesText(facet.name, attribute.name)) continue;
    const value = values[at];
    if (value !== undefined && value.kind !== 'null') isPresent = true;
    if (!isFilled(value)) {
      found.push(`${attribute.name} is empty`);
      continue;
    }
    if (facet.value === null) return outcome(true, attribute.name);
    const compared = comparedValue(facts, value, attribute.type);
    if (compared !== null && matchesValue(facet.value, compared)) {
      return outcome(true, attribute.name);
    }
    found.push(`${attribute.name} is ${comparedText(compared)}`);
  }
  const text = found.length === 0 ? 'no such attribute' : found.join(', ');
  return isPresent ? outcome(false, text) : { state: 'absent', found: text };
}

function comparedText(value: ReturnType<typeof comparedValue>): string {
  if (value === null) return 'an element or a list';
  return value.kind === 'text' ? `"${value.text}"` : String(value.value);
}

interface Classified {
  readonly system: string;
  /** Code of the reference and of those above it. */
  readonly codes: readonly string[];
}

function checkClassification(
  facts: ModelFacts,
  record: StepRecord,
  facet: Extract<IdsFacet, { kind: 'classification' }>,
): FacetOutcome {
  const all = classifiedAs(facts, record);
  if (all.length === 0) return { state: 'absent', found: 'no classification' };
  const { system, value } = facet;
  const isMet = all.some(
    (each) =>
      (system === null || matchesText(system, each.system)) &&
      (value === null || each.codes.some((code) => matchesText(value, code))),
  );
  return outcome(
    isMet,
    all.map((each) => `${each.system} ${each.codes[0] ?? ''}`.trim()).join(', '),
  );
}

/** Own references; those of the type where the element has none in the same system. */
function classifiedAs(facts: ModelFacts, record: StepRecord): Classified[] {
  const own = facts.classifications(record).map((each) => classifiedBy(facts, each));
  const type = facts.typeObject(record);
  if (type === null) return own;
  const systems = new Set(own.map(({ system }) => system));
  const inherited = facts
    .classifications(type)
    .map((each) => classifiedBy(facts, each))
    .filter(({ system }) => !systems.has(system));
  return [...own, ...inherited];
}

function classifiedBy(facts: ModelFacts, reference: StepRecord): Classified {
  const codes: string[] = [];
  const seen = new Set<number>();
  let at: StepRecord | null = reference;
  while (at !== null && !seen.has(at.id)) {
    seen.add(at.id);
    if (at.type === 'IFCCLASSIFICATION') return { system: facts.text(at, 'Name') ?? '', codes };
    const code: string | null = facts.text(at, 'Identification') ?? facts.text(at, 'ItemReference');
    if (code !== null && code !== '') codes.push(code);
    at = facts.file.follow(facts.value(at, 'ReferencedSource'));
  }
  return { system: '', codes };
}

function checkMaterial(
  facts: ModelFacts,
  record: StepRecord,
  facet: Extract<IdsFacet, { kind: 'material' }>,
): FacetOutcome {
  const own = facts.materials(record);
  const type = facts.typeObject(record);
  const materials = own.length > 0 || type === null ? own : facts.materials(type);
  if (materials.length === 0) return { state: 'absent', found: 'no material' };
  const names = new Set<string>();
  for (const material of materials) collectMaterialNames(facts, material, names, new Set());
  const { value } = facet;
  const found = names.size === 0 ? 'a material without name' : [...names].join(', ');
  return outcome(value === null || [...names].some((name) => matchesText(value, name)), found);
}

const MATERIAL_NAMES = ['Name', 'Category', 'LayerSetName'] as const;
const MATERIAL_PARTS = [
  'Material',
  'Materials',
  'MaterialLayers',
  'ForLayerSet',
  'MaterialProfiles',
  'ForProfileSet',
  'ForProfileEndSet',
  'MaterialConstituents',
] as const;

function collectMaterialNames(
  facts: ModelFacts,
  record: StepRecord,
  names: Set<string>,
  seen: Set<number>,
): void {
  if (seen.has(record.id)) return;
  seen.add(record.id);
  for (const attribute of MATERIAL_NAMES) {
    const name = facts.text(record, attribute);
    if (name !== null && name !== '') names.add(name);
  }
  for (const attribute of MATERIAL_PARTS) {
    for (const part of facts.file.followAll(facts.value(record, attribute))) {
      collectMaterialNames(facts, part, names, seen);
    }
  }
}

/** Wholes by the relation asked for, else by any, followed upwards. */
function checkPartOf(
  facts: ModelFacts,
  record: StepRecord,
  facet: Extract<IdsFacet, { kind: 'partOf' }>,
): FacetOutcome {
  const relations = partOfRelations(facet.relation);
  const seen = new Set<number>([record.id]);
  let level = [record];
  const found: string[] = [];
  while (level.length > 0) {
    const above: StepRecord[] = [];
    for (const part of level) {
      for (const whole of facts.wholes(part, relations)) {
        if (seen.has(whole.id)) continue;
        seen.add(whole.id);
        above.push(whole);
        if (checkEntity(facts, whole, facet.entity).state === 'met') {
          return outcome(true, `part of ${whole.type}`);
        }
        found.push(whole.type);
      }
    }
    level = above;
  }
  if (found.length === 0) return { state: 'absent', found: 'part of nothing' };
  return outcome(false, `part of ${found.join(', ')}`);
}

function partOfRelations(asked: string | null): readonly string[] {
  if (asked === null) return PART_OF_RELATIONS;
  const names = asked.toUpperCase().split(/\s+/);
  if (names.includes('IFCRELASSIGNSTOGROUP')) names.push('IFCRELASSIGNSTOGROUPBYFACTOR');
  return names;
}

import type { StepRecord } from '../../formats/ifc/step-file.ts';
import { type ModelFacts, textOf } from './model-facts.ts';

/**
 * Occurrence classes of IFC2X3 that only their type tells apart. IDS names them by the type's class
 * without its ending, as IFC4 does.
 *
 * @source IDS 1.0, `ifc2x3-occurrence-type-mapping-table.md`.
 */
export const TYPED_2X3_CLASSES: ReadonlySet<string> = new Set([
  'IFCFURNISHINGELEMENT',
  'IFCDISTRIBUTIONCONTROLELEMENT',
  'IFCENERGYCONVERSIONDEVICE',
  'IFCFLOWCONTROLLER',
  'IFCFLOWFITTING',
  'IFCFLOWMOVINGDEVICE',
  'IFCFLOWSEGMENT',
  'IFCFLOWSTORAGEDEVICE',
  'IFCFLOWTERMINAL',
  'IFCFLOWTREATMENTDEVICE',
  'IFCEQUIPMENTELEMENT',
]);

/** Class under which IDS speaks of an element, in upper case. */
export function classNameForIds(facts: ModelFacts, record: StepRecord): string {
  if (facts.schema !== 'IFC2X3' || !TYPED_2X3_CLASSES.has(record.type)) return record.type;
  const type = facts.typeObject(record)?.type;
  return type === undefined ? record.type : type.replace(/TYPE$/, '');
}

/**
 * Texts that count as the element's predefined type: the type's before its own, and where that is
 * USERDEFINED the user's text as well.
 *
 * @source IDS 1.0, `entity-facet.md`, "The logic for the identification of predefinedType".
 */
export function predefinedTexts(facts: ModelFacts, record: StepRecord): readonly string[] {
  const type = facts.typeObject(record);
  const ofType = type === null ? [] : ownPredefinedTexts(facts, type);
  // NOTDEFINED on the type leaves the question open, so the occurrence answers it.
  if (ofType.length > 0 && ofType[0] !== 'NOTDEFINED') return ofType;
  const own = ownPredefinedTexts(facts, record);
  return own.length > 0 ? own : ofType;
}

const USER_TEXTS = ['ObjectType', 'ElementType', 'ProcessType', 'ResourceType'] as const;

function ownPredefinedTexts(facts: ModelFacts, record: StepRecord): readonly string[] {
  const value = facts.value(record, 'PredefinedType');
  if (value?.kind !== 'enum') return [];
  if (value.name !== 'USERDEFINED') return [value.name];
  for (const attribute of USER_TEXTS) {
    const text = textOf(facts.value(record, attribute));
    if (text !== null && text !== '') return [value.name, text];
  }
  return [value.name];
}

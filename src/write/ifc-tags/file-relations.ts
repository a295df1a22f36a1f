import type { StepFile, StepRecord } from '../../formats/ifc/step-file.ts';
import { attributeIndex, type IfcSchema } from '../../formats/ifc/step-schema.ts';

/** GlobalId of a record, which outlives its number; empty for a record that has none. */
export function globalIdOf(record: StepRecord | null): string {
  const value = record?.values[0];
  return value?.kind === 'text' ? value.text : '';
}

/** Element to the storey or other place that contains it. */
export function readStoreys(file: StepFile, schema: IfcSchema): ReadonlyMap<number, number> {
  return readRelation(
    file,
    schema,
    'IFCRELCONTAINEDINSPATIALSTRUCTURE',
    'RelatedElements',
    'RelatingStructure',
  );
}

/** Opening to the element it is cut from. */
export function readHosts(file: StepFile, schema: IfcSchema): ReadonlyMap<number, number> {
  return readRelation(
    file,
    schema,
    'IFCRELVOIDSELEMENT',
    'RelatedOpeningElement',
    'RelatingBuildingElement',
  );
}

function readRelation(
  file: StepFile,
  schema: IfcSchema,
  relation: string,
  partAttribute: string,
  wholeAttribute: string,
): ReadonlyMap<number, number> {
  const partAt = attributeIndex(schema, relation, partAttribute);
  const wholeAt = attributeIndex(schema, relation, wholeAttribute);
  const wholes = new Map<number, number>();
  for (const record of file.recordsOf(relation)) {
    const whole = record.values[wholeAt];
    const part = record.values[partAt];
    if (whole?.kind !== 'ref' || part === undefined) continue;
    for (const each of part.kind === 'list' ? part.items : [part]) {
      if (each.kind === 'ref') wholes.set(each.id, whole.id);
    }
  }
  return wholes;
}

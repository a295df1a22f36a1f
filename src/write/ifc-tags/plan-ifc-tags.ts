import { SealbookError } from '../../basics/errors.ts';
import { stableUuid } from '../../basics/stable-uuid.ts';
import { blockPatch, blockRemovals, patchPlace } from '../../formats/ifc/step-block.ts';
import { StepFile } from '../../formats/ifc/step-file.ts';
import { ifcGlobalId } from '../../formats/ifc/step-global-id.ts';
import { StepLines } from '../../formats/ifc/step-lines.ts';
import { ifcSchemaOf } from '../../formats/ifc/step-schema.ts';
import { StepUnits } from '../../formats/ifc/step-units.ts';
import { applyPatches, type BytePatch } from '../../formats/shared/byte-patch.ts';
import type { IfcTagEdit, TagRefusal } from '../../model/tag-edit.ts';
import { OUR_MARKS } from './our-marks.ts';
import { type IfcTagOptions, MAP_CLASSES, TagLines } from './tag-lines.ts';

/** What would be written into a model, and what was refused. */
export interface IfcTagPlan {
  /** Turns the source into the tagged model; empty where there is nothing to write. */
  readonly patches: readonly BytePatch[];
  /** The lines that come in, without those of an earlier run. */
  readonly added: readonly string[];
  readonly refused: readonly TagRefusal[];
}

/** Records that the writer looks up; all others are only scanned over. */
const LOOKED_UP: ReadonlySet<string> = new Set([
  'IFCPROJECT',
  'IFCUNITASSIGNMENT',
  'IFCSIUNIT',
  'IFCCONVERSIONBASEDUNIT',
  'IFCCONVERSIONBASEDUNITWITHOFFSET',
  'IFCMEASUREWITHUNIT',
  'IFCDERIVEDUNIT',
  'IFCDERIVEDUNITELEMENT',
  'IFCOWNERHISTORY',
  'IFCGEOMETRICREPRESENTATIONCONTEXT',
  'IFCRELCONTAINEDINSPATIALSTRUCTURE',
  'IFCRELVOIDSELEMENT',
  ...MAP_CLASSES,
]);

/**
 * Plans the tags of a model as patches: an earlier block of ours goes, the new one comes before the
 * end of the data section. Tagging a tagged model again with the same edits changes nothing. A
 * model that can't be patched safely is refused as a whole and gets no patches.
 */
export function planIfcTags(
  bytes: Uint8Array,
  edits: readonly IfcTagEdit[],
  options: IfcTagOptions,
): IfcTagPlan {
  const removals = blockRemovals(bytes, OUR_MARKS);
  // The look-ups must not see our own earlier lines; without any, the source itself will do.
  const source = removals.length === 0 ? bytes : applyPatches(bytes, removals);
  try {
    const { added, at, insert, refused } = planLines(source, edits, options);
    if (added.length === 0) return { patches: removals, added, refused };
    const patch = { at: sourceOffset(at, removals), remove: 0, insert };
    return { patches: [...removals, patch], added, refused };
  } catch (error) {
    if (!(error instanceof SealbookError) || error.code !== 'input-unreadable') throw error;
    return { patches: [], added: [], refused: [{ tag: null, id: null, reason: error.message }] };
  }
}

function planLines(source: Uint8Array, edits: readonly IfcTagEdit[], options: IfcTagOptions) {
  const planned = ourGlobalIds(edits, options.fileKey);
  const globalIds = new Set([...elementIds(edits), ...planned]);
  const file = new StepFile(source, { classes: LOOKED_UP, globalIds });
  const at = patchPlace(file.layout);
  const schema = ifcSchemaOf(file.layout.schema);
  if (schema === null) {
    throw new SealbookError(
      'input-unreadable',
      `The model can't be tagged: its schema is ${file.layout.schema ?? 'not named'}.`,
    );
  }
  const foreign = [...planned].find((id) => file.idsOfGlobalId(id).length > 0);
  if (foreign !== undefined) {
    throw new SealbookError(
      'input-unreadable',
      `The model can't be tagged: another program saved it with our earlier tags inside (${foreign}).`,
      { todo: 'Export the model again from where it is authored, without our tags.' },
    );
  }
  const lines = new StepLines(schema, file.layout.highestId + 1);
  const units = new StepUnits(file, schema);
  const writer = new TagLines({ file, lines, units, options });
  for (const edit of edits) writer.addEdit(edit);
  writer.finish();
  const { insert } = blockPatch(file.layout, OUR_MARKS, lines.lines);
  return { added: lines.lines, at, insert, refused: writer.refused };
}

function elementIds(edits: readonly IfcTagEdit[]): string[] {
  return edits.flatMap(({ openingIds, serviceIds, hostIds }) => [
    ...openingIds,
    ...serviceIds,
    ...hostIds,
  ]);
}

/** The GlobalIds of the sets we would write: where one is there already, the model holds our tags. */
function ourGlobalIds(edits: readonly IfcTagEdit[], fileKey: string): Set<string> {
  return new Set(edits.map(({ tag }) => ifcGlobalId(stableUuid(`${fileKey}/${tag}/set`))));
}

/** An offset after the removals, as an offset before them. */
function sourceOffset(at: number, removals: readonly BytePatch[]): number {
  let offset = at;
  for (const removal of removals) if (removal.at <= offset) offset += removal.remove;
  return offset;
}

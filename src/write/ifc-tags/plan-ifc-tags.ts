import { SealbookError } from '../../basics/errors.ts';
import { blockPatch, patchPlace } from '../../formats/ifc/step-block.ts';
import { StepFile, type StepSelection } from '../../formats/ifc/step-file.ts';
import { StepLines } from '../../formats/ifc/step-lines.ts';
import { ifcSchemaOf } from '../../formats/ifc/step-schema.ts';
import { StepUnits } from '../../formats/ifc/step-units.ts';
import type { BytePatch } from '../../formats/shared/byte-patch.ts';
import type { IfcTagEdit, TagRefusal } from '../../model/tag-edit.ts';
import { FormerLines, OwnRecords } from './former-lines.ts';
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
 * Plans the tags of a model as patches: what an earlier run wrote goes, also where another program
 * has saved the model since, and the new block comes before the end of the data section. Tagging a
 * tagged model again with the same edits changes nothing. A model that can't be patched safely is
 * refused as a whole and gets no patches.
 */
export function planIfcTags(
  bytes: Uint8Array,
  edits: readonly IfcTagEdit[],
  options: IfcTagOptions,
): IfcTagPlan {
  try {
    return planLines(bytes, edits, options);
  } catch (error) {
    if (!(error instanceof SealbookError) || error.code !== 'input-unreadable') throw error;
    return { patches: [], added: [], refused: [{ tag: null, id: null, reason: error.message }] };
  }
}

function planLines(
  bytes: Uint8Array,
  edits: readonly IfcTagEdit[],
  options: IfcTagOptions,
): IfcTagPlan {
  const selection = { classes: LOOKED_UP, globalIds: new Set(elementIds(edits)) };
  const { file, schema, former } = openForTags(bytes, selection);
  const pinned = former?.pinned ?? NOTHING_PINNED;
  const firstId = Math.max(file.highestId, ...pinned.values()) + 1;
  const lines = new StepLines(schema, firstId);
  const units = new StepUnits(file, schema);
  const writer = new TagLines({ file, lines, units, options, pinned });
  for (const edit of edits) writer.addEdit(edit);
  writer.finish();
  const { replaced } = lines;
  const added = [...replaced.values(), ...lines.lines];
  return {
    patches: [
      ...file.blocks,
      ...(former?.patches(replaced) ?? []),
      ...(lines.lines.length === 0 ? [] : [blockPatch(file.layout, OUR_MARKS, lines.lines)]),
    ],
    added,
    refused: [...writer.refused, ...(former?.left(replaced) ?? [])],
  };
}

const NOTHING_PINNED: ReadonlyMap<string, number> = new Map();

/**
 * The model without our lines of an earlier run, and those that another program saved among its own.
 *
 * @throws SealbookError `input-unreadable` with the reason where it can't be patched safely.
 */
function openForTags(bytes: Uint8Array, selection: StepSelection) {
  const own = new OwnRecords(bytes);
  const file = new StepFile(bytes, selection, { marks: OUR_MARKS, onRecord: own.look });
  patchPlace(file.layout);
  const schema = ifcSchemaOf(file.layout.schema);
  if (schema === null) {
    throw new SealbookError(
      'input-unreadable',
      `The model can't be tagged: its schema is ${file.layout.schema ?? 'not named'}.`,
    );
  }
  if (own.ids.size === 0) return { file, schema, former: null };
  const former = new FormerLines(bytes, schema, own, file.layout.records);
  const without = new StepFile(bytes, selection, { marks: OUR_MARKS, skip: former.offsets });
  return { file: without, schema, former };
}

/** What takes our lines out of a model, and those that can't go. */
export interface IfcUntagPlan {
  readonly patches: readonly BytePatch[];
  readonly left: readonly TagRefusal[];
}

/** Plans the way back; a model that holds nothing of ours, or can't be read, gets no patches. */
export function planIfcUntag(bytes: Uint8Array): IfcUntagPlan {
  const own = new OwnRecords(bytes);
  const nothing = { classes: new Set<string>(), globalIds: new Set<string>() };
  const file = new StepFile(bytes, nothing, { marks: OUR_MARKS, onRecord: own.look });
  const schema = ifcSchemaOf(file.layout.schema);
  if (own.ids.size === 0 || schema === null) return { patches: file.blocks, left: [] };
  const former = new FormerLines(bytes, schema, own, file.layout.records);
  const none: ReadonlyMap<number, string> = new Map();
  return { patches: [...file.blocks, ...former.patches(none)], left: former.left(none) };
}

function elementIds(edits: readonly IfcTagEdit[]): string[] {
  return edits.flatMap(({ openingIds, serviceIds, hostIds }) => [
    ...openingIds,
    ...serviceIds,
    ...hostIds,
  ]);
}

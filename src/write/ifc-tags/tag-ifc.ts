import { applyPatches } from '../../formats/shared/byte-patch.ts';
import type { IfcTagEdit, TagRefusal } from '../../model/tag-edit.ts';
import { planIfcTags, planIfcUntag } from './plan-ifc-tags.ts';
import type { IfcTagOptions } from './tag-lines.ts';

export interface TaggedIfc {
  readonly result: Uint8Array;
  /** Lines that came in. */
  readonly added: readonly string[];
  readonly refused: readonly TagRefusal[];
}

/**
 * The model with our tags, all other bytes as they were. Tags of an earlier run are replaced. A
 * model that can't be patched safely comes back unchanged, with the reason under `refused`.
 */
export function tagIfc(
  bytes: Uint8Array,
  edits: readonly IfcTagEdit[],
  options: IfcTagOptions,
): TaggedIfc {
  const { patches, added, refused } = planIfcTags(bytes, edits, options);
  return { result: applyPatches(bytes, patches), added, refused };
}

/** The model without our tags: the bytes it had before, unless another program saved it since. */
export function untagIfc(bytes: Uint8Array): Uint8Array {
  return applyPatches(bytes, planIfcUntag(bytes).patches);
}

import type { BytePatch } from '../shared/byte-patch.ts';
import { type PatchLayout, patchRemarks } from './patch-layout.ts';
import { type PatchBlock, type PatchEntity, PatchRecords } from './patch-records.ts';

/** What is added to a drawing: a layer, blocks, and entities in model space. */
export interface DrawingAddition {
  readonly layer: string;
  readonly blocks: readonly PatchBlock[];
  readonly entities: readonly PatchEntity[];
}

/** Words of the comments round each added part. */
export interface PatchMarks {
  readonly begin: string;
  readonly end: string;
  /** Followed by the former value of `$HANDSEED`. */
  readonly handseed: string;
}

const NOTHING = new Uint8Array(0);

/** Patches that add to a drawing; the layout must be of the bytes they are applied to. */
export function additionPatches(
  layout: PatchLayout,
  addition: DrawingAddition,
  marks: PatchMarks,
): BytePatch[] {
  const records = new PatchRecords(layout, addition.layer);
  const patches: BytePatch[] = [];
  const put = (at: number, write: () => void) => {
    records.comment(marks.begin);
    write();
    records.comment(marks.end);
    patches.push({ at, remove: 0, insert: new TextEncoder().encode(records.take()) });
  };
  const owners = new Map<string, string | null>();
  put(layout.layersEnd, () => {
    if (layout.handseed !== null) records.comment(`${marks.handseed} ${layout.handseed.text}`);
    records.layer();
  });
  if (layout.blockRecordsEnd !== null) {
    put(layout.blockRecordsEnd, () => {
      for (const { name } of addition.blocks) owners.set(name, records.blockRecord(name));
    });
  }
  const writeBlocks = () => {
    for (const block of addition.blocks) records.block(block, owners.get(block.name) ?? null);
  };
  // R12 files need no BLOCKS section; then ours is the first, and stands before the entities.
  if (layout.blocksEnd !== null) put(layout.blocksEnd, writeBlocks);
  else put(layout.entitiesStart, () => records.section('BLOCKS', writeBlocks));
  put(layout.entitiesEnd, () => {
    for (const entity of addition.entities) records.entity(entity, layout.modelSpace);
  });
  return [...patches, ...handseedPatch(layout, records.nextHandle)];
}

function handseedPatch({ handseed }: PatchLayout, next: number): BytePatch[] {
  if (handseed === null) return [];
  const insert = new TextEncoder().encode(next.toString(16).toUpperCase());
  return [{ at: handseed.start, remove: handseed.end - handseed.start, insert }];
}

/**
 * Patches that take our parts out and give `$HANDSEED` its former value back; none where the
 * drawing holds nothing of ours.
 *
 * @throws SealbookError `input-unreadable` if it is no text DXF.
 */
export function removalPatches(bytes: Uint8Array, marks: PatchMarks): BytePatch[] {
  const { comments, handseed } = patchRemarks(bytes);
  const patches: BytePatch[] = [];
  let begin: number | null = null;
  for (const { start, end, text } of comments) {
    if (text === marks.begin && begin === null) begin = start;
    else if (text === marks.end && begin !== null) {
      patches.push({ at: begin, remove: end - begin, insert: NOTHING });
      begin = null;
    } else if (begin !== null && text.startsWith(marks.handseed) && handseed !== null) {
      const insert = new TextEncoder().encode(text.slice(marks.handseed.length).trim());
      patches.push({ at: handseed.start, remove: handseed.end - handseed.start, insert });
    }
  }
  return patches;
}

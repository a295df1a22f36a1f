import { SealbookError } from '../../basics/errors.ts';
import { additionPatches, removalPatches } from '../../formats/dxf/patch-drawing.ts';
import { patchLayout } from '../../formats/dxf/patch-layout.ts';
import type { PatchEntity, Point2 } from '../../formats/dxf/patch-records.ts';
import { applyPatches } from '../../formats/shared/byte-patch.ts';
import type { Vec2 } from '../../geometry/vec.ts';
import type { Drawing } from '../../model/drawing.ts';
import type { DxfTagEdit, TagRefusal } from '../../model/tag-edit.ts';
import { drawnExtentMm, planOf, viewOf } from './drawing-place.ts';
import type { Anchor } from './obstacles.ts';
import { type PlacedTag, placeTags } from './place-tags.ts';
import { cloudRound, TAG_BLOCK, TAG_LAYER, tagBlock, tagInsert } from './tag-symbol.ts';

export interface DxfTagOptions {
  /** The drawing as it was read: units, views, and what the tags must keep clear of. */
  readonly drawing: Drawing;
}

export interface TaggedDxf {
  readonly result: Uint8Array;
  /** Tags that were written. */
  readonly written: readonly string[];
  readonly refused: readonly TagRefusal[];
}

const MARKS = {
  begin: 'sealbook tags begin',
  end: 'sealbook tags end',
  handseed: 'sealbook handseed was',
} as const;

/**
 * The drawing with our tags, all other bytes as they were but for the count of handles. Tags of an
 * earlier run are replaced. A drawing that can't be patched safely comes back unchanged, with the
 * reason under `refused`.
 */
export function tagDxf(
  bytes: Uint8Array,
  edits: readonly DxfTagEdit[],
  { drawing }: DxfTagOptions,
): TaggedDxf {
  try {
    const source = untagDxf(bytes);
    const layout = patchLayout(source);
    if (layout.layerNames.has(TAG_LAYER) || layout.blockNames.has(TAG_BLOCK)) {
      throw new SealbookError(
        'input-unreadable',
        `The drawing can't be tagged: another program saved it with our earlier tags inside (layer ${TAG_LAYER}).`,
      );
    }
    const { shown, refused } = placesOf(edits, drawing);
    if (shown.length === 0) return { result: source, written: [], refused };
    const addition = {
      layer: TAG_LAYER,
      blocks: [tagBlock()],
      entities: entitiesOf(shown, drawing),
    };
    const patches = additionPatches(layout, addition, MARKS);
    return {
      result: applyPatches(source, patches),
      written: shown.map(({ edit }) => edit.tag),
      refused,
    };
  } catch (error) {
    if (!(error instanceof SealbookError) || error.code !== 'input-unreadable') throw error;
    return {
      result: bytes,
      written: [],
      refused: [{ tag: null, id: null, reason: error.message }],
    };
  }
}

/**
 * The drawing without our tags: the bytes it had before.
 *
 * @throws SealbookError `input-unreadable` if it is no text DXF.
 */
export function untagDxf(bytes: Uint8Array): Uint8Array {
  return applyPatches(bytes, removalPatches(bytes, MARKS));
}

interface ShownEdit {
  readonly edit: DxfTagEdit;
  readonly anchor: Anchor;
}

function placesOf(edits: readonly DxfTagEdit[], drawing: Drawing) {
  const shown: ShownEdit[] = [];
  const refused: TagRefusal[] = [];
  const extentMm = drawnExtentMm(drawing);
  for (const edit of edits) {
    if (![...edit.atMm, edit.sizeMm].every(Number.isFinite)) {
      refused.push({ tag: edit.tag, id: null, reason: 'its place or size is not known' });
      continue;
    }
    const place = edit.isSeen
      ? viewOf(drawing.views, edit.atMm, edit.level)
      : planOf(drawing, extentMm, edit.atMm, edit.level);
    if (place === null) {
      if (edit.isSeen) refused.push(notShown(edit));
      continue;
    }
    const anchor = { point: place.point, radiusMm: edit.sizeMm / 2, text: edit.tag };
    shown.push({ edit, anchor });
  }
  return { shown, refused };
}

function notShown({ tag }: DxfTagEdit): TagRefusal {
  return { tag, id: null, reason: 'no view of the drawing shows its place' };
}

function entitiesOf(shown: readonly ShownEdit[], drawing: Drawing): PatchEntity[] {
  const { placed, textHeightMm, turnRad } = placeTags(
    drawing,
    shown.map(({ anchor }) => anchor),
  );
  const { mmPerUnit } = drawing.units;
  const inUnits = ([x, y]: Vec2): Point2 => [x / mmPerUnit, y / mmPerUnit];
  return shown.flatMap(({ edit, anchor }, at) => {
    const place = placed[at];
    if (place === undefined) return [];
    const radius = anchor.radiusMm / mmPerUnit;
    return [
      ...leaderOf(place, inUnits),
      ...(edit.hasQuery
        ? cloudRound(inUnits(anchor.point), Math.max(radius, textHeightMm / mmPerUnit) * 1.3)
        : []),
      tagInsert(edit, {
        centre: inUnits(place.centre),
        width: place.widthMm / mmPerUnit,
        height: place.heightMm / mmPerUnit,
        textHeight: textHeightMm / mmPerUnit,
        turnDeg: (turnRad * 180) / Math.PI,
      }),
    ];
  });
}

function leaderOf(
  { leader, heightMm }: PlacedTag,
  inUnits: (point: Vec2) => Point2,
): PatchEntity[] {
  const from = inUnits(leader.from);
  const to = inUnits(leader.to);
  const [dotEdge] = inUnits([heightMm / 12, 0]);
  return [
    { type: 'line', from, to },
    { type: 'circle', centre: from, radius: dotEdge },
  ];
}

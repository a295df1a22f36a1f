import { compareText } from '../../basics/order.ts';
import type { DxfDocument, DxfEntity } from '../../formats/dxf/dxf-entity.ts';
import type { UnreadContent } from '../../model/issue.ts';
import type { FlatDrawing } from './flatten-drawing.ts';

const REASONS: Readonly<Record<string, string>> = {
  POLYLINE: 'a mesh',
  VERTEX: 'the corner of something that was not read',
  MESH: 'a mesh',
  '3DSOLID': 'a solid body',
  BODY: 'a solid body',
  REGION: 'a region',
  SURFACE: 'a surface',
  RAY: 'a construction line without end',
  XLINE: 'a construction line without end',
  IMAGE: 'a picture',
  PDFUNDERLAY: 'an underlay',
  DWFUNDERLAY: 'an underlay',
  DGNUNDERLAY: 'an underlay',
  ACAD_TABLE: 'a table',
  TOLERANCE: 'a tolerance mark',
  SHAPE: 'a shape from a font file',
  OLE2FRAME: 'an embedded document',
  ACAD_PROXY_ENTITY: 'an entity of an add-on program',
};

/** All that was not used, counted by type, layer and reason; sorted. */
export function unreadContent(
  fileKey: string,
  document: DxfDocument,
  flat: FlatDrawing,
): UnreadContent[] {
  const counts = new Map<string, { -readonly [K in keyof UnreadContent]: UnreadContent[K] }>();
  const add = (type: string, layer: string, reason: string, count: number) => {
    if (count === 0) return;
    const key = `${type}\n${layer}\n${reason}`;
    const known = counts.get(key);
    if (known !== undefined) known.count += count;
    else counts.set(key, { fileKey, type, layer, count, reason });
  };
  for (const { type, layer, found, read, broken } of document.counts) {
    add(type, layer, 'a value that is no number', broken);
    const rest = found - read - broken;
    const known = Object.hasOwn(REASONS, type) ? REASONS[type] : undefined;
    add(type, layer, known ?? 'a type that is not read', rest);
  }
  for (const { type, layer, reason, count } of flat.leftOut) add(type, layer, reason, count);
  for (const entity of neverInserted(document)) {
    add(entity.type, entity.look.layer, 'in a block that nothing inserts', 1);
  }
  return [...counts.values()].sort(
    (a, b) =>
      compareText(a.type, b.type) ||
      compareText(a.layer ?? '', b.layer ?? '') ||
      compareText(a.reason, b.reason),
  );
}

/** Content of blocks that no layout shows, directly or through other blocks. */
function* neverInserted(document: DxfDocument): Generator<DxfEntity> {
  const shown = new Set<string>();
  const waiting: (readonly DxfEntity[])[] = [document.entities];
  for (const [name, block] of document.blocks) {
    if (/^[*$](?:model|paper)_space/.test(name)) {
      // Layouts beyond the first stand among the blocks.
      shown.add(name);
      waiting.push(block.entities);
    }
  }
  for (let entities = waiting.pop(); entities !== undefined; entities = waiting.pop()) {
    for (const entity of entities) {
      if (entity.kind !== 'insert') continue;
      const name = entity.blockName.toLowerCase();
      const block = document.blocks.get(name);
      if (block === undefined || shown.has(name)) continue;
      shown.add(name);
      waiting.push(block.entities);
    }
  }
  for (const [name, block] of document.blocks) {
    // Pictures of dimensions and hatches, which their entities show.
    if (shown.has(name) || /^\*[dxt]/.test(name)) continue;
    yield* block.entities.filter(({ kind }) => kind !== 'point');
  }
}

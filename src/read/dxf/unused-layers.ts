import { compareText } from '../../basics/order.ts';
import { remembering } from '../../basics/remember.ts';
import type { UnreadContent } from '../../model/issue.ts';
import { type LayerRole, layerRole } from '../../model/layer-role.ts';
import type { Settings } from '../../model/settings.ts';
import type { FlatDrawing } from './flatten-drawing.ts';

const REASONS: Partial<Record<LayerRole['role'], string>> = {
  unknown:
    "its layer's name does not tell what it is: read, and used only where a query says it was",
  excluded: 'its layer is excluded by the project file',
};

/**
 * Lines and fills that were read and then not used, because their layer's name tells nothing or the
 * project excludes it: counted by type and layer, sorted. What a block on a layer of services or
 * openings holds belongs to the block, whatever layer it is drawn on.
 */
export function unusedLayers(
  fileKey: string,
  { entities, symbols }: FlatDrawing,
  settings: Settings,
): UnreadContent[] {
  const roleOf = remembering((layer) => layerRole(layer, settings).role);
  const owners = new Set(
    symbols.flatMap(({ layer, ref }) =>
      ['service', 'opening'].includes(roleOf(layer)) ? [ref.id] : [],
    ),
  );
  type Counted = { -readonly [K in keyof UnreadContent]: UnreadContent[K] };
  const byLayer = remembering((): Map<string, Counted> => new Map());
  const counted: Counted[] = [];
  for (const { type, layer, within } of entities) {
    const reason = REASONS[roleOf(layer)];
    if (reason === undefined || within.some((id) => owners.has(id))) continue;
    const byType = byLayer(layer);
    const known = byType.get(type);
    if (known !== undefined) known.count += 1;
    else {
      const first = { fileKey, type, layer, count: 1, reason };
      byType.set(type, first);
      counted.push(first);
    }
  }
  return counted.sort(
    (a, b) => compareText(a.type, b.type) || compareText(a.layer ?? '', b.layer ?? ''),
  );
}

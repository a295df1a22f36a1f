import { compareText } from '../../basics/order.ts';
import { pieceEnd, pieceStart } from '../../geometry/plane-curve.ts';
import { PointGrid } from '../../geometry/plane-grid.ts';
import type { Vec2 } from '../../geometry/vec.ts';
import { boxOfItem, type SheetItem } from './sheet-item.ts';

/** Ends of lines this close belong to one symbol. */
const JOINED_MM = 2;

/**
 * An opening drawn in several entities is one: lines that lie in a closed outline (its cross, its
 * shading) belong to it, and lines that meet end to end make one symbol. The lowest id leads.
 */
export function joinOpenings(items: readonly SheetItem[]): SheetItem[] {
  const isOutline = (item: SheetItem) =>
    item.symbol !== null ||
    item.entities.some(({ loops }) => loops.some(({ isClosed }) => isClosed));
  const outlines = items.filter(isOutline);
  const extra = new Map<SheetItem, SheetItem[]>();
  const loose: SheetItem[] = [];
  const places = new PointGrid<SheetItem>(SEARCH_MM);
  for (const outline of outlines) {
    const box = boxOfItem(outline);
    if (box !== null) places.add(middleOf(box), outline);
  }
  for (const item of items) {
    if (isOutline(item)) continue;
    const box = boxOfItem(item);
    const owner =
      box === null ? undefined : places.near(middleOf(box)).find((each) => isIn(box, each));
    if (owner === undefined) loose.push(item);
    else extra.set(owner, [...(extra.get(owner) ?? []), item]);
  }
  const joined = outlines.map((outline) => withParts(outline, extra.get(outline) ?? []));
  return [...joined, ...joinMeeting(loose)];
}

/** The crossing lines of an opening have their middle near its own. */
const SEARCH_MM = 3000;

const middleOf = ([x0, y0, x1, y1]: readonly [number, number, number, number]): Vec2 => [
  (x0 + x1) / 2,
  (y0 + y1) / 2,
];

function isIn(box: readonly [number, number, number, number], outline: SheetItem): boolean {
  const round = boxOfItem(outline);
  return (
    round !== null &&
    box[0] >= round[0] - JOINED_MM &&
    box[1] >= round[1] - JOINED_MM &&
    box[2] <= round[2] + JOINED_MM &&
    box[3] <= round[3] + JOINED_MM
  );
}

function withParts(item: SheetItem, parts: readonly SheetItem[]): SheetItem {
  if (parts.length === 0) return item;
  return { ...item, entities: [...item.entities, ...parts.flatMap(({ entities }) => entities)] };
}

function joinMeeting(items: readonly SheetItem[]): SheetItem[] {
  const ends = new PointGrid<SheetItem>(JOINED_MM);
  const endsOf = (item: SheetItem): Vec2[] =>
    item.entities.flatMap(({ loops }) =>
      loops.flatMap(({ pieces }) =>
        pieces.flatMap((piece) => [pieceStart(piece), pieceEnd(piece)]),
      ),
    );
  for (const item of items) for (const end of endsOf(item)) ends.add(end, item);
  const seen = new Set<SheetItem>();
  const joined: SheetItem[] = [];
  for (const start of items) {
    if (seen.has(start)) continue;
    seen.add(start);
    const group = [start];
    const waiting = [start];
    for (let item = waiting.pop(); item !== undefined; item = waiting.pop()) {
      for (const other of endsOf(item).flatMap((end) => ends.near(end))) {
        if (seen.has(other)) continue;
        seen.add(other);
        group.push(other);
        waiting.push(other);
      }
    }
    const [lead, ...parts] = group.sort((a, b) => compareText(a.id, b.id));
    if (lead !== undefined) joined.push(withParts(lead, parts));
  }
  return joined;
}

import type { PlanePiece } from '../../geometry/plane-curve.ts';
import type { DrawnEntity, DrawnText } from '../../model/drawing.ts';
import { boxOfItem, isClosedOutlines, isSymbolSized, type SheetItem } from './sheet-item.ts';

/** An item that lies exactly on an earlier one, which counts for both. */
export interface Twin<Item> {
  readonly item: Item;
  readonly first: Item;
}

/**
 * Parts outlines and blocks that mark a place from those drawn again on the same spot of the same
 * layer: two bodies can't be seen end on in one place. Lines are left: in a plan one may run over another.
 */
export function partTwins<Item extends SheetItem>(
  items: readonly Item[],
): { readonly items: readonly Item[]; readonly twins: readonly Twin<Item>[] } {
  const firsts = new Map<string, Item>();
  const kept: Item[] = [];
  const twins: Twin<Item>[] = [];
  for (const item of items) {
    const key = marksPlace(item) ? itemKey(item) : null;
    const first = key === null ? undefined : firsts.get(key);
    if (first !== undefined) {
      twins.push({ item, first });
      continue;
    }
    if (key !== null) firsts.set(key, item);
    kept.push(item);
  }
  return { items: kept, twins };
}

/** Texts without those that say the same in the same place. */
export function textsOnce(texts: readonly DrawnText[]): readonly DrawnText[] {
  const seen = new Set<string>();
  return texts.filter(({ text, layer, heightMm, rotationRad, centreMm: [x, y] }) => {
    const key = `${layer}\n${text}\n${heightMm};${rotationRad};${placeKey(x)};${placeKey(y)}`;
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}

/**
 * A block or closed outlines of the size of a symbol: larger outlines are trays or ducts from above, and
 * those may well lie over each other.
 */
function marksPlace(item: SheetItem): boolean {
  const isBlock = item.symbol !== null;
  // Asked first: most items are lines, and a box takes a look at every point.
  if (!isBlock && !isClosedOutlines(item)) return false;
  const box = boxOfItem(item);
  return (isBlock || box !== null) && isSymbolSized(box);
}

function itemKey({ layer, symbol, entities }: SheetItem): string {
  const block =
    symbol === null
      ? ''
      : JSON.stringify([symbol.blockName, symbol.positionMm.map(placeKey), attributesOf(symbol)]);
  return `${layer}\n${block}\n${entities.map(entityKey).join('\n')}`;
}

const attributesOf = ({ attributes }: NonNullable<SheetItem['symbol']>) =>
  attributes.map(({ tag, text }) => [tag, text]);

function entityKey({ layer, loops }: DrawnEntity): string {
  const lines = loops.map(({ pieces }) => pieces.map(pieceKey).join(' '));
  return `${layer}|${lines.join('|')}`;
}

function pieceKey(piece: PlanePiece): string {
  if (piece.type === 'line') return [...piece.from, ...piece.to].map(placeKey).join();
  const { centre, radiusMm, startRad, sweepRad } = piece;
  // Where a full circle begins says nothing.
  const turn = Math.abs(sweepRad) >= 2 * Math.PI - 1e-9 ? [] : [startRad, sweepRad];
  return [...centre, radiusMm, ...turn.map((rad) => rad * radiusMm)].map(placeKey).join();
}

/** Hundredths of a millimetre: nothing is drawn finer on purpose. */
const placeKey = (mm: number): number => Math.round(mm * 100);
